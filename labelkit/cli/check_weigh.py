"""``labelkit check-weigh``."""

from __future__ import annotations

from typing import TYPE_CHECKING

import click

from labelkit.cli._files import write_whole
from labelkit.cli._options import DIVISION, MASS, TARE, once_option
from labelkit.cli._runner import Answer, CommandContext, answering
from labelkit.cli._said import late_option

if TYPE_CHECKING:
    from labelkit.measures import Mass
    from labelkit.measures.division import Division
    from labelkit.season.check_weigh import LotJudged


@click.command()
@click.option("--lot", required=True, metavar="CODE", help="The code on the jars.")
@click.option("--size", metavar="SIZE", help="Which jars of the lot; may be left out where it has one size.")
@click.option(
    "--weights",
    metavar="FILE",
    help="One weight on each line, or a table (.csv, .xlsx); - for what is typed or pasted.",
)
@click.option("--weight", "each", multiple=True, metavar="Q", help="One weight; as often as needed.")
@click.option("--tare", type=TARE, help="The weights are gross; take this off (empty jar, lid, label, seal).")
@click.option("--division", type=DIVISION, help="The step the scale counts in: 1 g, 0.1 oz, 0 lb 0.1 oz.")
@click.option("--aimed", type=MASS, help="The net weight these jars were filled to, so that your habit can be learnt.")
@click.option("--anew", is_flag=True, help="The lot was topped up or sorted since: these weights alone speak of it.")
@click.option("--market", metavar="M", help="Judge by this market instead of the season's.")
@click.option("--system", metavar="NAME", help="Another of the market's ways to judge: minimum, AQS.")
@click.option("--chart", metavar="FILE.svg", help="Draw the weights as a control chart into this file.")
@click.option("--look", is_flag=True, help="Judge and draw only; keep nothing in the record.")
@once_option
@late_option
@answering
def command(
    context: CommandContext,
    lot: str,
    size: str | None,
    weights: str | None,
    each: tuple[str, ...],
    tare: Mass | None,
    division: Division | None,
    aimed: Mass | None,
    market: str | None,
    system: str | None,
    chart: str | None,
    look: bool,
    once: str | None,
    anew: bool,
) -> Answer:
    """Check that a lot meets its declared weight.

    Keeps what the jars weighed; shows the verdict, the control chart and what to do.

    Without any weights it says how many jars to weigh. Weights of one lot entered in several goes are judged together;
    after topping up or sorting say --anew.

    \b
    Example:  labelkit check-weigh --lot L26195AXR --size "one pound" --weights gross.txt --tare "212.7 g"
                  --division "0.1 g" --aimed "455 g" --chart chart.svg
    """
    from labelkit.cli._fill_words import before_weighing, typed_weights
    from labelkit.reading.weights import read_weights, typed_in
    from labelkit.run.check_weighing.plausible import likely_tare
    from labelkit.season.check_weigh import CheckWeighing, Judging, check_weigh, look_at_lot, test_before
    from labelkit.season.past_fills import jars_of
    from labelkit.season.settings import settings_of

    asked, by = None, Judging(market, system)
    notes: tuple[str, ...] = ()
    nothing = weights is None and not each
    typed = () if nothing else typed_weights(weights, each, context.locale)
    with context.reading() as state:
        found = jars_of(state, lot, size)
        if not nothing:
            # A bare number is read in the unit that fits the label, so the label comes first.
            label = found.jars.fill
            shown, notes = read_weights(typed, label, context.locale, tare and likely_tare(tare, label, context.locale))
            asked = CheckWeighing(shown, tare, division, aimed, anew, typed_in(typed, label, context.locale))
        if look or asked is None:
            done = look_at_lot(state, found, asked, context.day, by, locale=context.locale)
            if done is None:
                scale = division or settings_of(state).division
                return before_weighing(test_before(state, found, context.day, by), context.locale, scale)
            _draw(chart, done, context.locale)
            return _answer(done, notes, chart, context.locale)
    with context.work(once) as work:
        kept = check_weigh(work, found, asked, context.day, by, locale=context.locale)
        _draw(chart, kept, context.locale)
    return _answer(kept, notes, chart, context.locale)


def _draw(chart: str | None, done: LotJudged, locale: str) -> None:
    if chart is None:
        return
    from labelkit.run.check_weighing.chart import control_chart

    jars = done.found.jars
    title = f"{jars.size} ({jars.declares.show(locale)}), lot {done.found.run.lot}"
    write_whole(chart, control_chart(done.tests[0].verdict, title, locale, done.tests[0].shown_in))


def _answer(done: LotJudged, notes: tuple[str, ...], chart: str | None, locale: str) -> Answer:
    from labelkit.cli._fill_words import fill_document, fill_text

    worst, others = done.tests[0], done.tests[1:]
    lot, jars, check, seq = done.found.run.lot, done.found.jars, done.check, done.event
    document = fill_document(worst) | {
        "event": seq,
        "lot": lot,
        "size": jars.size,
        "jars": jars.count,
        "weighed": len(worst.verdict.sample),
        "above_label_g": round(done.above_label, 4),
        "given_away_g": done.given_away.g,
        "other_tests": [{"test": other.test.name, "verdict": other.verdict.verdict} for other in others],
        "chart": chart,
    }
    document["notes"] = [*notes, *document["notes"]]
    here = f"lot {lot}, {jars.size}, {jars.count} jars"
    lines = [
        f"Kept as event {seq}: {len(check.shown)} weights of {here}."
        if seq and check
        else f"{here[:1].upper()}{here[1:]}. Nothing was kept."
    ]
    if len(done.checks) > (check is not None):
        lines.append("  judged together with the weights kept before")
    lines += [f"  {note}" for note in notes]
    lines += [fill_text(worst, chart, locale)]
    lines += [f"  by {other.test.name}: {other.verdict.verdict}" for other in others]
    lines.append(
        f"  {worst.shown_in.show(done.given_away, locale)} of honey above the label in the lot"
        if done.given_away
        else "  no honey above the label on average"
    )
    failed = worst.verdict.verdict == "fail"
    if failed:
        lines.append(
            "  These jars are on hold until they pass. After topping up or sorting weigh again, and say --anew;"
        )
        lines.append("  or relabel them to what they hold (labelkit relabel --as), or release the lot with a reason.")
    if check is not None and check.aimed is None and not check.anew:
        lines.append("  Say with --aimed what these jars were filled to: then the next margin knows your habit.")
    lines.append("  What the run gave away, and how to fill next: labelkit run-result")
    return Answer(document, "\n".join(lines), int(failed))
