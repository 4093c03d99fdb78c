"""``labelkit label-words``."""

from __future__ import annotations

import click

from labelkit.cli._options import WORDS, BySize
from labelkit.cli._runner import Answer, CommandContext, answering
from labelkit.cli._said import late_option
from labelkit.sale.product import KINDS


@click.command()
@click.option("--product", metavar="NAME", default="", help="The product; your season's honey unless named.")
@click.option("--name", metavar="WORDS", help="What the honey is called: Clover Honey.")
@click.option("--kind", type=click.Choice(tuple(KINDS)), help="What is sold.")
@click.option("--floral-source", metavar="PLANT", help="The plant, if you name one and can prove it.")
@click.option(
    "--harvest", metavar="YEAR", help="The year of the harvest, or “each”: that of each lot, from the record."
)
@click.option("--yard", metavar="NAME", help="Where the hives stood, as labels name it.")
@click.option("--flower", metavar="PLANT", help="What the bees were at, told beside the name; with proof.")
@click.option("--place", metavar="WORDS", help="A line about the place.")
@click.option("--grade", metavar="WORDS", help="The grade, if you state one.")
@click.option(
    "--best-before",
    metavar="DATE",
    help="2028-06-30, or a month 2028-06, or a year 2028; or '24 months' from bottling.",
)
@click.option("--design", metavar="DESIGN", help="The look of its labels, where none is named for a print.")
@click.option("--ingredient", "ingredients", metavar="WORDS", multiple=True, help="What is in it; repeat for each.")
@click.option("--origin", metavar="COUNTRY", help="The country of your own honey: US, DE, NZ …")
@click.option("--line", "lines", metavar="WORDS", multiple=True, help="Other words; repeat for each line.")
@click.option("--no-lines", is_flag=True, help="Take the other words away.")
@click.option(
    "--jar",
    "jars",
    type=BySize(WORDS, "one pound=3 in x 3.2 in"),
    metavar="'SIZE=DIAMETER x HEIGHT'",
    multiple=True,
    help="The round jar of a size, where its label goes: 'one pound=3 in x 3.2 in'.",
)
@click.option(
    "--volume",
    "volumes",
    type=BySize(WORDS, "one pound=11 fl oz"),
    metavar="'SIZE=VOLUME'",
    multiple=True,
    help="What a size holds, where a market wants it printed: 'one pound=11 fl oz'.",
)
@click.option(
    "--fact",
    "facts",
    type=BySize(WORDS, "home_kitchen=yes"),
    metavar="NAME=VALUE",
    multiple=True,
    help="A fact the rules hang on: home_kitchen=yes, sells_to='stall, shop' … (what “check” asks).",
)
@click.option("--retire/--take-up", default=None, help="A product is no longer made from this day on, or is again.")
@click.option("--unsay", metavar="NAME", multiple=True, help="A fact to take back: it is open again.")
@click.option("--once", metavar="KEY", help="A name for this step, so that repeating it books nothing twice.")
@late_option
@answering
def command(
    context: CommandContext,
    product: str,
    lines: tuple[str, ...],
    ingredients: tuple[str, ...],
    retire: bool | None,
    no_lines: bool,
    jars: tuple[tuple[str, str], ...],
    volumes: tuple[tuple[str, str], ...],
    facts: tuple[tuple[str, str], ...],
    unsay: tuple[str, ...],
    once: str | None,
    **words: str | None,
) -> Answer:
    """Set what your labels say.

    “labels --size” prints from it. An empty text takes a word away.

    Several products stand side by side: --product names one, and what it does not say of origin and jars is as with your
    season's honey. Wax, candles and other goods have prices, stock and sales, and stay out of the plan and of food rules.

    \b
    Example:  labelkit label-words --name "Clover Honey" --line "From our own hives" --origin US
                  --best-before 2028-06 --jar "one pound=3 in x 3.2 in" --fact home_kitchen=yes
              labelkit label-words --product "Clover Honey" --floral-source clover --best-before "24 months"
    """
    from labelkit.errors.cli import UsageUnclear
    from labelkit.measures.locales import DEFAULT_LOCALE
    from labelkit.measures.units import VOLUME, rewritten
    from labelkit.reading.situation import fact_value
    from labelkit.season.borne import words_unborne
    from labelkit.season.label_words import LabelWords, keep_words, whom_to_ask
    from labelkit.season.settings import settings_of

    texts = {key: text.strip() for key, text in words.items() if text is not None}
    if not (texts or lines or no_lines or ingredients or jars or volumes or facts or unsay or retire is not None):
        raise UsageUnclear(
            "label-words needs at least one thing to keep, such as --name.", "labelkit label-words --help"
        )
    texts |= {"origin": texts["origin"].upper()} if "origin" in texts else {}
    asked = LabelWords(
        texts,
        lines if lines or no_lines else None,
        {size: panel_of(text, context.locale) for size, text in jars},
        {size: rewritten(text, VOLUME, context.locale, DEFAULT_LOCALE) for size, text in volumes},
        {name: fact_value(name, text, context.locale) for name, text in facts},
        unsay,
        ingredients or None,
        product,
        retire,
    )
    with context.work(once) as work:
        label, situation = keep_words(work, asked, context.day)
        denied = words_unborne(work, context.day, context.locale) if label.get("name") else ()
        notes = whom_to_ask(settings_of(work), asked.product, context.day)
    text = "\n\n".join((_told(label, situation), *(f"{finding.says} {finding.do}" for finding in denied), *notes))
    document = {"label": label, "situation": situation, "findings": list(denied), "notes": list(notes)}
    return Answer(document | ({"product": product} if product else {}), text)


def panel_of(text: str, locale: str) -> dict[str, str]:
    """A round jar from “3 in x 3.2 in”, the straight part of its side.

    >>> panel_of("3 in x 3.2 in", "en_US"), panel_of("82,5 mm", "de_DE")
    ({'diameter': '3 in', 'height': '3.2 in'}, {'diameter': '82.5 mm'})
    """
    from labelkit.measures.locales import DEFAULT_LOCALE
    from labelkit.measures.units import LENGTH, rewritten

    wide, _, high = (part.strip() for part in text.replace("×", "x").partition("x"))
    sides = {"diameter": wide, "height": high} if high else {"diameter": wide}
    return {side: rewritten(length, LENGTH, locale, DEFAULT_LOCALE) for side, length in sides.items()}


def _told(label: dict, situation: dict) -> str:
    lines = [f"{key.replace('_', ' ')}: {value}" for key, value in label.items() if isinstance(value, str)]
    lines += [f"ingredient: {each}" for each in label.get("ingredients", [])]
    lines += [f"line: {line}" for line in label.get("lines", [])]
    lines += [f"jar {size}: {' x '.join(panel.values())}" for size, panel in label.get("jars", {}).items()]
    lines += [f"volume {size}: {text}" for size, text in label.get("volumes", {}).items()]
    lines += [f"{name.replace('_', ' ')}: {_answer(value)}" for name, value in situation.items()]
    return "\n".join(lines) or "Nothing is kept."


def _answer(value: object) -> str:
    """A fact as it would be typed.

    >>> _answer(True), _answer(90), _answer(["stall", "shop"])
    ('yes', '90', 'stall, shop')
    """
    if isinstance(value, bool):
        return "yes" if value else "no"
    return ", ".join(map(str, value)) if isinstance(value, list) else str(value)
