"""``labelkit reckon letter-height``."""

from __future__ import annotations

from decimal import Decimal

import click

from labelkit.cli._runner import Answer, CommandContext, answering


@click.command()
@click.option("--market", "place", required=True, metavar="MARKET", help="Where it is sold: us, us-va, eu, uk, ca ...")
@click.option("--declare", metavar="WEIGHT", help="The declared weight, where that decides.")
@click.option("--diameter", metavar="LENGTH", help="Diameter of a round jar, for example “2.5 in”.")
@click.option("--width", metavar="LENGTH", help="Width of the flat side that faces the buyer.")
@click.option("--height", metavar="LENGTH", help="Height of the side, without shoulder and neck.")
@click.option("--panel-area", metavar="AREA", help="Area of the main panel, for example “80 cm^2”.")
@click.option("--moulded", is_flag=True, help="The weight is moulded or embossed instead of printed.")
@answering
def command(context: CommandContext, place, declare, diameter, width, height, panel_area, moulded) -> Answer:
    """The smallest letters the law allows for the net weight and for the other words.

    Example:  labelkit reckon letter-height --market us --diameter "2.5 in" --height "3.5 in"
    """
    from labelkit.measures.units import MASS, read_quantity
    from labelkit.rules import market
    from labelkit.rules.figures.letter_height import required
    from labelkit.rules.findings import law_lines

    panel = _panel(context.locale, diameter, width, height, panel_area)
    grams = read_quantity(declare, MASS, context.locale) if declare else None
    found = required(market(place, context.day), grams, panel, moulded=moulded)
    area = found.panel_area_mm2
    document = {
        "panel_area_cm2": None if area is None else _two_places(area / 100),
        "net_quantity_mm": found.net_quantity_mm,
        "other_text_mm": found.other_text_mm,
        "measured_on": found.measured_on,
    }
    return Answer(document, "\n".join([*_lines(document, moulded), law_lines(found.laws)]))


def _two_places(square_centimetres: Decimal) -> Decimal:
    from labelkit.measures.rounding import HALF_UP, to_step

    return to_step(square_centimetres, Decimal("0.01"), HALF_UP)


def _panel(locale: str, diameter, width, height, panel_area):
    from labelkit.measures import Length, read_area
    from labelkit.rules.figures.letter_height import Panel

    if panel_area and not (diameter or width):
        return Panel.of_area(read_area(panel_area, locale))
    if bool(diameter) == bool(width) and (diameter or width or height):
        raise click.UsageError("Give --diameter and --height for a round jar, or --width and --height for a flat side.")
    if (diameter or width) and not height:
        raise click.UsageError("The height of the side is missing: --height, without shoulder and neck.")
    if diameter:
        return Panel.cylinder(Length.read(diameter, locale), Length.read(height, locale))
    return Panel.flat(Length.read(width, locale), Length.read(height, locale)) if width else None


def _lines(document: dict, moulded: bool) -> list[str]:
    from labelkit.measures.rounding import plain

    how = "moulded" if moulded else "printed"
    lines = [f"Net weight {how} at least {plain(document['net_quantity_mm'])} mm high."]
    if document["other_text_mm"] is None:
        lines.append("Other words: legible; no height is held for this market.")
    else:
        lines.append(f"Other required words at least {plain(document['other_text_mm'])} mm high.")
    if document["panel_area_cm2"] is not None:
        lines.append(f"Panel counted as {plain(document['panel_area_cm2'])} square centimetres.")
    return [*lines, f"Measured on {document['measured_on']}.", ""]
