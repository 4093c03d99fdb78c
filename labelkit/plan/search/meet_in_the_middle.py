"""Every load of a box, in two halves: all loads of some items, and all loads of the others.

The best load at given prices is then one sorted look-up for each load of the first half instead of a table with a line
for every milligram, and it is exact. Only where jars are many and small do the halves grow too long.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

LONGEST_HALF = 400_000
FIRST_TRIED = 16  # loads of the first half, at first and then ever more
MOST_TRIED = 2_000_000  # pairs looked up at once, over all rooms


@dataclass(frozen=True)
class Half:
    """All loads of a few items, lightest first: counts by row and their weights."""

    items: tuple[int, ...]
    counts: object
    weights: object
    each: tuple[tuple[int, int], ...]  # the items and what one of each weighs

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

    @property
    def rows(self) -> int:
        """How many loads are known in both halves."""
        return len(self.first.weights) + len(self.second.weights)

    def best(self, prices: Sequence[int], rooms: Sequence[int]) -> list[tuple[int, tuple[int, ...]]]:
        """For each room the highest worth of a load, and such a load."""
        worths, loads = self.best_loads(prices, rooms)
        return [(worth, tuple(load)) for worth, load in zip(worths.tolist(), loads.tolist(), strict=True)]

    def best_loads(self, prices: Sequence[int], rooms: Sequence[int]):
        """The same for many rooms at once: an array of worths, and one of counts with a row for each room.

        Measured against room paid for at its best price, a load of the first half loses something whatever stands
        beside it. The loads that lose least are tried first, and a room is done with when the next one loses more by
        itself than the best whole load found for that room.
        """
        import numpy as np

        rooms = np.asarray(rooms, dtype=np.int64)
        gains, others = self.first.worth(prices), self.second.worth(prices)
        highest = np.maximum.accumulate(others)
        rate, scale = self._rate(prices, int(rooms.max(initial=0)))
        lost = rate * self.first.weights - scale * gains
        order = np.argsort(lost, kind="stable")
        lost = lost[order]
        best, one = np.full(len(rooms), np.iinfo(np.int64).min), np.zeros(len(rooms), dtype=np.int64)
        open_, at, many = np.arange(len(rooms)), 0, FIRST_TRIED
        while at < len(order) and len(open_):
            tried = order[at : at + many]
            rest = rooms[open_][:, None] - self.first.weights[tried][None, :]
            place = np.searchsorted(self.second.weights, rest, side="right") - 1
            worth = np.where(rest >= 0, gains[tried][None, :] + highest[place], np.iinfo(np.int64).min)
            choice = np.argmax(worth, axis=1)
            reached = worth[np.arange(len(open_)), choice]
            better = reached > best[open_]
            best[open_[better]], one[open_[better]] = reached[better], tried[choice[better]]
            at += len(tried)
            many = min(2 * many, max(FIRST_TRIED, MOST_TRIED // len(open_)))
            if at < len(order):
                open_ = open_[(best[open_] < 0) | (rate * rooms[open_] - scale * best[open_] > lost[at])]
        last = np.searchsorted(self.second.weights, rooms - self.first.weights[one], side="right") - 1
        two = np.searchsorted(highest, highest[last], side="left")
        loads = np.zeros((len(rooms), self.size), dtype=np.int64)
        loads[:, list(self.first.items)] = self.first.counts[one]
        loads[:, list(self.second.items)] = self.second.counts[two]
        return best, loads

    def _rate(self, prices: Sequence[int], room: int) -> tuple[int, int]:
        """The best price of a milligram, taken up, in whole parts of which so many make one: as fine as 64 bits hold."""
        pairs = [(prices[i], weight) for half in (self.first, self.second) for i, weight in half.each]
        top = max((price // weight + 1 for price, weight in pairs), default=1)
        scale = max(1, min(1 << 20, (1 << 61) // ((room + 1) * max(1, top))))
        return max([0, *(-(-price * scale // weight) for price, weight in pairs)]), scale

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
    return Half(tuple(items), counts[order], total[order], tuple((i, weights[i]) for i in items))
