"""What must be true of every figure, whatever the numbers in the packs are."""

from __future__ import annotations

import re
from datetime import date, timedelta
from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from labelkit.errors.rules import NoRuleInForce, OutsideTolerances
from labelkit.measures import Declared, Mass, Money
from labelkit.rules import market
from labelkit.rules.figures import letter_height, net_weight, nutrition, origin, servings, tolerance, unit_price
from tests.walks import examples

DAY = date(2026, 11, 25)
PLACES = ["us", "eu", "eu-de", "uk", "ca", "au", "nz", "codex"]
MARKETS = {code: market(code, DAY) for code in PLACES}
POUND = Fraction("453.59237")
OUNCE = POUND / 16

a_market = st.sampled_from(PLACES)
grams = st.decimals(min_value=6, max_value=9999, places=1)
ounces = st.decimals(min_value=Decimal("0.25"), max_value=1000, places=2)
some = settings(max_examples=examples(120), deadline=None)

_METRIC = re.compile(r"(?<![\d.])(\d+(?:[.,]\d+)?) (g|kg)\b")
_CUSTOMARY = re.compile(r"(?:(\d+) )?(?<![\d.])(\d+/\d+|\d+(?:\.\d+)?) (oz|lb)\b")


def figures_of(statement):
    """Every weight a statement prints, in grams, reckoned by this test and not by labelkit."""
    for number, unit in _METRIC.findall(statement):
        yield Fraction(number.replace(",", ".")) * (1000 if unit == "kg" else 1)
    pounds = re.search(r"(\d+) lb (\d+(?:\.\d+)?) oz", statement)
    if pounds:
        yield int(pounds[1]) * POUND + Fraction(pounds[2]) * OUNCE
        statement = statement.replace(pounds[0], "")
    for whole, number, unit in _CUSTOMARY.findall(statement):
        yield (int(whole or 0) + Fraction(number)) * (POUND if unit == "lb" else OUNCE)


def test_the_reader_of_statements_reads_them():
    assert list(figures_of("Net Wt 24 oz (1 1/2 lb) 680 g")) == [680, 24 * OUNCE, Fraction(3, 2) * POUND]
    assert list(figures_of("454 g (1 lb 0.01 oz)")) == [454, POUND + OUNCE / 100]


@some
@given(a_market, grams)
def test_no_figure_of_any_statement_overstates_a_weight_given_in_grams(code, weight):
    found = net_weight.net_quantity(Declared.of_grams(Decimal(weight)), MARKETS[code])
    for statement in found.statements:
        for figure in figures_of(statement):
            assert figure <= Fraction(weight), statement


@some
@given(a_market, ounces)
def test_no_figure_of_any_statement_overstates_a_weight_given_in_ounces(code, weight):
    found = net_weight.net_quantity(Declared.read(f"{weight} oz", "en_US"), MARKETS[code])
    for statement in found.statements:
        printed = list(figures_of(statement))
        assert printed, statement
        for figure in printed:
            # Jars of a pound, of half and of three quarters of one are sold in Britain as 454, 227 and 340 g.
            pound_size = code == "uk" and figure in (227, 340, 454) and figure <= Fraction(found.fill_at_least_g)
            assert figure <= Fraction(weight) * OUNCE or pound_size, statement


@some
@given(a_market, st.one_of(grams.map("{} g".format), ounces.map("{} oz".format)))
def test_a_jar_filled_to_its_target_makes_every_statement_true(code, weight):
    found = net_weight.net_quantity(Declared.read(weight, "en_US"), MARKETS[code])
    for statement in found.statements:
        for figure in figures_of(statement):
            assert figure <= Fraction(found.fill_at_least_g), (statement, found.fill_at_least_g)


@some
@given(a_market, grams, grams)
def test_raising_a_declared_weight_never_lowers_a_letter(code, one, other):
    low, high = sorted((one, other))
    panel = letter_height.Panel(round_side_mm2=Fraction(20000), longest_mm=Decimal(100))
    heights = []
    for weight in (low, high):
        try:
            heights.append(letter_height.required(MARKETS[code], weight, panel).net_quantity_mm)
        except NoRuleInForce:
            return
    assert heights[0] <= heights[1]


@some
@given(a_market, st.integers(1, 500_000), st.integers(1, 500_000))
def test_raising_a_panel_never_lowers_a_letter(code, one, other):
    low, high = sorted((one, other))
    heights = []
    for area in (low, high):
        panel = letter_height.Panel(area_mm2=Decimal(area), longest_mm=Decimal(area) / 1000)
        try:
            found = letter_height.required(MARKETS[code], Decimal(340), panel)
        except NoRuleInForce:
            return
        heights.append((found.net_quantity_mm, found.other_text_mm or 0))
    assert heights[0][0] <= heights[1][0] and heights[0][1] <= heights[1][1]


