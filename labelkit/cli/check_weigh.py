"""``labelkit check-weigh``."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import click

from labelkit.cli._runner import Answer, CommandContext, answering
from labelkit.cli._season import booked_once
from labelkit.season.settings import settings_of

if TYPE_CHECKING:
    from labelkit.cli._filling import FilledJars
    from labelkit.run.fill_test import FillTest
    from labelkit.run.weighed import CheckWeighed

_WORST = ("fail", "ask", "pass")


@click.command()
@click.option("--lot", required=True, metavar="CODE", help="The code on the jars.")
@click.option("--size", metavar="SIZE", help="Which jars of the lot; may be left out where it has one size.")
@click.option(
    "--weights", metavar="FILE", help="One weight on each line, or a CSV table; - for what is typed or pasted."
)
@click.option("--weight", "each", multiple=True, metavar="Q", help="One weight; as often as needed.")
@click.option("--tare", metavar="Q", help="The weights are gross; take this off (empty jar, lid, label, seal).")
@click.option("--division", metavar="Q", help="The step the scale counts in, for example “1 g”.")
@click.option(
    "--aimed", metavar="Q", help="The net weight these jars were filled to, so that your habit can be learnt."
)
@click.option("--anew", is_flag=True, help="The lot was topped up or sorted since: these weights alone speak of it.")
@click.option("--market", metavar="M", help="Judge by this market instead of the season's.")
@click.option("--system", metavar="NAME", help="Another of the market's ways to judge: minimum, AQS.")
@click.option("--chart", metavar="FILE.svg", help="Draw the weights as a control chart into this file.")
@click.option("--look", is_flag=True, help="Judge and draw only; keep nothing in the record.")
@click.option("--once", metavar="KEY", help="A name for this step, so that repeating it books nothing twice.")
@answering
def command(
    context: CommandContext,
    lot: str,
    size: str | None,
    weights: str | None,
    each: tuple[str, ...],
    tare: str | None,
    division: str | None,
    aimed: str | None,
    market: str | None,
    system: str | None,
    chart: str | None,
    look: bool,
    once: str | None,
    anew: bool,
) -> Answer:
    """Keep what jars of a run weighed, and see whether the lot passes: verdict, control chart, what to do.

    Without any weights it says how many jars to weigh. Weights of one lot entered in several goes are judged together;
    after topping up or sorting say --anew.

    \b
    Example:  labelkit check-weigh --lot L26195AXR --size "one pound" --weights gross.txt --tare "212.7 g"
                  --division "0.1 g" --aimed "455 g" --chart chart.svg
    """
    if look or (weights is None and not each):
        with context.reading() as state:
            return _seen(state, context, lot, size, weights, each, tare, division, aimed, market, system, chart, anew)
    with context.work(once) as work:
        from labelkit.cli._fill_words import typed_weights
        from labelkit.run.weighed import as_they_stand, refuse_twice

        found, typed = _jars(work, context, lot, size), typed_weights(weights, each)
        check, notes = _check(found, typed, tare, division, aimed, context, anew)
        before = booked_once(work, "check-weigh", lambda kept: kept == check)
        kept = [c for c in _kept(work, found) if before is None or c != before.event]
        if before is None:
            refuse_twice(check, kept)
        checks = as_they_stand([*kept, check])
        seen = _judged(work, context, found, checks, market, system)
        if chart:
            _draw(chart, found, seen[0], context)
        booked = before or work.add(check)
        if before is None:
            work.commit()
    return _answer(context, found, checks, check, seen, notes, chart, booked.seq)


def _jars(book: Any, context: CommandContext, lot: str, size: str | None) -> FilledJars:
    from labelkit.cli._filling import jars_of

    return jars_of(book, lot, size)


def _seen(
    state: Any,
    context: CommandContext,
    lot: str,
    size: str | None,
    weights: str | None,
    each: tuple[str, ...],
    tare: str | None,
    division: str | None,
    aimed: str | None,
    market: str | None,
    system: str | None,
    chart: str | None,
    anew: bool,
) -> Answer:
    """What would be said of these weights and those kept before; nothing is booked."""
    from labelkit.cli._fill_words import before_weighing, typed_weights
    from labelkit.cli._filling import places_of, tests_of
    from labelkit.run.weighed import as_they_stand

    found = _jars(state, context, lot, size)
    kept = _kept(state, found)
    if weights is None and not each and not kept:
        places = places_of(settings_of(state), market, context.day)
        return before_weighing(
            max(tests_of(found.jars.declares, places, found.jars.count, system), key=lambda test: test.sample),
            context.locale,
        )
    check, notes = None, ()
    if weights is not None or each:
        check, notes = _check(found, typed_weights(weights, each), tare, division, aimed, context, anew)
    checks = as_they_stand([*kept, *([check] if check else [])])
    seen = _judged(state, context, found, checks, market, system)
    if chart:
        _draw(chart, found, seen[0], context)
    return _answer(context, found, checks, check, seen, notes, chart, None)


def _kept(book: Any, found: FilledJars) -> list[CheckWeighed]:
    from labelkit.cli._filling import checks_of

    return [c for c in checks_of(book) if (c.lot, c.size) == (found.run.lot, found.jars.size)]


def _check(
    found: FilledJars,
    typed: Any,
    tare: str | None,
    division: str | None,
    aimed: str | None,
    context: CommandContext,
    anew: bool,
) -> tuple[CheckWeighed, tuple[str, ...]]:
    """The typed weights as an event, and how they were understood. Raises the refusals of filling day."""
    from labelkit.errors.filling import NoWeights
    from labelkit.measures import Mass
    from labelkit.reading.weights import read_jars, read_weights
    from labelkit.run.weighed import CheckWeighed

    label = found.jars.fill
    read = read_jars(typed, label, tare, context.locale)
    if not read.masses:
        raise NoWeights(found.jars.count)
    goal = None
    if aimed is not None:
        # A net weight like any other: 4.55 for 455 is asked about here too.
        (goal,), _ = read_weights([type(typed[0])(aimed, "--aimed")], label, context.locale)
    step = Mass.read(division, context.locale) if division is not None else None
    return CheckWeighed(
        context.day, found.run.lot, found.jars.size, found.jars.declares, read.masses, read.tare, step, goal, anew
    ), read.notes


def _judged(
    book: Any,
    context: CommandContext,
    found: FilledJars,
    checks: list[CheckWeighed],
    market: str | None,
    system: str | None,
) -> list[FillTest]:
    """The lot by every market's test, the worst first."""
    from labelkit.cli._filling import places_of, tests_of
    from labelkit.run.fill_test import fill_test

    places = places_of(settings_of(book), market, context.day)
    ways = {test.market: test.system for test in tests_of(found.jars.declares, places, found.jars.count, system)}
    tares = {check.tare for check in checks}
    # Gross weights under one tare are judged as gross ones, as the handbooks do; mixed ones by their net weights.
    one_tare = next(iter(tares)) if len(tares) == 1 else None
    masses = tuple(m for check in checks for m in (check.shown if one_tare else check.nets))
    steps = [check.division for check in checks]
    step = max(steps, key=lambda mass: mass.mg) if all(steps) else None
    seen = [
        fill_test(
            found.jars.declares,
            place,
            found.jars.count,
            masses,
            system=ways[place.code] if system else None,
            tare=one_tare,
            division=step,
            locale=context.locale,
        )
        for place in places
        if place.code in ways
    ]
    return sorted(seen, key=lambda test: _WORST.index(test.verdict.verdict))


