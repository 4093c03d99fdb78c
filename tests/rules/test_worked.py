"""Every worked example of the law that was read, row by row; each row names its own source.

The rows stand in ``tests/worked/law``. None of them was copied from what labelkit says.
"""

from __future__ import annotations

import tomllib
from datetime import date
from decimal import Decimal
from pathlib import Path

import pytest

from labelkit.errors import LabelkitError
from labelkit.measures import Declared, Length, Money, read_area
from labelkit.measures.rounding import HALF_UP, plain, to_step
from labelkit.measures.units import MASS, read_quantity
from labelkit.reading.shares import read_share
from labelkit.rules import market
from labelkit.rules.figures import (
    colour,
    date_mark,
    letter_height,
    moisture_limit,
    net_weight,
    nutrition,
    origin,
    servings,
    tolerance,
    unit_price,
)

DAY = date(2026, 11, 25)
ROWS = Path(__file__).parents[1] / "worked" / "law"


def rows(name):
    read = tomllib.loads((ROWS / f"{name}.toml").read_text(encoding="utf-8"))["row"]
    shown = [" ".join(str(v) for k, v in row.items() if k != "source")[:70] for row in read]
    return pytest.mark.parametrize("row", read, ids=shown)


def place(row):
    return market(row["market"], date.fromisoformat(row["day"]) if "day" in row else DAY)


def grams(text):
    return read_quantity(text, MASS, "en_US")


def refuses(row, figure):
    with pytest.raises(LabelkitError) as caught:
        figure()
    assert caught.value.name == row["refused"], row["source"]


def like(found: Decimal, expected: str) -> bool:
    """Equal to the decimals the source prints."""
    return to_step(found, Decimal(1).scaleb(Decimal(expected).as_tuple().exponent), HALF_UP) == Decimal(expected)


def test_every_table_is_walked():
    walked = {
        "colour",
        "daily_values",
        "date_mark",
        "exemptions",
        "grade",
        "letter_height",
        "moisture_limit",
        "net_weight",
        "nutrients",
        "nutrition",
        "origin",
        "servings",
        "tolerance",
        "unit_price",
    }
    assert {path.stem for path in ROWS.glob("*.toml")} == walked


def test_every_row_names_its_source():
    for path in ROWS.glob("*.toml"):
        for row in tomllib.loads(path.read_text(encoding="utf-8"))["row"]:
            assert len(row["source"]) > 8, (path.name, row)


@rows("net_weight")
def test_a_declared_weight_reads_as_the_law_prints_it(row):
    if "refused" in row:
        return refuses(row, lambda: net_weight.net_quantity(Declared.read(row["declare"], "en_US"), place(row)))
    found = net_weight.net_quantity(Declared.read(row["declare"], "en_US"), place(row))
    if "has" in row:
        assert any(row["has"] in statement for statement in found.statements), row["source"]
    if "lacks" in row:
        assert not any(row["lacks"] in statement for statement in found.statements), row["source"]
    if "customary" in row:
        assert found.customary == row["customary"], row["source"]
    if "metric" in row:
        assert found.metric == row["metric"], row["source"]
    if "fill_at_least_g" in row:
        assert like(found.fill_at_least_g, row["fill_at_least_g"]), row["source"]


@rows("letter_height")
def test_letters_are_as_high_as_the_table_asks(row):
    panel = None
    if "panel_area" in row:
        panel = letter_height.Panel.of_area(read_area(row["panel_area"], "en_US"))
    elif "diameter" in row:
        panel = letter_height.Panel.cylinder(Length.read(row["diameter"], "en_US"), Length.read(row["height"], "en_US"))
    declared = grams(row["declare"]) if "declare" in row else None
    found = letter_height.required(place(row), declared, panel, moulded=row.get("moulded", False))
    assert found.net_quantity_mm == Decimal(row["net_quantity_mm"]), row["source"]
    if "other_text_mm" in row:
        assert found.other_text_mm == Decimal(row["other_text_mm"]), row["source"]
    if "panel_area_cm2" in row:
        assert like(found.panel_area_mm2 / 100, row["panel_area_cm2"]), row["source"]


@rows("tolerance")
def test_a_tolerance_is_what_the_table_says(row):
    if "refused" in row:
        return refuses(row, lambda: tolerance.of(Declared.read(row["declare"], "en_US"), place(row)))
    found = tolerance.of(Declared.read(row["declare"], "en_US"), place(row))
    assert plain(found.error_g) == plain(Decimal(row.get("mav_g") or row["tolerance_g"])), row["source"]
    assert found.is_variation == ("mav_g" in row)
    if "t1_g" in row:
        assert found.first_limit_g == Decimal(row["t1_g"]), row["source"]
        assert found.second_limit_g == Decimal(row["t2_g"]), row["source"]


