"""The verdict over a lot: pass, fail, or ask for more weights."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from labelkit.errors.filling import LotSizeUnclear, MoreWeightsThanJars, NoWeights
from labelkit.errors.sentence import Figure, Sentence
from labelkit.measures.locales import show_number
from labelkit.measures.rounding import HALF_UP, to_step
from labelkit.run.check_weighing.lot_test import LotTest, Stage
from labelkit.run.check_weighing.sample import Sample

PASS, FAIL, ASK = "pass", "fail", "ask"


@dataclass(frozen=True)
class Verdict:
    """What the test says of the lot, and why.

    ``limit`` is the smallest mean that passes, in grams; ``short`` and ``deep`` are places of jars (from 1), deep ones
    among the short. ``needed`` is how many weights the plan asks for, ``more`` how many are still missing.
    """

    verdict: str
    test: LotTest
    sample: Sample
    limit: Decimal
    mean_holds: bool | None
    short: tuple[int, ...]
    deep: tuple[int, ...]
    allowed: int
    needed: int
    reasons: tuple[str, ...]

    @property
    def more(self) -> int:
        """How many jars are still to be weighed."""
        return max(self.needed - len(self.sample), 0)

    @property
    def average_error(self) -> Decimal:
        """Mean less label, in grams."""
        return self.sample.mean - self.test.label

    @property
    def allowance(self) -> Decimal:
        """How far the mean may lie below the label: factor times spread (the sample error limit of HB 133)."""
        return self.test.label - self.limit


def judge(sample: Sample, test: LotTest) -> Verdict:
    """Judge a sample by the terms of a test.

    A lot can fail on few weights, but it passes only when as many as the plan asks for were weighed. A mean exactly
    at its limit passes. Raises :class:`~labelkit.errors.filling.NoWeights` and
    :class:`~labelkit.errors.filling.MoreWeightsThanJars`.

    >>> from labelkit.measures import Mass
    >>> twice = LotTest("x", "average", "x", Decimal(340), 2, 2, 2, Decimal(0), (Stage(2, 0, 1),), Decimal("10.2"))
    >>> judge(Sample((Mass.of_grams(341), Mass.of_grams(339))), twice).verdict
    'pass'
    """
    _refuse_impossible(sample, test)
    weighed = len(sample)
    limit = test.label - (test.factor or 0) * sample.stdev
    mean_holds = sample.mean >= limit if test.factor is not None and weighed >= test.mean_sample else None
    short = sample.below(test.shortest)
    deep = sample.below(test.deepest) if test.deepest is not None else ()
    stage = test.stage(weighed)
    allowed = (stage or test.stages[0]).allowed
    faults = _faults(test, sample, limit, mean_holds, short, deep, stage)
    needed = _needed(test, weighed, stage, len(short))
    if faults:
        return Verdict(FAIL, test, sample, limit, mean_holds, short, deep, allowed, needed, tuple(faults))
    doubts = _doubts(test, weighed, needed, stage, len(short))
    verdict = ASK if doubts else PASS
    return Verdict(verdict, test, sample, limit, mean_holds, short, deep, allowed, needed, tuple(doubts))


def _refuse_impossible(sample: Sample, test: LotTest) -> None:
    if test.lot < 1:
        raise LotSizeUnclear(test.lot)
    if not len(sample):
        raise NoWeights(test.sample)
    if len(sample) > test.lot:
        raise MoreWeightsThanJars(len(sample), test.lot)


def _faults(
    test: LotTest,
    sample: Sample,
    limit: Decimal,
    mean_holds: bool | None,
    short: tuple[int, ...],
    deep: tuple[int, ...],
    stage: Stage | None,
) -> list[str]:
    faults: list[str] = []
    if test.deep is not None and len(deep) > test.deep_allowed:
        none = "none may be" if not test.deep_allowed else f"at most {test.deep_allowed} may be"
        faults.append(Sentence("{jars} short by more than {by}; {none}", jars=_jars(deep), by=_g(test.deep), none=none))
    reject = test.stages[-1].reject if stage is None else stage.reject
    if len(short) >= reject and not (deep and not test.deep_allowed and short == deep):
        allowed = (stage or test.stages[-1]).allowed
        most = "none may be" if not allowed else f"at most {allowed} of {len(sample)} may be"
        by = Sentence("short by more than {by}", by=_g(test.tolerance)) if test.tolerance else "below the label"
        faults.append(Sentence("{jars} {by}; {most}", jars=_jars(short), by=by, most=most))
    if mean_holds is False:
        faults.append(Sentence("the mean {mean} is below {limit}", mean=_g(sample.mean), limit=_g(limit)))
    return faults


def _needed(test: LotTest, weighed: int, stage: Stage | None, short: int) -> int:
    """The stage that settles it: the one asked for, an earlier one that is enough, or the next one."""
    if stage is not None and weighed >= test.mean_sample and short <= stage.allowed:
        return max(min(stage.sample, test.sample), min(test.mean_sample, test.lot))
    later = [s.sample for s in test.stages if s.sample > weighed]
    if stage is not None and later and weighed >= test.sample:
        return later[0]
    return test.sample


def _doubts(test: LotTest, weighed: int, needed: int, stage: Stage | None, short: int) -> list[str]:
    if weighed < needed:
        after = f"; {short} of the {weighed} so far are short" if short else ""
        more = needed - weighed
        return [f"{more} more jar{' has' if more == 1 else 's have'} to be weighed ({needed} in all){after}"]
    if not test.planned:
        return [f"{test.name} prints no plan for a lot of {test.lot}; the figures are good, the office decides"]
    return []


def _jars(places: tuple[int, ...]) -> str:
    shown = ", ".join(str(place) for place in places[:8]) + (" and others" if len(places) > 8 else "")
    return f"jar {shown} is" if len(places) == 1 else f"jars {shown} are"


def _g(grams: Decimal) -> Figure:
    return Figure(_grams, to_step(grams, Decimal("0.01"), HALF_UP))


def _grams(value: Decimal, locale: str) -> str:
    return f"{show_number(value, locale)} g"
