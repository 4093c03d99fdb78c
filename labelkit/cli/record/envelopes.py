"""``labelkit record envelopes``."""

from __future__ import annotations

import click

from labelkit.cli._runner import Answer, CommandContext, answering


@click.command()
@click.option("--out", metavar="FILE.pdf", default="envelopes.pdf", show_default=True, help="Where the labels go.")
@click.option("--customer", "customers", metavar="NAME", multiple=True, help="Only of these; of all unless given.")
@click.option("--sheet", default="", metavar="SHEET", help="The sheet of labels; three across unless given.")
@click.option("--start-at", type=click.IntRange(min=1), default=1, metavar="N", help="The first free label.")
@click.option("--printer", metavar="NAME", help="A printer kept by labelkit ruler.")
@answering
def command(
    context: CommandContext, out: str, customers: tuple[str, ...], sheet: str, start_at: int, printer: str | None
) -> Answer:
    """Print address labels for envelopes to customers.

    Example:  labelkit record envelopes --customer "Corner shop" --out envelopes.pdf
    """
    from labelkit.cli._files import write_whole
    from labelkit.errors.sentence import Sentence
    from labelkit.labels.sheets import Printer
    from labelkit.season.envelopes import customers_of, envelopes, usual_sheet
    from labelkit.season.label_paper import printer_named, sheet_named
    from labelkit.season.settings import settings_of

    with context.reading() as state:
        settings, season = state.settings(), settings_of(state)
        by = printer_named(state, printer) if printer else Printer()
        found = envelopes(
            settings, customers_of(settings, customers), sheet_named(state, sheet or usual_sheet(season)), by, start_at
        )
    if found.customers:
        write_whole(out, found.pdf, private=True)
    labels = Sentence.plural("{n} label", "{n} labels", len(found.customers))
    text = [f"Written: {out}, {labels}."] if found.customers else ["No address is known."]
    text += [f"No address is known of: {', '.join(found.left_out)}"] if found.left_out else []
    document = {"file": out if found.customers else None, "customers": found.customers, "left_out": found.left_out}
    return Answer(document, "\n".join(text))
