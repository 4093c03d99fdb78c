"""A market is a stack of packs on a day."""

from __future__ import annotations

from datetime import date
from decimal import Decimal

import pytest

from labelkit.errors.rules import CountryUnknown, FactMissing, MarketUnknown, NoRuleInForce, RulesOverlap
from labelkit.rules import market
from labelkit.rules.blocks import Require
from labelkit.rules.figures.origin import known_country

HEAD = '[pack]\nname = "{name}"\nlanguages = ["en"]\ncurrency = "USD"\noffice = "the town clerk"\nparents = {parents}\n'
TAIL = 'cite = { source = "act", clause = "s. 1", read_on = 2026-11-25 }\nsure = "seen"\n'
DAY = date(2026, 6, 1)


def value(number, since="2020-01-01", more=""):
    return f'[[value]]\nname = "highest moisture"\nvalue = {number}\nsince = {since}\n{more}{TAIL}\n'


def require(pack, more=""):
    return (
        f'[[require]]\nrule = "{pack}.maker.street"\nelement = "street"\nlevel = "stop"\nsays = "A street."\n'
        f'do = "Print it."\nsince = 2020-01-01\n{more}{TAIL}\n'
    )


@pytest.fixture
def land(tmp_path):
    """A land with a valley in it, to be filled with files."""

    def write(files):
        (tmp_path / "sources.toml").write_text('[act]\ntitle = "An invented honey act"\n')
        for pack, parents in (("land", "[]"), ("land-valley", '["land"]')):
            (tmp_path / pack).mkdir(exist_ok=True)
            (tmp_path / pack / "pack.toml").write_text(HEAD.format(name=pack.title(), parents=parents))
        for name, text in files.items():
            (tmp_path / name).write_text(text)
        return lambda code, day=DAY: market(code, day, tmp_path)

    return write


def test_a_child_without_a_value_of_its_own_uses_its_parents(land):
    at = land({"land/composition.toml": value(20)})
    assert at("land-valley").value("highest moisture").value == 20


def test_a_childs_value_goes_before_its_parents(land):
    mine = value("18.6", more='against_parent = "tightens"\nbecause = "the valley is dry"\n')
    at = land({"land/composition.toml": value(20), "land-valley/composition.toml": mine})
    assert at("land-valley").value("highest moisture").value == Decimal("18.6")
    assert at("land").value("highest moisture").value == 20


def test_before_a_childs_value_begins_the_parents_holds(land):
    mine = value("18.6", since="2026-07-01", more='against_parent = "tightens"\nbecause = "the valley is dry"\n')
    at = land({"land/composition.toml": value(20), "land-valley/composition.toml": mine})
    assert at("land-valley", date(2026, 6, 30)).value("highest moisture").value == 20
    assert at("land-valley", date(2026, 7, 1)).value("highest moisture").value == Decimal("18.6")


def test_the_more_particular_of_two_values_answers(land):
    at = land({"land/composition.toml": value(20) + value(23, more='when = { honey = "heather" }\n')})
    assert at("land").value("highest moisture", honey="heather").value == 23
    assert at("land").value("highest moisture", honey="honey").value == 20


def test_a_fact_that_could_change_the_answer_is_asked_for_and_not_assumed(land):
    at = land({"land/composition.toml": value(20) + value(23, more='when = { honey = "heather" }\n')})
    with pytest.raises(FactMissing) as caught:
        at("land").value("highest moisture")
    assert "What kind of honey is it" in caught.value.what


def test_two_values_that_would_both_do_are_refused(land):
    two = value(23, more='when = { honey = "heather" }\n') + value(22, more="when = { raw = true }\n")
    with pytest.raises(RulesOverlap):
        land({"land/composition.toml": two})("land").value("highest moisture", honey="heather", raw=True)


def test_a_value_that_ended_is_no_longer_held_and_the_day_is_named(land):
    at = land({"land/composition.toml": value(20, more="until = 2024-01-01\n")})
    assert at("land", date(2023, 12, 31)).value("highest moisture").value == 20
    with pytest.raises(NoRuleInForce) as caught:
        at("land", date(2024, 1, 1)).value("highest moisture")
    assert "on 2024-01-01" in caught.value.what


def test_the_history_of_a_value_is_told_oldest_first(land):
    at = land({"land/composition.toml": value(21, more="until = 2022-01-01\n") + value(20, since="2022-01-01")})
    assert [law.value for law in at("land").history("highest moisture")] == [21, 20]


def test_a_switched_off_rule_is_gone_for_the_child_only(land):
    off = f'[[switch_off]]\nwhat = "land.maker.street"\nbecause = "one street"\nsince = 2025-01-01\n{TAIL}'
    at = land({"land/maker.toml": require("land"), "land-valley/maker.toml": off})
    assert at("land-valley").requires() == ()
    assert [law.rule for law in at("land").requires("maker")] == ["land.maker.street"]
    assert len(at("land-valley", date(2024, 1, 1)).requires()) == 1


