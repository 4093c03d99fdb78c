"""From a market's packs to the terms of its lot test. No number of any law stands here.

The plan says how many jars of a lot are weighed and with which factor; where a market gives its factors or its short
jars by the number weighed, they are looked up by that. ``minimum`` (every jar at least the label weight) needs no
law and is offered everywhere.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from decimal import Decimal
from typing import Any

from labelkit.errors.filling import LotSizeUnclear, LotTestUnknown
from labelkit.measures import Mass
from labelkit.measures.rounding import DOWN, UP, to_step
from labelkit.rules.blocks import Value
from labelkit.rules.market import Market
from labelkit.run.check_weighing.lot_test import LotTest, Stage
from labelkit.run.check_weighing.tolerances import Tolerances

MINIMUM = "minimum"
_MINIMUM_NAME = "every jar at least the label weight"
_ONE = Decimal(1)


def systems(market: Market) -> tuple[str, ...]:
    """The ways a lot can be judged here, the usual one first; ``minimum`` is always among them."""
    held = market.value("lot tests").value
    return held if MINIMUM in held else (*held, MINIMUM)


def lot_test(
    market: Market,
    label: Mass,
    lot: int,
    tolerances: Tolerances,
    *,
    system: str | None = None,
    weighed: int | None = None,
    destructive: bool = False,
) -> LotTest:
    """The terms for a lot of so many jars declared at ``label`` (the weight that is enforced).

    ``weighed`` is how many weights there are, where it is known: some factors depend on it. Raises
    :class:`~labelkit.errors.filling.LotTestUnknown`, :class:`~labelkit.errors.filling.LotSizeUnclear`, and the
    refusals of the rules room.
    """
    if lot < 1:
        raise LotSizeUnclear(lot)
    known = systems(market)
    chosen = _spelt(system, known, market) if system else known[0]
    if chosen == MINIMUM:
        return minimum(market.code, label, lot)
    test = _Terms(market, chosen, label, lot, tolerances, destructive).test(weighed)
    return test if system else replace(test, choice=_choice(market, known))


def _choice(market: Market, known: Sequence[str]) -> str:
    """The market's own ways explained, where it has several and says how they differ."""
    note = market.value("lot tests").note
    return f"{note} Choose with --system: {', '.join(known)}." if note else ""


def minimum(market: str, label: Mass, lot: int) -> LotTest:
    """Every jar of the lot at least at the label weight.

    >>> minimum("uk", Mass.of_grams(340), 24).sample
    24
    """
    return LotTest(
        market,
        MINIMUM,
        _MINIMUM_NAME,
        label.g,
        lot,
        sample=lot,
        mean_sample=lot,
        factor=None,
        stages=(Stage(lot, 0, 1),),
        tolerance=Decimal(0),
    )


def _spelt(system: str, known: Sequence[str], market: Market) -> str:
    found = next((name for name in known if name.casefold() == system.casefold()), None)
    if found is None:
        raise LotTestUnknown(system, market.name, ", ".join(known))
    return found


