"""The flow behind the picture: nodes in columns and the bands between them, as wide as the honey is heavy.

Yards and suppliers stand left, then buckets, blends, jar lots, and at the right where everything is now. Masses stay exact here;
:mod:`labelkit.trace.picture` turns them into places on the page.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass

from labelkit.errors.sentence import Sentence
from labelkit.lots.movement import Account
from labelkit.measures import Mass
from labelkit.measures.wording import Wording
from labelkit.trace.follow import Trace

YARD, SUPPLIER, BUCKET, BLEND, LOT, PLACE, HELD, GONE = (
    "yard",
    "supplier",
    "bucket",
    "blend",
    "lot",
    "place",
    "held",
    "gone",
)
NAMED_BUYERS = 6  # the largest by name; the others as one


@dataclass(frozen=True, slots=True)
class Node:
    """A yard, supplier, bucket, blend, jar lot or place; ``side`` for sister lots and what was not asked for."""

    id: str
    sort: str
    name: str
    note: str
    column: int
    asked: bool = False
    side: bool = False


@dataclass(frozen=True, slots=True)
class Band:
    """So much honey from one node to another; ``weighed`` is false where yards shared a bucket unweighed."""

    source: str
    target: str
    mass: Mass
    weighed: bool = True


@dataclass(frozen=True, slots=True)
class Flow:
    """The nodes in their columns and the bands between them."""

    nodes: tuple[Node, ...]
    bands: tuple[Band, ...]
    columns: tuple[str, ...]  # the heading of each


def flow(trace: Trace, words: Wording) -> Flow:
    """The flow of a trace; a node's ``id`` is the same in every language."""
    depth = _depths(trace)
    blends = max((depth[name] for name in trace.buckets), default=1)
    deepest = max([depth[name] for name in (*trace.lots, *trace.sisters)], default=blends + 1)
    nodes: dict[str, Node] = {}
    bands: dict[tuple[str, str], tuple[int, bool]] = {}

    def band(source: str, target: str, mg: int, weighed: bool = True) -> None:
        old, also = bands.get((source, target), (0, True))
        bands[source, target] = (old + mg, weighed and also)

    asked = set(trace.start.lots)
    for name in trace.buckets:
        sort = BUCKET if depth[name] == 1 else BLEND
        nodes[f"b:{name}"] = Node(f"b:{name}", sort, name, "", depth[name], asked=name in asked)
    for name in (*trace.lots, *trace.sisters):
        note = _counted(trace.balance(name).jars_made, words)
        nodes[f"b:{name}"] = Node(
            f"b:{name}", LOT, name, note, depth[name], asked=name in asked, side=name in trace.sisters
        )
    for each in trace.intakes:
        if each.receipt is not None:
            who, lot = each.receipt.supplier, words("their lot {lot}", lot=each.receipt.their_lot)
            id = f"s:{who}:{each.receipt.their_lot}"
            nodes.setdefault(id, Node(id, SUPPLIER, who, lot, 0))
            band(id, f"b:{each.bucket}", each.mass.mg)
    for name, yard, hives, mg, weighed in _from_yards(trace, words):
        asked_for = _asked_yard(trace, yard)
        nodes.setdefault(f"y:{yard}", Node(f"y:{yard}", YARD, words.own(yard), hives, 0, asked=asked_for))
        band(f"y:{yard}", f"b:{name}", mg, weighed)
    for balance in (*trace.balances, *trace.sister_balances):
        for child, mass in balance.to_lots:
            if f"b:{child}" in nodes:
                band(f"b:{balance.lot}", f"b:{child}", mass.mg)
    jars_at: dict[str, int] = defaultdict(int)
    ends = list(_ends(trace))
    for end in ends:
        jars_at[end.place] += end.jars
    for end in ends:
        note = _counted(jars_at[end.place], words) or words.own(end.note)
        nodes.setdefault(end.place, Node(end.place, end.sort, words.own(end.place), note, deepest + 1, side=end.side))
        if end.mg > 0:
            band(f"b:{end.lot}", end.place, end.mg)
    touched = {end for pair in bands for end in pair}
    headings = (
        words("Yards and suppliers") if any(each.receipt for each in trace.intakes) else words("Yards"),
        words("Buckets"),
        *(words("Blends") for _ in range(blends - 1)),
        words("Jar lots"),
        *(words("Relabelled") for _ in range(deepest - blends - 1)),
        words("Where it is now"),
    )
    return Flow(
        tuple(node for node in nodes.values() if node.id in touched),
        tuple(Band(source, target, Mass(mg), weighed) for (source, target), (mg, weighed) in bands.items() if mg > 0),
        headings,
    )


def _depths(trace: Trace) -> dict[str, int]:
    """The column of each bucket and lot: one right of everything it came from, all jar lots right of all buckets."""
    parents = {b.lot: {parent for parent, _ in b.from_lots} for b in (*trace.balances, *trace.sister_balances)}
    depth = dict.fromkeys(trace.buckets, 1)
    _push(depth, parents)
    blends = max(depth.values(), default=1)
    depth |= dict.fromkeys((*trace.lots, *trace.sisters), blends + 1)
    _push(depth, parents)
    return depth


def _push(depth: dict[str, int], parents: dict[str, set[str]]) -> None:
    """Move everything right until nothing stands left of what it came from."""
    for _ in depth:
        before = dict(depth)
        for name in depth:
            depth[name] = max([depth[name], *(depth[parent] + 1 for parent in parents[name] if parent in depth)])
        if depth == before:
            return


