"""Cases of the record room: each caused the way a user would meet it, where a test can; built by hand where only a
server's or a disk's bad day brings it."""

import os
import sqlite3
import tempfile
from datetime import UTC, date, datetime, timedelta
from pathlib import Path

from labelkit.errors.record import (
    ClockBackwards,
    ClockFarAhead,
    ConnectionLost,
    CopyFailed,
    CopyFolderMissing,
    CorrectionDoesNotClose,
    CorrectionRefused,
    CorrectionValueNotFor,
    DayBeforeItsHoney,
    DayLaterThanClock,
    DiskError,
    DiskFull,
    DriverMissing,
    EngineTooOld,
    EventUnkeepable,
    EventUnreadable,
    ImportRefused,
    JarsStillAtStall,
    JarsTooFew,
    KeyReused,
    LotHeld,
    LotTwice,
    LotUnknown,
    MassNotConserved,
    NotARecord,
    NothingInYear,
    NothingNoted,
    NothingToSet,
    NothingToWarm,
    OnlyForFiles,
    OnlyForServers,
    OutcomeUnknown,
    RecordBusy,
    RecordDamaged,
    RecordFolderMissing,
    RecordInTheWay,
    RecordInUse,
    RecordMissing,
    RecordNewer,
    RecordNotWritable,
    RecordOlder,
    RecordsBesideEachOther,
    RecordTruncated,
    RestoreRefused,
    SealUnreadable,
    ServerUnreachable,
    TimeWithoutZone,
    VersionUnwilling,
    WriteNotConfirmed,
    YearClosedBefore,
    YearIsClosed,
    YearNotOver,
)
from labelkit.measures.period import Period
from labelkit.record import open_record
from labelkit.record.chain import read_seal
from labelkit.record.copies import copy_file, copy_record, restore
from labelkit.record.export import import_whole
from labelkit.record.lookup import find_lot
from labelkit.record.roles import station_rights
from labelkit.sale.events import Sale
from labelkit.season import open_season
from labelkit.season.authority import authority
from labelkit.season.context import only_record
from labelkit.season.start import SeasonStart, start
from labelkit.trace.hold import Hold
from tests.record.season import AT, B1, LATER, LOT, POUND, book_season, kg, line, run_of


def raising(error: Exception):
    def cause():
        raise error

    return cause


def in_folder(cause):
    """Run a cause in a new folder that is gone afterwards."""

    def run():
        with tempfile.TemporaryDirectory() as folder:
            cause(Path(folder))

    return run


def in_season(cause):
    """Run a cause on the open book of a whole season."""

    def run(folder):
        with book_season(folder / "season.labelkit") as book:
            cause(book)

    return in_folder(run)


def step(*events):
    def cause(book):
        with book.work(who="Ada", at=AT + timedelta(days=1)) as work:
            work.add_all(events)
            work.commit()

    return in_season(cause)


def at(when):
    def cause(book):
        with book.work(who="Ada", at=when):
            pass

    return in_season(cause)


def beside_each_other(folder):
    for name in ("season", "old"):
        (folder / f"{name}.labelkit").touch()
    only_record(folder)


def foreign(folder):
    other = sqlite3.connect(folder / "other.db")
    other.execute("CREATE TABLE recipes (name)")
    other.commit()
    other.close()
    open_record(folder / "other.db")


def cut_short(folder):
    book_season(folder / "season.labelkit").close()
    os.truncate(folder / "season.labelkit", 8192)
    open_record(folder / "season.labelkit")


def newer(folder):
    book_season(folder / "season.labelkit").close()
    file = sqlite3.connect(folder / "season.labelkit")
    file.execute("UPDATE alembic_version SET version_num = '0099'")
    file.commit()
    file.close()
    open_record(folder / "season.labelkit")


def tampered(folder, change="UPDATE event SET who = 'Eve' WHERE seq = 3"):
    where = folder / "season.labelkit"
    book_season(where).close()
    file = sqlite3.connect(where)
    file.execute("DROP TRIGGER event_no_update")
    file.execute(change)
    file.commit()
    file.close()
    return where


def read_tampered(folder):
    with open_record(tampered(folder)) as book:
        list(book.events())


def read_unknown_kind(folder):
    from labelkit.record.chain import digest, envelope

    where = folder / "season.labelkit"
    book_season(where).close()
    file = sqlite3.connect(where)
    (previous,) = file.execute("SELECT hash FROM event WHERE seq = 13").fetchone()
    row = (14, "candy", "2026-07-21", "2026-07-21T10:00:00+02:00", "Ada", None, 0, "{}", previous)
    new = digest(previous, envelope(*row[:8]))
    file.execute("INSERT INTO event VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?)", (*row, new))
    file.commit()
    file.close()
    with open_record(where) as book:
        list(book.events())


