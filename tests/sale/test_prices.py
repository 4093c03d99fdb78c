"""Prices per unit, margins and the ladder of sizes."""

from decimal import Decimal

import pytest

from labelkit.measures import Declared, Money
from labelkit.sale import PriceRow, ladder_faults, unit_price
from labelkit.sale.price_words import notes, priced

POUND = Decimal("453.59237")

# Reckoned from the exact pound with the half-up rule of the Uniform Unit Pricing Regulation (NIST Handbook 130,
# sec. 4, from memory); price, declared grams, and the price per lb, per oz in cents to the cent, per 100 g, per kg.
ROWS = [
    ("12.00", POUND, "12.00", "0.75", "2.65", "26.46"),
    ("8.50", POUND * 12 / 16, "11.33", "0.71", "2.50", "24.99"),
    ("20.00", POUND * 2, "10.00", "0.63", "2.20", "22.05"),
    ("10.00", POUND * 3 / 2, "6.67", "0.42", "1.47", "14.70"),
    ("1.00", POUND / 8, "8.00", "0.50", "1.76", "17.64"),
]


@pytest.mark.parametrize(("price", "grams", "per_lb", "per_oz", "per_100g", "per_kg"), ROWS)
def test_unit_prices_of_the_worked_rows(price, grams, per_lb, per_oz, per_100g, per_kg):
    money = Money.of(price, "USD")
    for unit, expected in (("lb", per_lb), ("oz", per_oz), ("100 g", per_100g), ("kg", per_kg)):
        assert unit_price(money, grams, unit).amount == Decimal(expected)


def test_metric_jars_in_pounds_sterling_per_kilogram():
    # 227 g at 3.75 is 16.52 per kg; one kilogram at 12.00 is its own unit price.
    assert unit_price(Money.of("3.75", "GBP"), Decimal(227), "kg").amount == Decimal("16.52")
    assert unit_price(Money.of("12.00", "GBP"), Decimal(1000), "kg").amount == Decimal("12.00")


def row(size, grams, price, cost="1.00"):
    return PriceRow(size, Declared.of_grams(Decimal(grams)), Money.of(price, "EUR"), Money.of(cost, "EUR"))


def test_a_bigger_jar_that_is_dearer_by_weight_is_told():
    rows = [row("250 g", 250, "5.00"), row("500 g", 500, "9.00"), row("1 kg", 1000, "19.00")]
    assert [(s.smaller.size, s.bigger.size) for s in ladder_faults(rows)] == [("500 g", "1 kg")]


def test_the_margin_is_price_less_cost():
    jar = row("500 g", 500, "9.00", "1.80")
    assert jar.margin.amount == Decimal("7.20")
    assert jar.margin_percent == 80


def test_a_jar_that_is_given_away_has_no_margin_in_per_cent():
    assert row("gift", 100, "0.00").margin_percent is None


def test_a_jar_whose_cost_nobody_has_said_is_asked_for_and_not_taken_for_free():
    known, unknown = row("500 g", 500, "9.00", "1.80"), row("250 g", 250, "5.00", "0.00")
    assert notes(priced([known], ())) == []
    (asked,) = notes(priced([known, unknown], ()))
    assert asked.startswith("Ask: what does a jar of 250 g cost you")
