"""Whose jars come back: a return never takes jars off somebody else, since a recall would call the wrong people."""

from __future__ import annotations

import difflib
from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping
from typing import TYPE_CHECKING

from labelkit.errors.sale import NotTheirJars
from labelkit.measures import Money
from labelkit.sale.events import Give, Return, Sale, SaleLine, Sold

if TYPE_CHECKING:
    from labelkit.record.work import Work

_KINDS = ("sell", "deliver", "unload", "give", "return")  # the events jars go out by, and come back


def who_has(work: Work, lot: str, jars: Mapping[str, int], customer: str = "") -> Out:
    """Who brings these jars back: the customer named, or people nobody wrote down.

    Where no name is said and nobody unnamed has any, the only customer who has so many is meant; a name that never had
    any stands for somebody who bought without one. Raises :class:`~labelkit.errors.sale.NotTheirJars`.
    """
    every = _everybody(work, lot)
    nobody = every.pop("", Out("", lot))
    near = [] if customer in every else difflib.get_close_matches(customer, every, n=1, cutoff=0.8)
    theirs = Out(customer, lot) if near else every.get(customer, nobody)
    if theirs.has(jars):
        return theirs
    could = [] if customer else [name for name, each in every.items() if each.has(jars)]
    if len(could) == 1 and not any(map(nobody.count, jars)):
        return every[could[0]]
    size = next(size for size, count in jars.items() if theirs.count(size) < count)
    raise NotTheirJars(customer, lot, size, jars[size], theirs.count(size), near, could)


def check_returns(work: Work, lots: Iterable[str]) -> None:
    """Nobody brought back more jars than they had, by what stands now.

    Raises :class:`~labelkit.errors.sale.NotTheirJars`.
    """
    for lot in lots:
        for name, theirs in _everybody(work, lot).items():
            for size, back, had in theirs.brought_back():
                if back > had:
                    raise NotTheirJars(name, lot, size, back, had, (), ())


def _everybody(work: Work, lot: str) -> dict[str, Out]:
    """Everybody a lot went to, by name. What came back under a name that never had any was nobody's."""
    story = [each.event for each in work.events_about([lot], _KINDS) if each.stands]
    names = {_name(event) for event in story if not isinstance(event, Return)}
    theirs = defaultdict(list)
    for event in story:
        theirs[_name(event) if _name(event) in names else ""].append(event)
    return {name: Out(name, lot, events) for name, events in theirs.items()}


def _name(event: Sale | Give | Return) -> str:
    return getattr(event, "customer", None) or ""


class Out:
    """What one buyer has of a lot; an empty name is everybody nobody wrote down."""

    def __init__(self, customer: str, lot: str, story: Iterable[Sale | Give | Return] = ()) -> None:
        self.customer, self.lot, self.story = customer, lot, list(story)

    def count(self, size: str) -> int:
        """How many jars of a size, bought or given."""
        return len(self.sold(size)) + self.gifts(size)

    def has(self, jars: Mapping[str, int]) -> bool:
        """Whether they have all these."""
        return all(self.count(size) >= count for size, count in jars.items())

    def sold(self, size: str) -> list[tuple[Money | None, Sold]]:
        """The price and the sale of each jar that is still out, the last sold first."""
        out = [
            (line.price, Sold(event.day, event.to))
            for event in self.story
            if not isinstance(event, Give | Return)
            for line in self._lines(event.lines, size)
            for _ in range(line.count)
        ]
        back = sum(line.count for event in self._returns() for line in self._lines(event.lines, size))
        return out[: len(out) - back][::-1]

    def gifts(self, size: str) -> int:
        """How many gifts are still out; what was given or tasted at a stall too."""
        back = sum(line.count for event in self._returns() for line in self._lines(event.gifts, size))
        return max(0, sum(line.count for line in self._lines(self._given(), size)) - back)

    def brought_back(self) -> Iterator[tuple[str, int, int]]:
        """Each size that came back, how many of it, and how many had been bought, or given, at all."""
        bought = [line for event in self.story if not isinstance(event, Give | Return) for line in event.lines]
        for kind, went in (("lines", bought), ("gifts", self._given())):
            back = [line for event in self._returns() for line in getattr(event, kind)]
            for size in dict.fromkeys(line.size for line in back):
                came, had = (sum(line.count for line in self._lines(lines, size)) for lines in (back, went))
                yield size, came, had

    def _given(self) -> list[SaleLine]:
        given = [line for event in self.story if isinstance(event, Give) for line in event.lines]
        return given + [line for event in self.story for way in ("given", "tasted") for line in getattr(event, way, ())]

    def _returns(self) -> list[Return]:
        return [event for event in self.story if isinstance(event, Return)]

    def _lines(self, lines: Iterable[SaleLine], size: str) -> Iterator[SaleLine]:
        return (line for line in lines if (line.lot, line.size) == (self.lot, size))
