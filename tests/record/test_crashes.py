"""Writers killed at random moments lose nothing they were told was booked, and never leave half a step.

``LABELKIT_KILLS`` sets how many are killed (the bench takes 10,000).
"""

import json
import os
import subprocess
import sys
from datetime import timedelta
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from labelkit.record import open_record
from labelkit.record.verify import verify
from tests.needs import postgres_programs
from tests.record.child import as_child
from tests.record.season import AT, book_season, weigh
from tests.walks import examples

KILLS = int(os.environ.get("LABELKIT_KILLS", "50"))
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


@pytest.mark.slow
def test_a_killed_writer_loses_no_step_it_said_was_booked(tmp_path):
    check(killed(tmp_path, KILLS), KILLS)
    assert not list(tmp_path.glob("*-wal")), "the log was folded in by the last to look"


@pytest.mark.slow
@pytest.mark.postgres
def test_a_killed_writer_on_a_server_loses_no_step_it_said_was_booked(tmp_path):
    postgres_programs()
    check(killed(tmp_path, KILLS // 4, "--server"), KILLS // 4)


# --- a log that lost its end ------------------------------------------------------------------------------------------


@pytest.fixture(scope="module")
def interrupted(tmp_path_factory):
    """A record file and its write-ahead log as they lie on the disk while a station works: thirteen events folded in,
    then ten steps of two events that are only in the log."""
    folder = tmp_path_factory.mktemp("interrupted")
    book_season(folder / "season.labelkit").close()
    with open_record(folder / "season.labelkit") as record:
        for n in range(10):
            with record.work(who="Ada", at=AT + timedelta(hours=1)) as work:
                work.add_all((weigh(f"N{n}a", "1"), weigh(f"N{n}b", "1")))
                work.commit()
        return (folder / "season.labelkit").read_bytes(), (folder / "season.labelkit-wal").read_bytes()


@settings(max_examples=examples(40))
@given(data=st.data())
def test_a_log_cut_off_or_garbled_anywhere_leaves_only_whole_steps(interrupted, tmp_path_factory, data):
    file, log = interrupted
    at = data.draw(st.integers(0, len(log)))
    if data.draw(st.booleans()):
        log = log[:at]
    else:
        log = log[:at] + data.draw(st.binary(min_size=1, max_size=300)) + log[at + 300 :]
    path = tmp_path_factory.mktemp("cut") / "season.labelkit"
    path.write_bytes(file)
    path.with_name("season.labelkit-wal").write_bytes(log)
    with open_record(path) as record:
        verdict = verify(record)
    assert verdict.clean
    assert 13 <= verdict.events <= 33 and (verdict.events - 13) % 2 == 0


def test_the_whole_log_brings_back_every_step(interrupted, tmp_path):
    file, log = interrupted
    (tmp_path / "season.labelkit").write_bytes(file)
    (tmp_path / "season.labelkit-wal").write_bytes(log)
    with open_record(tmp_path / "season.labelkit") as record:
        assert verify(record).events == 33


@pytest.mark.parametrize("room", range(0, 120_000, 8_000))
def test_wherever_the_disk_fills_up_only_whole_steps_are_kept(tmp_path, room):
    path = tmp_path / "season.labelkit"
    book_season(path).close()
    size = path.stat().st_size

    def fill():
        with open_record(path) as record:
            for n in range(400):
                with record.work(who="Ada", at=AT + timedelta(hours=1)) as work:
                    work.add_all(weigh(f"F{n}-{i}", "1") for i in range(5))
                    work.commit()

    name, what, do = as_child(fill, file_limit=size + room)
    assert name == "DiskError" and "over its quota" in do, what
    with open_record(path) as record:
        verdict = verify(record)
    assert verdict.clean and (verdict.events - 13) % 5 == 0
