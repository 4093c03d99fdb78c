"""``labelkit run-sheet``."""

from __future__ import annotations

from dataclasses import replace

import click

from labelkit.cli._runner import Answer, CommandContext, answering


@click.command()
@click.argument("file", required=False, metavar="[LOTS.toml]")
@click.option("--at-most", metavar="SIZE=COUNT", multiple=True, help="At most so many of this size.")
@click.option("--out", default="run-sheet.pdf", show_default=True, metavar="FILE.pdf", help="Where the sheet goes.")
@click.option(
    "--tare",
    "tares",
    metavar="SIZE=WEIGHT",
    multiple=True,
    help="An empty jar with lid and label; repeat for each size.",
)
@click.option(
    "--margin",
    "margins",
    metavar="SIZE=WEIGHT",
    multiple=True,
    help="How far above the fill target to aim; see reckon fill-margin.",
)
@click.option("--fill-from-past", is_flag=True, help="Aim and plan by your own check weights; see labelkit run-result.")
@click.option("--sure", metavar="PERCENT", help="With --fill-from-past: how sure a lot is to pass; 95 unless given.")
@click.option("--system", metavar="NAME", help="Another of the market's ways to judge: minimum, AQS.")
@click.option("--division", default="1 g", show_default=True, metavar="WEIGHT", help="The step the scale counts in.")
@click.option("--page", type=click.Choice(["letter", "a4"]), default="letter", show_default=True, help="Paper size.")
@answering
def command(
    context: CommandContext,
    file: str | None,
    at_most: tuple[str, ...],
    out: str,
    tares: tuple[str, ...],
    margins: tuple[str, ...],
    fill_from_past: bool,
    sure: str | None,
    system: str | None,
    division: str,
    page: str,
) -> Answer:
    """The sheet beside the scale on filling day: what it must read for each jar, with boxes to tick.

    For the plan of a season file, or of what the record says is in the buckets.

    \b
    Example:  labelkit run-sheet sample_lots/one-bucket.toml --tare "one pound=212.7 g" --margin "one pound=1.5 g"
              labelkit run-sheet --fill-from-past --sure 99
    """
    from labelkit.cli._files import write_whole
    from labelkit.cli._filling import chance_of, fills_for, must_have, with_fills
    from labelkit.cli._plan_marks import plan_marks
    from labelkit.cli._planning import asked_of, at_most_of
    from labelkit.cli._sheet_words import costs_told, each_gram, past_told, sheet_document, sheet_text
    from labelkit.measures import Mass
    from labelkit.measures.locales import show_day
    from labelkit.paper.document import Document
    from labelkit.plan import jar_plan
    from labelkit.run.run_sheet import Setting, run_sheet
    from labelkit.run.run_sheet_paper import draw_run_sheet

    found = asked_of(context, file)
    day, request = found.day, at_most_of(found.request, at_most)
    settings = _settings(request.sizes, tares, margins, context.locale)
    # A season file is a plan of its own; its sizes meet the record's runs only where that is asked for.
    sure_of = chance_of(sure, context.locale)
    known = fills_for(context, request, found.markets, day, sure_of, system) if fill_from_past or not file else {}
    taken = {size: fill for size, fill in known.items() if fill_from_past and not settings.get(size, Setting()).margin}
    bare = must_have(known, request) if fill_from_past else []
    planned = with_fills(request, taken)
    plan = jar_plan(planned)
    sheet = run_sheet(
        plan,
        request.sizes,
        day,
        settings=settings | _from_past(taken, request.sizes, settings),
        division=Mass.read(division, context.locale),
        weigh=_weigh(found.markets, day, system),
        passes=_passes(known, found.markets, day, system) if fill_from_past else None,
    )
    coarse = _too_coarse(sheet, found.markets, day, system, context.locale)
    sheet = replace(sheet, cautions=(*coarse, *sheet.cautions))
    paper = Document(page, f"Run sheet, {show_day(day, context.locale)}", lang=context.locale[:2])
    draw_run_sheet(
        sheet, paper, context.locale, plan_marks(plan, planned.sizes, round(paper.width_mm * 1000), context.locale)
    )
    write_whole(out, paper.bytes())
    grams = each_gram(sheet, request.sizes)
    said = [
        *past_told(known, taken, bare, context.locale),
        *costs_told(grams if taken or margins else {}, context.locale),
    ]
    document = sheet_document(sheet, out) | {
        "from_past": sorted(taken),
        "offered": sorted(set(known) - set(taken)),
        "each_gram_costs": {size: money.amount for size, (_, money) in grams.items()},
    }
    return Answer(document, "\n".join([sheet_text(sheet, out, context.locale), *said]))


