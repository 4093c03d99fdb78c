"""Figures of what a label must say, and how large."""

from __future__ import annotations

from datetime import date
from decimal import Decimal
from typing import Any

import click
from click import option

from labelkit.cli._options import DAY, DECLARED, LENGTH, PERCENT, SHARE, Quantity
from labelkit.cli._runner import Answer
from labelkit.cli.reckon._figure import (
    GRAMS,
    NET,
    SOLD_IN,
    US_UNLESS_SAID,
    WHERE,
    Reader,
    by_law,
    figure,
    needed,
    step,
)


@figure(needed("--digits", Quantity("DIGITS", lambda text, _: text), "The digits without their check digit."))
def check_digit(reader: Reader, digits: str) -> Answer:
    """Check digit of an EAN, UPC, GTIN-14 or SSCC number.

    Example:  labelkit reckon check-digit --digits 629104150021
    """
    from labelkit.barcodes.gs1 import with_check_digit

    whole = with_check_digit(digits)
    return Answer({"digit": whole[-1], "whole": whole}, f"Check digit {whole[-1]}: {whole}")


@figure(
    needed("--moisture", PERCENT, "Moisture of the honey in per cent, for example 18.4."),
    SOLD_IN,
    option("--kind", default="honey", show_default=True, help="What honey: heather, baker, honeydew, native ..."),
)
def moisture_limit(reader: Reader, moisture: Decimal, place: Any, kind: str) -> Answer:
    """Whether honey this moist may be sold as honey.

    Example:  labelkit reckon moisture-limit --moisture 18.4 --market eu
    """
    from labelkit.honey.moisture import checked
    from labelkit.rules.conditions import known_word
    from labelkit.rules.figures import moisture_limit

    found = moisture_limit.allowed(moisture, place, known_word("honey", kind))
    checked(moisture)  # what no honey has is asked about before anybody reads a verdict
    kept = moisture_limit.grades(moisture, place)
    lines = [f"By its moisture alone it could be {', '.join(kept)}."] if kept else []
    if found.limit_percent is None:
        lines = [f"Ask: no moisture limit is held for {place.name}.", *lines, f"Ask {place.head.office}."]
    else:
        verdict = "Allowed" if found.answer == moisture_limit.YES else "Not allowed"
        lines = [f"{verdict}: {place.name} allows up to {reader.number(found.limit_percent)} % ({kind}).", *lines]
    return by_law({"allowed": found.answer, "limit_percent": found.limit_percent}, lines, found.laws)


@figure(needed("--declare", DECLARED, "What the label will declare, for example “1 lb”."), SOLD_IN)
def net_weight(reader: Reader, declare: Any, place: Any) -> Answer:
    """Every lawful way to print a declared weight.

    And what the jar must hold for it.

    Example:  labelkit reckon net-weight --declare "1 lb" --market us
    """
    from labelkit.rules.figures.net_weight import net_quantity

    found = net_quantity(declare, place)
    document = {
        "statements": list(found.statements),
        "customary": found.customary,
        "metric_g": found.metric_g,
        "fill_at_least_g": found.fill_at_least_g,
    }
    lines = [
        found.statements[0],
        *(f"or  {other}" for other in found.statements[1:]),
        "",
        f"Fill at least {reader.number(found.fill_at_least_g)} g, so that every figure printed is true.",
    ]
    return by_law(document, lines, found.laws, parted=False)


