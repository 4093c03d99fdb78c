"""``labelkit trace``."""

from __future__ import annotations

import click

from labelkit.cli._runner import Answer, CommandContext, answering


@click.command()
@click.argument("code", required=False)
@click.option("--yard", metavar="NAME", default="", help="Begin at a yard.")
@click.option("--hive", metavar="NAME", default="", help="Begin at a hive.")
@click.option("--harvested", metavar="DAY", help="Begin at a harvest day.")
@click.option("--customer", metavar="NAME", default="", help="Begin at a customer.")
@click.option("--place", metavar="NAME", default="", help="Begin at a place of sale, such as a market.")
@click.option("--on", metavar="DAY", help="With --customer or --place: only what was sold on this day.")
@click.option("--csv", "csv_file", metavar="FILE", help="Also write every step as a spreadsheet file.")
@click.option("--svg", "svg_file", metavar="FILE", help="Also draw the way from the yards to the jars.")
@click.option("--pdf", "pdf_file", metavar="FILE", help="Also set it on paper.")
@answering
def command(
    context: CommandContext,
    code: str | None,
    yard: str,
    hive: str,
    harvested: str | None,
    customer: str,
    place: str,
    on: str | None,
    csv_file: str | None,
    svg_file: str | None,
    pdf_file: str | None,
) -> Answer:
    """Trace jars back to the hives and forward to everybody who has one.

    CODE is the lot code on a jar, or the name of a bucket.

    \b
    Example:  labelkit --record season.labelkit trace L26195AXR
              labelkit --record season.labelkit trace --hive H2 --svg hive.svg
    """
    from labelkit.cli._files import write_whole
    from labelkit.errors.cli import UsageUnclear
    from labelkit.measures import read_day
    from labelkit.measures.locales import show_day
    from labelkit.record.lookup import find_buyer, find_lot, find_source
    from labelkit.trace.alarms import limits_of
    from labelkit.trace.document import document
    from labelkit.trace.follow import follow
    from labelkit.trace.trace_text import words

    given = [bool(code), bool(yard or hive or harvested), bool(customer), bool(place)]
    if sum(given) != 1:
        raise UsageUnclear(
            "A trace begins at one thing: a lot code or bucket, or --yard, --hive, --harvested, --customer or --place.",
            "labelkit trace --help",
        )
    with context.reading() as state:
        if code:
            start = find_lot(state, code)
        elif customer or place:
            start = find_buyer(state, customer, place, read_day(on, context.locale) if on else None)
        else:
            start = find_source(state, yard, hive, read_day(harvested, context.locale) if harvested else None)
        trace = follow(start, state.story(start.lots))
        head, limits = state.head(), limits_of(state.settings())
    written = []
    if csv_file:
        from labelkit.trace.sheet import sheet

        written.append(write_whole(csv_file, sheet(trace)))
    if svg_file:
        from labelkit.trace.picture import picture

        written.append(write_whole(svg_file, picture(trace, context.locale)))
    if pdf_file:
        from labelkit.trace.papers import trace_paper

        written.append(write_whole(pdf_file, trace_paper(trace, locale=context.locale, limits=limits)))
    traced = {"day": context.day, "who": context.who, "record": state.where, "as_of_event": head.seq, "head": head.hash}
    text = (
        f"{words(trace, context.locale, limits)}\n"
        f"Traced on {show_day(context.day, context.locale)} by {context.who} in {state.where}, as of event {head.seq}.\n"
        + "".join(f"Written: {name}\n" for name in written)
    )
    return Answer(document(trace, limits) | {"traced": traced, "written": [str(name) for name in written]}, text)
