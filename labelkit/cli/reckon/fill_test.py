"""``labelkit reckon fill-test``."""

from __future__ import annotations

import click

from labelkit.cli._runner import Answer, CommandContext, answering


@click.command()
@click.option(
    "--declare", "declares", required=True, metavar="Q", help="The declared weight, for example “1 lb” or “340 g”."
)
@click.option(
    "--market", required=True, metavar="M", help="Where it is sold: us, us-va, eu, eu-de, uk, ca, au, nz, codex."
)
@click.option("--lot-size", required=True, type=int, metavar="N", help="How many jars were filled under the lot code.")
@click.option(
    "--weights", metavar="FILE", help="One weight on each line, or a CSV table; - for what is typed or pasted."
)
@click.option("--weight", "each", multiple=True, metavar="Q", help="One net weight; as often as needed.")
@click.option("--destructive", is_flag=True, help="The jars have to be opened for the test.")
@click.option("--system", metavar="NAME", help="Another of the market's ways to judge: minimum, AQS.")
@click.option("--tare", metavar="Q", help="The weights are gross; take this off (empty jar, lid, label, seal).")
@click.option("--division", metavar="Q", help="The step the scale counts in, for example “1 g”.")
@click.option("--chart", metavar="FILE.svg", help="Draw the weights as a control chart into this file.")
@answering
def command(
    context: CommandContext,
    declares: str,
    market: str,
    lot_size: int,
    weights: str | None,
    each: tuple[str, ...],
    destructive: bool,
    system: str | None,
    tare: str | None,
    division: str | None,
    chart: str | None,
) -> Answer:
    """Whether a filled lot holds what its label says, by the market's own test.

    Without any weights it says how many jars to weigh.

    \b
    Example:  labelkit reckon fill-test --declare "1 lb" --market us --lot-size 200 --weights weights.csv
              labelkit reckon fill-test --declare "340 g" --market uk --lot-size 24 --tare "212 g" --weights gross.txt
    """
    from labelkit.cli._fill_words import before_weighing, fill_document, fill_text, typed_weights
    from labelkit.measures import Declared, Mass
    from labelkit.reading.weights import read_jars
    from labelkit.rules import market as market_of
    from labelkit.run.fill_test import enforced, fill_test, terms

    place, weight = market_of(market, context.day), Declared.read(declares, context.locale)
    if weights is None and not each:
        test = terms(weight, place, lot_size, system=system, destructive=destructive)
        return before_weighing(test, context.locale)
    step = Mass.read(division, context.locale) if division is not None else None
    read = read_jars(typed_weights(weights, each), enforced(weight, place), tare, context.locale)
    found = fill_test(
        weight,
        place,
        lot_size,
        read.masses,
        system=system,
        destructive=destructive,
        tare=read.tare,
        division=step,
        locale=context.locale,
        notes=read.notes,
    )
    if chart is not None:
        from labelkit.cli._files import write_whole
        from labelkit.run.check_weighing.chart import control_chart

        write_whole(chart, control_chart(found.verdict, f"{declares}, lot of {lot_size}", context.locale))
    return Answer(
        fill_document(found), fill_text(found, chart, context.locale), 1 if found.verdict.verdict == "fail" else 0
    )
