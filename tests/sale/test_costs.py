"""What a jar costs, against a hand reckoning; what is not known is asked for."""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from labelkit.measures import Declared, Mass, Money
from labelkit.reading.costs_file import read_season_costs
from labelkit.sale.cost import Basis, jar_cost, selling_cost
from labelkit.sale.losses import Losses
from labelkit.sale.pricing import Size, from_margin
from labelkit.sale.season_costs import SeasonCosts
from labelkit.sale.tax import Tax
from labelkit.shipped import template_text
from tests.worked import worked

COSTS = """
currency = "USD"
[honey.season]
feed = "210"
treatments = "95"
frames = "160"
fuel = "85"
extraction = "0"
insurance = "120"
[labour]
rate = "18"
[market]
stall_fee = "35"
jars_a_day = "40"
card_percent = "1.75"
card_fixed = "0.10"
card_share = "60"
jars_a_sale = "1.5"
[helper]
share = "0"
[[jar]]
size = "one pound"
jar = "0.62"
lid = "0.11"
label = "0.034"
seal = "0"
carton = "4.20"
carton_holds = "12"
minutes = "1.5"
"""
CASE = worked("sale/costs")["case"]
ANSWERS = CASE["answers"]
POUND = Mass.read("1 lb", "en_US")


def basis(costs=COSTS, losses=None):
    real = losses or Losses(
        Mass.read("20 kg", "en_US"),
        Mass.read("200 g", "en_US"),
        Mass.read("100 g", "en_US"),
        Mass.read("100 g", "en_US"),
        Mass.read("200 g", "en_US"),
    )
    return Basis(read_season_costs(costs, "costs.toml", "en_US"), real, Mass.read(CASE["came_in"], "en_US"))


def test_the_items_of_a_jar_are_those_of_the_hand_reckoning():
    cost = jar_cost("one pound", Mass.read(CASE["fill"], "en_US"), basis())
    items = {name: str(amount.amount) for name, amount in cost.items}
    assert items["honey"] == ANSWERS["honey"]
    assert items["honey lost on the way"] == ANSWERS["honey_lost"]
    assert items["work"] == ANSWERS["work"]
    assert items["given away"] == ANSWERS["given_away"]
    assert str(cost.whole.amount) == ANSWERS["whole"]
    assert cost.asked == ()


def test_selling_takes_its_part_of_the_stall_and_of_the_card_fee():
    cost = selling_cost(Money.of("12.00", "USD"), basis().costs)
    assert str(cost.whole.amount) == ANSWERS["selling"]


def test_a_wished_margin_is_left_after_everything():
    size = Size("one pound", Declared.read("1 lb", "en_US"), POUND)
    found = from_margin([size], basis(), Decimal(30), Tax())["one pound"]
    assert round(found, 4) == Decimal(ANSWERS["price_for_30_percent"])


@pytest.mark.parametrize("tax", [Tax(), Tax("included", Decimal(7)), Tax("added", Decimal("5.3"))])
def test_the_margin_found_is_the_margin_wished_for_however_tax_stands(tax):
    """Reckoned back from the price, item by item."""
    size = Size("one pound", Declared.read("1 lb", "en_US"), POUND)
    price = from_margin([size], basis(), Decimal(30), tax)["one pound"]
    paid = price * tax.factor if tax.how == "added" else price
    own = price / tax.factor if tax.how == "included" else price
    cards = paid * Decimal("0.60") * Decimal("0.0175") + Decimal("0.60") * Decimal("0.10") / Decimal("1.5")
    left = own - jar_cost("one pound", POUND, basis()).exact - Decimal(35) / 40 - cards
    assert abs(left / own - Decimal("0.30")) < Decimal("1e-20")


def test_the_empty_template_asks_for_everything_and_guesses_nothing():
    costs = read_season_costs(template_text("sale/season-costs.toml"), "season-costs.toml", "en_US")
    cost = jar_cost("one pound", POUND, Basis(costs))
    assert cost.whole == Money(0, "USD")
    assert cost.asked
    for words in (
        "empty jar",
        "lid",
        "label",
        "seal",
        "carton",
        "hour of your work",
        "helpers",
        "kilogram of your honey",
    ):
        assert any(words in question for question in cost.asked), words


def test_a_cost_that_is_unknown_is_left_out_and_asked_for():
    cost = jar_cost("one pound", POUND, basis(COSTS.replace('fuel = "85"', 'fuel = "?"')))
    assert cost.asked == ("What did driving to the yards cost?",)
    assert cost.whole < jar_cost("one pound", POUND, basis()).whole


def test_a_cost_of_nothing_is_known():
    cost = jar_cost("one pound", POUND, basis())
    assert "seal" not in dict(cost.items)
    assert not any("seal" in question for question in cost.asked)


def test_a_line_of_ones_own_counts_as_a_season_cost():
    more = jar_cost("one pound", POUND, basis(COSTS.replace('feed = "210"', 'feed = "210"\nqueens = "50"')))
    # 50.00 over 50 kg is 1.00 a kilogram: 0.4536 and its losses.
    assert (more.whole - jar_cost("one pound", POUND, basis()).whole).amount == Decimal("0.47")


def test_the_season_is_not_shared_out_over_honey_nobody_weighed():
    cost = jar_cost("one pound", POUND, Basis(read_season_costs(COSTS, "costs.toml", "en_US")))
    assert any("How much honey came in" in question for question in cost.asked)


@given(
    st.fixed_dictionaries({part: st.decimals(0, 50, places=4) for part in ("jar", "lid", "label", "seal")}),
    st.decimals(0, 100, places=3),
    st.sampled_from(["USD", "JPY", "TND"]),
)
def test_the_items_shown_always_add_up_to_the_whole(parts, per_kg, currency):
    costs = SeasonCosts(
        currency,
        per_kg=per_kg,
        rate=Decimal(0),
        helper_percent=Decimal(0),
        jars={"one pound": {**parts, "carton": Decimal(0), "carton_holds": Decimal(1), "minutes": Decimal(0)}},
    )
    cost = jar_cost("one pound", POUND, Basis(costs))
    whole = sum(amount.minor for _, amount in cost.items)
    assert whole == cost.whole.minor
    assert abs(cost.whole.amount - cost.exact) <= Money(1, currency).amount / 2