@figure(
    SOLD_IN,
    option("--declare", type=GRAMS, help="The declared weight, where that decides."),
    option("--diameter", type=LENGTH, help="Diameter of a round jar, for example “2.5 in”."),
    option("--width", type=LENGTH, help="Width of the flat side that faces the buyer."),
    option("--height", type=LENGTH, help="Height of the side, without shoulder and neck."),
    option(
        "--panel-area",
        type=Quantity("AREA", lambda text, locale: _area(text, locale)),
        help="Area of the main panel, for example “80 cm^2”.",
    ),
    option("--moulded", is_flag=True, help="The weight is moulded or embossed instead of printed."),
)
def letter_height(
    reader: Reader,
    place: Any,
    declare: Decimal | None,
    diameter: Any,
    width: Any,
    height: Any,
    panel_area: Any,
    moulded: bool,
) -> Answer:
    """Minimum letter height.

    For the net weight and for the other words.

    Example:  labelkit reckon letter-height --market us --diameter "2.5 in" --height "3.5 in"
    """
    from labelkit.rules.figures.letter_height import required

    found = required(place, declare, _panel(diameter, width, height, panel_area), moulded=moulded)
    area = None if found.panel_area_mm2 is None else step(found.panel_area_mm2 / 100, "0.01")
    document = {
        "panel_area_cm2": area,
        "net_quantity_mm": found.net_quantity_mm,
        "other_text_mm": found.other_text_mm,
        "measured_on": found.measured_on,
    }
    lines = [
        f"Net weight {'moulded' if moulded else 'printed'} at least {reader.number(found.net_quantity_mm)} mm high.",
        "Other words: legible; no height is held for this market."
        if found.other_text_mm is None
        else f"Other required words at least {reader.number(found.other_text_mm)} mm high.",
        *([] if area is None else [f"Panel counted as {reader.number(area)} square centimetres."]),
        f"Measured on {found.measured_on}.",
    ]
    return by_law(document, lines, found.laws)


def _area(text: str, locale: str) -> Decimal:
    from labelkit.measures import read_area

    return read_area(text, locale)


def _panel(diameter: Any, width: Any, height: Any, area: Any) -> Any:
    from labelkit.rules.figures.letter_height import Panel

    if area and not (diameter or width):
        return Panel.of_area(area)
    if bool(diameter) == bool(width) and (diameter or width or height):
        raise click.UsageError("Give --diameter and --height for a round jar, or --width and --height for a flat side.")
    if (diameter or width) and not height:
        raise click.UsageError("The height of the side is missing: --height, without shoulder and neck.")
    if diameter:
        return Panel.cylinder(diameter, height)
    return Panel.flat(width, height) if width else None


@figure(NET, US_UNLESS_SAID)
def servings(reader: Reader, net: Decimal, place: Any) -> Answer:
    """Servings in a jar, as the nutrition panel prints them.

    Example:  labelkit reckon servings --net "12 oz"
    """
    from labelkit.rules.figures import servings

    found = servings.of(net, place)
    lines = ["One serving: the whole jar." if found.single_serving else f"Servings: {found.words}"]
    if found.dual_column:
        lines.append("The panel needs a second column for the whole jar, unless a small package frees it.")
    document = {"servings": found.count, "about": found.about, "single_serving": found.single_serving}
    return by_law(document, lines, found.laws)


@figure(
    NET,
    option("--ingredients", default=1, show_default=True, type=click.IntRange(1), help="How many ingredients."),
    option("--simplified", is_flag=True, help="Leave out what counts as none and name it at the foot."),
    US_UNLESS_SAID,
)
def nutrition(reader: Reader, net: Decimal, ingredients: int, simplified: bool, place: Any) -> Answer:
    """Nutrition panel of a jar of honey.

    From the usual values of honey.

    Example:  labelkit reckon nutrition --net "12 oz"
    """
    from labelkit.labels.nutrition.plain import as_text
    from labelkit.labels.nutrition.words import said
    from labelkit.rules.figures.nutrition import panel

    found = panel(net, place, ingredients)
    document = {
        "serving": found.serving,
        "servings_text": found.servings_text,
        "rows": [{"name": row.name, "amount": row.amount, "percent_dv": row.percent_dv} for row in found.rows],
        "footnote": found.footnote,
    }
    lines = [as_text(said(found, place, simplified=simplified, dual=found.dual_column)), ""]
    if found.dual_column:
        lines.append("The second column, for the whole jar, is due unless a small package frees it.")
    lines.append("Many small producers are freed from the panel. Printing one ends that, as any nutrition claim does.")
    lines.append("To print it on a label: labelkit labels --label LABEL.toml --kind nutrition")
    return by_law(document, lines, found.laws)


