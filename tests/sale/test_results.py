"""The result's finer points: which day's cost counts, what a spreadsheet takes for a formula, how a share is rounded."""

from datetime import date

import pytest

from labelkit.measures import Declared, Mass, Money
from labelkit.measures.columns import harmless
from labelkit.sale.events import Discard, Give, PriceSet, Return, Sale, SaleLine
from labelkit.sale.result import Costs, entries, summed
from labelkit.sale.stall_events import StallDay
from labelkit.sale.year_report import SellThrough, Year, stock_of


def euros(text: str) -> Money:
    return Money.of(text, "EUR")


def price(day: int, cost: str) -> PriceSet:
    return PriceSet(date(2026, 7, day), "500 g", Declared.read("500 g", "en_US"), euros("7.50"), euros(cost))


def line(count: int, each: str = "7.50") -> SaleLine:
    return SaleLine("L1", "500 g", count, Mass.of_grams(500), euros(each))


@pytest.mark.parametrize(
    ("day", "cost"), [(1, "3.00"), (9, "3.00"), (10, "3.40"), (19, "3.40"), (20, "3.20"), (31, "3.20")]
)
def test_a_jar_costs_what_the_price_list_said_on_its_day(day, cost):
    # Set on the 5th, the 10th and the 20th; jars sold before the first take the first cost.
    dated = Costs([price(20, "3.20"), price(5, "3.00"), price(10, "3.40")], "EUR")
    assert dated.on("500 g", date(2026, 7, day)) == euros(cost)


def test_a_size_without_a_cost_costs_nothing_that_is_known():
    assert Costs([], "EUR").on("500 g", date(2026, 7, 1)) == euros("0.00")


def test_what_came_back_takes_its_money_cost_and_honey_back():
    day = date(2026, 7, 12)
    every = entries([price(5, "3.00"), Sale(day, (line(4),)), Return(day, (line(1),), "lid leaks")], "EUR")
    (row,) = summed(every, lambda e: e.lot, "EUR")
    assert (row.sold, row.money, row.cost, row.sold_mass.g) == (3, euros("22.50"), euros("9.00"), 1500)
    # 22.50 for 1.5 kg.
    assert row.per_kg == euros("15.00")


def test_what_was_given_and_discarded_costs_and_brings_nothing():
    day = date(2026, 7, 12)
    every = entries([price(5, "3.00"), Give(day, (line(2),), "own use"), Discard(day, (line(1),), "fermented")], "EUR")
    (row,) = summed(every, lambda e: e.lot, "EUR")
    assert (row.given, row.lost, row.money, row.cost, row.per_kg) == (2, 1, euros("0.00"), euros("9.00"), None)


def test_a_sale_is_listed_under_the_market_or_the_customer_and_not_under_an_address():
    day = date(2026, 7, 12)
    at_stall = Sale(day, (line(1),), "stall", "A neighbour", "Mill square")
    to_shop = Sale(day, (line(1),), "shop", "Made-up Corner Shop", "1 Nowhere Road")
    at_the_door = Sale(day, (line(1),), "farm gate", None, None)
    assert [entry.market for entry in entries([at_stall, to_shop, at_the_door], "EUR")] == [
        "Mill square",
        "Made-up Corner Shop",
        "farm gate",
    ]


def test_money_let_off_on_a_day_that_sold_nothing_is_not_lost():
    (entry,) = entries(
        [StallDay(date(2026, 7, 12), "Mill square", (), change=euros("50"), rebates=euros("2.00"))], "EUR"
    )
    assert (entry.what, entry.money) == ("cash difference", euros("-2.00"))


# The signs of OWASP's page on CSV injection, the full-width forms of East Asian keyboards among them.
@pytest.mark.parametrize("sign", ["=", "+", "-", "@", "\t", "\r", "\n", "＝", "＋", "－", "＠", " ="])
def test_no_cell_begins_with_what_a_spreadsheet_takes_for_a_formula(sign):
    assert harmless(f"{sign}1+1") == f"'{sign}1+1"


@pytest.mark.parametrize("name", ["Corner shop", "O'Made-up & Sons", "1-2-3 market", "a=b", ""])
def test_ordinary_names_stay_as_they_are(name):
    assert harmless(name) == name


@pytest.mark.parametrize(
    ("sold", "taken", "percent"), [(2, 3, 67), (1, 3, 33), (1, 8, 13), (0, 5, 0), (5, 5, 100), (0, 0, 0)]
)
def test_a_share_sold_is_rounded_half_up(sold, taken, percent):
    assert SellThrough("x", taken, sold).percent == percent


def test_stock_is_counted_by_size_over_all_lots():
    held = stock_of([("500 g", 3), ("250 g", 2), ("500 g", 4), ("1 kg", 0)], {"500 g": euros("3.00")}, "EUR")
    assert [(one.size, one.count, one.worth) for one in held] == [
        ("250 g", 2, euros("0.00")),
        ("500 g", 7, euros("21.00")),
    ]


def test_the_rows_left_out_of_a_page_are_summed_and_not_lost():
    day = date(2026, 7, 12)
    sales = [Sale(day, (SaleLine(f"L{n}", "500 g", 1, Mass(500_000), Money(100 + n, "EUR")),)) for n in range(12)]
    year = Year("2026", "EUR", entries(sales, "EUR"))
    shown = year.foremost("lot", "all others", 5)
    assert len(shown) == 5 and shown[-1].name == "all others"
    assert sum(row.money.minor for row in shown) == sum(100 + n for n in range(12))
    assert sum(row.sold for row in shown) == 12