def hold_then_sell(book):
    with book.work(who="Ada", at=AT + timedelta(hours=1)) as work:
        work.add(Hold(LATER, (LOT,), "a splinter was found"))
        work.add(Sale(LATER, (line(1),)))


def same_key(book):
    with book.work(who="Ada", at=AT + timedelta(hours=1), key="market day") as work:
        work.add(Sale(LATER, (line(1),)))
        work.commit()


def correct_nothing(book):
    with book.work(who="Ada", at=AT + timedelta(hours=1)) as work:
        work.correct(99, "a slip")


def unknown_lot(book):
    with book.reading() as state:
        find_lot(state, "B22")


def nothing_in_year(book):
    with book.reading() as state:
        authority(state, (), Period.of_year(2019))


def restore_older(folder):
    with book_season(folder / "season.labelkit") as book:
        copied = copy_record(book.path, folder, AT)
        with book.work(who="Ada", at=AT + timedelta(hours=1)) as work:
            work.add(B1.__class__("B5", LATER, kg("3")))
            work.commit()
    restore(copied.path, folder / "season.labelkit", AT)


def restore_while_open(folder):
    with book_season(folder / "season.labelkit") as book:
        copied = copy_record(book.path, folder, AT)
        restore(copied.path, folder / "season.labelkit", AT)


def export_is_missing(folder):
    import_whole(folder, str(folder / "again.labelkit"))


uneven = type(line(1))(LOT, "one pound", 16, POUND - kg("0.01"))


def nothing_to_set():
    with (
        tempfile.TemporaryDirectory() as folder,
        open_season(Path(folder) / "a.labelkit", create=True) as season,
        season.work() as work,
    ):
        start(work, SeasonStart(), date(2026, 7, 14))


def nothing_to_warm():
    """A season without a bucket."""
    from labelkit.season.warming import WarmingAsked, warming

    with tempfile.TemporaryDirectory() as folder, open_record(Path(folder) / "r.labelkit", create=True) as book:
        warming(book, WarmingAsked(date(2026, 11, 20)))


