"""Phrases compiled into one index, and every place of a text where one of them stands.

A text is walked once. At each word the readings of that word say which phrases could begin there; only those are tried,
within the sentence, and what a list matches at a place is remembered. The work grows with the length of the text and not
with the number of phrases.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field
from typing import Any

from labelkit.rules.wording.phrases import Node, parse
from labelkit.rules.wording.tokens import Step, Text

Ends = frozenset[int]
Compiled = tuple[str, Any, frozenset[int] | None]  # (kind, inside, the words it can begin with)
_NOWHERE: Ends = frozenset()
_NOTHING_HERE: frozenset[int] = frozenset()
_NOTHING: Node = ("all", ())


@dataclass
class Vocabulary:
    """The words that phrases name, and the numbers they go by."""

    whole: dict[str, int] = field(default_factory=dict)
    begins: dict[str, int] = field(default_factory=dict)
    ends: dict[str, int] = field(default_factory=dict)
    has: dict[str, int] = field(default_factory=dict)
    exact: dict[str, int] = field(default_factory=dict)
    count: int = 0
    _seen: dict[str, frozenset[int]] = field(default_factory=dict)

    def number(self, kind: str, form: str) -> int:
        """The number of a word, given when it is first met."""
        table = {"word": self.whole, "begins": self.begins, "ends": self.ends, "has": self.has, "exact": self.exact}[
            kind
        ]
        if form not in table:
            table[form] = self.count
            self.count += 1
        return table[form]

    def numbers(self, step: Step) -> frozenset[int]:
        """The words of phrases that one reading of a text is."""
        found = self._of(step.forms[0])
        for form in step.forms[1:]:
            found |= self._of(form)
        exact = self.exact.get(step.written)
        return found if exact is None else found | {exact}

    def _of(self, form: str) -> frozenset[int]:
        known = self._seen.get(form)
        if known is None:
            if len(self._seen) > 50000:
                self._seen.clear()
            known = self._seen[form] = frozenset(self._look_up(form))
        return known

    def _look_up(self, form: str) -> Iterable[int]:
        if form in self.whole:
            yield self.whole[form]
        if self.begins:
            yield from (self.begins[form[:n]] for n in range(1, len(form) + 1) if form[:n] in self.begins)
        if self.ends:
            yield from (self.ends[form[n:]] for n in range(len(form)) if form[n:] in self.ends)
        yield from (number for part, number in self.has.items() if part in form)


@dataclass(frozen=True)
class Choices:
    """Phrases by the words they can begin with."""

    by_first: Mapping[int, tuple[Compiled, ...]]


class Phrases:
    """Named groups of phrases, compiled together.

    ``lists`` gives the phrases of a list by its name; a phrase may use lists whose phrases use lists in turn.
    """

    def __init__(self, lists: Callable[[str], tuple[str, ...]]) -> None:
        self._lists = lists
        self._words = Vocabulary()
        self._compiled: dict[str, Choices] = {}
        self._firsts: dict[int, list[tuple[int, Compiled]]] = {}
        self._groups = 0

    def add(self, phrases: Iterable[str]) -> int:
        """Take in a group of phrases; its number is what :meth:`find` answers with."""
        group = self._groups
        self._groups += 1
        for phrase in phrases:
            node = self._compile(parse(phrase))
            for first in node[2] or ():
                self._firsts.setdefault(first, []).append((group, node))
        return group

    def find(self, text: Text) -> dict[int, list[tuple[int, int]]]:
        """Every place (first word, word after the last) where a phrase of a group stands, the longest at each word."""
        return _Walk(self, text).all()

    def _compile(self, node: Node) -> Compiled:
        """A phrase with, for each part, the words it can begin with (``None``: it may stand for nothing at all)."""
        kind, inside = node
        if kind == "gap" or node == _NOTHING:
            return (kind, inside, None)
        if kind == "list":
            return (kind, inside, frozenset(self._list(inside).by_first))
        if kind == "any":
            choices = tuple(self._compile(choice) for choice in inside)
            firsts = [first for _, _, first in choices if first is not None]
            return (kind, choices, frozenset().union(*firsts) if len(firsts) == len(choices) else None)
        if kind == "all":
            parts = tuple(self._compile(part) for part in inside)
            return (kind, parts, self._first_of_all(parts))
        number = self._words.number(kind, inside)
        return ("is", number, frozenset((number,)))

    def _first_of_all(self, parts: tuple[Compiled, ...]) -> frozenset[int] | None:
        found: frozenset[int] = frozenset()
        for part in parts:
            found |= self._beginnings(part)
            if part[2] is not None:
                return found
        return None

    def _beginnings(self, node: Compiled) -> frozenset[int]:
        """The words a part can begin with, if it stands there at all."""
        kind, inside, first = node
        if first is not None:
            return first
        return frozenset().union(*(self._beginnings(choice) for choice in inside)) if kind == "any" else frozenset()

    def _list(self, name: str) -> Choices:
        if name not in self._compiled:
            self._compiled[name] = Choices({})  # a list may not hold itself; if it does, it adds nothing
            by_first: dict[int, list[Compiled]] = {}
            for phrase in self._lists(name):
                node = self._compile(parse(phrase))
                for first in node[2] or ():
                    by_first.setdefault(first, []).append(node)
            self._compiled[name] = Choices({first: tuple(nodes) for first, nodes in by_first.items()})
        return self._compiled[name]


class _Walk:
    """One text being searched."""

    def __init__(self, phrases: Phrases, text: Text) -> None:
        self.text = text
        self.firsts = phrases._firsts
        self.compiled = phrases._compiled
        self.words = phrases._words
        self.steps = [self.numbered(steps) for steps in text.steps]
        self.here = [
            frozenset().union(*(found for _, found in steps)) if steps else _NOTHING_HERE for steps in self.steps
        ]
        self.lists: dict[tuple[str, int], Ends] = {}

    def numbered(self, steps: tuple[Step, ...]) -> list[tuple[int, frozenset[int]]]:
        """The words of phrases that each reading at a place is, and where it leads.

        Two lines are read as one word only where neither a shorter reading nor the last piece alone is that word.
        """
        numbered, shorter = [], _NOTHING_HERE
        for step in steps:
            found = self.words.numbers(step)
            if step.broken and found:
                found -= shorter | self.words.numbers(self.text.steps[step.to - 1][0])
            if found:
                numbered.append((step.to, found))
                shorter |= found
        return numbered

    def all(self) -> dict[int, list[tuple[int, int]]]:
        found: dict[int, dict[int, int]] = {}
        for at, here in enumerate(self.here):
            begun = {(group, id(node)): node for number in here for group, node in self.firsts.get(number, ())}
            for (group, _), node in begun.items():
                ends = self.ends(node, at, self.text.ends[at])
                if ends:
                    best = found.setdefault(group, {})
                    best[at] = max(best.get(at, 0), *ends)
        return {group: sorted(places.items()) for group, places in found.items()}

    def ends(self, node: Compiled, at: int, limit: int) -> Ends:
        """Where a phrase that begins at a word can end, within its sentence."""
        kind, inside, first = node
        if first is not None and (at >= limit or first.isdisjoint(self.here[at])):
            return _NOWHERE
        if kind == "is":
            return frozenset([to for to, numbers in self.steps[at] if inside in numbers and to <= limit])
        if kind == "list":
            return self._list(inside, at, limit)
        if kind == "any":
            return frozenset().union(*[self.ends(choice, at, limit) for choice in inside])
        if kind == "gap":
            return frozenset(range(at, min(at + inside, limit) + 1))
        return self._all(inside, at, limit)

    def _all(self, parts: tuple[Compiled, ...], at: int, limit: int) -> Ends:
        """One part after the other; after a gap most places cannot begin the next part and are dropped at once."""
        here = self.here
        places: Iterable[int] = (at,)
        for part in parts:
            first = part[2]
            if first is not None:
                places = [place for place in places if place < limit and not first.isdisjoint(here[place])]
            if not places:
                return _NOWHERE
            places = frozenset().union(*[self.ends(part, place, limit) for place in places])
        return frozenset(places)

    def _list(self, name: str, at: int, limit: int) -> Ends:
        key = (name, at)
        if key not in self.lists:
            by_first = self.compiled[name].by_first
            nodes = {id(node): node for number in self.here[at] for node in by_first.get(number, ())}
            self.lists[key] = frozenset().union(*[self.ends(node, at, limit) for node in nodes.values()])
        return self.lists[key]