@some
@given(a_market, st.one_of(st.tuples(grams, grams, st.just("g")), st.tuples(ounces, ounces, st.just("oz"))))
def test_raising_a_declared_weight_never_lowers_its_tolerance(code, weights):
    low, high = sorted(weights[:2])
    try:
        errors = [
            tolerance.of(Declared.read(f"{weight} {weights[2]}", "en_US"), MARKETS[code]) for weight in (low, high)
        ]
    except (OutsideTolerances, NoRuleInForce):
        return
    assert errors[0].error_g <= errors[1].error_g
    for found in errors:
        if found.second_limit_g is not None:
            assert found.second_limit_g < found.first_limit_g < found.declared_g


@some
@given(st.decimals(min_value=1, max_value=9999, places=2))
def test_servings_are_at_most_half_a_serving_off_and_say_so_when_they_are(weight):
    found = servings.of(weight, MARKETS["us"])
    exact = Fraction(weight) / Fraction(found.serving_g)
    assert abs(Fraction(found.count) - exact) <= Fraction(1, 2)
    assert found.about == (Fraction(found.count) != exact)


@some
@given(st.decimals(min_value=0, max_value=5000, places=2), st.sampled_from(["calories", "fat", "sodium", "gram"]))
def test_a_rounded_nutrient_is_off_by_half_a_step_at_most(amount, nutrient):
    table = MARKETS["us"].value("rounding of nutrients").value
    shown = nutrition.rounded(amount, nutrient, table, "x")
    number = re.search(r"\d+(?:\.\d+)?", shown)
    assert number and abs(Decimal(number[0]) - amount) <= 5


@some
@given(
    st.sampled_from(["us", "eu", "uk"]),
    st.integers(1, 100_000),
    st.decimals(min_value=5, max_value=30_000, places=1),
)
def test_a_unit_price_is_off_by_half_a_cent_at_most(code, cents, weight):
    here = MARKETS[code]
    price = Money(cents, here.head.currency)
    found = unit_price.of(price, weight, here)
    exact = Fraction(price.amount) * Fraction(here.value("unit of the unit price").value) / Fraction(weight)
    assert abs(Fraction(found.amount) - exact) <= Fraction(1, 200)


@some
@given(
    st.lists(st.sampled_from(["ES", "FR", "IT", "AR", "UA", "CN", "MX"]), min_size=1, max_size=6, unique=True),
    st.data(),
)
def test_every_country_of_a_blend_is_named_with_its_share_largest_first(codes, data):
    cuts = sorted(
        data.draw(st.lists(st.integers(1, 99), min_size=len(codes) - 1, max_size=len(codes) - 1, unique=True))
    )
    shares = [Decimal(b - a) for a, b in zip([0, *cuts], [*cuts, 100], strict=True)]
    text = origin.statement(list(zip(codes, shares, strict=True)), MARKETS["eu"], Decimal(500)).statement
    for code in codes:
        assert origin.country_names("en")[code] in text
    if len(codes) > 1:
        printed = [Decimal(number) for number in re.findall(r"([\d.]+) %", text)]
        assert printed == sorted(shares, reverse=True)


@given(ounces)
@some
def test_the_fill_target_of_several_markets_is_the_highest_of_them(weight):
    text = Declared.read(f"{weight} oz", "en_US")
    each = [net_weight.fill_target(text, [MARKETS[code]]) for code in ("us", "eu", "uk")]
    assert net_weight.fill_target(text, [MARKETS[code] for code in ("us", "eu", "uk")]) == max(each)
    assert net_weight.fill_target(text, [MARKETS["eu"]], uses=Mass.of_grams(50_000)) == Mass.of_grams(50_000)


@pytest.mark.parametrize("code", PLACES)
def test_travelling_over_every_change_gives_a_figure_or_a_refusal_that_names_the_day(code):
    """Nothing falls silent on any day: the figure stands, or the refusal says which day and what is held."""
    from labelkit.rules import shelf
    from labelkit.rules.blocks import Value

    here = market(code, DAY)
    values = [law for pack in here.packs for topic in shelf.topics(pack) for law in shelf.laws(pack, topic)]
    changes = {day for law in values if isinstance(law, Value) for day in (law.since, law.until) if day}
    for day in sorted({d for change in changes for d in (change - timedelta(days=1), change)}):
        then = market(code, day)
        try:
            assert net_weight.net_quantity(Declared.read("340 g", "en_US"), then).statements
        except NoRuleInForce as refusal:
            assert day.isoformat() in refusal.what


@pytest.mark.parametrize(
    ("declares", "figure"),
    [("1.3 oz", "36 g"), ("1 oz", "28 g"), ("1 1/4 oz", "35 g"), ("36.8 g", "36.8 g"), ("40 g", "40 g")],
)
def test_a_single_serving_has_the_metric_figure_of_its_net_quantity(declares, figure):
    """21 CFR 101.9(b)(7)(i): grams given for a single serving “must be identical” to the net quantity's."""
    us = market("us", date(2026, 11, 25))
    assert figure in net_weight.net_quantity(Declared.read(declares, "en_US"), us).statements[0]
    assert nutrition.panel(Mass.read(declares, "en_US").g, us).serving == f"1 container ({figure.replace(' ', '')})"
