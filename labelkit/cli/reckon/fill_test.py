"""``labelkit reckon fill-test``."""

from __future__ import annotations

from decimal import Decimal

import click

from labelkit.cli._rim import Answer, Desk, answering


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
    desk: Desk,
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
    from labelkit.measures import Mass
    from labelkit.rules import market as market_of
    from labelkit.run.fill_test import fill_test, terms

    place = market_of(market, desk.day)
    if weights is None and not each:
        test = terms(declares, place, lot_size, system=system, destructive=destructive, locale=desk.locale)
        return _before(test, desk.locale)
    step = Mass.read(division, desk.locale) if division is not None else None
    found = fill_test(
        declares, place, lot_size, _typed(weights, each), system=system, destructive=destructive, tare=tare,
        division=step, locale=desk.locale,
    )  # fmt: skip
    if chart is not None:
        from labelkit.cli._files import write_whole
        from labelkit.run.check_weighing.chart import control_chart

        write_whole(chart, control_chart(found.verdict, f"{declares}, lot of {lot_size}", desk.locale))
    return Answer(_document(found), _text(found, chart, desk.locale), 1 if found.verdict.verdict == "fail" else 0)


def _typed(weights: str | None, each: tuple[str, ...]):
    from labelkit.run.check_weighing.typed import of_file, of_options

    if weights is None:
        return of_options(each)
    if weights == "-":
        return (*of_file(click.get_text_stream("stdin").read(), "the list"), *of_options(each))
    from labelkit.cli._files import read_text

    return (*of_file(read_text(weights), weights), *of_options(each))


def _fine(grams: Decimal) -> Decimal:
    from labelkit.measures.rounding import HALF_EVEN, to_step

    return to_step(grams, Decimal("0.0001"), HALF_EVEN)


def _document(found) -> dict:
    verdict, test = found.verdict, found.test
    document = {
        "verdict": verdict.verdict,
        "mean_g": _fine(verdict.sample.mean),
        "stdev_g": _fine(verdict.sample.stdev),
        "limit_g": _fine(verdict.limit),
        "short_jars": len(verdict.short),
        "allowed_short": verdict.allowed,
        "sample_needed": verdict.needed,
        "weigh_more": verdict.more,
        "lowest_jar_g": _fine(test.shortest),
        "test": test.name,
        "system": test.system,
        "reasons": list(verdict.reasons),
        "which_jars": [
            {"jar": jar.place, "g": jar.holds.g, "lacks_g": jar.lacks.g, "is": jar.kind, "do": jar.do}
            for jar in found.advice.jars
        ],
        "do": list(found.advice.lot),
        "relabel_g": found.advice.relabel.g if found.advice.relabel else None,
        "notes": list(found.notes),
        "law": found.law.splitlines(),
        "law_notes": list(test.notes),
    }
    if found.is_variation:
        document["average_error_g"] = _fine(verdict.average_error)
        document["sample_error_limit_g"] = _fine(verdict.allowance)
    return document


def _jars(count: int) -> str:
    return {0: "no jar holds", 1: "1 jar holds"}.get(count, f"{count} jars hold")


_HEADS = {"pass": "The lot passes", "fail": "The lot fails", "ask": "Not decided yet"}


def _text(found, chart: str | None, locale: str) -> str:
    from labelkit.measures import Mass, show_metric

    def shown(grams: Decimal) -> str:
        return show_metric(Mass.of_grams(grams), locale)

    verdict, test = found.verdict, found.test
    because = f": {'; '.join(verdict.reasons)}" if verdict.reasons else ""
    lines = [f"{_HEADS[verdict.verdict]}{because}.", f"  by {test.name}"]
    judged = "not judged" if test.factor is None else f"{shown(verdict.limit)} or more passes"
    lines.append(
        f"  mean {shown(verdict.sample.mean)} ({judged}), spread {shown(verdict.sample.stdev)}, "
        f"{len(verdict.sample)} of {test.lot} jars weighed ({verdict.needed} needed)"
    )
    below = f"less than {shown(test.shortest)}" if test.tolerance else "less than the label"
    lines.append(f"  {_jars(len(verdict.short))} {below} ({verdict.allowed or 'none'} may)")
    lines += [f"  jar {jar.place}: {shown(jar.holds.g)}. {jar.do}" for jar in found.advice.jars]
    lines += [f"  {said}" for said in (*found.advice.lot, *found.notes)]
    if chart is not None:
        lines.append(f"  Chart: {chart}")
    return "\n".join([*lines, *(f"  {line}" for line in found.law.splitlines())])


def _before(test, locale: str) -> Answer:
    """What the test will ask, before a jar is weighed."""
    from labelkit.measures import Mass, show_metric
    from labelkit.run.fill_test import SCALE_CAUTION

    stage = test.stage(test.sample) or test.stages[0]
    coarsest = test.coarsest_step()
    document = {
        "verdict": "ask",
        "sample_needed": test.sample,
        "allowed_short": stage.allowed,
        "lowest_jar_g": _fine(test.shortest),
        "coarsest_division_g": _fine(coarsest) if coarsest is not None else None,
        "test": test.name,
        "system": test.system,
    }
    lines = [
        f"Weigh {test.sample} of the {test.lot} jars, drawn from all over the lot ({test.name}).",
        f"  {stage.allowed or 'none'} of them may hold less than {show_metric(Mass.of_grams(test.shortest), locale)}",
    ]
    if coarsest is not None:
        lines.append(f"  the scale may count in steps of {show_metric(Mass.of_grams(coarsest), locale)} at most")
    return Answer(document, "\n".join([*lines, f"  {SCALE_CAUTION}"]))
