"""A declared weight in the record: what old records say stays as it is, and every locale keeps its meaning."""

from datetime import date
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from labelkit.errors import Refused
from labelkit.measures import Declared, Money
from labelkit.measures.locales import show_number
from labelkit.record import codec
from labelkit.rules import market
from labelkit.rules.figures.net_weight import fill_target, net_quantity
from labelkit.sale import PriceSet

DAY = date(2026, 7, 14)
BODY = '{{"cost":{{"currency":"USD","minor":100}},"day":"2026-07-14","declares":{},"price":{{"currency":"USD","minor":900}},"size":"jar"}}'


def price(declares: Declared) -> PriceSet:
    return PriceSet(DAY, "jar", declares, Money.of("9.00", "USD"), Money.of("1.00", "USD"))


@pytest.mark.parametrize("typed", ["1 lb", "12 oz", "1 lb 8 oz", "2 1/2 lb", "0.5 kg", "1,250 g", "454 g", "0,5 kg"])
def test_a_weight_kept_as_its_text_is_written_as_that_text_again(typed):
    old = BODY.format(f'"{typed}"')
    event = codec.read(PriceSet, old)
    assert event.declares.text == typed and codec.write(event) == old


def test_a_weight_that_en_us_reads_otherwise_is_kept_with_its_grams():
    event = price(Declared.read("12.500 g", "de_DE"))
    assert codec.write(event) == BODY.format('{"customary":false,"grams":"12500","text":"12.500 g"}')


@given(
    st.integers(1, 10**7),
    st.sampled_from(["g", "kg", "oz", "lb"]),
    st.sampled_from(["en_US", "de_DE", "fr_FR", "hi_IN"]),
)
def test_a_declared_weight_means_the_same_when_it_is_read_back_whatever_locale_it_was_typed_in(
    thousandths, unit, locale
):
    declares = Declared.read(f"{show_number(Decimal(thousandths) / 1000, locale)} {unit}", locale)
    assert codec.read(PriceSet, codec.write(price(declares))).declares == declares


def test_an_old_text_that_says_no_weight_is_read_but_never_reckoned_with():
    old = BODY.format('"one jar"')
    event = codec.read(PriceSet, old)
    assert codec.write(event) == old
    for reckon in (
        lambda: net_quantity(event.declares, market("us", DAY)),
        lambda: fill_target(event.declares, [market("eu", DAY)]),
        lambda: event.declares.mass,
    ):
        with pytest.raises(Refused, match="one jar"):
            reckon()
