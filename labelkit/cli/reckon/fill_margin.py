"""``labelkit reckon fill-margin``."""

from __future__ import annotations

from decimal import Decimal

import click

from labelkit.cli._runner import Answer, CommandContext, answering


@click.command()
@click.option(
    "--declare", "declares", required=True, metavar="Q", help="The declared weight, for example “1 lb” or “340 g”."
)
@click.option("--market", required=True, metavar="M", help="Where it is sold: us, us-va, eu, eu-de, uk, ca, au, nz.")
@click.option("--lot-size", required=True, type=int, metavar="N", help="How many jars the next run will fill.")
@click.option(
    "--run",
    "runs",
    multiple=True,
    metavar="FILE",
    help="Net weights of a past run of this size; as often as there are runs.",
)
@click.option("--target", metavar="Q", help="What those runs were filled to; the declared weight if left out.")
@click.option("--tare", metavar="Q", help="The weights of the files are gross; take this off.")
@click.option(
    "--spread", metavar="Q", help="Instead of past runs: how much your jars differ (standard deviation), “1.5 g”."
)
@click.option(
    "--sure", default="95", show_default=True, metavar="PERCENT", help="How sure you want to be that the lot passes."
)
@click.option("--system", metavar="NAME", help="Another of the market's ways to judge: minimum, AQS.")
@click.option("--price-per-kg", metavar="P", help="What a kilogram of honey brings, for example 24.00.")
@click.option("--currency", default="USD", show_default=True, metavar="C", help="Currency of the price.")
@answering
def command(
    context: CommandContext,
    declares: str,
    market: str,
    lot_size: int,
    runs: tuple[str, ...],
    target: str | None,
    tare: str | None,
    spread: str | None,
    sure: str,
    system: str | None,
    price_per_kg: str | None,
    currency: str,
) -> Answer:
    """How far above the label to fill so that the next lot passes, learnt from your own past runs.

    \b
    Example:  labelkit reckon fill-margin --declare "340 g" --market uk --lot-size 24 --run july.csv --run august.csv
              labelkit reckon fill-margin --declare "1 lb" --market us --lot-size 200 --spread "2 g" --price-per-kg 24
    """
    from labelkit.measures import Declared, Mass, read_percent
    from labelkit.rules import market as market_of
    from labelkit.run.check_weighing.margin import margin_for
    from labelkit.run.fill_test import enforced, terms
    from labelkit.season.past_fills import chance_of

    place = market_of(market, context.day)
    weight = Declared.read(declares, context.locale)
    label = enforced(weight, place)
    test = terms(weight, place, lot_size, system=system)
    aimed = Mass.read(target, context.locale) if target is not None else label
    habit = _habit(context, runs, spread, label, aimed, tare)
    found = margin_for(test, habit, chance_of(read_percent(sure, context.locale)))
    return _answer(context, test, found, lot_size, price_per_kg, currency)


def _habit(context: CommandContext, runs: tuple[str, ...], spread: str | None, label, aimed, tare: str | None):
    from labelkit.cli._files import read_text
    from labelkit.measures import Mass
    from labelkit.reading.weight_list import of_file
    from labelkit.reading.weights import read_tare, read_weights
    from labelkit.run.check_weighing.margin import Habit, PastRun, habit_of
    from labelkit.run.check_weighing.sample import Sample

    if not runs and spread is not None:
        return Habit(Decimal(0), Mass.read(spread, context.locale).g, Decimal(0), 0, 0)
    empty = read_tare(tare, label, context.locale) if tare is not None else None
    past = []
    for name in runs:
        masses, _ = read_weights(of_file(read_text(name), name), label, context.locale, empty)
        jars = Sample(tuple(mass - empty for mass in masses) if empty else masses)
        if masses:
            past.append(PastRun(jars.mean - aimed.g, jars.stdev, len(jars)))
    return habit_of(past)


def _answer(context: CommandContext, test, found, lot: int, price: str | None, currency: str) -> Answer:
    from labelkit.measures import Mass, Money, show_metric
    from labelkit.measures.locales import show_number
    from labelkit.measures.rounding import HALF_UP, to_step
    from labelkit.run.check_weighing.margin import cost_of_a_gram, given_away

    def g(grams: Decimal) -> str:
        return show_metric(Mass.of_grams(grams), context.locale)

    low, high = (
        to_step(Decimal(repr(c)) * 100, Decimal("0.1"), HALF_UP) for c in (found.chance.at_least, found.chance.at_most)
    )
    away = given_away(max(found.above_label, Decimal(0)), lot)
    document = {
        "margin_g": found.above_label,
        "aim_g": found.aim,
        "passes_at_least_percent": low,
        "passes_at_most_percent": high,
        "habit_g": to_step(found.habit.above_target, Decimal("0.01"), HALF_UP),
        "spread_g": to_step(found.habit.spread, Decimal("0.01"), HALF_UP),
        "between_runs_g": to_step(found.habit.between_runs, Decimal("0.01"), HALF_UP),
        "given_away_g": away.g,
        "test": test.name,
        "choice": test.choice or None,
        "notes": list(found.notes),
    }
    lines = [
        f"Fill to {g(found.aim)} net: {g(found.above_label)} above the label on average.",
        f"  A lot of {lot} then passes {test.name} {show_number(low, context.locale)} times in a hundred or more",
        f"  your jars differ by {g(document['spread_g'])}, your runs by {g(document['between_runs_g'])}",
        f"  {show_metric(away, context.locale)} of honey given away over the run",
    ]
    if price is not None:
        gram = cost_of_a_gram(lot, Money.read(price, currency, context.locale))
        document["each_gram_costs"] = gram.amount
        document["currency"] = currency
        lines.append(f"  each further gram in every jar costs {gram.show(context.locale)}")
    lines += [f"  {note}" for note in (*found.notes, *filter(None, [test.choice]), "Check your local rules.")]
    return Answer(document, "\n".join(lines))