def test_a_rule_says_what_it_would_need_to_know(land):
    at = land(
        {"land/maker.toml": require("land", "when = { home_kitchen = true }\nunless = { in_directory = true }\n")}
    )
    (street,) = at("land").laws(Require)
    assert street.answer({"home_kitchen": False}).holds is False
    assert street.answer({"home_kitchen": True, "in_directory": True}).holds is False
    assert street.answer({"home_kitchen": True, "in_directory": False}).holds is True
    unknown = street.answer({"home_kitchen": True})
    assert unknown.holds is None and [fact.name for fact in unknown.missing] == ["in_directory"]


def test_the_ordinary_jar_is_taken_for_granted_only_where_that_asks_more(land):
    """A jar nobody calls an inner unit, weighed before the buyer or of random weight is one that is labelled in full."""
    odd = land({"land/maker.toml": require("land", "unless = { weighed_before_buyer = true }\n")})
    (street,) = odd("land").laws(Require)
    assert street.answer({}).holds is True
    assert street.answer({"weighed_before_buyer": True}).holds is False


def test_any_of_several_sets_of_conditions_is_enough(land):
    either = 'when = [ { home_kitchen = true }, { food_sales_per_year_to = "50000 USD" } ]\n'
    (street,) = land({"land/maker.toml": require("land", either)})("land").laws(Require)
    assert street.answer({"home_kitchen": False, "food_sales_per_year": "18000 USD"}).holds is True
    assert street.answer({"home_kitchen": True}).holds is True
    assert street.answer({"home_kitchen": False, "food_sales_per_year": "50000.01 USD"}).holds is False
    assert street.answer({"home_kitchen": False}).holds is None


@pytest.mark.parametrize(
    ("condition", "given", "holds"),
    [
        ('panel_area_over = "5 in2"', "5 in2", False),
        ('panel_area_from = "5 in2"', "5 in2", True),
        ('panel_area_to = "5 in2"', "5 in2", True),
        ('panel_area_under = "5 in2"', "5 in2", False),
    ],
)
def test_the_four_bounds_differ_at_the_edge(land, condition, given, holds):
    (street,) = land({"land/maker.toml": require("land", f"when = {{ {condition} }}\n")})("land").laws(Require)
    assert street.answer({"panel_area": given}).holds is holds


@pytest.mark.parametrize(
    ("condition", "given", "holds"),
    [
        ('sells_to = "shop"', ["stall", "shop"], True),
        ('sells_to = ["shop", "mail"]', ["stall"], False),
        ('sells_to_not = "shop"', ["stall", "shop"], False),
        ('sells_to_only = ["stall", "mail"]', ["stall"], True),
        ('sells_to_only = ["stall", "mail"]', ["stall", "shop"], False),
    ],
)
def test_lists_are_asked_for_one_none_or_only(land, condition, given, holds):
    (street,) = land({"land/maker.toml": require("land", f"when = {{ {condition} }}\n")})("land").laws(Require)
    assert street.answer({"sells_to": given}).holds is holds


@pytest.mark.parametrize(
    ("said", "code"),
    [
        ("us-va", "us-va"),
        ("US_VA", "us-va"),
        ("Virginia", "us-va"),
        ("united  kingdom", "uk"),
        ("Deutschland", "eu-de"),
    ],
)
def test_a_market_answers_to_its_code_and_to_what_people_call_it(said, code):
    assert market(said, DAY).code == code


def test_an_unknown_market_lists_the_near_ones():
    with pytest.raises(MarketUnknown) as caught:
        market("us-viginia", DAY)
    assert "us-" in caught.value.what.split("Did you mean")[1]


def test_numbers_with_a_point_are_exact():
    moisture = market("us-md", date(2026, 11, 25)).value("highest moisture", honey="honey")
    assert moisture.value == Decimal("18.6") and isinstance(moisture.value, Decimal)


@pytest.mark.parametrize(("wrong", "family"), [("eu-lt", "eu-"), ("eu-ge", "eu-"), ("us-zz", "us-"), ("ca-zz", "ca")])
def test_a_state_is_mistaken_for_none_of_another_union(wrong, family):
    with pytest.raises(MarketUnknown) as caught:
        market(wrong, DAY)
    near = caught.value.what.partition("Did you mean ")[2]
    assert all(one.strip().startswith(family) for one in near.rstrip("?").split(" or ") if one.strip(" ."))


@pytest.mark.parametrize(
    ("typed", "meant"),
    [
        ("UK", "United Kingdom is GB"),
        ("OR", "Oregon is a part of United States, which is US"),
        ("DEU", "Germany is DE"),
    ],
)
def test_a_country_that_does_not_exist_is_refused_with_the_right_code(typed, meant):
    """ISO 3166-1 alpha-2, as CLDR holds it with its aliases."""
    with pytest.raises(CountryUnknown) as caught:
        known_country(typed)
    assert meant in caught.value.what and caught.value.field == "origin"
