"""Whatever a market demands on a label is printed where the maker gave it, and asked for where not."""

from __future__ import annotations

from datetime import date
from decimal import Decimal

import pytest

from labelkit.errors.rules import FactMissing, NoRuleInForce
from labelkit.labels.case import label_case
from labelkit.labels.composed import compose
from labelkit.labels.content import clean
from labelkit.measures import Declared, Volume
from labelkit.rules import market, shelf
from labelkit.rules.conditions import When
from labelkit.rules.figures.date_mark import BestBefore
from labelkit.rules.label import Label, Share

DAY = date(2026, 11, 28)
GIVEN = {
    "name": "Wildflower Honey",
    "maker": "Sunny Ridge Apiary",
    "street": "12 Meadow Lane",
    "city": "Elmvale",
    "region": "Kent County",
    "county": "Kent County",
    "postcode": "20000",
    "country": "USA",
    "phone": "555 0100 200",
    "email": "honey@ridge.example",
    "registration": "R-7781",
    "grade": "U.S. Grade A",
    "lot": "L26195K",
    "volume": "11 fl oz",
    "ingredients": "honey",
}
LINES = (
    "Distributed by the apiary",
    "Color: amber",
    "Made on July 14, 2026",
    "Store at room temperature",
    "Do not feed honey to infants under one year of age.",
    "Contains no major allergen",
)
# Elements no front label prints: the panel is a label of its own, and where to ask for its figures is a fact.
APART = {"nutrition panel", "nutrition contact", "allergens"}


def facts_for(when: When) -> dict:
    """Facts that make one of the sets of conditions of a rule true."""
    chosen = {}
    by_kind = [one for one in when.sets if any(condition.fact.name == "kind" for condition in one)]
    for condition in next(iter(by_kind or when.sets), ()):
        raw = condition.raw
        if condition.relation == "not":
            continue
        one = raw[0] if isinstance(raw, list) and condition.fact.kind not in ("words", "texts") else raw
        chosen[condition.fact.name] = _meeting(condition, one)
    return chosen


def _meeting(condition, raw):
    from labelkit.rules.kinds import read

    value = read(condition.fact.kind, raw) if condition.fact.kind not in ("word", "words", "texts", "flag") else raw
    if condition.relation in ("over", "under") and isinstance(value, Decimal):
        return value + (1 if condition.relation == "over" else -1)
    return tuple(value) if isinstance(value, list) else (value,) if condition.fact.kind in ("words", "texts") else value


def label_for(code: str, law) -> Label:
    facts = facts_for(law.when)
    kind = facts.pop("kind", "honey")
    declares = facts.pop("declared", Decimal("453.59237"))
    for answered in ("infused", "ingredients", "date_shows", "panel_area", "longest_side", "graded"):
        facts.pop(answered, None)
    return Label(
        (code,),
        GIVEN["name"],
        Declared.of_grams(declares) if declares != Decimal("453.59237") else Declared.read("1 lb", "en_US"),
        kind=kind,
        lines=LINES,
        ingredients=("honey", "lemon") if kind in ("infused", "blend") else ("honey",),
        grade=GIVEN["grade"],
        lot=GIVEN["lot"],
        volume=Volume.read(GIVEN["volume"], "en_US"),
        best_before=BestBefore.read("2028-06-30"),
        origin=(Share("US", Decimal(100)),),
        maker={
            key: GIVEN[key]
            for key in ("street", "city", "region", "postcode", "country", "phone", "email", "registration")
        }
        | {"name": GIVEN["maker"]},
        situation=facts,
    )


def demands():
    for head in shelf.markets():
        for law in market(head.id, DAY).requires():
            if law.pack == head.id:
                yield pytest.param(head.id, law, id=law.rule)


DEMANDS = list(demands())


@pytest.mark.parametrize(("code", "law"), DEMANDS)
def test_what_a_market_demands_is_printed(code, law):
    if law.element in APART or law.place == "sign":
        return
    try:
        made = compose(label_case(label_for(code, law), [market(code, DAY)], "en_US"))
    except (FactMissing, NoRuleInForce) as open_question:
        pytest.fail(str(open_question))
    printed = " | ".join(text for words in made.content.words for text in words.all)
    assert all(words.must for words in made.content.words if words.role not in ("line", "storage"))
    if law.element in GIVEN:
        assert clean(GIVEN[law.element]) in printed, f"{law.rule}: {printed}"
    else:
        assert not [f for f in made.case.checked.findings if f.rule == law.rule and f.level == "stop"], printed


@pytest.mark.exhaustive(one_in=4)
@pytest.mark.parametrize(("code", "law"), DEMANDS)
def test_what_a_market_demands_and_the_maker_left_out_is_asked_for(code, law):
    whole = label_for(code, law)
    graded = whole.grade if "graded" in law.when.facts else ""
    bare = Label((code,), whole.name, whole.declares, kind=whole.kind, grade=graded, situation=whole.situation)
    found = {f.rule for f in label_case(bare, [market(code, DAY)], "en_US").checked.findings}
    if law.element in ("name", "net quantity", "metric net quantity", "infant caution"):
        return  # every label has a name and a weight, and labelkit adds the caution
    on_label = law.answer(dict(whole.situation) | {"kind": whole.kind}).holds
    assert law.rule in found or on_label is False or law.element in APART, sorted(found)


def test_ohio_prints_the_ingredients_and_the_volume_of_each_size():
    """Ohio Revised Code 3715.023, read in an older copy: ingredients, net weight and volume on the beekeeper's label."""
    ohio = market("us-oh", DAY)
    given = {"kind": "honey", "ingredients": ("honey",), "situation": {"own_hives": True}}
    for size, volume in (("1 lb", "11 fl oz"), ("2 lb", "22 fl oz")):
        label = Label(("us-oh",), "Honey", Declared.read(size, "en_US"), volume=Volume.read(volume, "en_US"), **given)
        printed = [text for words in compose(label_case(label, [ohio], "en_US")).content.words for text in words.all]
        assert "Ingredients: honey" in printed and volume in printed


@pytest.mark.parametrize(
    ("volume", "fits"), [("11 fl oz", True), ("325 ml", True), ("16 fl oz", False), ("8 fl oz", False)]
)
def test_a_volume_no_pound_of_honey_has_is_stopped(volume, fits):
    """A US fluid ounce of honey weighs about 1.5 oz (USDA: 11.8 lb a gallon at 18.6 % moisture)."""
    label = Label(
        ("us-oh",),
        "Honey",
        Declared.read("1 lb", "en_US"),
        volume=Volume.read(volume, "en_US"),
        situation={"own_hives": True},
    )
    found = [
        f
        for f in label_case(label, [market("us-oh", DAY)], "en_US").checked.findings
        if f.field == "volume" and f.level == "stop"
    ]
    assert bool(found) is not fits
