"""A market on a day: its own pack on top of its parents', and every question answered from the top down."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date
from pathlib import Path
from typing import Any, TypeVar

from labelkit.errors.rules import FactMissing, NoRuleInForce, RulesOverlap
from labelkit.rules import shelf
from labelkit.rules.blocks import Duty, Exempt, Head, Law, NotRead, Require, Statement, SwitchOff, Value, Wording
from labelkit.rules.conditions import Answer
from labelkit.rules.glossary import glossary
from labelkit.rules.pack import PACKS

Some = TypeVar("Some", bound=Law)


@dataclass(frozen=True, slots=True)
class Market:
    """What holds in one place on one day. Packs are stacked, the most particular first."""

    code: str
    day: date
    packs: tuple[str, ...]
    shelf: Path = PACKS
    answered: dict[Any, Any] = field(default_factory=dict, compare=False, repr=False)  # what was asked already

    @property
    def head(self) -> Head:
        """What the pack says about the place: name, languages, currency, the office to ask."""
        return shelf.head(self.code, self.shelf)

    @property
    def name(self) -> str:
        """The place in words."""
        return self.head.name

    def value(self, name: str, **facts: Any) -> Value:
        """The one value of this name that holds here and today for these facts.

        The most particular pack that has one in force answers; within it, the value with the most conditions. Raises
        :class:`~labelkit.errors.rules.NoRuleInForce` when there is none, :class:`~labelkit.errors.rules.FactMissing`
        when that depends on a fact not given, :class:`~labelkit.errors.rules.RulesOverlap` when two would do.
        """
        hinges, packs = self._values(name)
        asked = (name, *(facts.get(fact) for fact in hinges))
        if asked not in self.answered:
            found = (self._particular(name, [(law, law.answer(facts)) for law in mine]) for mine in packs)
            self.answered[asked] = next(filter(None, found), None)
        answer: Value | None = self.answered[asked]
        if answer is not None:
            return answer
        first = min((law.since for law in self.history(name)), default=None)
        raise NoRuleInForce(
            name, self.name, self.day.isoformat(), first.isoformat() if first else None, self.head.office
        )

    def _values(self, name: str) -> tuple[tuple[str, ...], tuple[list[Value], ...]]:
        """The facts that the values of a name hang on, and these values pack by pack."""
        if (Value, name) not in self.answered:
            topic = glossary().name(name).topic
            packs = tuple([law for law in self._of(pack, topic, Value) if law.name == name] for pack in self.packs)
            tests = [when for mine in packs for law in mine for when in (law.when, law.unless) if when]
            self.answered[Value, name] = tuple(sorted(frozenset().union(*(when.facts for when in tests)))), packs
        known: tuple[tuple[str, ...], tuple[list[Value], ...]] = self.answered[Value, name]
        return known

    def holds(self, name: str, **facts: Any) -> bool:
        """Whether :meth:`value` would answer.

        >>> market("us", date(2026, 11, 25)).holds("smallest declared weight")
        False
        """
        try:
            self.value(name, **facts)
        except NoRuleInForce:
            return False
        return True

    def history(self, name: str) -> tuple[Value, ...]:
        """Every value of this name of this market and its parents, on any day, oldest first."""
        topic = glossary().name(name).topic
        found = [law for pack in self.packs for law in shelf.laws(pack, topic, self.shelf)]
        named = [law for law in found if isinstance(law, Value) and law.name == name]
        return tuple(sorted(named, key=lambda law: (law.since, self.packs.index(law.pack))))

    def requires(self, topic: str | None = None) -> tuple[Require, ...]:
        """The elements a label must carry here and today, conditions not yet asked."""
        return self._rules(Require, topic)

    def statements(self, topic: str | None = None) -> tuple[Statement, ...]:
        """The exact words a label or sign must carry here and today, conditions not yet asked."""
        return self._rules(Statement, topic)

    def wordings(self, topic: str | None = None) -> tuple[Wording, ...]:
        """The words that raise a finding here and today, conditions not yet asked, in the languages spoken here."""
        return tuple(law for law in self._rules(Wording, topic) if self.speaks is None or law.language in self.speaks)

    @property
    def speaks(self) -> frozenset[str] | None:
        """The languages a label here is likely to be in: the place's own and English; all where it is no one country."""
        return frozenset((*self.head.languages, "en")) if len(self.packs) > 1 else None

    def exemptions(self, topic: str | None = None) -> tuple[Exempt, ...]:
        """The exemptions there are here and today, conditions not yet asked."""
        return self._rules(Exempt, topic)

    def duties(self, topic: str | None = None) -> tuple[Duty, ...]:
        """What the law wants beside the label, and open questions, here and today, conditions not yet asked."""
        return self._rules(Duty, topic)

    def laws(self, kind: type[Some], topic: str | None = None) -> tuple[Some, ...]:
        """Every block of one kind in force here and today that no child has switched off."""
        return self._rules(kind, topic)

    def not_read(self) -> tuple[NotRead, ...]:
        """The areas nobody has read for this market: each is a question for the office to call."""
        return tuple(entry for pack in self.packs for entry in shelf.head(pack, self.shelf).not_read)

    def _rules(self, kind: type[Some], topic: str | None) -> tuple[Some, ...]:
        if (kind, topic) not in self.answered:
            self.answered[kind, topic] = tuple(
                law
                for pack in self.packs
                for this in ([topic] if topic else shelf.topics(pack, self.shelf))
                for law in self._of(pack, this, kind)
            )
        known: tuple[Some, ...] = self.answered[kind, topic]
        return known

    def _of(self, pack: str, topic: str, kind: type[Some]) -> list[Some]:
        """One pack's blocks of one kind in force today, without what a pack above it switches off."""
        above = self.packs[: self.packs.index(pack)]
        off = {
            law.what
            for child in above
            for law in shelf.laws(child, topic, self.shelf)
            if isinstance(law, SwitchOff) and law.in_force(self.day)
        }
        here = shelf.laws(pack, topic, self.shelf, self.speaks)
        return [law for law in here if isinstance(law, kind) and law.in_force(self.day) and law.label not in off]

    def _particular(self, name: str, asked: list[tuple[Value, Answer]]) -> Value | None:
        possible = [(law, answer) for law, answer in asked if answer.holds is not False]
        if not possible:
            return None
        # A value that may hold counts as long as it would be more particular than the best that surely does.
        sure = max((law.when.weight for law, answer in possible if answer.holds), default=-1)
        missing = {f.name: f for law, answer in possible if law.when.weight > sure for f in answer.missing}
        best = [(law, answer) for law, answer in possible if answer.holds and law.when.weight == sure]
        if missing:
            raise FactMissing(name, self.name, tuple(fact.asks for fact in missing.values()))
        if len(best) > 1:
            files = tuple(dict.fromkeys(law.file for law, _ in best))
            raise RulesOverlap(name, self.name, self.day.isoformat(), files)
        return best[0][0]


def market(name: str, day: date, packs: Path = PACKS) -> Market:
    """The market of this code or name on this day.

    >>> market("us", date(2026, 11, 25)).name
    'United States'
    """
    code = shelf.market_code(name, packs)
    return Market(code, day, shelf.lineage(code, packs), packs)
