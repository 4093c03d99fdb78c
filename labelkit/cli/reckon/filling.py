"""Figures of filling: tolerances, the scale, the tare, the fill test and how far above the label to fill."""

from __future__ import annotations

from decimal import Decimal
from typing import Any

from click import option

from labelkit.cli._options import CHANCE, DECLARED, DIVISION, MASS, TARE, fill_system
from labelkit.cli._runner import Answer
from labelkit.cli.reckon._figure import (
    GRAMS,
    SOLD_IN,
    US_UNLESS_SAID,
    Reader,
    as_typed,
    by_law,
    figure,
    needed,
    step,
    two_digits,
)
from labelkit.errors.cli import UsageUnclear

_DECLARES = needed("--declare", DECLARED, "The declared weight, for example “1 lb” or “340 g”.", "declares")


@figure(_DECLARES, SOLD_IN)
def tolerance(reader: Reader, declares: Any, place: Any) -> Answer:
    """Tolerance for one jar.

    How much less than it declares one jar may hold.

    The average of the lot must still not be less than declared.

    Example:  labelkit reckon tolerance --declare "340 g" --market eu
    """
    from labelkit.rules.figures import tolerance

    found = tolerance.of(declares, place)
    error = reader.number(found.error_g)
    if found.is_variation:
        document: dict[str, Any] = {"mav_g": found.error_g}
        lines = [f"One jar may hold up to {error} g less (maximum allowable variation)."]
    elif found.first_limit_g is None or found.second_limit_g is None:
        document = {"tolerance_g": found.error_g}
        lines = [f"One jar may hold up to {error} g less (tolerance)."]
    else:
        document = {"tolerance_g": found.error_g, "t1_g": found.first_limit_g, "t2_g": found.second_limit_g}
        lines = [
            f"Tolerable error {error} g.",
            f"Only few jars may hold less than {reader.number(found.first_limit_g)} g.",
            f"No jar may hold less than {reader.number(found.second_limit_g)} g.",
        ]
    return by_law(document, [*lines, "The average of the lot must not be less than the label."], found.laws)


@figure(
    US_UNLESS_SAID,
    needed("--capacity", as_typed(GRAMS), "The most the scale weighs, “5 kg”."),
    needed("--division", as_typed(GRAMS), "The step it counts in, “0.1 g”."),
    needed("--load", as_typed(GRAMS), "What is on it: a known weight, or a full jar."),
    option(
        "--error", metavar="WEIGHT", help="An error in weight to spell in the scale's units of measure, “0.016 lb”."
    ),
)
def scale(
    reader: Reader,
    place: Any,
    capacity: tuple[Decimal, str],
    division: tuple[Decimal, str],
    load: tuple[Decimal, str],
    error: str | None,
) -> Answer:
    """Permitted error of a scale at a load, and its class.

    Example:  labelkit reckon scale --capacity "5 kg" --division "0.1 g" --load "1500 g"
    """
    from labelkit.rules.findings import law_lines
    from labelkit.run.check_weighing.gross import dimensionless
    from labelkit.run.check_weighing.scale import scale_error

    if load[0] > capacity[0]:
        raise UsageUnclear(
            f"A load of {load[1]} is more than the scale weighs ({capacity[1]}).", "labelkit reckon scale --help"
        )
    found = scale_error(place, capacity[0], division[0], load[0])
    document: dict[str, Any] = {
        "class": found.accuracy_class,
        "divisions": found.divisions,
        "may_be_off_g": found.tolerance,
        "notes": [
            "For a newly approved scale; in use twice that is commonly allowed (from memory).",
            "Legal for trade is what your weights and measures office has approved and sealed, not what a table says.",
        ],
    }
    lines = [
        f"Class {found.accuracy_class}, {reader.number(found.divisions)} divisions: "
        f"at {reader.metric(load[0])} it may be off by {reader.number(two_digits(found.tolerance))} g."
    ]
    if error is not None:
        # In the unit the division was typed in, since the unit of measure is a power of ten of that.
        document["error_units"] = dimensionless(*_alike(error, division[1], reader.locale))
        lines.append(f"  An error of {error} is {reader.number(document['error_units'])} units of measure.")
    law = [f"  {line}" for line in law_lines((place.value("tolerances of the scale"),)).splitlines()]
    told = reader.noted(document, *lines)
    return Answer(document, "\n".join([told.text, *law]))


def _alike(error: str, division: str, locale: str) -> tuple[Decimal, Decimal]:
    """Error and division in the division's own unit."""
    from labelkit.measures.numerals import read_number
    from labelkit.reading.weight_list import SPELT, UNIT_WORD

    unit = UNIT_WORD.search(division)
    one = GRAMS.read(f"1 {SPELT[unit[1].lower()]}", locale) if unit else 1
    sign = -1 if error.strip().startswith(("-", "−")) else 1
    wrong = sign * GRAMS.read(error.strip().lstrip("+-−"), locale)
    return wrong / one, read_number(division[: unit.start()], locale) if unit else GRAMS.read(division, locale)


