"""A disk that fails at any write, sync or rename: the command says so or has done it, and never anything between.

The faults are real: strace injects them under a real process (see ``tests/record/faults.py``). The idea of letting each
call fail in turn and looking afterwards is from "How SQLite Is Tested". ``LABELKIT_FAULTS=all`` tries every call.
"""

import os
import shutil
from datetime import datetime

import pytest

from labelkit.record import open_record
from labelkit.record.export import export
from labelkit.record.verify import verify
from tests.needs import strace
from tests.record.faults import KILLED, run_with_fault
from tests.record.season import book_season, weigh

CALLS = ("pwrite64", "fdatasync", "fsync", "ftruncate", "rename", "link", "unlink")
FAULTS = {"broken": "error=EIO", "full": "error=ENOSPC", "killed": "signal=KILL"}
MANY = None if os.environ.get("LABELKIT_FAULTS") == "all" else 3
WEIGH = ("weigh", "--bucket", "B9", "--net", "20 kg", "--moisture", "17", "--once", "morning")
START = ("start", "--market", "us")

pytestmark = pytest.mark.skipif(not hasattr(os, "fork"), reason="needs processes that fork")


@pytest.fixture(autouse=True)
def _with_strace():
    strace()


@pytest.fixture(scope="module", autouse=True)
def _known_before_forking():
    """Load what the commands load, so that a forked command is at its work at once."""
    import alembic.op  # noqa: F401

    import labelkit.cli._runner
    import labelkit.record.verify  # noqa: F401


@pytest.fixture(scope="module")
def whole(tmp_path_factory):
    """A season of thirteen events, booked in the past of any clock."""
    path = tmp_path_factory.mktemp("whole") / "season.labelkit"
    book_season(path).close()
    return path.read_bytes()