def _settings(sizes, tares: tuple[str, ...], margins: tuple[str, ...], locale: str):
    from labelkit.cli._season import pairs
    from labelkit.errors.filling import MarginFarTooLarge
    from labelkit.errors.run import JarSizeUnknown
    from labelkit.measures import NOTHING, Mass, show_metric
    from labelkit.run.check_weighing.weights import read_tare
    from labelkit.run.run_sheet import Setting

    fill = {size.id: size.fill for size in sizes}
    empty, above = (
        dict(pairs(tares, "--tare", "one pound=212.7 g")),
        dict(pairs(margins, "--margin", "one pound=1.5 g")),
    )
    for size in (*empty, *above):
        if size not in fill:
            raise JarSizeUnknown(size, ", ".join(fill))
    found = {
        size: Setting(
            read_tare(empty[size], fill[size], locale) if size in empty else None,
            Mass.read(above[size], locale) if size in above else NOTHING,
        )
        for size in {*empty, *above}
    }
    for size, setting in found.items():
        if setting.margin * 10 > fill[size]:
            raise MarginFarTooLarge(size, above[size], show_metric(fill[size], locale))
    return found


def _from_past(taken: dict, sizes, settings: dict):
    """The margins of one's own past runs, beside the tares that were given."""
    from labelkit.measures import NOTHING
    from labelkit.run.run_sheet import Setting

    return {
        size.id: Setting(
            settings[size.id].tare if size.id in settings else None,
            max(taken[size.id].aim - size.fill, NOTHING),
            planned=True,
        )
        for size in sizes
        if size.id in taken
    }


def _passes(known: dict, markets: tuple[str, ...], day, system: str | None):
    """The chance that a lot of so many jars passes, by one's own past runs."""
    from labelkit.cli._filling import tests_of
    from labelkit.rules import market

    places = [market(name, day) for name in markets]

    def passes(size: str, count: int) -> float | None:
        fill = known.get(size)
        return fill.passes(tests_of(fill.declares, places, count, system)) if fill else None

    return passes


def _weigh(markets: tuple[str, ...], day, system: str | None):
    """How many jars of a lot the most demanding of the markets asks to weigh."""
    if not markets:
        return None
    from labelkit.cli._filling import tests_of
    from labelkit.rules import market

    places = [market(name, day) for name in markets]
    return lambda declares, count: max(test.sample for test in tests_of(declares, places, count, system))


def _too_coarse(sheet, markets: tuple[str, ...], day, system: str | None, locale: str) -> tuple[str, ...]:
    """What to say of a scale that counts in larger steps than a size's test bears."""
    from labelkit.cli._filling import tests_of
    from labelkit.measures import Mass, show_metric
    from labelkit.rules import market

    places = [market(name, day) for name in markets]
    lines = {line.size: line for bucket in sheet.buckets for line in bucket.lines}
    steps = {
        size: min(
            (s for test in tests_of(line.declares, places, line.count, system) if (s := test.coarsest_step())),
            default=None,
        )
        for size, line in lines.items()
    }
    return tuple(
        f"A scale that counts in {show_metric(sheet.division, locale)} is too coarse for the {size} jars: their test "
        f"bears steps of {show_metric(Mass.of_grams(step), locale)} at most."
        for size, step in steps.items()
        if step is not None and sheet.division.g > step
    )