@figure(
    needed(
        "--empty",
        as_typed(TARE),
        "A new empty jar with lid, label and seal; as often as you weighed one.",
        "empties",
        multiple=True,
    ),
    option("--declare", "declares", type=DECLARED, help="Say what a full jar must read for this declared weight."),
    US_UNLESS_SAID,
    option("--division", default="0.1 g", show_default=True, type=MASS, help="The step the scale counts in."),
)
def tare(reader: Reader, empties: tuple[tuple[Any, str], ...], declares: Any, place: Any, division: Any) -> Answer:
    """Tare of new jars, and what a full jar must read.

    Says too whether enough jars were weighed.

    Example:  labelkit reckon tare --empty "212.4 g" --empty "212.4 g" --declare "1 lb"
    """
    from labelkit.reading.weights import read_tare
    from labelkit.run.check_weighing.gross import nominal_gross, unit_of_measure, unused_tare
    from labelkit.run.fill_test import enforced

    label = enforced(declares, place) if declares else None
    # Without a label nothing is known to hold a tare against.
    found = unused_tare([read_tare(text, label, reader.locale) if label else mass for mass, text in empties])
    reads = nominal_gross(label.g, found.mass.g, unit_of_measure(division.g)) if label else None
    document: dict[str, Any] = {
        "tare_g": found.mass.g,
        "weighed": found.weighed,
        "weigh_more": found.more,
        "reads_at_least_g": reads,
        "source": "NIST Handbook 133 (2026), 2.3.5 (unused dry tare) and 2.3.6 (nominal gross weight)",
        "notes": [
            "An official opens filled jars, washes and dries them, and takes that tare: a jar heavier than yours is short by as much.",
            "Lids, labels, seals and straps are tare too. Look at every jar: no chips, no cracks.",
            "Check your local rules.",
        ],
    }
    mean = f"the mean of {found.weighed} jars" if found.weighed > 1 else "of one jar"
    lines = [f"Tare {reader.metric(found.mass)}, {mean}."]
    if found.more:
        why = "They differ" if found.weighed > 1 else "One jar alone says nothing of the others"
        lines.append(f"  {why}: weigh {found.more} more and take the mean of all.")
    if reads is not None:
        lines.append(f"  A full jar of {declares} must read {reader.metric(reads)}, jar and honey together.")
    return reader.noted(document, *lines, source=document["source"])


@figure(
    _DECLARES,
    SOLD_IN,
    option("--lot-size", required=True, type=int, metavar="N", help="How many jars were filled under the lot code."),
    option(
        "--weights",
        metavar="FILE",
        help="One weight on each line, or a table (.csv, .xlsx); - for what is typed or pasted.",
    ),
    option("--weight", "each", multiple=True, metavar="WEIGHT", help="One net weight; as often as needed."),
    option("--destructive", is_flag=True, help="The jars have to be opened for the test."),
    fill_system,
    option("--tare", metavar="WEIGHT", help="The weights are gross; take this off (empty jar, lid, label, seal)."),
    option("--division", type=DIVISION, help="The step the scale counts in: 1 g, 0.1 oz, 0 lb 0.1 oz."),
    option("--chart", metavar="FILE.svg", help="Draw the weights as a control chart into this file."),
)
def fill_test(
    reader: Reader,
    declares: Any,
    place: Any,
    lot_size: int,
    weights: str | None,
    each: tuple[str, ...],
    chart: str | None,
    tare: str | None,
    **how: Any,
) -> Answer:
    """Whether a filled lot holds what its label says.

    By the market's own test.

    Without any weights it says how many jars to weigh.

    \b
    Example:  labelkit reckon fill-test --declare "1 lb" --market us --lot-size 200 --weights weights.csv
              labelkit reckon fill-test --declare "340 g" --market uk --lot-size 24 --tare "212 g" --weights gross.txt
    """
    from labelkit.cli._fill_words import before_weighing, fill_document, fill_text, typed_weights
    from labelkit.measures.division import GRAM
    from labelkit.reading.weights import read_jars
    from labelkit.run.fill_test import enforced, fill_test, terms

    if weights is None and not each:
        test = terms(declares, place, lot_size, system=how["system"], destructive=how["destructive"])
        return before_weighing(test, reader.locale, how["division"] or GRAM)
    jars = read_jars(typed_weights(weights, each, reader.locale), enforced(declares, place), tare, reader.locale)
    found = fill_test(
        declares,
        place,
        lot_size,
        jars.masses,
        tare=jars.tare,
        shown_in=jars.shown_in,
        locale=reader.locale,
        notes=jars.notes,
        **how,
    )
    if chart is not None:
        from labelkit.cli._files import write_whole
        from labelkit.run.check_weighing.chart import control_chart

        write_whole(
            chart, control_chart(found.verdict, f"{declares}, lot of {lot_size}", reader.locale, found.shown_in)
        )
    failed = found.verdict.verdict == "fail"
    return Answer(fill_document(found), fill_text(found, chart, reader.locale), 1 if failed else 0)


