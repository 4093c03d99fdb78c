"""Splitting given totals over the boxes: box by box, each filled to within a hair, so that the last one gets the rest.

A box first gets its fair share of every item, rounded; then a small exchange of items makes the share fit. All small
exchanges are known beforehand in two halves, one over the first and one over the other items, so that the best pair is
found by one sorted look-up for each exchange of the first half instead of by trying every pair.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

from labelkit.plan.packing import Loads, Packing

LARGEST_HALF = 30_000
TRIES = 6


def split(packing: Packing, totals: tuple[int, ...], tries: int = TRIES) -> Loads | None:
    """Loads that add up to these totals and keep every box, or none if no split was found (there may be one)."""
    exchanges = Exchanges(packing.weights, tuple(i for i, n in enumerate(totals) if n))
    order = sorted(range(len(packing.boxes)), key=lambda b: (sum(packing.boxes[b].allowed), packing.boxes[b].room))
    for turn in range(tries):
        loads = _in_turn(packing, totals, order[turn % len(order):] + order[: turn % len(order)], exchanges, turn)  # fmt: skip
        if loads is not None:
            return loads
    return None


def _in_turn(
    packing: Packing, totals: tuple[int, ...], order: list[int], exchanges: Exchanges, turn: int
) -> Loads | None:
    left = list(totals)
    spare = sum(box.room for box in packing.boxes) - sum(n * w for n, w in zip(totals, packing.weights, strict=True))
    loads: dict[int, tuple[int, ...]] = {}
    for place, b in enumerate(order):
        box = packing.boxes[b]
        rooms = sum(packing.boxes[other].room for other in order[place:])
        loose = spare // (2 * (len(order) - place))
        load = _one_box(packing, box, left, rooms, exchanges, turn, loose) if place < len(order) - 1 else tuple(left)
        weight = sum(n * w for n, w in zip(load, packing.weights, strict=True))
        spare -= box.room - weight
        if (
            weight > box.room
            or weight < box.least
            or any(n and not ok for n, ok in zip(load, box.allowed, strict=True))
        ):
            return None
        if spare < 0 and place < len(order) - 1:
            return None
        left = [n - taken for n, taken in zip(left, load, strict=True)]
        loads[b] = load
    return tuple(loads[b] for b in range(len(order)))


def _one_box(packing: Packing, box, left: list[int], rooms: int, exchanges: Exchanges, turn: int, loose: int):
    """A share of what is left that fills this box as full as the small exchanges allow."""
    share, carried = [], turn * rooms // 7
    for n, ok in zip(left, box.allowed, strict=True):
        exact = n * box.room + carried if ok else 0
        share.append(min(n, exact // rooms))
        carried = exact - share[-1] * rooms if ok else carried
    base = sum(n * w for n, w in zip(share, packing.weights, strict=True))
    down = [n if ok else 0 for n, ok in zip(share, box.allowed, strict=True)]
    up = [n - taken if ok else 0 for n, taken, ok in zip(left, share, box.allowed, strict=True)]
    change = exchanges.closest(box.room - base, down, up, loose)
    return tuple(n + d for n, d in zip(share, change, strict=True)) if change else tuple(share)


@dataclass(frozen=True)
class Exchanges:
    """Small exchanges of items, in two halves, each sorted by weight."""

    weights: Sequence[int]
    used: Sequence[int]  # the items that may be exchanged

    @cached_property
    def halves(self):
        """For each half: which items it is over, its changes as rows, and their weights, lightest first."""
        import numpy as np

        places = sorted(self.used, key=lambda i: self.weights[i])
        return [self._half(np, part) for part in (places[0::2], places[1::2])]

    def _half(self, np, part: list[int]):
        if not part:
            return part, np.zeros((1, 0), dtype=np.int64), np.zeros(1, dtype=np.int64), np.zeros(1, dtype=np.int64)
        reach = int((LARGEST_HALF ** (1 / len(part)) - 1) / 2)
        steps = np.arange(-reach, reach + 1, dtype=np.int64)
        grid = np.stack(np.meshgrid(*[steps] * len(part), indexing="ij"), axis=-1).reshape(-1, len(part))
        weight = grid @ np.array([self.weights[i] for i in part], dtype=np.int64)
        moved = np.abs(grid) @ np.array([self.weights[i] for i in part], dtype=np.int64)
        # Of equal weights the one that moves least comes last, where the look-up finds it.
        order = np.lexsort((-moved, weight))
        return part, grid[order], weight[order], moved[order]

    def closest(self, room: int, down: list[int], up: list[int], loose: int) -> list[int] | None:
        """The exchange that adds the most weight not above ``room``, no item falling or rising by more than given.

        Of all that come within ``loose`` of the room, the one that moves least, so that what is left for the other
        boxes stays as mixed as it was.
        """
        import numpy as np

        fair = []
        for part, grid, weight, moved in self.halves:
            low, high = np.array([-down[i] for i in part]), np.array([up[i] for i in part])
            keep = np.flatnonzero(((grid >= low) & (grid <= high)).all(axis=1))
            fair.append((part, grid[keep], weight[keep], moved[keep]))
        (first, changes, adds, pains), (second, others, rest, more) = fair
        partner = np.searchsorted(rest, room - adds, side="right") - 1
        fits = np.flatnonzero(partner >= 0)
        if not len(fits):
            return None
        gap = room - adds[fits] - rest[partner[fits]]
        near = np.flatnonzero(gap <= max(loose, int(gap.min())))
        pain = pains[fits[near]] + more[partner[fits[near]]]
        best = fits[near[int(np.argmin(pain))]]
        change = [0] * len(self.weights)
        for part, row in ((first, changes[best]), (second, others[partner[best]])):
            for i, step in zip(part, row, strict=True):
                change[i] = int(step)
        return change
