"""A clock far from the last booking is asked about, and a record booked in the future has a way back."""

from __future__ import annotations

from datetime import date, datetime, timedelta

import pytest

from labelkit import open_season
from labelkit.errors.record import ClockBackwards, ClockFarAhead, DayBeforeItsHoney
from labelkit.lots.intake import Intake
from labelkit.record.verify import verify
from labelkit.season.bottle import Bottling, bottle
from labelkit.season.changes import Changes
from labelkit.season.put_right import put_right
from labelkit.season.weigh import weigh
from tests.record.season import AT, B1, DAY, LATER, ZONE, book_season, kg
from tests.record.season import weigh as weighed

YEAR = timedelta(days=365)


def test_a_clock_a_year_ahead_is_asked_about_and_books_nothing_unsaid(where):
    with book_season(where) as record:
        with pytest.raises(ClockFarAhead), record.work(who="Ada", at=AT + YEAR):
            pass
        with record.work(who="Ada", at=AT + YEAR, clock_is_right=True) as work:
            work.add(weighed("B7", "1"))
            work.commit()
        assert [each.kind for each in record.events(after=13)] == ["clock", "weigh"]
        assert verify(record).clean


def test_said_once_the_clock_is_asked_about_no_more_and_times_run_on_from_there(where):
    with book_season(where) as record:
        back = AT - YEAR
        with pytest.raises(ClockBackwards), record.work(who="Ada", at=back):
            pass
        with record.work(who="Ada", at=back, key="again", clock_is_right=True) as work:
            work.add(weighed("B7", "1", day=back.date()))
            work.commit()
        with record.work(who="Ada", at=back + timedelta(minutes=1), key="again") as work:
            assert [each.kind for each in work.booked_before] == ["weigh"]
        assert verify(record).clean
        assert [each.part for each in record.events(after=13)] == [0, 1]


def test_nothing_is_said_of_the_clock_where_nothing_is_booked(where):
    with book_season(where) as record:
        with record.work(who="Ada", at=AT + YEAR, clock_is_right=True) as work:
            work.commit()
        assert not list(record.events(after=13))


def test_a_season_booked_under_a_clock_a_year_ahead_is_brought_back_to_its_days(file, tmp_path):
    from labelkit.measures import Declared, Money
    from labelkit.record.export import export, import_whole
    from labelkit.sale.events import PriceSet

    ahead, now = datetime(2027, 7, 14, 18, tzinfo=ZONE), datetime(2026, 7, 14, 19, tzinfo=ZONE)
    with open_season(file, create=True, clock=ahead) as season, season.work() as work:
        weigh(work, Intake("B1", net=kg("20")), ahead.date(), "en_US")
        prices = Money.of("12", "USD"), Money.of("1", "USD")
        work.add(PriceSet(DAY, "one pound", Declared.read("1 lb", "en_US"), *prices))
        run = bottle(work, Bottling("B1", {"one pound": 12}), ahead.date(), "en_US")
    with open_season(file, clock=now) as season, pytest.raises(ClockBackwards), season.work():
        pass
    with open_season(file, clock=now, clock_is_right=True) as season, season.work() as work:
        put_right(work, 1, "the clock ran ahead", Changes(day=now.date()), now.date())
    with open_season(file, clock=now) as season:
        with season.work() as work:
            put_right(work, run.event, "the clock ran ahead", Changes(day=now.date()), now.date())
        with season.work() as work:
            assert bottle(work, Bottling("B1", {"one pound": 1}), now.date(), "en_US").run.bucket == "B1"
        with season.reading() as state:
            assert state.bucket("B1").harvested == (now.date(),)
            assert {each.day for each in state.events(("run",)) if each.stands} == {now.date()}
            assert run.lot in state.lot_codes_taken()
        assert verify(season.record).clean
        for name, text in export(season.record).items():
            (tmp_path / name).write_text(text, encoding="utf-8", newline="")
        whole = export(season.record)
    import_whole(tmp_path, str(tmp_path / "again.labelkit"))
    with open_season(tmp_path / "again.labelkit") as again:
        assert export(again.record) == whole


def test_a_correction_that_moves_the_weigh_in_behind_its_run_is_refused(where):
    with book_season(where) as record:
        with pytest.raises(DayBeforeItsHoney), record.work(who="Ada", at=AT + timedelta(days=2)) as work:
            work.correct(3, "another day", weighed("B1", "27.3", day=LATER + timedelta(days=1)), day=LATER)
            work.commit()
        before = B1.__class__(**{name: getattr(B1, name) for name in B1.__slots__} | {"day": date(2026, 7, 13)})
        with record.work(who="Ada", at=AT + timedelta(days=2)) as work:
            work.correct(3, "a day earlier", before, day=LATER)
            work.commit()