@figure(
    _DECLARES,
    SOLD_IN,
    option("--lot-size", required=True, type=int, metavar="N", help="How many jars the next run will fill."),
    option(
        "--run",
        "runs",
        multiple=True,
        metavar="FILE",
        help="Net weights of a past run of this size; as often as there are runs.",
    ),
    option("--target", type=MASS, help="What those runs were filled to; the declared weight if left out."),
    option("--tare", metavar="WEIGHT", help="The weights of the files are gross; take this off."),
    option(
        "--spread",
        type=MASS,
        help="Instead of past runs: how much your jars differ (standard deviation), “1.5 g”.",
    ),
    option("--sure", default="95", show_default=True, type=CHANCE, help="How sure you want to be that the lot passes."),
    fill_system,
    option("--price-per-kg", metavar="AMOUNT", help="What a kilogram of honey brings, for example 24.00."),
    option("--currency", default="USD", show_default=True, metavar="CODE", help="Currency of the price."),
)
def fill_margin(
    reader: Reader,
    declares: Any,
    place: Any,
    lot_size: int,
    runs: tuple[str, ...],
    target: Any,
    tare: str | None,
    spread: Any,
    sure: Any,
    system: str | None,
    price_per_kg: str | None,
    currency: str,
) -> Answer:
    """How far above the label to fill.

    So that the next lot passes, learnt from your own past runs.

    \b
    Example:  labelkit reckon fill-margin --declare "340 g" --market uk --lot-size 24 --run july.csv --run august.csv
              labelkit reckon fill-margin --declare "1 lb" --market us --lot-size 200 --spread "2 g" --price-per-kg 24
    """
    from labelkit.errors.sentence import written
    from labelkit.measures import Money
    from labelkit.run.check_weighing.margin import Habit, cost_of_a_gram, given_away, habit_of, margin_for
    from labelkit.run.fill_test import enforced, terms

    label = enforced(declares, place)
    test = terms(declares, place, lot_size, system=system)
    if not runs and spread is not None:
        habit = Habit(Decimal(0), spread.g, Decimal(0), 0, 0)
    else:
        habit = habit_of(_past_runs(runs, label, target or label, tare, reader.locale))
    found = margin_for(test, habit, sure)
    low, high = (step(Decimal(repr(c)) * 100, "0.1") for c in (found.chance.at_least, found.chance.at_most))
    away = given_away(max(found.above_label, Decimal(0)), lot_size)
    document = {
        "margin_g": found.above_label,
        "aim_g": found.aim,
        "passes_at_least_percent": low,
        "passes_at_most_percent": high,
        "habit_g": step(found.habit.above_target, "0.01"),
        "spread_g": step(found.habit.spread, "0.01"),
        "between_runs_g": step(found.habit.between_runs, "0.01"),
        "given_away_g": away.g,
        "test": test.name,
        "choice": test.choice or None,
        "notes": list(found.notes),
    }
    lines = [
        f"Fill to {reader.metric(found.aim)} net: {reader.metric(found.above_label)} above the label on average.",
        f"  A lot of {lot_size} then passes {test.name} {reader.number(low)} times in a hundred or more",
        f"  your jars differ by {reader.metric(document['spread_g'])}, "
        f"your runs by {reader.metric(document['between_runs_g'])}",
        f"  {reader.metric(away)} of honey given away over the run",
    ]
    if price_per_kg is not None:
        gram = cost_of_a_gram(lot_size, Money.read(price_per_kg, currency, reader.locale))
        document |= {"each_gram_costs": gram.amount, "currency": currency}
        lines.append(f"  each further gram in every jar costs {gram.show(reader.locale)}")
    lines += [
        f"  {written(note, reader.locale)}"
        for note in (*found.notes, *filter(None, [test.choice]), "Check your local rules.")
    ]
    return Answer(document, "\n".join(lines))


def _past_runs(runs: tuple[str, ...], label: Any, aimed: Any, tare: str | None, locale: str) -> list[Any]:
    """What the files of weights say of past runs."""
    from labelkit.cli._files import read_lines
    from labelkit.reading.weight_list import of_file
    from labelkit.reading.weights import read_tare, read_weights
    from labelkit.run.check_weighing.margin import PastRun
    from labelkit.run.check_weighing.sample import Sample

    empty = read_tare(tare, label, locale) if tare is not None else None
    past = []
    for name in runs:
        masses, _ = read_weights(of_file(*read_lines(name, locale)), label, locale, empty)
        jars = Sample(tuple(mass - empty for mass in masses) if empty else masses)
        if masses:
            past.append(PastRun(jars.mean - aimed.g, jars.stdev, len(jars)))
    return past
