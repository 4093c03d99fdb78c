"""``labelkit run-sheet``."""

from __future__ import annotations

from decimal import Decimal

import click

from labelkit.cli._rim import Answer, Desk, answering


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
    desk: Desk,
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
    from labelkit.labels.ink import Document
    from labelkit.measures import Mass
    from labelkit.measures.locales import show_day
    from labelkit.plan import jar_plan
    from labelkit.run.run_sheet import Setting, run_sheet
    from labelkit.run.run_sheet_paper import draw_run_sheet

    found = asked_of(desk, file)
    day, request = found.day, at_most_of(found.request, at_most)
    settings = _settings([size.id for size in request.sizes], tares, margins, desk.locale)
    # A season file is a plan of its own; its sizes meet the record's runs only where that is asked for.
    sure_of = chance_of(sure, desk.locale)
    known = fills_for(desk, request, found.markets, day, sure_of, system) if fill_from_past or not file else {}
    taken = {size: fill for size, fill in known.items() if fill_from_past and not settings.get(size, Setting()).margin}
    bare = must_have(known, request) if fill_from_past else []
    planned = with_fills(request, taken)
    plan = jar_plan(planned)
    sheet = run_sheet(
        plan, request.sizes, day,
        settings=settings | _from_past(taken, request.sizes, settings),
        division=Mass.read(division, desk.locale),
        weigh=_weigh(found.markets, day, system),
        passes=_passes(known, found.markets, day, system) if fill_from_past else None,
    )  # fmt: skip
    paper = Document(page, f"Run sheet, {show_day(day, desk.locale)}", lang=desk.locale[:2])
    draw_run_sheet(
        sheet, paper, desk.locale, plan_marks(plan, planned.sizes, round(paper.width_mm * 1000), desk.locale)
    )
    write_whole(out, paper.bytes())
    grams = _grams(sheet, request.sizes)
    said = [*_said(known, taken, bare, desk.locale), *_costs(grams if taken or margins else {}, desk.locale)]
    document = _document(sheet, out) | {
        "from_past": sorted(taken), "offered": sorted(set(known) - set(taken)),
        "each_gram_costs": {size: money.amount for size, (_, money) in grams.items()},
    }  # fmt: skip
    return Answer(document, "\n".join([_text(sheet, out, desk.locale), *said]))


def _settings(known: list[str], tares: tuple[str, ...], margins: tuple[str, ...], locale: str):
    from labelkit.cli._season import pairs
    from labelkit.errors.run import JarSizeUnknown
    from labelkit.measures import NOTHING, Mass
    from labelkit.run.run_sheet import Setting

    empty = {size: Mass.read(text, locale) for size, text in pairs(tares, "--tare", "one pound=212.7 g")}
    above = {size: Mass.read(text, locale) for size, text in pairs(margins, "--margin", "one pound=1.5 g")}
    for size in (*empty, *above):
        if size not in known:
            raise JarSizeUnknown(size, ", ".join(known))
    return {size: Setting(empty.get(size), above.get(size, NOTHING)) for size in {*empty, *above}}


def _from_past(taken: dict, sizes, settings: dict):
    """The margins of one's own past runs, beside the tares that were given."""
    from labelkit.measures import NOTHING
    from labelkit.run.run_sheet import Setting

    return {
        size.id: Setting(
            settings[size.id].tare if size.id in settings else None,
            max(taken[size.id].aim - size.fill, NOTHING), planned=True,
        )
        for size in sizes if size.id in taken
    }  # fmt: skip


def _passes(known: dict, markets: tuple[str, ...], day, system: str | None):
    """The chance that a lot of so many jars passes, by one's own past runs."""
    from labelkit.cli._filling import tests_of
    from labelkit.rules import market

    places = [market(name, day) for name in markets]

    def passes(size: str, count: int) -> float | None:
        fill = known.get(size)
        return fill.passes(tests_of(fill.declares, places, count, system)) if fill else None

    return passes


