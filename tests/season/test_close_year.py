"""The end of a year: stock taken, carried forward, its papers; what is booked into it later is asked about."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, datetime
from functools import partial
from io import BytesIO

import pytest
from pypdf import PdfReader

from labelkit.errors.record import JarsStillAtStall, NothingInYear, YearClosedBefore, YearIsClosed, YearNotOver
from labelkit.errors.sale import ReasonMissing
from labelkit.lots.bucket_life import FED, TakenOut
from labelkit.lots.code import lot_code
from labelkit.lots.movement import Account
from labelkit.measures import Mass
from labelkit.measures.period import Period
from labelkit.record.verify import verify
from labelkit.sale.events import Sale
from labelkit.sale.stall_events import StallLoad
from labelkit.season.close_year import JarsCounted, YearToClose, close_year, closing_since
from labelkit.season.put_right import put_right
from labelkit.season.result import result
from labelkit.season.stock import buy
from labelkit.season.year_papers import year_papers
from labelkit.shipped.catalogues import wording
from tests.record.season import AT, LATER, LOT, SISTER, book_season, line, run
from tests.record.server import new_database

YEAR, NEW_YEAR = Period.of_year(2026), date(2027, 1, 2)
THEN = AT.replace(year=2027, month=1, day=2)
SOLD_LATE = Sale(date(2026, 12, 24), (line(2),), to="door")


@pytest.fixture(params=["file", pytest.param("server", marks=pytest.mark.postgres)])
def season(request, tmp_path):
    """The season of 2026 in January 2027: 29 jars are left (reckoned by hand beside the years' tests, less 4)."""
    record = book_season(new_database() if request.param == "server" else tmp_path / "season.labelkit")
    yield record
    record.close()


def book(record, step, at: datetime = THEN, **said):
    with record.work(who="Ada", at=at, **said) as work:
        done = step(work)
        work.commit()
    return done


def closed(record, **asked):
    return book(record, lambda work: close_year(work, YearToClose(YEAR, **asked), NEW_YEAR, "en_US"))


# 50 filled; 12, 3 and 2 sold, 2 back, 1 given, 1 discarded: 33 are left. 18 kg of B1 and 15 of B2 less the runs and 1.2.
def test_what_is_there_on_the_last_evening_is_carried_forward(season):
    event = closed(season).event
    assert sum(jars.count for jars in event.jars) == 33
    with season.reading() as state:
        assert {part.bucket: part.mass for part in event.buckets} == {
            bucket.id: bucket.holds for bucket in state.buckets() if not bucket.is_empty
        }
        assert closing_since(state, YEAR).late == ()


def test_a_booking_into_it_is_asked_about_and_its_words_are_kept(season):
    closed(season)
    with pytest.raises(YearIsClosed, match="would change 2026, which was closed on 2027-01-02"):
        book(season, lambda work: work.add(SOLD_LATE))
    book(season, lambda work: work.add(SOLD_LATE), because="the door book was found")
    with season.reading() as state:
        (late,) = closing_since(state, YEAR).late
        assert late.event.because == "the door book was found" and late.seq + 1 == state.head().seq
    assert verify(season).clean


def test_a_correction_of_what_happened_in_it_is_a_booking_into_it(season):
    closed(season)
    with season.reading() as state:
        sold = next(each for each in state.events(("sell",)) if len(each.event.lines) == 1)
    fewer = replace(sold.event, lines=(line(1),))
    book(season, lambda work: work.correct(sold.seq, "one was typed twice", fewer, day=NEW_YEAR))
    with season.reading() as state:
        assert [each.event.because for each in closing_since(state, YEAR).late] == ["one was typed twice"]


def test_the_next_year_is_booked_without_a_question(season):
    closed(season)
    book(season, lambda work: work.add(replace(SOLD_LATE, day=NEW_YEAR)))
    with season.reading() as state:
        assert closing_since(state, YEAR).late == ()
        assert result(state, NEW_YEAR, Period.of_year(2027)).carried_in.mg > 0


def test_a_step_with_a_key_that_was_repeated_says_its_words_once(season):
    closed(season)
    for _ in range(2):
        book(season, lambda work: work.add(SOLD_LATE), because="found", key="the door book")
    with season.reading() as state:
        assert len(closing_since(state, YEAR).late) == 1 and state.stock(Account.SOLD)


def test_what_was_counted_is_booked_on_its_last_day(season):
    code = lot_code(LATER, "B2").code
    book(season, lambda work: run(work, "B2", code, 5))
    with pytest.raises(ReasonMissing):
        closed(season, counted=(JarsCounted(code, "one pound", 3),))
    done = closed(season, counted=(JarsCounted(code, "one pound", 3),), because="two are nowhere")
    assert [(c.had, c.found) for c in done.counts] == [(5, 3)]
    with season.reading() as state:
        assert state.event(done.counts[0].event).day == YEAR.last
        assert {(jars.lot, jars.count) for jars in done.event.jars} == {(LOT, 16), (SISTER, 17), (code, 3)}
        assert result(state, NEW_YEAR, YEAR).whole.lost == 3


def test_buckets_and_empty_jars_are_counted_too_and_carried_forward(season):
    def bought(work):
        buy(work, "one pound", 40, 40, LATER)

    book(season, bought)
    with season.reading() as state:
        (before, *_) = (bucket for bucket in state.buckets(full=True) if bucket.holds)
    lighter = before.holds - Mass.of_grams(200)
    with pytest.raises(ReasonMissing):
        closed(season, empties={"one pound": 37})
    fed = TakenOut(before.id, NEW_YEAR, before.holds, FED, Mass.of_grams(1_000))  # in the new year, before the closing
    book(season, lambda work: work.add(fed))
    done = closed(season, weighed={before.id: lighter}, empties={"one pound": 37}, because="three broke in the frost")
    assert [(c.lot, c.had, c.found) for c in done.counts] == [(None, 40, 37)]
    assert [(each.size, each.jars, each.lids) for each in done.event.empties] == [("one pound", 37, 40)]
    assert {part.bucket: part.mass for part in done.event.buckets}[before.id] == lighter
    with season.reading() as state:
        assert state.event(done.weighed[0].event).day == YEAR.last
        assert state.bucket(before.id).holds == lighter - fed.mass
    assert verify(season).clean


def test_a_year_is_closed_once_and_the_closing_can_be_taken_back(season):
    seq = closed(season).booked.seq
    with pytest.raises(YearClosedBefore, match=f"event {seq}"):
        closed(season)
    book(season, partial(put_right, event=seq, because="a delivery was forgotten", changes=_none(), day=NEW_YEAR))
    book(season, lambda work: work.add(SOLD_LATE))
    assert closed(season).booked.seq > seq


def _none():
    from labelkit.season.as_it_was import Changes

    return Changes()


@pytest.mark.parametrize(
    ("refusal", "period", "day"),
    [(YearNotOver, YEAR, date(2026, 12, 30)), (NothingInYear, Period.of_year(2025), NEW_YEAR)],
)
def test_a_year_that_is_not_over_or_was_empty_is_not_closed(season, refusal, period, day):
    with pytest.raises(refusal):
        book(season, lambda work: close_year(work, YearToClose(period), day, "en_US"))


def test_jars_still_at_a_stall_are_asked_about(season):
    book(season, lambda work: work.add(StallLoad(LATER, "Saturday market", (line(3),))))
    with pytest.raises(JarsStillAtStall, match="has 3 jars at a stall"):
        closed(season)
    assert closed(season, because="they stay in the locked stall").event.because


@pytest.mark.parametrize("locale", ["en_US", "uk_UA"])
def test_its_papers_are_one_file_with_the_stock_to_count_by(season, locale):
    closed(season)
    with season.reading() as state:
        pdf = year_papers(state, NEW_YEAR, YEAR, wording("labelkit", locale), locale)
    pages = [page.extract_text() for page in PdfReader(BytesIO(pdf)).pages]
    assert len(pages) == 4 and LOT in pages[2] and "33" in pages[2]
