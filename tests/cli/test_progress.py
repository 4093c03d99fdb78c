"""A slow command shows a sign of life on a terminal; a quick one and a pipe show nothing."""

from __future__ import annotations

import os
import pty
import re
import subprocess
import sys

SLOW = "import time; from labelkit.cli._progress import shown_on_terminal\nwith shown_on_terminal('labelkit plan'):\n    time.sleep({})\nprint('done')"
COUNTED = """
import time; from labelkit.cli._progress import shown_on_terminal
from labelkit.season.progress import progress
with shown_on_terminal('labelkit labels'):
    with progress('Labels', 2000) as told:
        for done in range(1, 2001):
            time.sleep({} / 2000)
            told(done)
    time.sleep({})
print('done')
"""


def on_a_terminal(program: str) -> str:
    ours, theirs = pty.openpty()
    wide = {**os.environ, "COLUMNS": "100", "TERM": "xterm"}
    done = subprocess.Popen([sys.executable, "-c", program], stderr=theirs, stdout=subprocess.DEVNULL, env=wide)
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
    return re.sub(r"\x1b\[[0-9;?]*[A-Za-z]", "", shown.decode("utf-8", "replace"))


def test_a_command_slower_than_a_second_shows_that_it_works():
    assert "labelkit plan" in on_a_terminal(SLOW.format(1.8))


def test_a_quick_command_shows_nothing():
    assert on_a_terminal(SLOW.format(0.05)).strip() == ""


def test_a_pipe_sees_nothing_but_the_answer():
    done = subprocess.run([sys.executable, "-c", SLOW.format(1.3)], capture_output=True, text=True, check=True)
    assert (done.stdout, done.stderr) == ("done\n", "")


def test_counted_work_shows_how_much_is_done_and_how_much_time_is_left():
    shown = on_a_terminal(COUNTED.format(2.2, 0))
    counts = [int(found.replace(",", "")) for found in re.findall(r"Labels.*?([\d,]+) of 2,000", shown)]
    assert len(counts) > 3 and counts == sorted(counts) and 0 < counts[0] < counts[-1]
    assert re.search(r"of 2,000 +\d\d:\d\d left", shown)
    assert "labelkit labels" not in shown  # one sign at a time


def test_after_the_count_the_command_itself_is_shown_again():
    shown = on_a_terminal(COUNTED.format(1.4, 1.5))
    assert shown.index("of 2,000") < shown.index("labelkit labels")


def test_quick_counted_work_shows_nothing():
    assert on_a_terminal(COUNTED.format(0.05, 0)).strip() == ""


def test_a_pipe_sees_nothing_of_a_count():
    done = subprocess.run([sys.executable, "-c", COUNTED.format(1.2, 0)], capture_output=True, text=True, check=True)
    assert (done.stdout, done.stderr) == ("done\n", "")
