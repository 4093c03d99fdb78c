"""People stand outside the chain: found while needed, forgotten without a trace of them and without breaking anything."""

import os
import shutil
from datetime import timedelta
from pathlib import Path

import pytest

from labelkit.errors.record import EventUnkeepable, LotUnknown, RecordNotWritable
from labelkit.record import open_record
from labelkit.record.copies import copy_file, copy_record, restore
from labelkit.record.engine import sa
from labelkit.record.export import export, import_whole
from labelkit.record.lookup import find_buyer
from labelkit.record.people import commitment
from labelkit.record.settings import Setting
from labelkit.record.verify import verify
from labelkit.sale.account_events import Delivery
from labelkit.sale.events import Discard, Sale
from labelkit.season import open_season
from labelkit.season.forget import forget, protect_names
from labelkit.trace.follow import follow
from labelkit.trace.recall_events import Told
from tests.record.season import AT, LATER, book_season, line
from tests.record.server import as_owner, new_database, owned
from tests.record.tampering import tamper


@pytest.fixture
def record(where):
    with book_season(where) as record:
        with record.work(who="Ada", at=AT + timedelta(hours=1)) as work:
            home = ("1 Invented lane", "Nowhere")
            work.add(Delivery(LATER, "17", "Corner shop", (line(1),), address=home))
            work.add(Delivery(LATER, "18", "Hill café", (line(1),), address=("2 Invented lane", "Nowhere")))
            work.commit()
        yield record


def forgotten(record, name):
    with owned(record) as record, record.work(who="Ada", at=AT + timedelta(hours=2)) as work:
        work.forget(name, "asked by letter")
        return work.commit()[0]


def test_no_event_holds_a_name_but_every_reader_sees_it(record):
    lines = export(record, people=False)["events.csv"]
    assert "Corner shop" not in lines and "Invented lane" not in lines
    assert {each.event.customer for each in record.events(("deliver",))} == {"Corner shop", "Hill café"}
    with record.reading() as state:
        assert state.names("customer") == {"Corner shop", "Hill café"}
        assert find_buyer(state, customer="Hill café").lots


def test_a_forgotten_customer_is_gone_and_the_record_is_whole(record):
    with record.reading() as state:
        before = state.head()
    booked = forgotten(record, "Corner shop")
    assert "Corner shop" not in "".join(export(record).values())
    assert "1 Invented lane" not in "".join(export(record).values())
    with record.reading() as state:
        assert state.event(before.seq).hash == before.hash
        assert state.names("customer") == {"(forgotten 1)", "Hill café"}
        with pytest.raises(LotUnknown):
            find_buyer(state, customer="Corner shop")
    assert booked.event.numbers == (1, 2), "the name and the street, not the town others live in too"
    assert verify(record).clean


def test_what_others_share_is_kept(record):
    forgotten(record, "Corner shop")
    assert next(iter(record.events(("deliver",), after=14))).event.address == ("2 Invented lane", "Nowhere")


def test_a_trace_still_counts_what_a_forgotten_customer_had(record):
    forgotten(record, "Corner shop")
    with record.reading() as state:
        start = find_buyer(state, customer="(forgotten 1)")
        trace = follow(start, state.story(start.lots))
    assert sum(w.count for w in trace.went) == 12 + 3 + 1 + 2


def test_what_a_commitment_is_comes_from_outside():
    # RFC 4231, test case 1 of HMAC-SHA-256
    assert commitment("0b" * 20, "Hi There") == "b0344c61d8db38535ca8afceaf0bf12b881dc200c9833da726e9376c2e32cff7"


def test_every_name_has_a_salt_of_its_own_that_nobody_chose(record):
    with record.reading() as state:
        kept = list(state.people.all())
    assert len({each.salt for each in kept}) == len(kept)
    assert all(len(each.salt) == 64 and commitment(each.salt, each.text) == each.commitment for each in kept)


