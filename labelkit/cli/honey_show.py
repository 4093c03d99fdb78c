"""``labelkit honey-show``."""

from __future__ import annotations

from datetime import date

import click

from labelkit.cli._options import DAY, paper_options
from labelkit.cli._runner import Answer, CommandContext, answering
from labelkit.cli._show import table


@click.command()
@click.option(
    "--schedule",
    metavar="FILE",
    required=True,
    help="A table (.csv, .xlsx), one row a class: class, name, jar, jars, moisture, label.",
)
@click.option("--name", metavar="NAME", required=True, help="What the show is called.")
@click.option("--on", "on", type=DAY, help="The day of the show.")
@click.option("--out", metavar="FILE.pdf", help="Print the list of entries.")
@paper_options
@answering
def command(
    context: CommandContext,
    schedule: str,
    name: str,
    on: date | None,
    out: str | None,
    page: str | None,
    language: str | None,
) -> Answer:
    """Show which lots may enter a honey show; print entries.

    The schedule says the jar, how many of them, the highest moisture, and how far above the foot of the jar the label
    goes. labelkit assumes none of it: what the table leaves empty is asked. Nothing is booked.

    \b
    Example:  labelkit honey-show --schedule classes.csv --name "Mill Valley Show" --out entries.pdf
    """
    from labelkit.cli._files import read_bytes, write_whole
    from labelkit.measures.locales import show_number
    from labelkit.reading.open_table import table_in
    from labelkit.reading.schedule import names_classes, read_schedule
    from labelkit.season.honey_show import ShowAsked, entry_list_pdf, honey_show
    from labelkit.season.papers import paper_size, paper_words
    from labelkit.season.settings import season_of

    classes = read_schedule(table_in(read_bytes(schedule), schedule, context.locale, "", names_classes), context.locale)
    with context.reading() as state:
        found = honey_show(state, ShowAsked(name, on, classes))
    if out:
        words, locale = paper_words(language, context.locale)
        write_whole(out, entry_list_pdf(found, paper_size(season_of(context), page), words, locale))
    document = {
        "show": name,
        "classes": [
            {
                "class": of.number,
                "name": of.name,
                "jar": of.jar,
                "jars": of.jars,
                "moisture_at_most": of.moisture_at_most,
                "label_above_mm": of.label_above.mm if of.label_above else None,
                "lots": [
                    {
                        "lot": each.lot,
                        "jars": each.jars,
                        "moisture_percent": each.moisture,
                        "may": each.may,
                        "why": list(each.why),
                    }
                    for each in lots
                ],
            }
            for of, lots in found.classes
        ],
        "questions": list(found.questions),
        "file": out,
    }
    rows = [
        (
            of.number,
            of.name,
            of.jar,
            each.lot if each else "none",
            f"{show_number(each.moisture, context.locale)} %" if each and each.moisture is not None else "–",
            each.may if each else "no",
            "; ".join(each.why) if each else "no jars of this size in stock",
        )
        for of, lots in found.classes
        for each in lots or (None,)
    ]
    text = [table(("class", "name", "jar", "lot", "water", "may enter", "because"), rows, right=[4])]
    text += ["", *found.questions] if found.questions else []
    text += ["", "The schedule decides; colour, clarity and fill are for the eye."]
    text += [f"Written: {out}"] if out else []
    return Answer(document, "\n".join(text))
