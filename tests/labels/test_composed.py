"""From a label file and a market's law to the words of the label."""

from __future__ import annotations

import re
from dataclasses import replace
from decimal import Decimal

import pytest

from labelkit.errors.labels import LabelLanguageUnsaid
from labelkit.labels.case import label_case
from labelkit.labels.composed import compose
from labelkit.labels.design import design
from labelkit.labels.label_set import missing_from
from labelkit.labels.layout.kinds import place
from labelkit.measures import Declared, Length
from labelkit.rules import market, shelf
from labelkit.rules.label import Label
from tests.labels.samples import DAY, outline

JAR = {"diameter": Length.read("2.5 in", "en_US"), "height": Length.read("3.5 in", "en_US")}
LABEL = Label(
    ("us",), "Clover Honey", Declared.read("1 lb", "en_US"), maker={"name": "Pretend Hollow Honey"}, panel=JAR
)


def made(*codes: str, **changes):
    markets = [market(code, DAY) for code in codes]
    return compose(label_case(replace(LABEL, markets=codes, **changes), markets, "en_US")).content


@pytest.mark.parametrize(
    ("codes", "cautions"),
    [
        (("us",), ("Do not feed honey to infants under one year of age.",)),
        (("eu-de",), ("Nicht für Säuglinge unter 12 Monaten geeignet.",)),
        # Safe Food for Canadians Regulations s. 206(1): both official languages
        (
            ("ca",),
            (
                "Do not feed honey to infants under one year of age.",
                "Ne convient pas aux nourrissons de moins de 12 mois.",
            ),
        ),
        (
            ("us", "eu-de"),
            ("Do not feed honey to infants under one year of age.", "Nicht für Säuglinge unter 12 Monaten geeignet."),
        ),
    ],
)
def test_the_caution_on_infants_speaks_every_language_the_label_must(codes, cautions):
    assert made(*codes, declares=Declared.of_grams(Decimal(500))).of("caution").all == cautions


@pytest.mark.parametrize(
    ("code", "heading"),
    [("us", "Ingredients"), ("eu-de", "Zutaten"), ("eu-pl", "Składniki"), ("ca", "Ingredients / Ingrédients")],
)
def test_the_list_of_ingredients_has_its_heading_in_the_language_of_the_market(code, heading):
    """Regulation (EU) 1169/2011 Art. 18(1), in the language versions of the Regulation."""
    content = made(code, declares=Declared.of_grams(Decimal(500)), kind="infused", ingredients=("honey", "cinnamon"))
    assert content.of("ingredients").text == f"{heading}: honey, cinnamon"


@pytest.mark.parametrize(
    ("change", "role"),
    [({"kind": "infused", "ingredients": ("honey", "cinnamon")}, "ingredients"), ({"grade": "U.S. Grade A"}, "grade")],
)
def test_ingredients_and_grade_must_stand_on_one_of_the_labels(change, role):
    """The check has read them in the label file; a front too small for them does not say them."""
    content = made("us", **change)
    front = place(content.without(role), outline("letter-2x5-102x51"), design("press"))
    assert role in {one.role for one in missing_from(content, [front])}


def test_free_lines_may_be_left_out():
    content = made("us", lines=("From our own hives",))
    front = place(content.without("line"), outline("letter-2x5-102x51"), design("press"))
    assert missing_from(content, [front]) == ()


@pytest.mark.parametrize(
    ("code", "kind", "amounts", "borne"),
    [
        ("us", "wrap", {"carbohydrate": Decimal("82.4")}, True),
        ("us", "wrap", {}, False),
        ("us", "front", {"carbohydrate": Decimal("82.4")}, False),
        # Regulation (EU) 1169/2011 has a table of its own, which the packs do not hold.
        ("eu-de", "wrap", {"carbohydrate": Decimal("82.4")}, False),
    ],
)
def test_a_wrap_bears_the_panel_where_the_maker_gave_values_and_the_market_has_one(code, kind, amounts, borne):
    label = replace(LABEL, markets=(code,), declares=Declared.of_grams(Decimal(500)), nutrition=amounts)
    content = compose(label_case(label, [market(code, DAY)], "en_US"), kind=kind).content
    assert (content.nutrition is not None) is borne


@pytest.mark.parametrize("head", shelf.markets(), ids=lambda head: head.id)
def test_the_languages_of_every_market_are_tags_a_reader_of_the_file_knows(head):
    """BCP 47 (RFC 5646): what a PDF says of its language (ISO 32000-1, 14.9.2) is a tag and no sentence."""
    content = made(head.id, declares=Declared.of_grams(Decimal(500)))
    assert all(re.fullmatch(r"[a-z]{2,3}(-[A-Z]{2})?", lang) for lang in content.spoken)


def test_a_union_without_a_country_does_not_answer_a_greek_name_in_english():
    """Regulation (EU) 1169/2011 Art. 15(1): a language easily understood where the food is marketed."""
    for name, country in (("Μέλι ανθέων", "eu-gr"), ("Горски мед", "eu-bg")):
        with pytest.raises(LabelLanguageUnsaid, match=country):
            made("eu", name=name)
        content = made(country, name=name)
        assert content.lang == country.replace("eu-gr", "el")[-2:]
        assert content.of("caution").text[:1] not in "DN"


def test_the_address_stands_in_the_order_of_its_country_and_with_the_maker_s_name():
    given = {"name": "Pretend Hollow", "street": "Am Anger 3", "city": "Musterstadt", "postcode": "00000"}
    assert made("eu-de", maker=given).of("address").text == "Pretend Hollow · Am Anger 3 · 00000 Musterstadt"
    assert made("us", maker=given | {"region": "VA"}).of("address").text.endswith("Musterstadt, VA 00000")


def test_where_two_readings_of_the_largest_surface_differ_the_larger_letters_are_set():
    """Regulation (EU) 1169/2011 Art. 13(2), (3): 1.2 mm, and 0.9 mm where the largest surface is under 80 cm².

    A jar of 7 × 8.5 cm: its side is 3.1416 × 7 × 8.5 = 186.9 cm², a third of that 62.3 cm²; one of 4 × 5 cm has 62.8 cm²
    by either reading.
    """
    for across, high, least in (("70", "85", "1.2"), ("40", "50", "0.9")):
        panel = {"diameter": Length.of_mm(across), "height": Length.of_mm(high)}
        height = made("eu-de", panel=panel).of("caution").height
        assert (height.least.mm, height.sure) == (Decimal(least), "second-hand")
