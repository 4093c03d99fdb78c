"""The record as of a day and of a year, and money by the price and the tax of its own day."""

from __future__ import annotations

import csv
from dataclasses import replace
from datetime import date, timedelta
from decimal import Decimal

import pytest

from labelkit.errors.record import LotUnknown, NothingInYear
from labelkit.errors.trace import TraceOfNoYear
from labelkit.lots.bucket import Source
from labelkit.lots.movement import Account
from labelkit.measures import Declared, Mass, Money
from labelkit.measures.period import Period
from labelkit.paper.marks import Text
from labelkit.record.reading import Reading
from labelkit.record.settings import Setting
from labelkit.sale.account_events import Delivery, Payment
from labelkit.sale.events import PriceSet, Sale
from labelkit.sale.years import picture
from labelkit.season.account import balances
from labelkit.season.authority import authority
from labelkit.season.price import price_list
from labelkit.season.result import result
from labelkit.season.run_result import run_result
from labelkit.season.shelf import taxes_of
from labelkit.season.stock import stock
from labelkit.season.trace import TraceFrom, trace
from labelkit.season.years import compare, years_of
from labelkit.shipped.catalogues import wording
from tests.record.season import AT, DAY, LATER, LOT, SISTER, book_season, line, weigh
from tests.record.server import new_database

THIS, NEXT = Period.of_year(2026), Period.of_year(2027)
SPRING = date(2027, 2, 10)


def dollars(text: str) -> Money:
    return Money.of(text, "USD")


@pytest.fixture(scope="module", params=["file", pytest.param("server", marks=pytest.mark.postgres)])
def two_years(request, tmp_path_factory):
    """The season of 2026, and what was booked in spring 2027: other prices, another tax, jars on account, honey."""
    server = request.param == "server"
    record = book_season(new_database() if server else tmp_path_factory.mktemp("years") / "season.labelkit")
    pound = Declared.read("1 lb", "en_US")
    with record.work(who="Ada", at=AT.replace(year=2027, month=3)) as work:
        work.add(PriceSet(SPRING, "one pound", pound, dollars("14.00"), dollars("2.00")))
        # Booked after it, of an earlier day: it says what held then and changes nothing that holds now.
        work.add(PriceSet(date(2026, 12, 1), "one pound", pound, dollars("13.00"), dollars("1.50")))
        work.add(Setting(date(2026, 1, 1), "tax", "included 7 %"))
        work.add(Setting(date(2027, 1, 1), "tax", "included 19 %"))
        work.add(Delivery(date(2026, 12, 30), "D2026-001", "Corner shop", (line(4),)))
        work.add(Payment(SPRING, "Corner shop", dollars("30.00")))
        work.add(Sale(SPRING, (line(2, SISTER, price="11.90"),), to="stall", place="Saturday market"))
        work.add(weigh("C1", "10", Source("Mill meadow", ("H1",)), day=SPRING))
        work.commit()
    yield record
    record.close()


def test_a_bucket_a_lot_and_jars_are_not_there_before_their_day(two_years):
    with two_years.reading(DAY) as state:
        assert {bucket.id for bucket in state.buckets()} == {"B1", "B2"}
        assert state.bucket("B1").holds.kg == Decimal("27.3")
        assert state.stock() == ()
        assert not state.knows(LOT) and not state.bottled(LOT) and not state.descent("B1")
    with two_years.reading(DAY - timedelta(days=1)) as state:
        assert state.buckets() == ()


def test_as_of_the_last_day_is_as_of_no_day(two_years):
    with two_years.reading() as whole, two_years.reading(date(2027, 12, 31)) as then:
        assert then.stock() == whole.stock() and then.buckets() == whole.buckets()
        assert list(then.events()) == list(whole.events()) and then.holds() == whole.holds()
        assert trace(then, TraceFrom(LOT)).trace == trace(whole, TraceFrom(LOT)).trace


def test_jars_on_any_day_are_what_was_moved_until_then(two_years):
    """Counted again from the events alone."""
    for day in (DAY, LATER, date(2026, 12, 30), SPRING):
        with two_years.reading() as whole:
            moves = [m for e in whole.events() if e.day <= day for m in e.movements() if m.account == Account.JARS]
        with two_years.reading(day) as state:
            assert sum(s.count for s in state.stock(Account.JARS)) == sum(m.count for m in moves)