def _draw(chart: str, found: FilledJars, seen: FillTest, context: CommandContext) -> None:
    from labelkit.cli._files import write_whole
    from labelkit.run.check_weighing.chart import control_chart

    title = f"{found.jars.size} ({found.jars.declares}), lot {found.run.lot}"
    write_whole(chart, control_chart(seen.verdict, title, context.locale))


def _answer(
    context: CommandContext,
    found: FilledJars,
    checks: list[CheckWeighed],
    check: CheckWeighed | None,
    seen: list[FillTest],
    notes: tuple[str, ...],
    chart: str | None,
    seq: int | None,
) -> Answer:
    from labelkit.cli._fill_words import fill_document, fill_text
    from labelkit.measures import Mass, show_metric
    from labelkit.run.weighed import together

    verdict = seen[0].verdict
    label = max(test.test.label for test in seen)
    # By the bare net weights, as the record keeps them; a handbook's test may round the tare first.
    above = together(checks)[found.run.lot, found.jars.size].above(label)
    away = Mass.of_grams(max(above, 0) * found.jars.count)
    document = fill_document(seen[0]) | {
        "event": seq,
        "lot": found.run.lot,
        "size": found.jars.size,
        "jars": found.jars.count,
        "weighed": len(verdict.sample),
        "above_label_g": round(above, 4),
        "given_away_g": away.g,
        "other_tests": [{"test": other.test.name, "verdict": other.verdict.verdict} for other in seen[1:]],
        "chart": chart,
    }
    document["notes"] = [*notes, *document["notes"]]
    here = f"lot {found.run.lot}, {found.jars.size}, {found.jars.count} jars"
    lines = [
        f"Kept as event {seq}: {len(check.shown)} weights of {here}."
        if seq and check
        else f"{here[:1].upper()}{here[1:]}. Nothing was kept."
    ]
    if len(checks) > (check is not None):
        lines.append("  judged together with the weights kept before")
    lines += [f"  {note}" for note in notes]
    lines += [fill_text(seen[0], chart, context.locale)]
    lines += [f"  by {other.test.name}: {other.verdict.verdict}" for other in seen[1:]]
    lines.append(
        f"  {show_metric(away, context.locale)} of honey above the label in the lot"
        if away
        else "  no honey above the label on average"
    )
    if verdict.verdict == "fail":
        lines.append("  After topping up or sorting weigh again, and say --anew.")
    if check is not None and check.aimed is None and not check.anew:
        lines.append("  Say with --aimed what these jars were filled to: then the next margin knows your habit.")
    lines.append("  What the run gave away, and how to fill next: labelkit run-result")
    return Answer(document, "\n".join(lines), 1 if verdict.verdict == "fail" else 0)
