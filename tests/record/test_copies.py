"""Copies are whole, verified and dated; bringing one back loses nothing; an export comes back hash for hash."""

import shutil
import threading
from contextlib import contextmanager
from datetime import date, timedelta
from pathlib import Path

import pytest

from labelkit.errors.record import CopyFailed, ImportRefused, RecordInTheWay, RestoreRefused
from labelkit.record import open_record
from labelkit.record.copies import copy_file, copy_record, restore, rotated
from labelkit.record.export import export, import_whole
from labelkit.record.verify import verify
from tests.record.season import AT, book_season, weigh
from tests.record.tampering import tamper


def head(path):
    with open_record(path) as record, record.reading() as state:
        return state.head()


def weigh_one(path, name):
    with open_record(path) as record, record.work(who="Ada", at=AT + timedelta(hours=1)) as work:
        work.add(weigh(name, "1"))
        work.commit()


def test_a_copy_is_one_file_with_the_same_head(file, tmp_path):
    book_season(file).close()
    (tmp_path / "stick").mkdir()
    copied = copy_record(file, tmp_path / "stick", AT)
    assert copied.path.name == "season.2026-07-20-183000.copy"
    assert [each.name for each in (tmp_path / "stick").iterdir()] == [copied.path.name]
    assert head(copied.path) == head(file)


def test_a_copy_made_while_a_station_writes_is_whole(file, tmp_path):
    book_season(file).close()
    stop = threading.Event()

    def write():
        n = 0
        with open_record(file) as record:
            while not stop.is_set():
                with record.work(who="Bela", at=AT + timedelta(hours=1)) as work:
                    work.add_all((weigh(f"W{n}a", "1"), weigh(f"W{n}b", "1")))
                    work.commit()
                n += 1

    writer = threading.Thread(target=write)
    writer.start()
    try:
        copies = [copy_file(file, tmp_path / f"copy{n}") for n in range(5)]
    finally:
        stop.set()
        writer.join()
    assert all((each.seq - 13) % 2 == 0 for each in copies), "only whole steps"
    assert copies[0].seq < copies[-1].seq, "it was written meanwhile"


def test_only_the_last_copies_are_kept_and_nothing_else_is_touched(file, tmp_path):
    book_season(file).close()
    stick = tmp_path / "stick"
    stick.mkdir()
    others = ["notes.txt", "season.copy", "other.2026-07-20-183000.copy", "season.2026-07-20.copy"]
    for name in others:
        (stick / name).write_text("mine")
    for n in range(5):
        copied = copy_record(file, stick, AT + timedelta(days=n), keep=2)
    assert [each.name for each in copied.removed] == ["season.2026-07-22-183000.copy"]
    kept = ["season.2026-07-23-183000.copy", "season.2026-07-24-183000.copy"]
    assert sorted(each.name for each in stick.iterdir()) == sorted(others + kept)


def test_a_copy_of_a_tampered_record_is_not_kept(file, tmp_path):
    book_season(file).close()
    tamper(file, "UPDATE event SET who = 'Eve' WHERE seq = 3")
    with pytest.raises(CopyFailed, match="event 3"):
        copy_file(file, tmp_path / "copy")
    assert sorted(each.name for each in tmp_path.iterdir()) == ["season.labelkit"]


def test_a_copy_never_writes_over_anything(file, tmp_path):
    book_season(file).close()
    (tmp_path / "copy").write_text("mine")
    with pytest.raises(RecordInTheWay):
        copy_file(file, tmp_path / "copy")
    assert (tmp_path / "copy").read_text() == "mine"


def test_a_copy_brought_back_is_the_record_again(file, tmp_path):
    book_season(file).close()
    before = head(file)
    copy_file(file, tmp_path / "copy")
    file.write_bytes(b"\xa5" * 20_000)
    restored, aside = restore(tmp_path / "copy", file, AT)
    assert restored == before == head(file)
    assert aside.read_bytes() == b"\xa5" * 20_000, "what stood there is set aside, not deleted"


def test_a_sound_record_with_later_events_is_not_replaced_unless_asked(file, tmp_path):
    book_season(file).close()
    copy_file(file, tmp_path / "copy")
    weigh_one(file, "B5")
    later = head(file)
    with pytest.raises(RestoreRefused, match="1 event after event 13"):
        restore(tmp_path / "copy", file, AT)
    assert head(file) == later
    _, aside = restore(tmp_path / "copy", file, AT, even_if_newer=True)
    assert head(file).seq == 13 and head(aside) == later