@rows("unit_price")
def test_a_unit_price_is_reckoned_from_the_exact_weight(row):
    here = place(row)
    unit = Declared.read(row["per"], "en_US") if "per" in row else None
    found = unit_price.of(Money.of(row["price"], here.head.currency), grams(row["net"]), here, unit)
    assert found.amount == Decimal(row["amount"]), row["source"]
    if "says" in row:
        assert found.per == row["says"], row["source"]


@rows("servings")
def test_servings_are_counted_as_the_panel_prints_them(row):
    found = servings.of(grams(row["net"]), market("us", DAY))
    assert found.count == Decimal(row["servings"]), row["source"]
    assert (found.about, found.single_serving) == (row["about"], row["single_serving"]), row["source"]


@rows("nutrients")
def test_a_nutrient_is_rounded_by_its_own_rule(row):
    unit = {"calories": "", "sodium": "mg", "cholesterol": "mg"}.get(row["nutrient"], "g")
    table = market("us", DAY).value("rounding of nutrients").value
    assert nutrition.rounded(Decimal(row["amount"]), row["nutrient"], table, unit) == row["text"], row["source"]


@rows("daily_values")
def test_a_percentage_of_the_daily_value_is_rounded_by_its_own_rule(row):
    table = market("us", DAY).value("rounding of percentages").value
    found = nutrition.percent_of(Decimal(row["amount"]), Decimal(row["daily_value"]), row["sort"], table)
    assert found == Decimal(row["percent"]), row["source"]


@rows("nutrition")
def test_the_panel_of_honey_reads_as_published(row):
    found = nutrition.panel(grams(row["net"]), market("us", DAY), row["ingredients"])
    line = next(line for line in found.rows if line.name == row["name"])
    if "amount" in row:
        assert line.amount == row["amount"], row["source"]
    if row.get("blank"):
        assert line.amount is None, row["source"]
    if "percent_dv" in row:
        assert line.percent_dv == Decimal(row["percent_dv"]), row["source"]


@rows("origin")
def test_the_origin_is_stated_as_the_day_and_place_ask(row):
    shares = [read_share(share, "en_US") for share in row["shares"]]
    net = grams(row.get("net", "500 g"))
    assert origin.statement(shares, place(row), net).statement == row["statement"], row["source"]


@rows("date_mark")
def test_a_date_mark_reads_as_the_law_writes_it(row):
    bottled = date.fromisoformat(row["bottled"]) if "bottled" in row else None
    best_before = date_mark.BestBefore.read(row["best_before"])
    if "refused" in row:
        return refuses(row, lambda: date_mark.of(best_before, place(row), bottled))
    found = date_mark.of(best_before, place(row), bottled)
    assert found.statement == row["statement"], row["source"]
    assert found.lot_mark_needed == row["lot_mark_needed"], row["source"]


@rows("colour")
def test_a_pfund_reading_falls_into_its_class(row):
    assert colour.of(Decimal(row["pfund"]), place(row), bulk=row["bulk"]).name == row["colour"], row["source"]


@rows("moisture_limit")
def test_moisture_is_held_against_the_limit_of_the_place(row):
    found = moisture_limit.allowed(Decimal(row["moisture"]), place(row), row["kind"])
    assert found.answer == row["allowed"], row["source"]
    if "limit_percent" in row:
        assert found.limit_percent == Decimal(row["limit_percent"]), row["source"]


@rows("grade")
def test_moisture_leaves_the_best_grade_it_can(row):
    kept = moisture_limit.grades(Decimal(row["moisture"]), place(row), pasteurized=row["pasteurized"])
    assert kept[0] == row["best"], row["source"]


@rows("exemptions")
def test_an_exemption_holds_for_whom_the_law_says_and_is_lost_when_it_says(row):
    exemptions = {law.rule: law for law in place(row).exemptions("nutrition")}
    for rule in row.get("holds", []):
        assert exemptions[rule].answer(row["situation"]).holds is True, row["source"]
    for rule in row.get("lacks", []):
        assert exemptions[rule].answer(row["situation"]).holds is False, row["source"]
    for rule in row.get("holds", []):
        assert exemptions[rule].lost_by.answer(row["situation"]).holds is (rule in row["lost"]), row["source"]