def _unit(text: str, locale: str) -> Any:
    return DECLARED.read(text if any(map(str.isnumeric, text)) else f"1 {text.strip()}", locale)


@figure(
    needed("--price", Quantity("AMOUNT", lambda text, _: text), "Price of the jar, for example 8.50."),
    NET,
    SOLD_IN,
    option("--currency", metavar="CODE", help="Currency of the price; the market's own when left out."),
    option(
        "--per", type=Quantity("WEIGHT", _unit), help="Another unit than the market's, for example “100 g” or “1 oz”."
    ),
)
def unit_price(reader: Reader, price: str, net: Decimal, place: Any, currency: str | None, per: Any) -> Answer:
    """Price per pound, per kilogram or per 100 g.

    Example:  labelkit reckon unit-price --price 8.50 --net "12 oz" --market us
    """
    from labelkit.measures import Money
    from labelkit.rules.figures import unit_price

    found = unit_price.of(Money.read(price, currency or place.head.currency, reader.locale), net, place, per)
    text = found.text(reader.locale)
    return by_law({"amount": found.amount, "per": found.per, "text": text}, [text], found.laws)


@figure(
    click.option("--market", "place", required=True, metavar="MARKET", help=WHERE),
    option("--net", type=GRAMS, help="Net weight of the jar; tiny jars may use country codes."),
    needed("--share", SHARE, "A country and its per cent.", "shares", multiple=True),
    option("--day", "on", type=DAY, help="The day of labelling, when it is not today."),
)
def origin(reader: Reader, place: str, net: Decimal | None, shares: tuple[Any, ...], on: date | None) -> Answer:
    """Statement of origin from one or several countries.

    Example:  labelkit reckon origin --market eu --net "500 g" --share ES=60 --share AR=40
    """
    from labelkit.rules import market
    from labelkit.rules.figures import origin

    found = origin.statement(list(shares), market(place, on or reader.day), net)
    document = {"statement": found.statement, "findings": [finding.as_dict() for finding in found.findings]}
    lines = [found.statement, "", *(f"{finding.level}: {finding.says}" for finding in found.findings)]
    return by_law(document, lines, found.laws, parted=False)


def _best_before(text: str, locale: str) -> Any:
    from labelkit.rules.figures.date_mark import BestBefore

    return BestBefore.read(text)


@figure(
    SOLD_IN,
    needed(
        "--best-before", Quantity("DATE", _best_before), "2028-06-30; or 2028-06 or 2028 for a shorter date.", "until"
    ),
    option(
        "--bottled", type=DAY, help="The day of bottling, when it is not today; decides how much of the date is enough."
    ),
)
def date_mark(reader: Reader, place: Any, until: Any, bottled: date | None) -> Answer:
    """Best-before statement, and whether a lot mark is due.

    Example:  labelkit reckon date-mark --market eu --best-before 2028-06-30
    """
    from labelkit.rules.figures import date_mark

    # Honey bottled earlier keeps longer, and the longer it keeps the less of the date is asked for: today is safe.
    at_latest = reader.day if until.shows != "day" and reader.day < until.last else None
    found = date_mark.of(until, place, bottled or at_latest)
    due: dict[bool | None, str] = {
        True: "A date is due.",
        False: "No date is due here; shown all the same, it takes this form.",
    }
    lines = [
        found.statement,
        due.get(found.date_due, f"Whether a date is due depends: {date_mark.question_of_keeping()}"),
        "A lot mark is due as well." if found.lot_mark_needed else "No lot mark is due; print one all the same.",
    ]
    return by_law({"statement": found.statement, "lot_mark_needed": found.lot_mark_needed}, lines, found.laws)
