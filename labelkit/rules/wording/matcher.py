"""Phrases compiled into one index, and every place of a text where one of them stands.

A text is walked once. At each word the readings of that word say which phrases could begin there; only those are tried,
within the sentence, and what a list matches at a place is remembered. The work grows with the length of the text and not
with the number of phrases.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field

from labelkit.rules.wording.phrases import Node, parse
from labelkit.rules.wording.tokens import Step, Text

Ends = frozenset[int]
_NOWHERE: Ends = frozenset()


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

    by_first: Mapping[int, tuple[Node, ...]]


class Phrases:
    """Named groups of phrases, compiled together.

    ``lists`` gives the phrases of a list by its name; a phrase may use lists whose phrases use lists in turn.
    """

    def __init__(self, lists: Callable[[str], tuple[str, ...]]) -> None:
        self._lists = lists
        self._words = Vocabulary()
        self._compiled: dict[str, Choices] = {}
        self._firsts: dict[int, list[tuple[int, Node]]] = {}
        self._groups = 0

    def add(self, phrases: Iterable[str]) -> int:
        """Take in a group of phrases; its number is what :meth:`find` answers with."""
        group = self._groups
        self._groups += 1
        for phrase in phrases:
            node = self._compile(parse(phrase))
            for first in self._first(node):
                self._firsts.setdefault(first, []).append((group, node))
        return group

    def find(self, text: Text) -> dict[int, list[tuple[int, int]]]:
        """Every place (first word, word after the last) where a phrase of a group stands, the longest at each word."""
        return _Walk(self, text).all()

    def _compile(self, node: Node) -> Node:
        kind, inside = node
        if kind in ("all", "any"):
            return (kind, tuple(self._compile(part) for part in inside))
        if kind == "list":
            self._list(inside)
            return node
        if kind == "gap":
            return node
        return ("is", self._words.number(kind, inside))

    def _list(self, name: str) -> Choices:
        if name not in self._compiled:
            self._compiled[name] = Choices({})  # a list may not hold itself; if it does, it adds nothing
            by_first: dict[int, list[Node]] = {}
            for phrase in self._lists(name):
                node = self._compile(parse(phrase))
                for first in self._first(node):
                    by_first.setdefault(first, []).append(node)
            self._compiled[name] = Choices({first: tuple(nodes) for first, nodes in by_first.items()})
        return self._compiled[name]

    def _first(self, node: Node) -> frozenset[int]:
        kind, inside = node
        if kind == "is":
            return frozenset((inside,))
        if kind == "list":
            return frozenset(self._compiled[inside].by_first)
        if kind == "any":
            return frozenset().union(*(self._first(choice) for choice in inside if choice != ("all", ())))
        found: frozenset[int] = frozenset()
        for part in inside:
            found |= self._first(part)
            if not (part[0] == "any" and ("all", ()) in part[1]):
                break
        return found


class _Walk:
    """One text being searched."""

    def __init__(self, phrases: Phrases, text: Text) -> None:
        self.text = text
        self.firsts = phrases._firsts
        self.compiled = phrases._compiled
        numbers = phrases._words.numbers
        self.steps = [[(step.to, found) for step in steps if (found := numbers(step))] for steps in text.steps]
        self.lists: dict[tuple[str, int], Ends] = {}

    def all(self) -> dict[int, list[tuple[int, int]]]:
        found: dict[int, dict[int, int]] = {}
        for at, steps in enumerate(self.steps):
            tried = set()
            for _, numbers in steps:
                for number in numbers:
                    for group, node in self.firsts.get(number, ()):
                        if (group, id(node)) in tried:
                            continue
                        tried.add((group, id(node)))
                        ends = self.ends(node, at, self.text.ends[at])
                        if ends:
                            best = found.setdefault(group, {})
                            best[at] = max(best.get(at, 0), *ends)
        return {group: sorted(places.items()) for group, places in found.items()}

    def ends(self, node: Node, at: int, limit: int) -> Ends:
        """Where a phrase that begins at a word can end, within its sentence."""
        kind, inside = node
        if kind == "is":
            if at >= limit:
                return _NOWHERE
            return frozenset(to for to, numbers in self.steps[at] if inside in numbers and to <= limit)
        if kind == "list":
            return self._list(inside, at, limit)
        if kind == "any":
            return frozenset().union(*(self.ends(choice, at, limit) for choice in inside))
        if kind == "gap":
            return frozenset(range(at, min(at + inside, limit) + 1))
        places: Ends = frozenset((at,))
        for part in inside:
            places = frozenset().union(*(self.ends(part, place, limit) for place in places))
            if not places:
                return _NOWHERE
        return places

    def _list(self, name: str, at: int, limit: int) -> Ends:
        if at >= limit:
            return _NOWHERE
        key = (name, at)
        if key not in self.lists:
            by_first = self.compiled[name].by_first
            nodes = {
                id(node): node
                for _, numbers in self.steps[at]
                for number in numbers
                for node in by_first.get(number, ())
            }
            self.lists[key] = frozenset().union(*(self.ends(node, at, limit) for node in nodes.values()))
        return self.lists[key]
