"""How a fill test is told: the same words and the same JSON keys for ``reckon fill-test`` and ``check-weigh``."""

from __future__ import annotations

from decimal import Decimal

from labelkit.cli._runner import Answer
from labelkit.measures.division import Division
from labelkit.reading.weight_list import Typed


def typed_weights(weights: str | None, each: tuple[str, ...], locale: str) -> tuple[Typed, ...]:
    """Weights as they came: a file or what is pasted (``-``), and those given one by one."""
    import click

    from labelkit.reading.weight_list import of_file, of_options

    if weights is None:
        return of_options(each)
    if weights == "-":
        # click finds this function by name when it is asked for, which its type stubs do not know.
        pasted = click.get_text_stream("stdin").read()  # type: ignore[operator]
        return (*of_file(pasted, "the list"), *of_options(each))
    from labelkit.cli._files import read_lines

    return (*of_file(*read_lines(weights, locale)), *of_options(each))


def _fine(grams: Decimal) -> Decimal:
    from labelkit.measures.rounding import HALF_EVEN, to_step

    return to_step(grams, Decimal("0.0001"), HALF_EVEN)


def fill_document(found) -> dict:
    """A fill test as one JSON document, by the command contract; weights in grams as exact decimals."""
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
        "factor": test.factor,
        "choice": test.choice or None,
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


def fill_text(found, chart: str | None, locale: str) -> str:
    """A fill test as a person reads it: the verdict and why, the jars, what to do, the law."""

    def shown(grams: Decimal) -> str:
        return found.shown_in.show(grams, locale)

    from labelkit.errors.sentence import written

    verdict, test = found.verdict, found.test
    because = f": {'; '.join(written(reason, locale) for reason in verdict.reasons)}" if verdict.reasons else ""
    lines = [f"{_HEADS[verdict.verdict]}{because}.", f"  by {test.name}"]
    judged = "not judged" if test.factor is None else f"{shown(verdict.limit)} or more passes"
    lines.append(
        f"  mean {shown(verdict.sample.mean)} ({judged}), spread {shown(verdict.sample.stdev)}, "
        f"{len(verdict.sample)} of {test.lot} jars weighed ({verdict.needed} needed)"
    )
    below = f"less than {shown(test.shortest)}" if test.tolerance else "less than the label"
    lines.append(f"  {_jars(len(verdict.short))} {below} ({verdict.allowed or 'none'} may)")
    lines += [f"  jar {jar.place}: {shown(jar.holds.g)}. {jar.do}" for jar in found.advice.jars]
    lines += [f"  {written(said, locale)}" for said in (*found.advice.lot, *found.notes, *filter(None, [test.choice]))]
    if chart is not None:
        lines.append(f"  Chart: {chart}")
    return "\n".join([*lines, *(f"  {line}" for line in found.law.splitlines())])


def before_weighing(test, locale: str, scale: Division) -> Answer:
    """What the test will ask, before a jar is weighed, in the unit of the scale."""
    from labelkit.rules.findings import CHECK_LOCAL, law_lines
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
        "factor": test.factor,
        "choice": test.choice or None,
        "planned": test.planned,
        "law_notes": list(test.notes),
        "law": law_lines(test.laws).splitlines() if test.laws else [CHECK_LOCAL],
    }
    lines = [
        f"Weigh {test.sample} of the {test.lot} jars, drawn from all over the lot ({test.name}).",
        f"  {stage.allowed or 'none'} of them may hold less than {scale.show(test.shortest, locale)}",
    ]
    if coarsest is not None:
        lines.append(f"  the scale may count in steps of {scale.show(coarsest, locale)} at most")
    if not test.planned:
        lines.append(
            f"  no plan is printed for a lot of {test.lot}: it can fail by this test and not pass; ask, or fill every jar to its label"
        )
    told = [SCALE_CAUTION, *filter(None, [test.choice]), *test.notes, *document["law"]]
    return Answer(document, "\n".join([*lines, *(f"  {line}" for line in told)]))
