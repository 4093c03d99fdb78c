"""``labelkit run-result``."""

from __future__ import annotations

from decimal import Decimal
from typing import TYPE_CHECKING

import click

from labelkit.cli._options import fill_goal_options, year_option
from labelkit.cli._plan_text import fills_told
from labelkit.cli._runner import Answer, CommandContext, answering
from labelkit.cli._show import table
from labelkit.measures import show_first

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from labelkit.measures import Mass
    from labelkit.measures.period import Period
    from labelkit.run import Run
    from labelkit.run.hive_yields import YardYield
    from labelkit.run.outcome import Filling, Outcome
    from labelkit.season.run_result import RunResult


@click.command()
@click.argument("lot", required=False)
@fill_goal_options
@year_option
@answering
def command(
    context: CommandContext, lot: str | None, sure: Decimal | None, system: str | None, period: Period | None
) -> Answer:
    """Show fill, overfill and yield after bottling.

    What was held, given away and unexplained, honey by yard and hive, and how to fill next.

    Of one LOT, of all, or of a year. Enter check weights first with labelkit check-weigh.

    \b
    Example:  labelkit run-result
              labelkit run-result L26195AXR --sure 99
              labelkit run-result --year 2026
    """
    from labelkit.cli._run_document import run_document
    from labelkit.plan.wishes import FillGoal
    from labelkit.season.run_result import run_result

    with context.reading() as state:
        result = run_result(state, context.day, lot, FillGoal(sure, system), period)
    return Answer(run_document(result), "\n".join(_text(result, context.reader, period)))


def _text(result: RunResult, locale: str, period: Period | None) -> list[str]:
    outcomes, fills, yards, worth = result.outcomes, result.fills, result.yards, result.worth
    if not outcomes:
        none = "No run is booked" + (f" in {period}." if period else " yet: labelkit bottle.")
        return [none, *(["", *_yards(yards, locale)] if period and yards else [])]
    lines = [_fillings(outcomes, locale), ""]
    unweighed = sum(filling.above is None for found in outcomes for filling in found.fillings)
    money = f": in further jars it would have brought {worth.show(locale)}" if worth.minor else ""
    lines.append(f"Given away above the labels  {show_first(result.given_away, locale)}{money}.")
    if unweighed:
        lines.append(
            f"Not weighed: {unweighed} of the fillings above, so this may be more. labelkit check-weigh --lot …"
        )
    lines += ["", _balances(outcomes, locale), *asked_about((found.run for found in outcomes), locale)]
    if yards:
        lines += ["", *_yards(yards, locale)]
    lines += ["", "How to fill next, from your own past runs:" if fills else _none_yet()]
    lines += [f"  {line}" for line in fills_told(fills, locale)]
    for size, gram in result.each_gram.items():
        fill = fills[size]
        lines.append(f"  each further gram in a lot of {max(fill.lots)} {size} jars costs {gram.show(locale)}")
    lines += [f"  {note}" for note in dict.fromkeys(note for fill in fills.values() for note in fill.notes)]
    if fills:
        lines += ["  Let the plan and the run sheet reckon with it: --fill-from-past", "  Check your local rules."]
    return lines


def _none_yet() -> str:
    return (
        "How to fill next is learnt from check weights, at least two jars of one run and thirty to be sure of: "
        "labelkit check-weigh."
    )


def _fillings(outcomes: Sequence[Outcome], locale: str) -> str:
    heads = ("lot", "bottled", "jar", "jars", "weighed", "mean", "spread", "above label", "given away", "worth")
    rows = [_row(found, filling, locale) for found in outcomes for filling in found.fillings]
    return table(heads, rows, right=range(3, 10))


def _row(found: Outcome, filling: Filling, locale: str) -> tuple[str, ...]:
    from labelkit.measures.locales import show_number

    first = (found.run.lot, str(found.run.day), filling.size, str(filling.jars))
    jars = filling.weighed.jars if filling.weighed else None
    return (
        *first,
        str(len(jars) if jars else 0),
        f"{show_number(jars.mean, locale, digits=1)} g" if jars else "–",
        f"{show_number(jars.stdev, locale, digits=2)} g" if jars else "–",
        "–" if filling.above is None else f"{show_number(filling.above, locale, digits=1)} g",
        "–" if filling.above is None else show_first(filling.given_away, locale),
        filling.worth.show(locale) if filling.worth else "–",
    )


def _balances(outcomes: Sequence[Outcome], locale: str) -> str:
    from labelkit.measures.locales import show_percent

    heads = ("lot", "bucket", "taken", "hives", "a hive", "unexplained", "", "of it in the jars", "still unexplained")
    rows = []
    for found in outcomes:
        run = found.run
        known = run.left_was_weighed
        rows.append(
            (
                run.lot,
                run.bucket,
                show_first(run.taken, locale),
                str(found.hives or "–"),
                show_first(found.per_hive, locale) if found.per_hive else "–",
                show_first(run.unexplained, locale) if known else "rest not weighed",
                show_percent(run.unexplained_percent, locale, digits=2) if known else "",
                show_first(found.found_in_jars, locale),
                show_first(found.still_unexplained, locale) if known else "–",
            )
        )
    return table(heads, rows, right=range(2, 9))


def asked_about(runs: Iterable[Run], locale: str) -> list[str]:
    """The runs whose balance was asked about and that were booked all the same, marked for good."""
    return [
        f"Lot {run.lot}: {show_first(run.unexplained, locale)} unexplained, booked all the same: {run.because}"
        for run in runs
        if run.because
    ]


def _yards(yards: tuple[YardYield, ...], locale: str) -> list[str]:
    from labelkit.measures import show_both

    def both(mass: Mass) -> str:
        return show_both(mass, locale)

    rows = [
        (
            yard.yard or "no yard named",
            both(yard.mass),
            str(yard.named or "–"),
            both(yard.per_hive) if yard.per_hive else "–",
        )
        for yard in yards
    ]
    lines = [table(("yard", "came in", "hives", "a hive"), rows, right=[1, 2, 3])]
    hives = [
        (
            f"{yard.yard} {hive.hive}".strip(),
            both(hive.mass),
            "" if not hive.shared else "with an equal part of shared buckets",
        )
        for yard in yards
        for hive in yard.hives
        if hive.hive
    ]
    if hives:
        lines += ["", table(("hive", "came in", ""), hives, right=[1])]
    if any(hive.shared for yard in yards for hive in yard.hives):
        lines.append(
            "A bucket with honey of several hives is shared out equally among them: a convention, not a weighing."
        )
    return lines