def some(calls: int) -> list[int]:
    """Which of so many calls are tried: the first, the last, and evenly between; or all."""
    if MANY is None or calls <= MANY:
        return list(range(1, calls + 1))
    return sorted({1 + n * (calls - 1) // (MANY - 1) for n in range(MANY)})


def line(path, *words: str) -> list[str]:
    return ["--record", str(path), "--day", "2026-11-20", "--who", "Ada", *words]


def told(ended) -> bool:
    """Whether a command said what, why and do, under an exit code of the contract."""
    return ended.code in (2, 3) and all(word in ended.said for word in ("Why:", "Do:"))


def tried(prepare, look, command, notes, call, fault) -> int:
    """Run a command with its every call of this kind failing in turn, once and from then on; look after each."""
    prepare()
    counted = run_with_fault(command, notes, call)
    assert counted.code == 0, counted.said
    done = 0
    for turn, n in enumerate(some(counted.calls)):
        both = (f"{n}+", f"{n}")  # from then on, or only this once
        for when in both[1:] if "KILL" in fault else both if MANY is None else both[turn % 2 :][:1]:
            prepare()
            ended = run_with_fault(command, notes, call, fault, when=when)
            assert ended.failed or ended.code == KILLED, "the fault was never met"
            assert ended.code == 0 or told(ended) or (ended.code == KILLED and "KILL" in fault), ended
            assert "internal error" not in ended.said, ended.said
            look(ended)
            done += 1
    return done


@pytest.mark.exhaustive(one_in=12)
@pytest.mark.parametrize("fault", FAULTS.values(), ids=list(FAULTS))
@pytest.mark.parametrize("call", CALLS[:4])
def test_wherever_the_disk_fails_while_booking_the_step_is_whole_or_not_there(tmp_path, whole, call, fault):
    season = tmp_path / "season" / "season.labelkit"

    def prepare():
        shutil.rmtree(season.parent, ignore_errors=True)
        season.parent.mkdir()
        season.write_bytes(whole)

    def look(ended):
        with open_record(season) as record:
            verdict = verify(record)
            assert verdict.clean, ended
            if ended.code == 0:
                assert verdict.events == 14, "what was acknowledged is there"
            elif ended.code != KILLED:
                assert verdict.events == 13, "what was refused is not there"
            assert verdict.events in (13, 14)
        again = run_with_fault(line(season, *WEIGH), tmp_path)
        assert again.code == 0, again.said
        with open_record(season) as record:
            assert verify(record).clean and verify(record).events == 14, "the same key books once"

    tried(prepare, look, line(season, *WEIGH), tmp_path, call, fault)


@pytest.mark.exhaustive(one_in=12)
@pytest.mark.parametrize("fault", FAULTS.values(), ids=list(FAULTS))
@pytest.mark.parametrize("call", ("pwrite64", "fdatasync", "fsync", "link", "unlink"))
def test_wherever_the_disk_fails_while_a_record_is_made_there_is_a_whole_one_or_none(tmp_path, call, fault):
    season = tmp_path / "season" / "season.labelkit"

    def prepare():
        shutil.rmtree(season.parent, ignore_errors=True)
        season.parent.mkdir()

    def look(ended):
        if ended.code == 0:
            with open_record(season) as record:
                assert verify(record).clean and verify(record).events == 2
        elif season.exists():
            with open_record(season) as record:
                assert verify(record).clean and verify(record).events in ((0, 2) if ended.code == KILLED else (0,))
        again = run_with_fault(line(season, *START), tmp_path)
        assert again.code == 0, again.said
        with open_record(season) as record:
            assert verify(record).clean and verify(record).events in (2, 4), "whole steps: said once, or said again"

    tried(prepare, look, line(season, *START), tmp_path, call, fault)


@pytest.mark.exhaustive(one_in=12)
@pytest.mark.parametrize("fault", FAULTS.values(), ids=list(FAULTS))
@pytest.mark.parametrize("call", ("pwrite64", "fdatasync", "fsync", "rename"))
def test_wherever_the_disk_fails_while_copying_the_copy_is_whole_or_none_and_the_record_untouched(
    tmp_path, whole, call, fault
):
    season, stick = tmp_path / "season" / "season.labelkit", tmp_path / "stick"

    def prepare():
        for folder in (season.parent, stick):
            shutil.rmtree(folder, ignore_errors=True)
            folder.mkdir()
        season.write_bytes(whole)

    def look(ended):
        copies = list(stick.glob("*.copy"))
        assert copies or ended.code != 0
        for path in [season, *copies]:
            with open_record(path) as record:
                assert verify(record).clean and verify(record).events == 13
        if ended.code != KILLED:
            assert [each.name for each in stick.iterdir()] == [each.name for each in copies], (
                "nothing half made is left"
            )

    tried(prepare, look, line(season, "record", "copy", "--to", str(stick)), tmp_path, call, fault)


@pytest.mark.exhaustive(one_in=12)
@pytest.mark.parametrize("fault", FAULTS.values(), ids=list(FAULTS))
@pytest.mark.parametrize("call", ("pwrite64", "fdatasync", "fsync", "rename"))
def test_wherever_the_disk_fails_while_importing_the_record_is_whole_or_none(tmp_path, whole, call, fault):
    out, into = tmp_path / "out", tmp_path / "into"
    out.mkdir()
    (tmp_path / "season.labelkit").write_bytes(whole)
    with open_record(tmp_path / "season.labelkit") as record:
        for name, text in export(record).items():
            (out / name).write_text(text, encoding="utf-8", newline="")

    def prepare():
        shutil.rmtree(into, ignore_errors=True)
        into.mkdir()

    def look(ended):
        made = into / "again.labelkit"
        assert made.exists() or ended.code != 0
        if made.exists():
            with open_record(made) as record:
                assert verify(record).clean and verify(record).events == 13

    tried(prepare, look, line(into / "again.labelkit", "record", "import", str(out)), tmp_path, call, fault)


def test_a_full_disk_and_a_failing_one_are_told_apart(tmp_path, whole):
    season = tmp_path / "season.labelkit"
    files = season, season.with_name("season.labelkit-wal")
    for call, fault, words in (
        ("pwrite64", "error=ENOSPC", "is full"),
        ("pwrite64", "error=EIO", "returned an error"),
        ("fdatasync", "error=EIO", "did not confirm the last write"),
        ("openat", "error=EIO", "returned an error"),
    ):
        season.write_bytes(whole)
        ended = run_with_fault(line(season, *WEIGH), tmp_path, call, fault, when="1+", only=files)
        assert ended.code == 3 and words in ended.said, ended.said


def test_reading_from_a_failing_disk_is_told_and_nothing_is_guessed(tmp_path, whole):
    season = tmp_path / "season.labelkit"
    season.write_bytes(whole)
    command = line(season, "record", "verify")
    calls = run_with_fault(command, tmp_path, "pread64", only=(season,)).calls
    for n in some(calls):
        ended = run_with_fault(command, tmp_path, "pread64", "error=EIO", when=f"{n}+", only=(season,))
        # SQLite itself calls some pages it cannot read malformed; both are refusals, and neither is a clean verdict
        assert ended.code == 3 and "Do:" in ended.said, ended.said
        assert "returned an error" in ended.said or "damaged" in ended.said, ended.said
    with open_record(season) as record:
        assert verify(record).clean


def test_a_step_the_disk_would_not_confirm_is_safe_to_repeat_even_after_a_power_failure(tmp_path, whole):
    """Another station keeps the log open, so it stays as it lies on the disk; then the power goes."""
    season, log = tmp_path / "season.labelkit", tmp_path / "season.labelkit-wal"
    for n in range(1, 4):
        for left in (season, log, tmp_path / "season.labelkit-shm"):
            left.unlink(missing_ok=True)
        season.write_bytes(whole)
        holder, ready, done = station_open(season)
        try:
            os.read(ready, 1)
            ended = run_with_fault(
                line(season, *WEIGH), tmp_path, "fdatasync", "error=EIO", when=f"{n}+", only=(season, log)
            )
            after = tmp_path / f"after{n}"
            after.mkdir()
            for each in (season, log):
                shutil.copy(each, after / each.name)
        finally:
            os.close(done)
            os.waitpid(holder, 0)
            os.close(ready)
        with open_record(after / season.name) as record:
            verdict = verify(record)
            assert verdict.clean and verdict.events in ((14,) if ended.code == 0 else (13, 14))
        again = run_with_fault(line(after / season.name, *WEIGH), tmp_path)
        assert again.code == 0, again.said
        with open_record(after / season.name) as record:
            assert verify(record).clean and verify(record).events == 14


def station_open(season):
    """A process that has the record open until told; its number, a pipe that speaks once it has, and one to end it."""
    ready, says = os.pipe()
    hears, done = os.pipe()
    child = os.fork()
    if child == 0:
        os.close(done)
        record = open_record(season)
        with record.work(who="Bela", at=datetime.now().astimezone()) as work:
            work.add(weigh("B0", "1"))
        os.write(says, b"!")
        os.read(hears, 1)
        os._exit(0)
    os.close(says)
    os.close(hears)
    return child, ready, done
