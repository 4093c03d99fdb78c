"""``labelkit reckon blend``."""

from __future__ import annotations

from decimal import Decimal

import click

from labelkit.cli._runner import Answer, CommandContext, answering


@click.command()
@click.option(
    "--part",
    "parts",
    multiple=True,
    required=True,
    metavar="WEIGHT@MOISTURE",
    help="“30 kg @ 17.2”; as often as needed.",
)
@click.option("--target", metavar="W", help="Ask how to bring the blend down to this moisture.")
@click.option("--with", "drier", metavar="W", help="Moisture of the drier honey at hand, with --target.")
@answering
def command(context: CommandContext, parts: tuple[str, ...], target: str | None, drier: str | None) -> Answer:
    """The weight and moisture of a blend, and how much drier honey a wet lot needs.

    \b
    Example:  labelkit reckon blend --part "30 kg @ 17.2" --part "20 kg @ 19.4"
              labelkit reckon blend --part "20 kg @ 19.4" --target 18 --with 16.5
    """
    from labelkit.honey.blend import blend
    from labelkit.honey.ferment import ferment_risk
    from labelkit.measures import show_customary, show_metric
    from labelkit.measures.locales import show_number
    from labelkit.measures.numerals import read_number
    from labelkit.measures.rounding import HALF_UP, to_step

    mixed = blend(_read(part, context.locale) for part in parts)
    moisture = to_step(mixed.moisture, Decimal("0.0001"), HALF_UP)
    risk = ferment_risk(mixed.moisture, blended=len(parts) > 1)
    document = {"g": mixed.mass.g, "moisture_percent": moisture, "ferment_risk": risk.risk, "notes": list(risk.notes)}
    shown = to_step(mixed.moisture, Decimal("0.01"), HALF_UP)
    lines = [
        f"{show_metric(mixed.mass, context.locale)} ({show_customary(mixed.mass, context.locale)}) "
        f"at {show_number(shown, context.locale, digits=2)} % water; fermentation risk {risk.risk}"
    ]
    if target is not None:
        wished = read_number(target, context.locale)
        document |= _down_to(
            mixed, wished, read_number(drier, context.locale) if drier is not None else None, lines, context
        )
    return Answer(document, "\n".join([*lines, *(f"  {note}" for note in risk.notes)]))


def _read(part: str, locale: str):
    from labelkit.errors.honey import BlendPartUnclear
    from labelkit.honey.blend import Mixed
    from labelkit.measures import Mass
    from labelkit.measures.numerals import read_percent

    weight, at, moisture = part.partition("@")
    if not at or not weight.strip() or not moisture.strip():
        raise BlendPartUnclear(part)
    return Mixed(Mass.read(weight, locale), read_percent(moisture, locale))


def _down_to(mixed, target: Decimal, drier: Decimal | None, lines: list[str], context: CommandContext) -> dict:
    """What it takes: drier honey where there is some, otherwise drying."""
    from labelkit.honey.blend import dry, dry_honey_needed
    from labelkit.measures import show_customary, show_metric
    from labelkit.measures.locales import show_number

    to = show_number(target, context.locale)
    if drier is not None:
        needed = dry_honey_needed(mixed, drier, target)
        lines.append(
            f"  {show_metric(needed, context.locale)} ({show_customary(needed, context.locale)}) of honey at "
            f"{show_number(drier, context.locale)} % brings it down to {to} %"
        )
        return {"needed_g": needed.g}
    left = dry(mixed, target)
    lines.append(
        f"  dried to {to} %: {show_metric(left.mass, context.locale)} of honey left, {show_metric(left.water, context.locale)} of water gone"
    )
    return {"dried_g": left.mass.g, "water_g": left.water.g}