PRIVATE = {
    "a customer's address": Sale(LATER, (line(1),), to="stall", customer="Jo", place="9 Invented lane"),
    "a place nobody is named for": Sale(LATER, (line(1),), to="door", place="9 Invented lane"),
    "what was said on the telephone": Told(LATER, "R1", "Jo", "phone", note="9 Invented lane"),
    "what is noted of a customer": Setting(
        LATER, "customer Jo", {"note": "9 Invented lane", "phone": "9 Invented lane"}
    ),
}


@pytest.mark.parametrize("event", PRIVATE.values(), ids=list(PRIVATE))
def test_what_is_about_a_person_never_stands_in_the_chain(file, event):
    with book_season(file) as record:
        with record.work(who="Ada", at=AT + timedelta(hours=1)) as work:
            work.add(event)
            work.commit()
        assert list(record.events())[-1].event == event
        assert "9 Invented lane" not in export(record, people=False)["events.csv"]
        forgotten(
            record, getattr(event, "customer", None) or ("Jo" if isinstance(event, Setting) else "9 Invented lane")
        )
        assert "9 Invented lane" not in "".join(export(record).values())
        assert verify(record).clean


def test_the_place_of_a_market_is_nobodys_secret(file):
    with book_season(file) as record:
        assert "Saturday market" in export(record, people=False)["events.csv"]


def test_a_reason_that_says_the_very_name_is_refused(record):
    with (
        owned(record) as record,
        pytest.raises(EventUnkeepable, match="very name"),
        record.work(who="Ada", at=AT + timedelta(hours=2)) as work,
    ):
        work.forget("Corner shop", "the corner shop asked")


EXCHANGES = {
    "another name": "UPDATE person SET text = 'Eve shop' WHERE number = 1",
    "a name taken out": "UPDATE person SET text = NULL, salt = NULL WHERE number = 1",
    "a row taken out": "DELETE FROM person WHERE number = 1",
    "another salt": "UPDATE person SET salt = replace(salt, '1', '2') WHERE number = 1",
    "another commitment": "UPDATE person SET commitment = replace(commitment, '1', '2') WHERE number = 1",
    "no salt at all": "UPDATE person SET salt = NULL WHERE number = 1",
    "another number": "UPDATE person SET number = 7 WHERE number = 1",
    "somebody put in": "INSERT INTO person VALUES (9, 'Eve', NULL, NULL, '')",
}


@pytest.mark.parametrize("change", EXCHANGES.values(), ids=list(EXCHANGES))
def test_a_name_exchanged_behind_the_records_back_is_found(file, change):
    book_season(file).close()
    tamper(file, change)
    with open_record(file) as record:
        assert [fault.sort for fault in verify(record).faults if fault.sort != "engine"][:1] == ["person"]


def test_a_name_put_back_after_it_was_forgotten_is_found(file):
    with book_season(file) as record:
        forgotten(record, "Corner shop")
    tamper(file, "UPDATE person SET text = 'Corner shop' WHERE number = 1")
    with open_record(file) as record:
        assert ["forgotten by event 14" in fault.found for fault in verify(record).faults] == [True]


@pytest.mark.parametrize("change", ["SET text = 'Eve'", "SET number = 9", "SET commitment = ''"])
def test_the_database_itself_lets_a_person_only_be_forgotten(where, change):
    book_season(where).close()
    with open_record(as_owner(where)) as record, record._engine.connect() as other:
        for statement in (f"UPDATE person {change}", "DELETE FROM person"):
            with pytest.raises(sa.exc.DBAPIError, match=r"only be forgotten|append-only"):
                other.exec_driver_sql(statement)
            other.rollback()


def test_names_of_an_earlier_labelkit_are_committed_to_once_asked(tmp_path):
    season = shutil.copy(Path(__file__).parent / "forms" / "0002.record", tmp_path / "season.labelkit")
    open_record(season).close()
    before = shutil.copy(season, tmp_path / "before.labelkit")
    with open_record(season) as record:
        exchange = "UPDATE person SET text = 'Eve', salt = '00', commitment = '{}'".format(commitment("00", "Eve"))
        with open_season(season, who="Ada", clock=AT + timedelta(days=1)) as opened:
            assert protect_names(opened, LATER) == 14
            assert protect_names(opened, LATER) is None
        assert verify(record).clean
    for place, found in ((before, False), (season, True)):
        tamper(place, exchange)
        with open_record(place) as record:
            assert bool(verify(record).faults) is found, "before it was committed to, nothing could tell"


