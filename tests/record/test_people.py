"""People stand outside the chain: found while needed, forgotten without a trace of them and without breaking anything."""

from datetime import timedelta

import pytest

from labelkit.errors.record import LotUnknown
from labelkit.record import open_record
from labelkit.record.export import export, import_whole
from labelkit.record.lookup import find_buyer
from labelkit.record.settings import Setting
from labelkit.record.verify import verify
from labelkit.sale.stall_events import Delivery
from labelkit.trace.follow import follow
from tests.record.season import AT, LATER, book_season, line


@pytest.fixture
def record(where):
    with book_season(where) as record:
        with record.work(who="Ada", at=AT + timedelta(hours=1)) as work:
            home = ("1 Invented lane", "Nowhere")
            work.add(Delivery(LATER, "17", "Corner shop", (line(1),), address=home))
            work.add(Delivery(LATER, "18", "Hill café", (line(1),), address=("2 Invented lane", "Nowhere")))
            work.commit()
        yield record


def forget(record, name):
    with record.work(who="Ada", at=AT + timedelta(hours=2)) as work:
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
    booked = forget(record, "Corner shop")
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
    forget(record, "Corner shop")
    assert next(iter(record.events(("deliver",), after=14))).event.address == ("2 Invented lane", "Nowhere")


def test_a_trace_still_counts_what_a_forgotten_customer_had(record):
    forget(record, "Corner shop")
    with record.reading() as state:
        start = find_buyer(state, customer="(forgotten 1)")
        trace = follow(start, state.story(start.lots))
    assert sum(w.count for w in trace.went) == 12 + 3 + 1 + 2


def test_the_name_is_not_left_in_the_file_either(file):
    with book_season(file) as record:
        forget(record, "Corner shop")
    assert b"Corner shop" not in file.read_bytes()


def test_what_is_remembered_about_a_customer_is_forgotten_too(record):
    known = {"address": ["1 Invented lane", "Nowhere"], "prices": {"one pound": "8.40"}}
    with record.work(who="Ada", at=AT + timedelta(hours=1)) as work:
        work.add(Setting(LATER, "customer Corner shop", known))
        work.add(Setting(LATER, "market", ["us"]))
        work.commit()
    assert record.settings()["customer Corner shop"] == known
    lines = export(record, people=False)["events.csv"]
    assert "Corner shop" not in lines and "Invented lane" not in lines and "8.40" in lines
    forget(record, "Corner shop")
    everything = "".join(export(record).values())
    assert "Corner shop" not in everything and "1 Invented lane" not in everything
    assert record.settings()["customer (forgotten 1)"]["prices"] == {"one pound": "8.40"}
    assert verify(record).clean


def test_somebody_unknown_cannot_be_forgotten(record):
    with pytest.raises(LotUnknown, match="customer Nobody"):
        forget(record, "Nobody")


def test_numbers_are_never_given_twice(record):
    forget(record, "Hill café")
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
