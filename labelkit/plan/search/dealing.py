"""Dealing totals out over the bins, to the last item, or nearly.

Each bin gets its fair share of every item, and a small exchange makes it fit. Few bins are dealt all but the last,
which gets the rest; many are dealt all but a few, which are solved to the end with what is left.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace

from labelkit.plan.search.local_exchange import Exchanges, fair_share, fill_bin
from labelkit.plan.search.packing import Bin, Item, Packing, Patterns, restrict, totals_of

TRIES = 6
QUICK = 2_500  # exchanges in a half, for many bins

Finish = Callable[[Packing, int], Patterns | None]  # finds the best patterns of a few bins, up to a bound
Share = Callable[[Sequence[int], Bin, int], Sequence[int]]


def assign_totals(packing: Packing, totals: Sequence[int], tries: int = TRIES) -> Patterns | None:
    """Patterns of few bins that add up to these totals, or none if none were found (there may be some)."""
    exchanges = _exchanges(packing, totals)
    order = sorted(range(len(packing.bins)), key=lambda b: (sum(packing.bins[b].allowed), packing.bins[b].capacity))
    for turn in range(tries):
        at = turn % max(1, len(order))
        patterns = _all_in_turn(packing, totals, order[at:] + order[:at], exchanges, _fair(turn))
        if patterns is not None:
            return patterns
    return None


def top_up(
    packing: Packing, capacities: Sequence[int], dealt: dict[int, tuple[int, ...]], totals: Sequence[int]
) -> None:
    """Make patterns fill their bins better, by small exchanges with what they leave of the totals, while too much is wasted.

    ``capacities`` say how full each bin can be made; what the totals do not need of it may be wasted in equal parts.
    """
    spare = max(0, sum(capacities) - packing.weight(totals)) * len(dealt) // len(capacities)
    gaps = {b: capacities[b] - packing.weight(pattern) for b, pattern in dealt.items()}
    wasted = sum(gaps.values())
    left = [n - used for n, used in zip(totals, totals_of(tuple(dealt.values()), len(totals)), strict=True)]
    exchanges = _exchanges(packing, totals, QUICK)
    for b in sorted(gaps, key=lambda b: -gaps[b]):
        if wasted <= spare:
            return
        pattern = dealt[b]
        offered = [max(0, n) + m for n, m in zip(left, pattern, strict=True)]
        dealt[b] = fill_bin(
            pattern, offered, packing.bins[b].allowed, capacities[b], exchanges, spare // (2 * len(capacities))
        )
        left = [n + old - new for n, old, new in zip(left, pattern, dealt[b], strict=True)]
        wasted -= packing.weight(dealt[b]) - packing.weight(pattern)


def complete(packing: Packing, dealt: dict[int, tuple[int, ...]], bound: int, finish: Finish) -> Patterns | None:
    """The patterns dealt, and the best ones of the bins that have none yet with all that is left of every item."""
    tail = [b for b in range(len(packing.bins)) if b not in dealt]
    if tail:
        used = totals_of(tuple(dealt.values()), len(packing.items))
        rest = Packing(tuple(packing.bins[b] for b in tail), tuple(map(_rest_of, packing.items, used)))
        found = finish(rest, bound)
        if found is None:
            return None
        dealt = dealt | dict(zip(tail, found, strict=True))
    patterns = tuple(dealt[b] for b in range(len(packing.bins)))
    return patterns if packing.is_feasible(patterns) else None


def take_back(dealt: dict[int, tuple[int, ...]], totals: Sequence[int]) -> None:
    """Leave out of the patterns dealt what is more than these totals."""
    for i, n in enumerate(totals):
        over = sum(pattern[i] for pattern in dealt.values()) - n
        for b, pattern in dealt.items():
            if over <= 0:
                break
            taken = min(over, pattern[i])
            dealt[b] = (*pattern[:i], pattern[i] - taken, *pattern[i + 1 :])
            over -= taken


def _rest_of(item: Item, used: int) -> Item:
    """The item as the last bins see it: what was used is gone from minimum and maximum, and its value stays counted."""
    floor = item.minimum + max(0, -(-(used - item.minimum) // item.case)) * item.case
    rest = restrict(item, floor, item.maximum)
    return Item(item.weight, rest.minimum - used, rest.maximum - used, item.case, rest.base, rest.segments)


def _exchanges(packing: Packing, totals: Sequence[int], length: int = 30_000) -> Exchanges:
    return Exchanges(packing.weights, tuple(i for i, n in enumerate(totals) if n), length)


def _fair(turn: int) -> Share:
    """A share like that of every other bin, the rounding begun elsewhere in each turn."""
    return lambda left, bin_, capacities: fair_share(
        left, bin_.allowed, bin_.capacity, capacities, turn * capacities // 7
    )


def _in_turn(
    packing: Packing, order: Sequence[int], count: int, left: list[int], exchanges: Exchanges, share: Share
) -> dict[int, tuple[int, ...]]:
    """The patterns of the first ``count`` bins in this order; what they take is taken off ``left``."""
    capacities = sum(packing.bins[b].capacity for b in order)
    spare = capacities - packing.weight(left)
    patterns: dict[int, tuple[int, ...]] = {}
    for place, b in enumerate(order[:count]):
        bin_ = packing.bins[b]
        loose = max(0, spare) // (2 * (len(order) - place))
        patterns[b] = fill_bin(share(left, bin_, capacities), left, bin_.allowed, bin_.capacity, exchanges, loose)
        left[:] = [n - taken for n, taken in zip(left, patterns[b], strict=True)]
        spare -= bin_.capacity - packing.weight(patterns[b])
        capacities -= bin_.capacity
    return patterns


def _all_in_turn(
    packing: Packing, totals: Sequence[int], order: Sequence[int], exchanges: Exchanges, share: Share
) -> Patterns | None:
    left = list(totals)
    patterns = _in_turn(packing, order, len(order) - 1, left, exchanges, share)
    patterns[order[-1]] = tuple(left)
    for b, pattern in patterns.items():
        bin_ = packing.bins[b]
        if not bin_.minimum <= packing.weight(pattern) <= bin_.capacity or any(
            n < 0 or (n and not ok) for n, ok in zip(pattern, bin_.allowed, strict=True)
        ):
            return None
    return tuple(patterns[b] for b in range(len(order)))


def in_few_bins(packing: Packing, patterns: Patterns) -> Patterns:
    """The same totals in as few bins as possible, so that none is opened for a few jars another has honey for."""
    totals = totals_of(patterns, len(packing.items))
    order = sorted(range(len(patterns)), key=lambda b: (packing.bins[b].minimum == 0, -packing.bins[b].capacity, b))
    opened = sum(1 for pattern in patterns if any(pattern))
    for count in range(1, opened):
        chosen = order[:count]
        if sum(packing.bins[b].capacity for b in chosen) >= packing.weight(totals):
            found = assign_totals(replace(packing, bins=tuple(packing.bins[b] for b in chosen)), totals, tries=2)
            fewer = found and _placed(packing, chosen, found)
            if fewer and packing.is_feasible(fewer):
                return fewer
    return patterns


def in_few_items(packing: Packing, patterns: Patterns) -> Patterns:
    """The same totals with fewer items to a bin: every size of jar filled from a bucket is one more label to print."""
    totals = totals_of(patterns, len(packing.items))
    exchanges = _exchanges(packing, totals)
    opened = [b for b, pattern in enumerate(patterns) if any(pattern)]
    chosen = replace(packing, bins=tuple(packing.bins[b] for b in opened))
    best = patterns
    for order in (sorted(range(len(opened)), key=lambda b: chosen.bins[b].capacity), list(range(len(opened)))[::-1]):
        found = _all_in_turn(chosen, totals, order, exchanges, _heaviest_first(packing)) if order else None
        other = found and _placed(packing, opened, found)
        if other and packing.is_feasible(other) and _pairs(other) < _pairs(best):
            best = other
    return best


def _placed(packing: Packing, chosen: Sequence[int], patterns: Patterns) -> Patterns:
    """The patterns of the chosen bins in their places, the others empty."""
    placed = dict(zip(chosen, patterns, strict=True))
    return tuple(placed.get(b, (0,) * len(packing.items)) for b in range(len(packing.bins)))


def _pairs(patterns: Patterns) -> int:
    return sum(1 for pattern in patterns for n in pattern if n)


def _heaviest_first(packing: Packing) -> Share:
    """As many as fit of the heaviest item left, then of the next: the small ones stay for the fine fit."""

    def share(left: Sequence[int], bin_: Bin, capacities: int) -> Sequence[int]:
        taken, capacity = [0] * len(left), bin_.capacity
        for i in sorted(range(len(left)), key=lambda i: (-packing.weights[i], i)):
            if bin_.allowed[i]:
                taken[i] = min(left[i], capacity // packing.weights[i])
                capacity -= taken[i] * packing.weights[i]
        return taken

    return share
