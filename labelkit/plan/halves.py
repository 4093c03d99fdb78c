"""Every load of a box, in two halves: all loads of some items, and all loads of the others.

The best load at given prices is then one sorted look-up for each load of the first half instead of a table with a line
for every milligram, and it is exact. Only where jars are many and small do the halves grow too long.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

LONGEST_HALF = 400_000


@dataclass(frozen=True)
class Half:
    """All loads of a few items, lightest first: counts by row and their weights."""

    items: tuple[int, ...]
    counts: object
    weights: object

    def worth(self, prices: Sequence[int]):
        """What each load is worth at these prices."""
        import numpy as np

        return self.counts @ np.array([prices[i] for i in self.items], dtype=np.int64)


@dataclass(frozen=True)
class Halves:
    """The two halves, and what the best loads are at given prices."""

    first: Half
    second: Half
    size: int

    def best(self, prices: Sequence[int], rooms: Sequence[int]) -> list[tuple[int, tuple[int, ...]]]:
        """For each room the highest worth of a load, and such a load."""
        import numpy as np

        gains, others = self.first.worth(prices), self.second.worth(prices)
        highest = np.maximum.accumulate(others)
        found = []
        for room in rooms:
            fits = int(np.searchsorted(self.first.weights, room, side="right"))
            place = np.searchsorted(self.second.weights, room - self.first.weights[:fits], side="right") - 1
            worth = gains[:fits] + highest[place]
            one = int(np.argmax(worth))
            two = int(np.flatnonzero(others[: place[one] + 1] == highest[place[one]])[0])
            found.append((int(worth[one]), self._load(one, two)))
        return found

    def within(self, prices: Sequence[int], room: int, least: int, need: int, most: int):
        """All loads between ``least`` and ``room`` worth ``need`` or more, as rows of counts; none if above ``most``."""
        import numpy as np

        gains, others = self.first.worth(prices), self.second.worth(prices)
        highest = np.maximum.accumulate(others)
        fits = int(np.searchsorted(self.first.weights, room, side="right"))
        top = np.searchsorted(self.second.weights, room - self.first.weights[:fits], side="right")
        wanted = need - gains[:fits]
        # The highest worth so far only rises, so the first load that could be worth enough is found by look-up too.
        low = np.maximum(
            np.searchsorted(highest, wanted, side="left"),
            np.searchsorted(self.second.weights, least - self.first.weights[:fits], side="left"),
        )
        spans = np.maximum(top - low, 0)
        if int(spans.sum()) > 50 * most:
            return None
        one = np.repeat(np.arange(fits), spans)
        two = np.arange(len(one)) - np.repeat(np.cumsum(spans) - spans, spans) + np.repeat(low, spans)
        fair = np.flatnonzero(others[two] >= wanted[one])
        if len(fair) > most:
            return None
        rows = np.zeros((len(fair), self.size), dtype=np.int64)
        rows[:, list(self.first.items)] = self.first.counts[one[fair]]
        rows[:, list(self.second.items)] = self.second.counts[two[fair]]
        return rows

    def _load(self, one: int, two: int) -> tuple[int, ...]:
        load = [0] * self.size
        for half, row in ((self.first, one), (self.second, two)):
            for i, count in zip(half.items, half.counts[row].tolist(), strict=True):
                load[i] = count
        return tuple(load)


def halves(weights: Sequence[int], most: Sequence[int], room: int, allowed: Sequence[bool]) -> Halves | None:
    """The halves for one set of allowed items, or none where they would be too long.

    >>> two = halves([454, 340], [9, 9], 1600, [True, True])
    >>> two.best([1000, 800], [1600, 700])
    [(3600, (2, 2)), (1600, (0, 2))]
    """
    # Dealing the items out by weight gives each half its share of the small ones, which make the loads many.
    order = sorted(
        (i for i, ok in enumerate(allowed) if ok and weights[i] <= room and most[i]), key=lambda i: weights[i]
    )
    parts: list[list[int]] = [[], []]
    lengths = [1.0, 1.0]
    for i in order:
        side = 0 if lengths[0] <= lengths[1] else 1
        parts[side].append(i)
        lengths[side] *= 1 + min(most[i], room // weights[i]) / len(parts[side])
    built = [_half(part, weights, most, room) for part in parts]
    return Halves(built[0], built[1], len(weights)) if built[0] and built[1] else None


def _half(items: list[int], weights: Sequence[int], most: Sequence[int], room: int) -> Half | None:
    import numpy as np

    counts, total = np.zeros((1, 0), dtype=np.int64), np.zeros(1, dtype=np.int64)
    for i in reversed(items):
        times = np.minimum((room - total) // weights[i], most[i]) + 1
        if int(times.sum()) > LONGEST_HALF:
            return None
        parent = np.repeat(np.arange(len(total)), times)
        taken = np.arange(len(parent)) - np.repeat(np.cumsum(times) - times, times)
        counts = np.concatenate([taken[:, None], counts[parent]], axis=1)
        total = total[parent] + taken * weights[i]
    order = np.argsort(total, kind="stable")
    return Half(tuple(items), counts[order], total[order])