# --- forgetting all the way -------------------------------------------------------------------------------------------


def test_the_name_is_gone_from_the_file_its_log_and_all_that_labelkit_made(file, tmp_path):
    stick, out = tmp_path / "stick", tmp_path / "out"
    stick.mkdir()
    out.mkdir()
    left = tmp_path / ".season.labelkit.999999999-1.new"
    with book_season(file) as record:
        record.remember(stick, "copies")
        copy_record(file, stick, AT)
        record.remember(out, "export")
        for name, text in export(record).items():
            (out / name).write_text(text, encoding="utf-8", newline="")
        copy_file(file, file.with_name(f"{file.name}.set-aside.2026-07-20-100000"))
        left.write_text("Corner shop")
        with open_season(file, who="Ada", clock=AT + timedelta(hours=2)) as season:
            done = forget(season, "Corner shop", "asked by letter", LATER)
        assert (file.parent / "season.labelkit-wal").stat().st_size == 0, "emptied while another station has it open"
    for each in tmp_path.rglob("*"):
        assert each.is_dir() or b"Corner shop" not in each.read_bytes(), each
    assert {Path(each.partition(" (")[0]).name for each in done.cleared.cleaned} == {
        "season.labelkit",
        "season.2026-07-20-183000.copy",
        "season.labelkit.set-aside.2026-07-20-100000",
        "out",
        left.name,
    }
    assert done.cleared.remains == () and done.cleared.events == ()
    with open_record(next(stick.iterdir())) as copy:
        assert verify(copy).clean and verify(copy).withheld == {1: "forgotten after this copy was made"}
    assert import_whole(out, str(tmp_path / "again.labelkit"))[0] == 13


def test_what_cannot_be_reached_is_named(file, tmp_path):
    stick = tmp_path / "stick"
    stick.mkdir()
    with book_season(file) as record:
        record.remember(stick, "copies")
        copy_record(file, stick, AT)
        with record.work(who="Corner shop", at=AT + timedelta(hours=1)) as work:
            work.add(Discard(LATER, (line(1),), reason="dropped at the Corner shop"))
            work.commit()
    stick.rename(tmp_path / "away")
    with open_season(file, who="Ada", clock=AT + timedelta(hours=2)) as season, season.record.reading():
        done = forget(season, "Corner shop", "asked by letter", LATER)
    places = [place.partition(":")[0] for place in done.cleared.remains]
    assert places == [f"{file}-wal", str(stick)], "somebody was reading, so the log could not be emptied"
    assert done.cleared.events == (14,), "what people typed as a reason, or as their own name, is in the chain"


def test_a_name_that_is_part_of_another_word_is_not_said_to_stay(file):
    with book_season(file) as record, record.work(who="Corner shoppers", at=AT + timedelta(hours=1)) as work:
        work.add(Discard(LATER, (line(1),), reason="not of the corner shops: filled short"))
        work.add(Discard(LATER, (line(1),), reason="said\nCorner Shop, again"))
        work.commit()
    with open_season(file, who="Ada", clock=AT + timedelta(hours=2)) as season:
        assert forget(season, "Corner shop", "asked by letter", LATER).cleared.events == (15,)


@pytest.mark.postgres
def test_on_a_server_the_owner_forgets_and_is_told_what_the_server_keeps():
    where = new_database()
    book_season(where).close()
    with (
        open_season(where, who="Ada", clock=AT + timedelta(hours=2)) as station,
        pytest.raises(RecordNotWritable, match="permission denied"),
    ):
        forget(station, "Corner shop", "asked by letter", LATER)
    with open_season(as_owner(where), who="Ada", clock=AT + timedelta(hours=2)) as owner:
        done = forget(owner, "Corner shop", "asked by letter", LATER)
        assert verify(owner.record).clean
    assert len(done.cleared.cleaned) == 1
    assert [("write-ahead log" in each) for each in done.cleared.remains] == [True]


