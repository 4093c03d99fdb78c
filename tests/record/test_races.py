"""Two stations at once: no bucket gives more than it holds, no key books twice, no step half, on both engines."""

import json
import multiprocessing
import os
import threading
from datetime import timedelta

import pytest

from labelkit.errors import LabelkitError
from labelkit.errors.record import ConnectionLost, OutcomeUnknown, RecordBusy
from labelkit.lots.bucket import Blend, Part
from labelkit.lots.code import lot_code
from labelkit.measures import Declared, Mass
from labelkit.record import engine as adapter
from labelkit.record import open_record
from labelkit.record.verify import verify
from labelkit.run.bottling import Filled, bottle
from labelkit.sale.events import Sale
from tests.record.season import AT, DAY, LATER, POUND, book_season, kg, line, weigh

STATIONS = 4
forked = pytest.mark.skipif(not hasattr(os, "fork"), reason="needs processes that fork")


def bottle_until_empty(where, who):
    """One station: bottles five jars at a time from B1 until refused; the lots it was told were booked."""
    lots = []
    with open_record(where) as record:
        while True:
            try:
                with record.work(who=who, at=AT) as work:
                    lot = lot_code(LATER, "B1", work.lot_codes_taken()).code
                    jars = [Filled("one pound", Declared.read("1 lb", "en_US"), 5, POUND)]
                    work.add(bottle(work.bucket("B1"), lot, LATER, jars, locale="en_US"))
                    work.commit()
                lots.append(lot)
            except LabelkitError as refused:
                return lots, refused.name