def test_what_was_struck_later_was_never_so(tmp_path):
    record = book_season(tmp_path / "season.labelkit")
    with record.work(who="Ada", at=AT.replace(month=9)) as work:
        sold = next(e for e in work.events(("sell",)) if len(e.event.lines) == 1)
        work.correct(sold.seq, "two typed for one", replace(sold.event, lines=(line(1),)), day=date(2026, 9, 1))
        work.commit()
    with record.reading(LATER) as then, record.reading() as now:
        assert then.stock(Account.SOLD) == now.stock(Account.SOLD)
    with record.reading(LATER - timedelta(days=1)) as before:
        assert before.stock(Account.SOLD) == ()
    record.close()


def test_prices_hold_from_their_day_on_whenever_they_were_booked(two_years):
    with two_years.reading() as state:
        found = {day: price_list(state, day).season.prices["one pound"] for day in (LATER, date(2026, 12, 1), SPRING)}
    assert [each.price.amount for each in found.values()] == [Decimal(12), Decimal(13), Decimal(14)]


def test_a_new_tax_rate_changes_no_year_before_it(two_years):
    with two_years.reading() as state:
        first, second = result(state, SPRING, THIS), result(state, SPRING, NEXT)
        assert [taxes_of(state).on(each.last).percent for each in (THIS, NEXT)] == [7, 19]
    # 2 jars at 11.90 with 19 % in them: 20.00 and 3.80 of tax. Reckoned by hand.
    assert second.tax_in == dollars("3.80")
    taxed = sum((e.money.amount for e in first.entries if e.what in ("sold", "delivered", "returned")), Decimal(0))
    assert abs(first.tax_in.amount - taxed * 7 / 107) < Decimal("0.05")


# 50 jars filled; 12, 3 and 2 sold, 2 back, 1 given, 1 discarded, 4 delivered: 29; 2 more sold: 27. Reckoned by hand.
def test_a_year_has_its_own_intake_stock_and_debts(two_years):
    with two_years.reading() as state:
        first, second, both = result(state, SPRING, THIS), result(state, SPRING, NEXT), result(state, SPRING)
    assert second.came_in == Mass.read("10 kg", "en_US")
    assert first.came_in + second.came_in == both.came_in
    assert [sum(s.count for s in year.stock) for year in (first, second)] == [29, 27]
    assert [year.accounts[0].open for year in (first, second)] == [dollars("24.00"), dollars("-6.00")]


def test_honey_carried_in_and_come_in_is_where_the_year_says_it_went(two_years):
    with two_years.reading() as state:
        first, second = result(state, SPRING, THIS), result(state, SPRING, NEXT)
    for year in (first, second):
        assert sum(mass.mg for mass in year.ends.values()) == year.came_in.mg + year.carried_in.mg
    here = (Account.BUCKET, Account.JARS, Account.STALL, Account.HELD)
    assert sum(first.ends[place].mg for place in here) == second.carried_in.mg


# IRS Publication 538, introduction: by the accrual method income counts in the year it is earned, by the cash method
# in the year it is received.
def test_what_was_earned_and_what_was_paid_differ_by_what_customers_came_to_owe(two_years):
    with two_years.reading() as state:
        first, second, both = result(state, SPRING, THIS), result(state, SPRING, NEXT), result(state, SPRING)
    assert [second.money_in, second.received] == [dollars("23.80"), dollars("53.80")]
    owed = [year.accounts[0].open for year in (first, second)]
    assert first.money_in - first.received == owed[0]
    assert second.money_in - second.received == owed[1] - owed[0]
    assert first.received + second.received == both.received


# 4 jars at 12.00 delivered, 2 at 12.00 brought back; 30.00 paid in the next year. Reckoned by hand.
def test_a_customer_begins_a_year_with_what_was_owed_at_the_end_of_the_one_before(two_years):
    with two_years.reading() as state:
        (first,), (second,), (both,) = (balances(state, year) for year in (THIS, NEXT, None))
    assert [first.carried, first.open, second.carried, second.open] == [dollars(t) for t in ("0", "24", "24", "-6")]
    assert second.delivered == dollars("0") and second.paid == both.paid == dollars("30")
    assert both.open == second.open


def test_stock_of_a_year_is_that_of_its_last_evening(two_years):
    with two_years.reading() as state:
        then, now = stock(state, SPRING, THIS), stock(state, SPRING, NEXT)
        assert then == stock(state.as_of(THIS.last), THIS.last) and then.day == THIS.last and now.day == SPRING
    assert [sum(f.in_stock for f in each.filled) for each in (then, now)] == [29, 27]
    assert "C1" in {b.id for b in now.buckets} - {b.id for b in then.buckets}