CASES = [
    (NothingToWarm, nothing_to_warm, "There is no bucket with honey to warm."),
    (RecordMissing, in_folder(lambda f: open_record(f / "none.labelkit")), "There is no record at"),
    (RecordFolderMissing, in_folder(lambda f: open_record(f / "no" / "a.labelkit", create=True)), "there is no folder"),
    (
        CopyFolderMissing,
        in_folder(lambda f: copy_record(f / "a", f / "stick", AT)),
        "stick: there is no such folder.",
    ),
    (RecordsBesideEachOther, in_folder(beside_each_other), "holds 2 records: old.labelkit, season.labelkit"),
    (RecordInTheWay, in_folder(lambda f: copy_file(f / "a", f)), "already exists"),
    (NotARecord, in_folder(foreign), "a database of another program"),
    (NotARecord, in_folder(lambda f: ((f / "a").write_text("hello"), open_record(f / "a"))), "not a database file"),
    (NotARecord, in_folder(lambda f: ((f / "a").touch(), open_record(f / "a"))), "it is empty"),
    (NotARecord, in_folder(open_record), "it is a folder"),
    (RecordTruncated, in_folder(cut_short), "it has 8,192 of 106,496 bytes."),
    (
        RecordNewer,
        in_folder(newer),
        "season.labelkit (format 0099).",
    ),
    (RecordDamaged, in_folder(read_tampered), "event 3 (weigh of 2026-07-14) was changed"),
    (EventUnreadable, in_folder(read_unknown_kind), "no such kind"),
    (CopyFailed, in_folder(lambda f: copy_file(tampered(f), f / "copy")), "event_no_update was taken out"),
    (
        RestoreRefused,
        in_folder(restore_older),
        "is sound and has 1 event after event 13, where the copy ends.",
    ),
    (RecordInUse, in_folder(restore_while_open), "open on another station"),
    (ImportRefused, in_folder(export_is_missing), "labelkit cannot import "),
    (
        ClockBackwards,
        at(AT - timedelta(days=1)),
        "The clock shows 2026-07-19T18:30:00+02:00, but event 13 was saved at 2026-07-20T19:00:00+02:00.",
    ),
    (
        ClockFarAhead,
        at(AT + timedelta(days=365)),
        "The clock shows 2027-07-20T18:30:00+02:00, but the last event (13) was saved at 2026-07-20T19:00:00+02:00.",
    ),
    (TimeWithoutZone, at(datetime(2026, 8, 1, 9, 0)), "no time zone"),
    (NothingToSet, nothing_to_set, "at least one thing"),
    (KeyReused, in_season(same_key), "market day"),
    (EventUnkeepable, step(B1.__class__("B5", LATER, kg("3"), moisture=17.6)), "float has no exact written form"),
    (MassNotConserved, step(Sale(LATER, (uneven,))), "filling weight of jars"),
    (LotTwice, step(run_of("B1", LOT, 1)), "already bottled on 2026-07-20"),
    (YearIsClosed, raising(YearIsClosed("sold", "2025", "2026-01-03")), "This (sold) would change 2025"),
    (YearNotOver, raising(YearNotOver("2026", "2026-12-31", "2026-07-20")), "Today is 2026-07-20."),
    (
        YearClosedBefore,
        raising(YearClosedBefore("2025", "2025", 41)),
        "2025 has days of 2025, which is closed (event 41).",
    ),
    (
        JarsStillAtStall,
        raising(JarsStillAtStall("2025", 7, "2025-12-31")),
        "On the last evening of 2025, 2025-12-31, the record has 7 jars at a stall.",
    ),
    (NothingInYear, in_season(nothing_in_year), "in 2019"),
    (LotUnknown, in_season(unknown_lot), "perhaps B2"),
    (JarsTooFew, step(Sale(LATER, (line(20),))), "4 too few in stock."),
    (LotHeld, in_season(hold_then_sell), "a splinter was found"),
    (CorrectionRefused, in_season(correct_nothing), "no event of this number"),
    (SealUnreadable, lambda: read_seal("7 GXCR-WGAA-RQED-K4HI-NFHD-Q5YR-QLNO-FHEC-O"), "something was misread"),
    (SealUnreadable, lambda: read_seal("7"), "eight groups of four"),
    (OnlyForServers, in_season(lambda book: station_rights(book, "labelkit_station")), "This one is a file."),
    (OnlyForFiles, lambda: copy_record(None, Path(), datetime(2026, 7, 20, tzinfo=UTC)), "on a PostgreSQL server"),
    (ServerUnreachable, lambda: open_record("postgresql://nobody@127.0.0.1:9/none"), "does not answer"),
    (RecordNotWritable, raising(RecordNotWritable("a.labelkit", "its folder can only be read")), "only be read"),
    (
        RecordOlder,
        raising(RecordOlder("a.labelkit", "0001", "0002")),
        "The record a.labelkit has the older format 0001.",
    ),
    (RecordBusy, raising(RecordBusy("a.labelkit", 30)), "more than 30 seconds"),
    (DiskFull, raising(DiskFull("a.labelkit")), "The disk of a.labelkit is full."),
    (DiskError, raising(DiskError("a.labelkit", "Input/output error")), "over its quota"),
    (
        WriteNotConfirmed,
        raising(WriteNotConfirmed("a.labelkit")),
        "The disk that holds a.labelkit did not confirm the last write.",
    ),
    (
        DriverMissing,
        raising(DriverMissing("postgresql://…")),
        "postgresql://… is a PostgreSQL address, but its driver is not installed.",
    ),
    (EngineTooOld, raising(EngineTooOld("3.31.1", "3.37")), "3.31.1"),
    (ConnectionLost, raising(ConnectionLost("postgresql://honeyhouse/season")), "this step was not saved."),
    (OutcomeUnknown, raising(OutcomeUnknown("postgresql://honeyhouse/season", "till 7")), "--once till 7"),
    (OutcomeUnknown, raising(OutcomeUnknown("postgresql://honeyhouse/season", None)), "record events"),
    (VersionUnwilling, raising(VersionUnwilling("a.labelkit", "a.copy", "no such column")), "no such column"),
    (CorrectionValueNotFor, raising(CorrectionValueNotFor(3, "price", "net", ())), "has no net to correct"),
    (
        CorrectionValueNotFor,
        raising(CorrectionValueNotFor(3, "bottled", "net", ("jars", "left"))),
        "one of: jars, left",
    ),
    (NothingNoted, raising(NothingNoted()), "The note has no text, or names no bucket and no lot."),
    (CorrectionDoesNotClose, raising(CorrectionDoesNotClose(1, "Short.", ((4, "sold: 12"),))), "record correct 4"),
    (
        DayLaterThanClock,
        raising(DayLaterThanClock("sold", "9999-01-01", "2026-07-20")),
        "9999-01-01 is later than today",
    ),
    (DayBeforeItsHoney, raising(DayBeforeItsHoney("bottled", "2026-07-01", "B1", "2026-07-12")), "from 2026-07-12 on"),
]
