"""When a rule holds: conditions as data, answered yes, no or "that depends on something you have not said".

A condition is a fact with a relation at its end:

==============  =====================================================================
``_over``       more than                      ``panel_area_over = "5 in2"``
``_from``       this much or more              ``declared_from = "1 lb"``
``_to``         up to and including            ``panel_area_to = "25 in2"``
``_under``      less than                      ``gallons_per_year_under = 250``
``_not``        not this (or none of these)    ``honey_not = "comb"``
``_only``       of several, no other           ``sells_to_only = ["stall", "mail"]``
nothing         this (or one of these)         ``honey = "heather"``, ``own_hives = true``
==============  =====================================================================

A fact nobody gave makes the answer depend on it, except the few the glossary takes for granted (the ordinary jar, labelled
in full); those are assumed only where that asks more of the label and never less.

All conditions of one ``when`` must hold. Where any of several sets of conditions is enough, ``when`` is a list of them.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from labelkit.errors.rules import PackValueWrong, WordUnknown
from labelkit.rules.glossary import Fact, glossary
from labelkit.rules.kinds import WANTED, fits, read, taken

_RELATIONS = ("over", "from", "to", "under", "not", "only")
_SINGLE = {"words": "word", "texts": "text"}
_ORDERED = ("mass", "length", "area", "volume", "money", "percent", "number", "count", "day")


def _spelt(raw: Any) -> str:
    return {True: "yes", False: "no"}[raw] if isinstance(raw, bool) else str(raw)


@dataclass(frozen=True, slots=True)
class Condition:
    """One condition: a fact, a relation, and what a pack holds it against."""

    fact: Fact
    relation: str
    raw: Any

    def __str__(self) -> str:
        wanted = " or ".join(map(_spelt, self.raw if isinstance(self.raw, list) else [self.raw]))
        words = {"over": "over", "from": "from", "to": "up to", "under": "under", "not": "not", "only": "only"}
        relation = words.get(self.relation, "")
        return f"{self.fact.name.replace('_', ' ')} {relation} {wanted}".replace("  ", " ")

    def holds(self, given: Any) -> bool:
        """Whether the fact as given meets the condition."""
        value = taken(self.fact.kind, given)
        if self.relation in ("over", "from", "to", "under"):
            bound = read(self.fact.kind, self.raw)
            if self.relation == "over":
                return bool(bound < value)
            if self.relation == "from":
                return bool(bound <= value)
            return bool(value <= bound if self.relation == "to" else value < bound)
        wanted = {self._single(raw) for raw in (self.raw if isinstance(self.raw, list) else [self.raw])}
        have = set(value) if isinstance(value, tuple) else {value}
        if self.relation == "only":
            return have <= wanted
        return bool(have & wanted) != (self.relation == "not")

    def _single(self, raw: Any) -> Any:
        return read(_SINGLE.get(self.fact.kind, self.fact.kind), raw)


@dataclass(frozen=True, slots=True)
class Answer:
    """Whether something holds; ``None`` when that depends on the facts in ``missing``."""

    holds: bool | None
    missing: tuple[Fact, ...] = ()


YES = Answer(True)
NO = Answer(False)


@dataclass(frozen=True, slots=True)
class When:
    """Sets of conditions, any one of which is enough; no set at all means always."""

    sets: tuple[tuple[Condition, ...], ...] = ()

    def answer(self, facts: Mapping[str, Any]) -> Answer:
        """Yes, no, or what is missing to say. A fact given as ``None`` counts as not given."""
        if not self.sets:
            return YES
        answers = [_all(tests, facts) for tests in self.sets]
        if any(answer.holds for answer in answers):
            return YES
        missing = {fact.name: fact for answer in answers if answer.holds is None for fact in answer.missing}
        return Answer(None, tuple(missing.values())) if missing else NO

    @property
    def weight(self) -> int:
        """How many conditions it takes at least; the more, the more particular the rule."""
        return min((len(tests) for tests in self.sets), default=0)

    @property
    def facts(self) -> frozenset[str]:
        """The facts any of its conditions look at."""
        return frozenset(test.fact.name for tests in self.sets for test in tests)

    def __str__(self) -> str:
        return "; or ".join(", ".join(map(str, tests)) for tests in self.sets)


ALWAYS = When()


def _all(tests: Iterable[Condition], facts: Mapping[str, Any]) -> Answer:
    missing = []
    for test in tests:
        given = facts.get(test.fact.name)
        given = test.fact.assumed if given is None else given
        if given is None:
            missing.append(test.fact)
        elif not test.holds(given):
            return NO
    return Answer(None, tuple(missing)) if missing else YES


def read_when(raw: Any, file: str, block: str) -> When:
    """The conditions of one block; a fact or a bound the glossary does not know refuses the file."""
    if raw is None:
        return ALWAYS
    tables = raw if isinstance(raw, list) else [raw]
    if not all(isinstance(table, dict) and table for table in tables):
        raise PackValueWrong(file, block, "when", raw, "a table of conditions, or a list of them")
    return When(tuple(tuple(_test(key, bound, file, block) for key, bound in table.items()) for table in tables))


def _test(key: str, raw: Any, file: str, block: str) -> Condition:
    known = glossary().facts
    name, _, relation = key.rpartition("_")
    if key in known or relation not in _RELATIONS:
        name, relation = key, ""
    fact = glossary().fact(name, file)
    ordered = relation in ("over", "from", "to", "under")
    if ordered and fact.kind not in _ORDERED:
        raise PackValueWrong(file, block, key, raw, f"a condition {name} can have; it has no order")
    kind = _SINGLE.get(fact.kind, fact.kind)
    for item in raw if isinstance(raw, list) and not ordered else [raw]:
        if not fits(kind, item, fact.words):
            raise PackValueWrong(file, block, key, item, WANTED[kind])
    return Condition(fact, relation, raw)


def known_word(fact: str, word: str) -> str:
    """A word a user gave for a fact with a fixed list, as the list spells it.

    >>> known_word("honey", "Heather")
    'heather'
    """
    entry = glossary().fact(fact)
    if word.strip().casefold() not in entry.words:
        raise WordUnknown(word, entry.asks, entry.words)
    return word.strip().casefold()
