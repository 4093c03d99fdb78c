"""A typed weight is understood without loading numpy, and whoever needs numpy still finds it."""

from __future__ import annotations

import subprocess
import sys

READ = "import sys; from labelkit.measures import Mass; Mass.read('1 lb 8 oz', 'en_US'); "


def fresh(code: str) -> subprocess.CompletedProcess:
    return subprocess.run([sys.executable, "-c", code], capture_output=True, text=True)


def test_reading_a_weight_does_not_load_numpy():
    done = fresh(READ + "sys.exit('numpy' in sys.modules)")
    assert done.returncode == 0, done.stderr


def test_numpy_is_found_as_ever_afterwards():
    done = fresh(READ + "import numpy; sys.exit(int(numpy.arange(3).sum() != 3))")
    assert done.returncode == 0, done.stderr


def test_another_thread_finds_numpy_while_pint_loads():
    code = (
        "import sys, threading\n"
        "from labelkit.measures import units\n"
        "sys.meta_path.insert(0, units._KeepOut('numpy', threading.get_ident()))\n"
        "found = []\n"
        "worker = threading.Thread(target=lambda: found.append(__import__('numpy').__name__))\n"
        "worker.start(); worker.join()\n"
        "sys.exit(found != ['numpy'])"
    )
    done = fresh(code)
    assert done.returncode == 0, done.stderr