def test_yields_and_runs_of_a_year_are_those_of_its_days(two_years):
    with two_years.reading() as state:
        first, second, both = (run_result(state, SPRING, period=year) for year in (THIS, NEXT, None))
    assert [len(each.outcomes) for each in (first, second, both)] == [2, 0, 2]
    assert [(y.yard, y.mass.kg) for y in second.yards] == [("Mill meadow", 10)]
    assert [(y.yard, y.mass.kg) for y in first.yards] == [("Mill meadow", Decimal("27.8")), ("Old orchard", 20)]


def test_a_trace_of_a_year_begins_at_what_was_harvested_or_sold_in_it(two_years):
    with two_years.reading() as state:
        hive = {year: trace(state, TraceFrom(hive="H1", within=year)).trace for year in (THIS, NEXT, None)}
        assert [hive[year].start.lots for year in hive] == [("B1",), ("C1",), ("B1", "C1")]
        market = trace(state, TraceFrom(place="Saturday market", within=NEXT)).trace
        assert [(went.lot, went.count) for went in market.went] == [(SISTER, 2)]
        with pytest.raises(TraceOfNoYear):
            trace(state, TraceFrom(LOT, within=THIS))


def test_a_hive_without_honey_in_a_year_is_said_to_have_none_in_it(two_years):
    with two_years.reading() as state, pytest.raises(LotUnknown, match="honey of hive H7 harvested in 2027"):
        trace(state, TraceFrom(hive="H7", within=NEXT))


def test_the_file_for_an_authority_of_a_year_has_its_lots_back_to_their_harvest(two_years):
    with two_years.reading() as state:
        rows = {year: [*csv.DictReader(authority(state, (), year).text.splitlines())] for year in (THIS, NEXT, None)}
        with pytest.raises(NothingInYear):
            authority(state, (), Period.of_year(2025))
    days = {year: {row["day"] for row in found if row["day"]} for year, found in rows.items()}
    assert max(days[THIS]) == "2026-12-30" and max(days[NEXT]) == SPRING.isoformat()
    assert {"B1", "C1"} <= {row["lot"] for row in rows[NEXT]} and "M1" not in {row["lot"] for row in rows[NEXT]}
    assert "C1" not in {row["lot"] for row in rows[THIS]}
    assert {tuple(row.items()) for row in rows[NEXT] if row["day"]} < {tuple(row.items()) for row in rows[None]}


# The figures of the tests above, once more beside each other. Reckoned by hand.
def test_years_side_by_side_say_what_changed(two_years):
    with two_years.reading() as state:
        found = compare(state, SPRING)
    assert [year.name for year in found.years] == ["2026", "2027"]
    said = {(figure.group, figure.name): (figure.values, figure.changes) for figure in found.figures}
    kilos = {name: tuple(v and v.kg for v in values) for (group, name), (values, _) in said.items() if group == "Yards"}
    assert kilos == {"Mill meadow": (Decimal("27.8"), Decimal(10)), "Old orchard": (Decimal(20), None)}
    assert said["Yards", "Mill meadow"][1] == (Mass.of_grams(-17_800),)
    assert said["Jars filled", "one pound"] == ((50, 0), (-50,))
    # 12, 3, 2 sold and 4 delivered, 2 brought back: 19; 2 in spring. Of the honey 0.1 kg and a jar of 453.592 g are lost.
    assert said["Jars sold", "one pound"] == ((19, 2), (-17,))
    assert said["Price of a jar", "one pound"] == ((dollars("13"), dollars("14")), (dollars("1"),))
    assert said["Money", "money in"][1] == (dollars("23.80") - dollars("228.00"),)
    assert said["Losses", "jars"] == ((1, 0), (-1,)) and said["Giveaway", "jars"] == ((1, 0), (-1,))


def test_years_begin_with_the_month_that_is_said(two_years):
    """February 2027 is of the year that began in April 2026."""
    with two_years.reading() as state:
        assert [str(year) for year in years_of(state, 4)] == ["2026-04-01..2027-03-31"]


def test_a_picture_of_the_years_has_a_bar_a_year_for_every_figure(two_years):
    with two_years.reading() as state:
        found = compare(state, SPRING)
    drawn = picture(found, wording("labelkit", "de_DE"), "de_DE")
    said = [mark.text for mark in drawn.marks if isinstance(mark, Text)]
    assert "Honig aus den Völkern" in said and "47,8 kg" in said and "10 kg" in said
    bars = [mark.box.width for mark in drawn.marks if mark.role == "bar"][:2]
    assert bars[1] / bars[0] == pytest.approx(10 / 47.8, abs=0.001)


@pytest.mark.parametrize("day", [DAY, LATER])
def test_a_step_and_a_reading_see_the_same_record(two_years, day):
    with two_years.reading() as state:
        assert state.as_of(day).stock() == Reading(state.connection, state.where, day).stock()
        assert state.as_of(None) is state
