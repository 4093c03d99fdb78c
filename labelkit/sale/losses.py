"""What became of honey besides being sold: reckoned from real runs and days, never assumed."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal

from labelkit.lots.movement import Account, Movement
from labelkit.measures import NOTHING, Mass


@dataclass(frozen=True, slots=True)
class Losses:
    """Honey taken out of buckets for jars, and where it went."""

    taken: Mass = NOTHING
    lost: Mass = NOTHING  # strainer, tap, foam, and what nobody can explain
    broken: Mass = NOTHING
    samples: Mass = NOTHING
    given: Mass = NOTHING  # gifts, tastes, own use, helpers' share
    discarded: Mass = NOTHING

    @property
    def honey_share(self) -> Decimal:
        """How much of what was taken never reached a jar that could be sold."""
        return self._share(self.lost, self.broken, self.samples, self.discarded)

    @property
    def given_share(self) -> Decimal:
        """How much of what was taken was given away."""
        return self._share(self.given)

    def _share(self, *parts: Mass) -> Decimal:
        if not self.taken:
            return Decimal(0)
        return Decimal(sum(part.mg for part in parts)) / self.taken.mg


NO_LOSSES = Losses()


def real_losses(movements: Iterable[Movement]) -> Losses:
    """Losses and give-away of everything that was bottled, from the movements of a season.

    >>> out = [Movement(Account.BUCKET, "B1", Mass(-100)), Movement(Account.JARS, "L1", Mass(96), "pound", 2),
    ...        Movement(Account.LOST, "L1", Mass(3)), Movement(Account.UNEXPLAINED, "L1", Mass(1))]
    >>> real_losses(out).honey_share
    Decimal('0.04')
    """
    ends: Counter = Counter()
    for m in movements:
        if m.size or m.account in (Account.LOST, Account.UNEXPLAINED):
            ends[m.account] += m.mass.mg
    whole = sum(ends.values())
    return Losses(
        Mass(whole),
        lost=Mass(ends[Account.LOST] + ends[Account.UNEXPLAINED]),
        broken=Mass(ends[Account.BROKEN]),
        samples=Mass(ends[Account.SAMPLE]),
        given=Mass(ends[Account.GIVEN]),
        discarded=Mass(ends[Account.DISCARDED]),
    )
