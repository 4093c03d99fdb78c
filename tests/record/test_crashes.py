"""Writers killed at random moments lose nothing they were told was booked, and never leave half a step.

``LABELKIT_KILLS`` sets how many are killed (the bench takes 10,000).
"""

import json
import os
import subprocess
import sys
from pathlib import Path

import pytest

from tests.needs import postgres_programs

KILLS = int(os.environ.get("LABELKIT_KILLS", "150"))
ROOT = Path(__file__).parents[2]

pytestmark = pytest.mark.skipif(not hasattr(os, "fork"), reason="this system has no kill -9")


def killed(folder, kills, *options):
    line = [sys.executable, "-m", "tests.record.killing", "--kills", str(kills), "--where", str(folder), *options]
    done = subprocess.run(line, cwd=ROOT, capture_output=True, text=True, timeout=3600)
    assert done.returncode == 0, done.stderr[-2000:]
    return json.loads(done.stdout)


def check(counted, kills):
    assert counted["kills"] == kills
    assert counted["said_but_lost"] == 0
    assert counted["faults"] == []
    assert counted["steps_said"] > kills // 10, "the writers hardly wrote, so this proves nothing"


def test_a_killed_writer_loses_no_step_it_said_was_booked(tmp_path):
    check(killed(tmp_path, KILLS), KILLS)
    assert not list(tmp_path.glob("*-wal")), "the log was folded in by the last to look"


@pytest.mark.postgres
def test_a_killed_writer_on_a_server_loses_no_step_it_said_was_booked(tmp_path):
    postgres_programs()
    check(killed(tmp_path, KILLS // 4, "--server"), KILLS // 4)