def _grams(sheet, sizes) -> dict:
    """What one further gram in every jar of a size costs over this day: how many jars, and the money."""
    from labelkit.measures import Mass
    from labelkit.run.outcome import worth_of

    counts = {}
    for line in (line for bucket in sheet.buckets for line in bucket.lines):
        counts[line.size] = counts.get(line.size, 0) + line.count
    return {
        size.id: (counts[size.id], worth_of(Mass.of_grams(counts[size.id]), size.fill, size.price - size.cost))
        for size in sizes if size.id in counts
    }  # fmt: skip


def _costs(grams: dict, locale: str) -> list[str]:
    return [
        f"  Each further gram in the {jars} {size} jars of this day costs {money.show(locale)}."
        for size, (jars, money) in grams.items()
    ]


def _said(known: dict, taken: dict, bare: list[str], locale: str) -> list[str]:
    from labelkit.cli._filling import told

    if not known:
        return []
    if taken:
        more = [f"No check weights yet of {', '.join(bare)}: planned at the bare fill target."] if bare else []
        notes = dict.fromkeys(note for fill in taken.values() for note in fill.notes)
        return ["", "Filled by your own past runs:", *(f"  {line}" for line in told(taken, locale)),
                *(f"  {note}" for note in notes), *(f"  {line}" for line in more)]  # fmt: skip
    return ["", "Your own past runs say:", *(f"  {line}" for line in told(known, locale)),
            "  Let the plan and this sheet reckon with it: --fill-from-past"]  # fmt: skip


def _weigh(markets: tuple[str, ...], day, system: str | None):
    """How many jars of a lot the most demanding of the markets asks to weigh."""
    if not markets:
        return None
    from labelkit.cli._filling import tests_of
    from labelkit.rules import market

    places = [market(name, day) for name in markets]
    return lambda declares, count: max(test.sample for test in tests_of(declares, places, count, system))


def _document(sheet, out: str) -> dict:
    return {
        "file": out,
        "day": sheet.day,
        "division_g": sheet.division.g,
        "jars": sheet.jars,
        "buckets": [
            {
                "bucket": bucket.bucket,
                "lot": bucket.lot,
                "usable_g": bucket.usable.g,
                "left_g": bucket.left.g,
                "lines": [
                    {
                        "size": line.size,
                        "declares": line.declares,
                        "jars": line.count,
                        "spare": line.spare,
                        "tare_g": line.tare.g if line.tare else None,
                        "fill_until_g": line.target.g,
                        "good_from_g": line.lowest.g,
                        "good_to_g": line.highest.g,
                        "weigh": line.weigh,
                        "passes": None if line.chance is None else round(Decimal(repr(line.chance)), 3),
                    }
                    for line in bucket.lines
                ],
            }
            for bucket in sheet.buckets
        ],
        "cautions": list(sheet.cautions),
    }


def _text(sheet, out: str, locale: str) -> str:
    from labelkit.cli._show import table
    from labelkit.measures import show_metric

    rows = [
        (
            bucket.bucket, bucket.lot, line.size, str(line.count), show_metric(line.target, locale),
            f"{show_metric(line.lowest, locale)} … {show_metric(line.highest, locale)}", str(line.weigh or "–"),
        )
        for bucket in sheet.buckets
        for line in bucket.lines
    ]  # fmt: skip
    heads = ("bucket", "lot", "jar", "count", "fill until it reads", "good", "weigh")
    counts = ", ".join(f"{count} × {size}" for size, count in sheet.jars.items())
    bare = dict.fromkeys(line.size for bucket in sheet.buckets for line in bucket.lines if not line.gross)
    tared = [f"Without --tare for {', '.join(bare)}: set the scale to zero with the empty jar on it."] if bare else []
    return "\n".join(
        [
            table(heads, rows, right=[3, 4, 5, 6]),
            "",
            f"Lay out {counts}, and as many lids.",
            *tared,
            f"Run sheet: {out}",
            *sheet.cautions[:2],
            sheet.cautions[5],
        ]
    )
