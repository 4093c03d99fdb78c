"""``labelkit run-sheet``."""

from __future__ import annotations

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
    division: str,
    page: str,
) -> Answer:
    """The sheet beside the scale on filling day: what it must read for each jar, with boxes to tick.

    For the plan of a season file, or of what the record says is in the buckets.

    \b
    Example:  labelkit run-sheet sample_lots/one-bucket.toml --tare "one pound=212.7 g" --margin "one pound=1.5 g"
    """
    from labelkit.cli._files import write_whole
    from labelkit.cli._planning import asked_of, at_most_of
    from labelkit.labels.ink import Document
    from labelkit.measures import Mass
    from labelkit.measures.locales import show_day
    from labelkit.plan import jar_plan
    from labelkit.run.run_sheet import run_sheet
    from labelkit.run.run_sheet_paper import draw_run_sheet

    found = asked_of(desk, file)
    day, request = found.day, at_most_of(found.request, at_most)
    sheet = run_sheet(
        jar_plan(request), request.sizes, day,
        settings=_settings([size.id for size in request.sizes], tares, margins, desk.locale),
        division=Mass.read(division, desk.locale),
        weigh=_weigh(found.markets, day),
    )  # fmt: skip
    paper = Document(page, f"Run sheet, {show_day(day, desk.locale)}", lang=desk.locale[:2])
    draw_run_sheet(sheet, paper, desk.locale)
    write_whole(out, paper.bytes())
    return Answer(_document(sheet, out), _text(sheet, out, desk.locale))


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


def _weigh(markets: tuple[str, ...], day):
    """How many jars of a lot the most demanding of the markets asks to weigh."""
    if not markets:
        return None
    from labelkit.rules import market
    from labelkit.run.fill_test import terms

    places = [market(name, day) for name in markets]
    return lambda declares, count: max(terms(declares, place, count).sample for place in places)


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
