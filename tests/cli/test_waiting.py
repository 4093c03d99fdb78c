"""A slow command shows a sign of life on a terminal; a quick one and a pipe show nothing."""

from __future__ import annotations

import os
import pty
import subprocess
import sys

SLOW = "import time; from labelkit.cli._waiting import waiting\nwith waiting('labelkit plan'):\n    time.sleep({})\nprint('done')"


def on_a_terminal(seconds: float) -> str:
    ours, theirs = pty.openpty()
    done = subprocess.Popen([sys.executable, "-c", SLOW.format(seconds)], stderr=theirs, stdout=subprocess.DEVNULL)
    os.close(theirs)
    shown = b""
    try:
        while chunk := os.read(ours, 4096):
            shown += chunk
    except OSError:
        pass  # the other end was closed, which is how a terminal says goodbye
    finally:
        os.close(ours)
    assert done.wait() == 0
    return shown.decode("utf-8", "replace")


def test_a_command_slower_than_a_second_shows_that_it_works():
    assert "labelkit plan" in on_a_terminal(1.8)


def test_a_quick_command_shows_nothing():
    assert on_a_terminal(0.05) == ""


def test_a_pipe_sees_nothing_but_the_answer():
    done = subprocess.run([sys.executable, "-c", SLOW.format(1.3)], capture_output=True, text=True, check=True)
    assert (done.stdout, done.stderr) == ("done\n", "")