def _from_yards(trace: Trace, words: Wording):
    for each in trace.intakes:
        if each.receipt is not None:
            continue
        for source, share in zip(each.sources or (None,), each.shares or (each.mass,), strict=True):
            name = source.yard if source else Sentence("Yard not noted")
            hives = sorted({h for i in trace.intakes for s in i.sources if s.yard == name for h in s.hives})
            yield each.bucket, name, _few(hives, words), share.mg, each.weighed


def _few(hives: list[str], words: Wording) -> str:
    if not hives:
        return words("hives not noted")
    if len(hives) > 3:
        return words.count("{n} hive", "{n} hives", len(hives))
    return words.count("hive {names}", "hives {names}", len(hives), names=", ".join(hives))


def _asked_yard(trace: Trace, yard: str) -> bool:
    return trace.start.what == "yard" and trace.start.name.split(" · ")[0] == yard


_PLACES = {
    Account.JARS: Sentence("In stock"),
    Account.STALL: Sentence("At the stall"),
    Account.HELD: Sentence("On hold"),
    Account.GIVEN: Sentence("Given"),
    Account.SAMPLE: Sentence("Samples"),
    Account.BROKEN: Sentence("Broken"),
    Account.DISCARDED: Sentence("Discarded"),
    Account.FED: Sentence("Fed to bees"),
    Account.WATER: Sentence("Water, dried out"),
    Account.REWEIGHED: Sentence("Weighed less again"),
}


@dataclass(frozen=True, slots=True)
class _End:
    """Where some of a lot's honey is now."""

    lot: str
    place: str
    mg: int
    jars: int = 0
    note: str = ""
    sort: str = PLACE
    side: bool = False


def _ends(trace: Trace) -> Iterator[_End]:
    buyers = _buyers(trace)
    drawn = {*trace.buckets, *trace.lots, *trace.sisters}
    for balance in trace.balances:
        lot, sold, jars_sold = balance.lot, 0, 0
        for jars in balance.jars:
            if jars.account == Account.SOLD:
                sold, jars_sold = sold + jars.mass.mg, jars_sold + jars.count
            elif jars.account != Account.UNEXPLAINED:
                sort = HELD if jars.account == Account.HELD else PLACE
                yield _End(lot, _PLACES[jars.account], jars.mass.mg, jars.count, sort=sort)
        for where, mass in balance.bulk:
            if where == Account.SOLD:
                sold += mass.mg
            elif mass.mg > 0:
                yield _End(lot, _PLACES[where], mass.mg, sort=GONE if where == Account.REWEIGHED else PLACE)
        if sold:
            yield from _to_buyers(lot, sold, jars_sold, buyers[lot])
        if balance.in_bucket:
            yield _End(lot, Sentence("Still in buckets"), balance.in_bucket.mg, side=True)
        if balance.lost:
            yield _End(lot, Sentence("Lost"), balance.lost.mg, note=Sentence("named losses"), side=True)
        if balance.unexplained.mg > 0:
            missing = sum(jars.count for jars in balance.jars if jars.account == Account.UNEXPLAINED)
            yield _End(lot, Sentence("Unexplained"), balance.unexplained.mg, missing, sort=GONE)
        elsewhere = sum(mass.mg for other, mass in balance.to_lots if other not in drawn)
        if elsewhere:
            yield _End(lot, Sentence("Other lots"), elsewhere, note=Sentence("not asked for"), side=True)


def _counted(jars: int, words: Wording) -> str:
    return words.count("{n} jar", "{n} jars", jars) if jars else ""


@dataclass(slots=True)
class _Bought:
    """What one buyer had, less what came back."""

    jars: int = 0
    mg: int = 0


def _buyers(trace: Trace) -> dict[str, dict[str, _Bought]]:
    """Jars sold less those brought back, by lot and buyer."""
    bought: dict[str, dict[str, _Bought]] = defaultdict(lambda: defaultdict(_Bought))
    for went in trace.went:
        sign = 1 if went.where == Account.SOLD else -1 if went.came_from == Account.SOLD else 0
        if sign:
            theirs = bought[went.lot][went.customer or went.place or Sentence("Sold: {to}", to=went.to)]
            theirs.jars += sign * went.count
            theirs.mg += sign * went.mass.mg
    return bought


def _to_buyers(lot: str, mg: int, count: int, bought: dict[str, _Bought]) -> Iterator[_End]:
    had = {who: theirs for who, theirs in bought.items() if theirs.jars or theirs.mg}
    whole = sum(theirs.mg for theirs in had.values()) == mg and sum(theirs.jars for theirs in had.values()) == count
    if not whole or any(theirs.jars < 0 or theirs.mg <= 0 for theirs in had.values()):
        # Brought back under another name than sold, or only part of it asked for: no honest split by buyer.
        yield _End(lot, Sentence("Sold"), mg, count)
        return
    largest = sorted(had, key=lambda who: (-had[who].mg, who))
    named = largest if len(largest) <= NAMED_BUYERS else largest[: NAMED_BUYERS - 1]
    for who in named:
        yield _End(lot, who, had[who].mg, had[who].jars)
    others = largest[len(named) :]
    if others:
        rest = sum(had[who].mg for who in others), sum(had[who].jars for who in others)
        yield _End(lot, Sentence.plural("{n} other buyer", "{n} other buyers", len(others)), *rest)
