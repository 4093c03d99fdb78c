"""Prices from margin, kilogram and neighbours; steps, ladder, buckets, break-even; money split without losing a cent."""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from labelkit.measures import Declared, Mass, Money
from labelkit.measures.locales import cash_step
from labelkit.sale.apportion import apportion
from labelkit.sale.price import PriceRow, ladder_faults
from labelkit.sale.pricing import (
    Size,
    break_even,
    from_others,
    from_per_kg,
    laddered,
    per_bucket,
    unsold_worth,
)
from labelkit.sale.tax import Tax

CURRENCIES = st.sampled_from(["USD", "EUR", "JPY", "TND", "CHF"])


def size(name: str, grams) -> Size:
    return Size(name, Declared.of_grams(Decimal(grams)), Mass.of_grams(Decimal(grams)))


def rows(found):
    return [PriceRow(f.size.size, f.size.declares, f.price, Money(0, f.price.currency)) for f in found]


@given(
    st.lists(st.tuples(st.integers(28, 5000), st.decimals("0.05", 90, places=3)), min_size=1, max_size=8),
    CURRENCIES,
    st.sampled_from(["1", "0.5", "0.25", "0.05"]),
)
def test_no_bigger_jar_is_ever_dearer_by_weight_and_no_price_is_below_the_wish(jars, currency, step):
    step = max(Decimal(step), cash_step(currency)) if currency != "JPY" else Decimal(10)
    sizes = [size(f"{place}", grams) for place, (grams, _) in enumerate(jars)]
    wanted = {f"{place}": price for place, (_, price) in enumerate(jars)}
    found = laddered(sizes, wanted, currency, step)
    assert ladder_faults(rows(found)) == ()
    for one in found:
        assert one.price.amount >= wanted[one.size.size]
        assert one.price.amount % step == 0


@given(
    st.lists(
        st.tuples(st.integers(28, 5000), st.decimals("0.05", 90, places=2)),
        min_size=2,
        max_size=6,
        unique_by=lambda x: x[0],
    )
)
def test_no_price_of_the_ladder_could_be_a_step_lower(jars):
    sizes = [size(f"{place}", grams) for place, (grams, _) in enumerate(jars)]
    wanted = {f"{place}": price for place, (_, price) in enumerate(jars)}
    step = Decimal("0.05")
    found = sorted(laddered(sizes, wanted, "EUR", step), key=lambda f: f.size.declares.grams)
    for place, one in enumerate(found):
        lower = one.price.amount - step
        below_wish = lower < wanted[one.size.size]
        bigger = found[place + 1 :]
        breaks = any(lower * big.size.declares.grams < big.price.amount * one.size.declares.grams for big in bigger)
        assert below_wish or breaks


def test_two_honeys_in_one_weight_do_not_bind_each_other():
    sizes = [size("blossom", 500), size("heather", 500), size("small", 250)]
    found = laddered(
        sizes, {"blossom": Decimal(7), "heather": Decimal(11), "small": Decimal(5)}, "EUR", Decimal("0.50")
    )
    # The small jar must not be cheaper by weight than heather at 22.00 a kilogram: 5.50.
    assert {f.size.size: str(f.price.amount) for f in found} == {"blossom": "7.00", "heather": "11.00", "small": "5.50"}


def test_prices_at_one_price_a_kilogram():
    # 14.00 a kilogram: 250 g 3.50, 500 g 7.00, 1 kg 14.00.
    found = from_per_kg([size("a", 250), size("b", 500), size("c", 1000)], Money.of("14.00", "EUR"))
    assert [str(found[name]) for name in "abc"] == ["3.50", "7.00", "14.00"]


def test_the_middle_of_what_others_ask_and_the_nearest_size_where_nobody_asks():
    sizes = [size("small", 250), size("big", 500)]
    asked = {"big": [Money.of(text, "EUR") for text in ("9.00", "7.00", "8.00", "20.00")]}
    # Of 7, 8, 9, 20 the middle is 8.50; the small jar goes by weight: 4.25.
    assert from_others(sizes, asked) == {"big": Decimal("8.50"), "small": Decimal("4.25")}


def test_the_size_that_brings_most_for_a_bucket_stands_first():
    money = {
        "one pound": (Money.of("12.00", "USD"), Money.of("6.00", "USD")),
        "half pound": (Money.of("7.00", "USD"), Money.of("3.50", "USD")),
    }
    fills = {"one pound": Mass.read("1 lb", "en_US"), "half pound": Mass.read("8 oz", "en_US")}
    first, second = per_bucket(money, fills, Mass.read("60 lb", "en_US"))
    # 60 lb: 120 half pounds leave 420.00, 60 pounds 360.00.
    assert (first.size, first.jars, first.leaves) == ("half pound", 120, Money.of("420.00", "USD"))
    assert (second.size, second.jars, second.leaves) == ("one pound", 60, Money.of("360.00", "USD"))


@pytest.mark.parametrize(
    ("fee", "left", "jars"), [("35.00", "6.35", 6), ("36.00", "6.00", 6), ("0.01", "6.00", 1), ("35.00", "0.00", None)]
)
def test_so_many_jars_pay_the_stall(fee, left, jars):
    assert break_even(Money.of(fee, "USD"), Money.of(left, "USD")) == jars


def test_an_unsold_jar_never_counts_for_less_than_nothing_nor_more_than_its_cost():
    assert unsold_worth(Money.of("5.00", "USD"), Money.of("12.00", "USD")) == Money.of("5.00", "USD")
    assert unsold_worth(Money.of("5.00", "USD"), Money.of("-1.00", "USD")) == Money.of("0.00", "USD")


@given(st.integers(-(10**9), 10**9), st.lists(st.decimals(0, 10**6, places=3), min_size=1, max_size=12), CURRENCIES)
def test_parts_are_the_whole_and_each_is_within_a_cent_of_its_share(minor, weights, currency):
    parts = apportion(Money(minor, currency), weights)
    assert sum(part.minor for part in parts) == minor
    together = sum(weights)
    for part, weight in zip(parts, weights, strict=True):
        share = minor * weight / together if together else Decimal(minor) / len(weights)
        assert abs(part.minor - share) < 1


@given(st.integers(0, 10**8), st.decimals(0, 30, places=2), st.sampled_from(["included", "added"]), CURRENCIES)
def test_tax_and_own_are_what_was_paid(minor, percent, how, currency):
    paid = Money(minor, currency)
    own, tax = Tax(how, percent).split(paid)
    assert own + tax == paid
    assert 0 <= tax.minor <= paid.minor


def test_tax_rows_by_hand():
    # 8.50 with 7 % in it: 8.50 / 1.07 = 7.9439..., 0.56 of tax. 12.00 with 5.3 % added: 12.636.
    assert Tax("included", Decimal(7)).split(Money.of("8.50", "EUR")) == (
        Money.of("7.94", "EUR"),
        Money.of("0.56", "EUR"),
    )
    assert Tax("added", Decimal("5.3")).paid_for(Money.of("12.00", "USD")) == Money.of("12.64", "USD")


def test_the_coins_of_a_place_are_those_cldr_knows():
    """CLDR 47 supplementalData, currencyData: CHF cashRounding 5, DKK 50, SEK cashDigits 0."""
    steps = {code: str(cash_step(code)) for code in ("USD", "CHF", "DKK", "SEK", "JPY", "TND")}
    assert steps == {"USD": "0.01", "CHF": "0.05", "DKK": "0.50", "SEK": "1", "JPY": "1", "TND": "0.001"}
