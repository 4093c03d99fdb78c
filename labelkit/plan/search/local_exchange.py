"""Small exchanges of items, all known beforehand, to make a share fit a box to within a hair.

They are kept in two halves, one over every second item and one over the others, each sorted by weight: the best pair is
found by one sorted look-up for each exchange of the first half instead of by trying every pair.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

WIDE = 60


@dataclass(frozen=True)
class Exchanges:
    """Small exchanges of items, in two halves, each sorted by weight."""

    weights: Sequence[int]
    used: Sequence[int]  # the items that may be exchanged
    length: int = 30_000  # of a half
    wide: int | None = None  # an item that may be exchanged many times, the others of its half less often for it

    @cached_property
    def halves(self):
        """For each half: which items it is over, its changes as rows, and their weights, lightest first."""
        import numpy as np

        places = sorted(self.used, key=lambda i: self.weights[i])
        return [self._half(np, part) for part in (places[0::2], places[1::2])]

    def _half(self, np, part: list[int]):
        if not part:
            return part, np.zeros((1, 0), dtype=np.int64), np.zeros(1, dtype=np.int64), np.zeros(1, dtype=np.int64)
        steps = [np.arange(-reach, reach + 1, dtype=np.int64) for reach in self._reaches(part)]
        grid = np.stack(np.meshgrid(*steps, indexing="ij"), axis=-1).reshape(-1, len(part))
        weight = grid @ np.array([self.weights[i] for i in part], dtype=np.int64)
        moved = np.abs(grid) @ np.array([self.weights[i] for i in part], dtype=np.int64)
        # Of equal weights the one that moves least comes last, where the look-up finds it.
        order = np.lexsort((-moved, weight))
        return part, np.asfortranarray(grid[order]), weight[order], moved[order]

    def _reaches(self, part: list[int]) -> list[int]:
        """How often each item of a half may be exchanged."""
        if self.wide not in part or len(part) == 1:
            return [int((self.length ** (1 / len(part)) - 1) / 2)] * len(part)
        others = int(((self.length / (2 * WIDE + 1)) ** (1 / (len(part) - 1)) - 1) / 2)
        return [WIDE if i == self.wide else max(1, others) for i in part]

    def gain(self, change: list[int]) -> int:
        """What an exchange adds: weight."""
        return sum(n * w for n, w in zip(change, self.weights, strict=True))

    def closest(self, room: int, down: list[int], up: list[int], loose: int) -> list[int] | None:
        """The exchange that adds the most weight not above ``room``, no item falling or rising by more than given.

        Of all that come within ``loose`` of the room, the one that moves least, so that what is left for the other
        boxes stays as mixed as it was.
        """
        import numpy as np

        fair = [self._fair(half, down, up) for half in self.halves]
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

    def _fair(self, half, down: list[int], up: list[int]):
        part, grid, weight, moved = half
        keep = fair_rows(grid, part, down, up)
        return half if keep is None else (part, grid[keep], weight[keep], moved[keep])


def fair_rows(grid, part: list[int], down: list[int], up: list[int]):
    """The rows in which no item falls or rises by more than given, or none where that is all of them."""
    import numpy as np

    fair = None
    for column, i in enumerate(part):
        change = grid[:, column]
        reach = int(change.max(initial=0))
        if up[i] < reach:
            fair = change <= up[i] if fair is None else fair & (change <= up[i])
        if down[i] < reach:
            fair = change >= -down[i] if fair is None else fair & (change >= -down[i])
    return None if fair is None else np.flatnonzero(fair)


def fair_share(left: Sequence[int], allowed: Sequence[bool], room: int, rooms: int, carried: int = 0) -> list[int]:
    """What a box of ``room`` out of ``rooms`` gets of everything left, in whole items, the roundings carried on.

    >>> fair_share([10, 3], [True, True], 1, 4)
    [2, 1]
    """
    share: list[int] = []
    if not rooms:
        return [0] * len(left)
    for n, ok in zip(left, allowed, strict=True):
        exact = n * room + carried if ok else 0
        share.append(min(n, exact // rooms))
        carried = exact - share[-1] * rooms if ok else carried
    return share


def filled(share: list[int], left: Sequence[int], allowed: Sequence[bool], room: int, aim, loose: int = 0):
    """The share of a box after the exchange that fills its room best, within what is left.

    ``aim`` is :class:`Exchanges`, :class:`Priced` or :class:`Several`.
    """
    base = sum(n * w for n, w in zip(share, aim.weights, strict=True))
    down = [n if ok else 0 for n, ok in zip(share, allowed, strict=True)]
    up = [n - taken if ok else 0 for n, taken, ok in zip(left, share, allowed, strict=True)]
    change = aim.closest(room - base, down, up, loose)
    return tuple(n + d for n, d in zip(share, change, strict=True)) if change else tuple(share)


@dataclass(frozen=True)
class Priced:
    """Exchanges that add the most worth at given prices of the items, a little taken off for every milligram moved."""

    exchanges: Exchanges
    prices: Sequence[int]
    per_moved: int

    @cached_property
    def scores(self):
        """For each half, what each exchange adds at the prices."""
        import numpy as np

        return [
            grid @ np.array([self.prices[i] for i in part], dtype=np.int64) - self.per_moved * moved
            for part, grid, _, moved in self.exchanges.halves
        ]

    @property
    def weights(self) -> Sequence[int]:
        """The weight of each item."""
        return self.exchanges.weights

    def gain(self, change: list[int]) -> int:
        """What an exchange adds: worth, before anything is taken off for moving."""
        return sum(n * price for n, price in zip(change, self.prices, strict=True))

    def closest(self, room: int, down: list[int], up: list[int], loose: int = 0) -> list[int] | None:
        """The exchange not above ``room`` that adds the most."""
        import numpy as np

        kept = []
        for (part, grid, weight, _), score in zip(self.exchanges.halves, self.scores, strict=True):
            keep = fair_rows(grid, part, down, up)
            keep = np.arange(len(grid)) if keep is None else keep
            kept.append((part, grid, keep, weight[keep], score[keep]))
        (first, changes, one, adds, gains), (second, others, two, rest, more) = kept
        highest = np.maximum.accumulate(more)
        partner = np.searchsorted(rest, room - adds, side="right") - 1
        fits = np.flatnonzero(partner >= 0)
        if not len(fits):
            return None
        best = fits[int(np.argmax(gains[fits] + highest[partner[fits]]))]
        mate = int(np.flatnonzero(more[: partner[best] + 1] == highest[partner[best]])[0])
        change = [0] * len(self.prices)
        for part, row in ((first, changes[one[best]]), (second, others[two[mate]])):
            for i, step in zip(part, row, strict=True):
                change[i] = int(step)
        return change


@dataclass(frozen=True)
class Several:
    """Several aims, the best of which is taken for each box."""

    aims: Sequence[Exchanges | Priced]

    @property
    def weights(self) -> Sequence[int]:
        """The weight of each item."""
        return self.aims[0].weights

    def closest(self, room: int, down: list[int], up: list[int], loose: int = 0) -> list[int] | None:
        """The exchange not above ``room`` that adds the most."""
        found = [aim.closest(room, down, up, loose) for aim in self.aims]
        return max((change for change in found if change), key=self.aims[0].gain, default=None)