def test_a_damaged_copy_is_not_brought_back(file, tmp_path):
    book_season(file).close()
    copy = tmp_path / "copy"
    copy_file(file, copy)
    tamper(copy, "UPDATE event SET who = 'Eve' WHERE seq = 3")
    with pytest.raises(CopyFailed):
        restore(copy, tmp_path / "again.labelkit", AT)
    assert not (tmp_path / "again.labelkit").exists()


# --- export and import ------------------------------------------------------------------------------------------------


def write_out(record, folder):
    folder.mkdir()
    for name, text in export(record).items():
        (folder / name).write_text(text, encoding="utf-8", newline="")
    return folder


def test_an_export_comes_back_hash_for_hash_on_both_engines(where, tmp_path):
    with book_season(where) as record:
        with record.work(who="Zoë, “the boss”\r\n", at=AT + timedelta(hours=1), key="") as work:
            work.correct(11, "=1+1, no gift\n")
            work.commit()
        out = write_out(record, tmp_path / "out")
        with record.reading() as state:
            before = state.head()
    assert import_whole(out, str(tmp_path / "again.labelkit")) == (before.seq, before.hash)
    with open_record(tmp_path / "again.labelkit") as again, open_record(where) as record:
        assert verify(again).clean
        assert export(again) == export(record)
        assert list(again.events()) == list(record.events())


@pytest.mark.postgres
def test_an_export_of_a_file_comes_back_on_a_server(file, tmp_path):
    from tests.record.server import new_database

    with book_season(file) as record:
        out = write_out(record, tmp_path / "out")
    there = new_database()
    assert import_whole(out, there)[0] == 13
    with pytest.raises(RecordInTheWay):
        import_whole(out, there)


EDITS = {
    "a figure changed": lambda text: text.replace("27300000", "27300001"),
    "a line gone": lambda text: "\r\n".join(each for n, each in enumerate(text.split("\r\n")) if n != 5),
    "two lines changed round": lambda text: "\r\n".join(
        [*text.split("\r\n")[:4], *reversed(text.split("\r\n")[4:6]), *text.split("\r\n")[6:]]
    ),
    "the end cut off": lambda text: "\r\n".join(text.split("\r\n")[:-3]) + "\r\n",
    "a column renamed": lambda text: text.replace("recorded_at", "booked", 1),
    "half a line": lambda text: text[:-80],
}


@pytest.mark.parametrize("edit", EDITS.values(), ids=list(EDITS))
def test_an_edited_export_is_refused_whole(file, tmp_path, edit):
    with book_season(file) as record:
        out = write_out(record, tmp_path / "out")
    events = out / "events.csv"
    with events.open(encoding="utf-8", newline="") as text:
        edited = edit(text.read())
    events.write_text(edited, encoding="utf-8", newline="")
    again = tmp_path / "again.labelkit"
    with pytest.raises(ImportRefused):
        import_whole(out, str(again))
    assert sorted(each.name for each in tmp_path.iterdir()) == ["out", "season.labelkit"]


def test_an_import_never_writes_over_a_record(file, tmp_path):
    with book_season(file) as record:
        out = write_out(record, tmp_path / "out")
    before = file.read_bytes()
    with pytest.raises(RecordInTheWay):
        import_whole(out, str(file))
    assert file.read_bytes() == before
    shutil.rmtree(out)
    with pytest.raises(ImportRefused):
        import_whole(out, str(tmp_path / "again.labelkit"))


def test_taking_in_tells_how_many_events_are_done_and_then_verifies_them(file, tmp_path):
    with book_season(file) as record:
        out = write_out(record, tmp_path / "out")
    heard = []

    @contextmanager
    def counting(words, total):
        heard.append((words, total))
        yield heard.append

    import_whole(out, str(tmp_path / "again.labelkit"), counting)
    assert heard == [("Taking in", 13), 13, ("Verifying", 13), 13]


def test_a_rotation_keeps_the_last_of_seven_days_five_weeks_and_twelve_months():
    """Every day of two years: of the days the last seven, of the weeks their last days, of the months their last days."""
    days = [date(2025, 1, 1) + timedelta(days=n) for n in range(730)]
    kept = sorted(rotated([Path(f"s.{day}-{hour}0000.copy") for day in days for hour in ("08", "18")]))
    months = [each - timedelta(days=1) for each in (date(2026, month, 1) for month in range(2, 13))]
    weeks = [date(2026, 12, 6), date(2026, 12, 13), date(2026, 12, 20), date(2026, 12, 27)]  # Sundays: ISO 8601 weeks
    assert kept == [Path(f"s.{day}-180000.copy") for day in sorted({*days[-7:], *months, *weeks})]