def test_files_and_copies_are_for_their_owner_alone(file, tmp_path):
    old_mask = os.umask(0)
    try:
        with book_season(file) as record:
            copy_file(file, tmp_path / "copy")
            with record.work(who="Ada", at=AT + timedelta(hours=1)) as work:
                work.add(Setting(LATER, "market", ["us"]))
                work.commit()
            assert {each.name for each in tmp_path.iterdir()} >= {"season.labelkit-wal", "season.labelkit-shm"}
            assert {each.stat().st_mode & 0o777 for each in tmp_path.iterdir()} == {0o600}
        restore(tmp_path / "copy", tmp_path / "again.labelkit", AT)
        assert {each.stat().st_mode & 0o777 for each in tmp_path.iterdir()} == {0o600}
    finally:
        os.umask(old_mask)


def test_what_a_stopped_command_left_is_removed_by_the_next_and_what_is_being_made_is_not(file):
    book_season(file).close()
    ours = [".season.labelkit.999999999-7.new", ".season.labelkit.999999999-7.new-wal", ".trace.csv.999999999-7.part"]
    others = [f".season.labelkit.{os.getppid()}-7.new", ".notes", ".season.labelkit.new"]
    for name in (*ours, *others):
        (file.parent / name).touch()
    (file.parent / ".season.labelkit.999999999-7.import").mkdir()
    with open_record(file) as record:
        assert {each.name for each in record.swept} == {*ours, ".season.labelkit.999999999-7.import"}
    assert {each.name for each in file.parent.iterdir()} == {file.name, *others}


def test_what_is_remembered_about_a_customer_is_forgotten_too(record):
    known = {"address": ["1 Invented lane", "Nowhere"], "prices": {"one pound": "8.40"}}
    with record.work(who="Ada", at=AT + timedelta(hours=1)) as work:
        work.add(Setting(LATER, "customer Corner shop", known))
        work.add(Setting(LATER, "market", ["us"]))
        work.commit()
    assert record.settings()["customer Corner shop"] == known
    lines = export(record, people=False)["events.csv"]
    assert "Corner shop" not in lines and "Invented lane" not in lines and "8.40" in lines
    forgotten(record, "Corner shop")
    everything = "".join(export(record).values())
    assert "Corner shop" not in everything and "1 Invented lane" not in everything
    assert record.settings()["customer (forgotten 1)"]["prices"] == {"one pound": "8.40"}
    assert verify(record).clean


def test_somebody_unknown_cannot_be_forgotten(record):
    with pytest.raises(LotUnknown, match="customer Nobody"):
        forgotten(record, "Nobody")


def test_numbers_are_never_given_twice(record):
    forgotten(record, "Hill café")
    with record.work(who="Ada", at=AT + timedelta(hours=3)) as work:
        work.add(Delivery(LATER, "19", "New shop", (line(1),)))
        work.commit()
    assert "~6" in export(record, people=False)["events.csv"]
    with record.reading() as state:
        assert "New shop" in state.names("customer") and "(forgotten 4)" in state.names("customer")


def test_an_export_without_people_comes_back_with_the_same_head(record, tmp_path):
    out = tmp_path / "out"
    out.mkdir()
    for name, text in export(record, people=False).items():
        (out / name).write_text(text, encoding="utf-8", newline="")
    with record.reading() as state:
        head = state.head()
    assert import_whole(out, str(tmp_path / "again.labelkit")) == (head.seq, head.hash)
    with open_record(tmp_path / "again.labelkit") as again:
        assert {each.event.customer for each in again.events(("deliver",))} == {"(forgotten 1)", "(forgotten 4)"}
        assert verify(again).clean