def stations(make, count=STATIONS):
    """Run so many stations at once; what each gave back."""
    answers = [None] * count

    def at_work(n):
        answers[n] = make(n)

    threads = [threading.Thread(target=at_work, args=(n,)) for n in range(count)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join(60)
    return answers


def in_processes(function, *arguments, count=STATIONS):
    """The same in processes of their own."""
    forks = multiprocessing.get_context("fork")
    answers = forks.Queue()

    def at_work(n):
        answers.put(json.dumps(function(*arguments, f"station {n}")))

    workers = [forks.Process(target=at_work, args=(n,)) for n in range(count)]
    for worker in workers:
        worker.start()
    found = [json.loads(answers.get(timeout=60)) for _ in workers]
    for worker in workers:
        worker.join(30)
    return found


def check_bottled(where, answers):
    lots = [lot for told, _ in answers for lot in told]
    assert {refusal for _, refusal in answers} == {"RunTakesTooMuch"}
    assert len(lots) == len(set(lots)) == 50_000_000 // (5 * POUND.mg), "as many runs as the honey is good for"
    with open_record(where) as record:
        assert {each.event.lot for each in record.events(("run",))} == set(lots)
        assert record.bucket("B1").holds == kg("50") - len(lots) * 5 * POUND
        assert verify(record).clean


@pytest.fixture
def one_bucket(where):
    with open_record(where, create=True) as record, record.work(who="Ada", at=AT) as work:
        work.add(weigh("B1", "50"))
        work.commit()
    return where


def test_threads_bottling_from_one_bucket_take_no_more_than_it_holds(one_bucket):
    check_bottled(one_bucket, stations(lambda n: bottle_until_empty(one_bucket, f"station {n}")))


@forked
def test_processes_bottling_from_one_bucket_take_no_more_than_it_holds(one_bucket):
    check_bottled(one_bucket, in_processes(bottle_until_empty, one_bucket))


def test_one_book_serves_many_threads(one_bucket):
    with open_record(one_bucket) as record:

        def weigh_in(n):
            for i in range(5):
                with record.work(who=f"station {n}", at=AT) as work:
                    work.add(weigh(f"S{n}-{i}", "1"))
                    work.commit()

        stations(weigh_in)
        assert len(record.buckets()) == 1 + 5 * STATIONS
        assert verify(record).clean


def test_a_step_repeated_by_all_stations_at_once_is_booked_once(where):
    book_season(where).close()

    def sell(n):
        with open_record(where) as record, record.work(who="Ada", at=AT + timedelta(hours=1), key="till 7") as work:
            work.add(Sale(LATER, (line(1),)))
            return work.commit()[0].seq

    assert len(set(stations(sell))) == 1
    with open_record(where) as record:
        assert sum(1 for each in record.events(("sell",)) if each.key == "till 7") == 1


def test_stations_that_make_the_record_at_the_same_moment_share_it(where):
    def begin(n):
        with open_record(where, create=True) as record, record.work(who="Ada", at=AT) as work:
            work.add(weigh(f"B{n}", "1"))
            return len(work.commit())

    assert stations(begin) == [1] * STATIONS
    with open_record(where) as record:
        assert len(record.buckets()) == STATIONS
        assert verify(record).clean


def test_readers_see_one_state_while_others_write(one_bucket):
    with open_record(one_bucket) as record, record.reading() as state:
        before = state.head()
        with open_record(one_bucket) as other, other.work(who="Bela", at=AT) as work:
            work.add(weigh("B2", "1"))
            work.commit()
        assert state.head() == before
        assert [each.id for each in state.buckets()] == ["B1"]
    with open_record(one_bucket) as record:
        assert record.bucket("B2").holds == kg("1")


def test_a_station_that_waits_too_long_is_told(one_bucket, monkeypatch):
    with open_record(one_bucket) as record, record.work(who="Ada", at=AT):
        monkeypatch.setattr(adapter, "WAIT_SECONDS", 1)
        monkeypatch.setattr(adapter, "_PRAGMAS", (*adapter._PRAGMAS[:-1], "busy_timeout = 200"))
        with open_record(one_bucket) as other, pytest.raises(RecordBusy), other.work(who="Bela", at=AT):
            pass


# --- a lost connection ------------------------------------------------------------------------------------------------


class Cut(Exception):
    """A connection that went away, as the driver tells it."""


def cut(work, before: bool):
    """Let the connection be lost at the commit: before the server got it, or after it was done."""
    commit = work.connection.commit

    def lost():
        if before:
            work.connection.rollback()
        else:
            commit()
        raise adapter.sa.exc.OperationalError(
            "COMMIT", {}, Cut("server closed the connection"), connection_invalidated=True
        )

    work.connection.commit = lost


def test_a_connection_lost_after_the_server_booked_counts_as_booked(one_bucket):
    with open_record(one_bucket) as record:
        with record.work(who="Ada", at=AT) as work:
            work.add(weigh("B2", "1"))
            cut(work, before=False)
            assert work.commit()[0].seq == 2
        assert record.bucket("B2").holds == kg("1")


def test_a_connection_lost_before_the_server_booked_says_that_nothing_was(one_bucket):
    with open_record(one_bucket) as record:
        with pytest.raises(ConnectionLost), record.work(who="Ada", at=AT) as work:
            work.add(weigh("B2", "1"))
            cut(work, before=True)
            work.commit()
        assert len(list(record.events())) == 1


def test_where_the_server_cannot_be_asked_the_key_makes_repeating_safe(one_bucket, monkeypatch):
    with open_record(one_bucket) as record:
        with pytest.raises(OutcomeUnknown) as caught, record.work(who="Ada", at=AT, key="morning 3") as work:
            work.add(weigh("B2", "1"))
            cut(work, before=False)

            def unreachable():
                raise adapter.sa.exc.OperationalError("connect", {}, Cut("no route to host"))

            monkeypatch.setattr(work.connection.engine, "connect", unreachable)
            work.commit()
        assert "--once morning 3" in caught.value.do
        monkeypatch.undo()
        with record.work(who="Ada", at=AT, key="morning 3") as work:
            assert work.booked_before
            work.add(weigh("B2", "1"))
            work.commit()
        assert len(list(record.events())) == 2


@pytest.mark.postgres
def test_a_server_that_ends_the_session_in_the_middle_leaves_nothing(where):
    if not where.startswith("postgresql"):
        return
    with open_record(where, create=True) as record:
        with pytest.raises(ConnectionLost), record.work(who="Ada", at=AT) as work:
            work.add_all((weigh("B1", "9"), weigh("B2", "9")))
            mine = work.connection.exec_driver_sql("SELECT pg_backend_pid()").scalar()
            with record._engine.connect() as other:
                other.exec_driver_sql(f"SELECT pg_terminate_backend({mine})")
            work.add(Blend("M1", DAY, (Part("B1", Mass(1)), Part("B2", Mass(1)))))
            work.commit()
        assert not list(record.events())
        with record.work(who="Ada", at=AT) as work:
            work.add(weigh("B1", "9"))
            work.commit()
