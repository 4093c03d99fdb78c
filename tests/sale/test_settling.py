"""Any market day settles: jars, cash and losses balance, or the difference is said."""

from datetime import date
from decimal import Decimal

from hypothesis import given
from hypothesis import strategies as st

from labelkit.lots.movement import Account
from labelkit.measures import Mass, Money, total
from labelkit.sale.events import SaleLine
from labelkit.sale.load import OnShelf, cash_float, into_crates, load_lines, sold_before, wishes
from labelkit.sale.result import entries, summed
from labelkit.sale.settlement import Count, Loaded, Till, balance_of, loaded, settle
from labelkit.sale.stall_events import StallDay, StallLoad

DAY = date(2026, 8, 1)


@st.composite
def market_days(draw):
    """A load of any size, and counts that fit it."""
    currency = draw(st.sampled_from(["USD", "JPY", "TND"]))
    lines, counted = [], {}
    for place in range(draw(st.integers(1, 5))):
        count = draw(st.integers(1, 60))
        fill, price = Mass(draw(st.integers(1, 3_000_000))), Money(draw(st.integers(0, 10_000)), currency)
        line = SaleLine(f"L{place}", "jar", count, fill, price)
        ways, left = [], count
        for _ in range(4):
            ways.append(draw(st.integers(0, left)))
            left -= ways[-1]
        back = draw(st.none() | st.integers(0, left))
        lines.append(line)
        counted[line.lot, line.size] = Count(*ways, back)

    def money(low=0):
        return Money(draw(st.integers(low, 100_000)), currency)

    till = Till(money(), money(), money(), money(-3), money())
    return Loaded(DAY, "Mill square", tuple(lines), money()), counted, till


@given(market_days())
def test_every_jar_and_milligram_that_was_loaded_is_somewhere(day):
    load, counted, till = day
    settled = settle(load, counted, till)
    moves = settled.movements()
    assert total(m.mass for m in moves) == Mass(0)
    for line in load.lines:
        gone = [m for m in moves if m.lot == line.lot and m.account == Account.STALL]
        assert sum(m.count for m in gone) == -line.count
        assert total(m.mass for m in gone) == -(line.count * line.fill)


@given(market_days())
def test_what_is_in_the_box_is_expected_plus_difference(day):
    load, counted, till = day
    settled = settle(load, counted, till)
    money = balance_of(settled)
    sold = sum(counted[line.lot, line.size].sold * line.price.minor for line in load.lines)
    assert money.expected.minor == sold - till.rebates.minor + till.rounding.minor
    assert (
        till.cash_counted.minor + till.cards.minor == load.change.minor + money.expected.minor + money.difference.minor
    )


def line(size: str, count: int, price="12.00", lot="L1") -> SaleLine:
    return SaleLine(lot, size, count, Mass.read("1 lb", "en_US"), Money.of(price, "USD"))


def test_a_second_load_of_the_day_is_added_to_the_first():
    first = StallLoad(DAY, "Mill square", (line("pound", 12),), Money.of("50.00", "USD"))
    second = StallLoad(DAY, "Mill  square ", (line("pound", 6), line("half", 10, "6.25")), None)
    whole = loaded([first, second], first.key)
    assert [(x.size, x.count) for x in whole.lines] == [("pound", 18), ("half", 10)]
    assert whole.change == Money.of("50.00", "USD")


def test_jars_put_on_hold_at_the_stall_need_not_come_back():
    load = Loaded(DAY, "Mill square", (line("pound", 12),), None, {("L1", "pound"): 4})
    settled = settle(load, {("L1", "pound"): Count(sold=5)})
    assert [x.count for x in settled.back] == [3]


def test_uncounted_cash_is_not_called_right():
    settled = settle(Loaded(DAY, "Mill square", (line("pound", 12),), None), {("L1", "pound"): Count(sold=5)})
    assert balance_of(settled).difference is None


def day(sold: int, back: int, on: date) -> StallDay:
    lines = (line("pound", sold),) if sold else ()
    return StallDay(on, "Mill square", lines, back=(line("pound", back),) if back else ())


SHELF = [
    OnShelf("L1", "pound", 40, Mass.read("1 lb", "en_US"), "2026-07-14"),
    OnShelf("L2", "pound", 40, Mass.read("1 lb", "en_US"), "2026-07-20"),
]
PRICES = {"pound": Money.of("12.00", "USD"), "half": Money.of("6.25", "USD")}


def test_what_sold_best_of_the_last_three_days_is_taken():
    days = [day(30, 2, date(2026, 7, n)) for n in (4, 11, 18, 25)] + [day(18, 3, date(2026, 7, 30))]
    (wish,) = wishes(SHELF, sold_before(days, "mill square", DAY))
    assert wish.count == 30
    assert "30 sold on 2026-07-25" in wish.because


def test_a_size_that_sold_out_is_taken_a_quarter_more():
    (wish,) = wishes(SHELF, [day(20, 0, date(2026, 7, 25))])
    assert wish.count == 25


def test_no_more_is_taken_than_is_in_stock():
    (wish,) = wishes(SHELF[:1], [day(60, 2, date(2026, 7, 25))])
    assert wish.count == 40
    assert "only 40 in stock" in wish.because


def test_the_oldest_lot_goes_first():
    (wish,) = wishes(SHELF, [day(45, 1, date(2026, 7, 25))])
    assert [(x.lot, x.count) for x in load_lines(SHELF[::-1], [wish], PRICES)] == [("L1", 40), ("L2", 5)]


def test_full_crates_leave_the_cheapest_crate_at_home():
    (wish,) = wishes(SHELF, [day(30, 2, date(2026, 7, 25))])
    (take,) = into_crates([wish], {"pound": 12}, 2, PRICES)
    assert take.count == 24
    assert "the crates are full" in take.because


def test_the_float_gives_change_to_ten_buyers():
    # A 12.00 jar paid with a 20 needs 8.00; ten of them 80.00. A 6.25 jar paid with a 10 needs less.
    assert cash_float(PRICES.values()).amount == Decimal("80.00")


@given(st.lists(market_days(), min_size=1, max_size=4))
def test_the_seasons_sums_lose_no_cent_however_they_are_grouped(days):
    """Every way of adding up the lines gives what buyers paid, less fees, and what was too much or too little."""
    currency = days[0][0].lines[0].price.currency
    held = [settle(*day) for day in days if day[0].lines[0].price.currency == currency]
    every = entries(held, currency)
    want = 0
    for one in held:
        money = balance_of(one)
        want += money.expected.minor + money.difference.minor - one.fee.minor
    for by in (lambda e: e.lot, lambda e: e.size, lambda e: e.market, lambda e: e.what, lambda e: str(e.day)):
        assert sum(row.money.minor for row in summed(every, by, currency)) == want