class _Terms:
    """The values of one market for one lot, asked for once each."""

    def __init__(
        self, market: Market, system: str, label: Mass, lot: int, tolerances: Tolerances, destructive: bool
    ) -> None:
        self.market, self.system, self.label, self.lot = market, system, label, lot
        self.tolerances, self.destructive = tolerances, destructive
        self.laws: list[Value] = []

    def test(self, weighed: int | None) -> LotTest:
        """All terms together."""
        row = self._row("plan of the lot test")
        needed = self._sample(row)
        counted = min(weighed or needed, self.lot)
        stages = self._stages(row, needed, max(counted, needed))
        mean_sample = min(row.get("mean_of", needed), needed) if row else needed
        largest = self._held("largest shortage of one jar")
        twice = self._held("very short jars allowed")
        share = self._held("scale division against the tolerance")
        tolerance = self.label.g * largest / 100 if largest is not None else self.tolerances.first
        return LotTest(
            market=self.market.code,
            system=self.system,
            name=self._need("name of the lot test"),
            label=self.label.g,
            lot=self.lot,
            sample=needed,
            mean_sample=mean_sample,
            factor=self._factor(row, max(counted, mean_sample)),
            stages=stages,
            tolerance=tolerance,
            deep=self.tolerances.second if twice is not None else None,
            deep_allowed=twice or 0,
            step_share=share,
            stricter=self._stricter(weighed, mean_sample),
            planned=row is not None,
            laws=tuple(dict.fromkeys(self.laws + ([] if largest is not None else list(self.tolerances.laws)))),
            notes=tuple(dict.fromkeys(law.note for law in self.laws if law.note)),
        )

    def _need(self, name: str) -> Any:
        law = self.market.value(name, **self._facts())
        self.laws.append(law)
        return law.value

    def _held(self, name: str) -> Any:
        return self._need(name) if self.market.holds(name, **self._facts()) else None

    def _facts(self) -> dict[str, Any]:
        return {"lot_test": self.system, "destructive": self.destructive, "lot_size": self.lot}

    def _row(self, name: str) -> Mapping[str, Any] | None:
        return _row_of(self._held(name) or (), self.lot)

    def _sample(self, row: Mapping[str, Any] | None) -> int:
        """How many jars the plan asks for; all of them where it names none, or has no row for so small a lot."""
        opened = self._held("jars opened at most") if self.destructive else None
        if opened is not None:
            return max(int(to_step(self.lot * opened / 100, _ONE, DOWN)), 1)
        if row is None or not ({"sample", "share"} & set(row)):
            return self.lot
        wanted: int
        if "sample" in row:
            wanted = row["sample"]
        else:
            wanted = max(int(to_step(self.lot * row["share"] / 100, _ONE, UP)), row.get("at_least", 1))
        return min(wanted, self.lot)

    def _stages(self, row: Mapping[str, Any] | None, needed: int, counted: int) -> tuple[Stage, ...]:
        if row is None:
            return (Stage(needed, 0, 1),)
        found = {step["sample"]: (step["allowed"], step.get("fails")) for step in self._steps()}
        allowed = self._allowed(row, counted)
        if allowed is not None:
            found[needed] = (allowed, None)
        last = max(found)
        final = found[last][0] + 1
        return tuple(Stage(n, ok, fails if fails is not None else final) for n, (ok, fails) in sorted(found.items()))

    def _stricter(self, weighed: int | None, mean_sample: int) -> Decimal | None:
        """The smallest factor the plan has for no more jars than were weighed beyond what it asks for."""
        if not weighed or weighed <= mean_sample:
            return None
        rows = [row for row in self._held("plan of the lot test") or () if row.get("factor")]
        enough = [row["factor"] for row in rows if row.get("mean_of", row.get("sample", self.lot)) <= weighed]
        return min(enough, default=None)

    def _steps(self) -> list[Mapping[str, Any]]:
        """Further stages of sampling for this lot; their law is named only where it has a row for it."""
        name = "stages of the lot test"
        if not self.market.holds(name, **self._facts()):
            return []
        law = self.market.value(name, **self._facts())
        steps = [step for step in law.value if _covers(step, self.lot) and step["sample"] <= self.lot]
        if steps:
            self.laws.append(law)
        return steps

    def _allowed(self, row: Mapping[str, Any], counted: int) -> int | None:
        allowed: int | None = row.get("allowed")
        if allowed is not None:
            return allowed
        if "allowed_share" in row:
            return int(to_step(self.lot * row["allowed_share"] / 100, _ONE, DOWN))
        fails = self._held("short jars that fail by sample")
        if fails is None:
            return None
        jars: int = (_row_of(fails, max(counted, fails[0]["from"])) or fails[-1])["jars"]
        return jars - 1

    def _factor(self, row: Mapping[str, Any] | None, counted: int) -> Decimal | None:
        if counted >= self.lot and self._held("a lot weighed whole is judged by its mean alone"):
            return Decimal(0)
        if row is None:
            return Decimal(0)
        factor: Decimal | None = row.get("factor")
        if factor is not None:
            return factor
        rows = self._held("factors by sample")
        return None if rows is None else factor_for(rows, counted)


def _covers(row: Mapping[str, Any], count: int) -> bool:
    return row["from"] <= count and ("to" not in row or count <= row["to"])


def _row_of(rows: Sequence[Mapping[str, Any]], count: int) -> Mapping[str, Any] | None:
    return next((row for row in rows if _covers(row, count)), None)


def factor_for(rows: Sequence[Mapping[str, Any]], sample: int) -> Decimal:
    """The factor t/√n of a sample; between two rows t goes in a straight line with 1/n.

    Source of the rule: Safe Food for Canadians Regulations, Schedule 5 Part 3, footnote 2.

    >>> rows = [{"sample": 10, "factor": Decimal("1.03")}, {"sample": 12, "factor": Decimal("0.897")}]
    >>> factor_for(rows, 12), round(factor_for(rows, 11), 3)
    (Decimal('0.897'), Decimal('0.957'))
    """
    exact: Decimal | None = next((row["factor"] for row in rows if row["sample"] == sample), None)
    if exact is not None:
        return exact
    below = [row for row in rows if row["sample"] < sample]
    above = [row for row in rows if row["sample"] > sample]
    if not below or not above:
        nearest: Decimal = (below[-1] if below else above[0])["factor"]
        return nearest
    low, high = below[-1], above[0]
    a, b = (row["factor"] * Decimal(row["sample"]).sqrt() for row in (low, high))
    c, d, e = (Decimal(120) / n for n in (low["sample"], high["sample"], sample))
    between: Decimal = a - (a - b) * (c - e) / (c - d)
    return between / Decimal(sample).sqrt()
