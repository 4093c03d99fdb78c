"""Which lot came from which: links, and the walks along them in either direction."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass

from labelkit.lots.movement import Movement
from labelkit.measures.rounding import apportion
from labelkit.trace.booked import Booked


@dataclass(frozen=True, slots=True)
class Link:
    """So many milligrams of a parent lot that became part of a child lot, by one event."""

    child: str
    parent: str
    mg: int
    seq: int


def links_of(moves: Iterable[Movement]) -> dict[tuple[str, str], int]:
    """Child and parent with the milligrams between them: wherever an event takes from one lot and gives to another.

    Where several lots give to several, each gives its share to each, and the shares are the whole to the milligram
    (the method of largest remainders).

    >>> from labelkit.lots.movement import Account
    >>> from labelkit.measures import Mass
    >>> out = [Movement(Account.BUCKET, "B1", Mass(-7)), Movement(Account.BUCKET, "B2", Mass(-5))]
    >>> links_of([*out, Movement(Account.BUCKET, "M1", Mass(12))])
    {('M1', 'B1'): 7, ('M1', 'B2'): 5}
    >>> both = [Movement(Account.BUCKET, "M1", Mass(7)), Movement(Account.BUCKET, "M2", Mass(5))]
    >>> links_of([*out, *both])
    {('M1', 'B1'): 4, ('M1', 'B2'): 3, ('M2', 'B1'): 3, ('M2', 'B2'): 2}
    """
    net: dict[str, int] = defaultdict(int)
    for m in moves:
        net[m.lot] += m.mass.mg
    givers = {lot: -mg for lot, mg in net.items() if mg < 0}
    takers = {lot: mg for lot, mg in net.items() if mg > 0}
    shared = apportion(sum(takers.values()), [mg * gives for mg in takers.values() for gives in givers.values()])
    pairs = [(child, parent) for child in takers for parent in givers]
    return dict(zip(pairs, shared, strict=True))


def links(booked: Iterable[Booked]) -> tuple[Link, ...]:
    """All links of events that stand."""
    return tuple(
        Link(child, parent, mg, each.seq)
        for each in booked
        for (child, parent), mg in links_of(each.movements()).items()
    )


def ancestors(lots: Iterable[str], of: Iterable[Link]) -> frozenset[str]:
    """Every lot these came from; not themselves.

    >>> chain = [Link("L1", "M1", 9, 3), Link("M1", "B1", 7, 2), Link("M1", "B2", 5, 2)]
    >>> sorted(ancestors(["L1"], chain)), sorted(descendants(["B2"], chain))
    (['B1', 'B2', 'M1'], ['L1', 'M1'])
    """
    return _walk(lots, ((link.child, link.parent) for link in of))


def descendants(lots: Iterable[str], of: Iterable[Link]) -> frozenset[str]:
    """Every lot that came from these; not themselves."""
    return _walk(lots, ((link.parent, link.child) for link in of))


def _walk(lots: Iterable[str], steps: Iterable[tuple[str, str]]) -> frozenset[str]:
    onward: dict[str, set[str]] = defaultdict(set)
    for start, end in steps:
        onward[start].add(end)
    begun = set(lots)
    seen, edge = set(begun), set(begun)
    while edge:
        edge = {end for start in edge for end in onward[start]} - seen
        seen |= edge
    return frozenset(seen - begun)
