"""A bottling run: what was really filled from one bucket, and what became of the rest.

The plan says what could be filled; the run says what was. Its masses close: what was taken out of the bucket went
into jars, was broken, kept as a sample, lost where somebody can say so, or is missing (or found) without explanation,
and that last figure is shown in grams and per cent rather than hidden in one of the others.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from typing import ClassVar

from labelkit.errors import unless_said
from labelkit.errors.run import MostIsMissing, NothingFilled, RestHeavierThanBucket, RunTakesTooMuch
from labelkit.lots.bucket import Bucket
from labelkit.lots.event import Event
from labelkit.lots.movement import Account, Movement
from labelkit.measures import NOTHING, Declared, Mass, show_both, total

# More of what left the bucket missing than this is asked about: labelkit's own line, no source.
ABSURD_SHARE = Decimal("0.75")


@dataclass(frozen=True, slots=True)
class Filled:
    """So many jars of one size, each holding ``fill`` (the target, or the mean that was weighed)."""

    size: str
    declares: Declared
    count: int
    fill: Mass

    @property
    def mass(self) -> Mass:
        """What all of them hold."""
        return self.count * self.fill


@dataclass(frozen=True, slots=True)
class Run(Event):
    """One bucket bottled on one day: one lot code on every jar of it."""

    kind: ClassVar[str] = "run"
    title: ClassVar[str] = "bottled"
    voidable: ClassVar[bool] = True
    lot: str
    day: date
    bucket: str
    held: Mass  # what the bucket held by the record before the run
    jars: tuple[Filled, ...]
    broken: tuple[Filled, ...] = ()
    samples: tuple[Filled, ...] = ()
    left: Mass = NOTHING  # weighed back after the run, or reckoned where it was not
    lost: Mass = NOTHING  # a loss somebody can name
    left_was_weighed: bool = False
    because: str = ""  # said by a person where the balance was asked about; marks the run for good

    @property
    def accounted(self) -> Mass:
        """Jars, broken jars, samples and named losses together."""
        return total(f.mass for f in (*self.jars, *self.broken, *self.samples)) + self.lost

    @property
    def taken(self) -> Mass:
        """What left the bucket."""
        return self.held - self.left

    @property
    def unexplained(self) -> Mass:
        """What is missing without a name; negative where more was filled than the record says was there."""
        return self.taken - self.accounted

    @property
    def unexplained_percent(self) -> Decimal:
        """The unexplained difference in per cent of what was taken."""
        return Decimal(self.unexplained.mg) * 100 / self.taken.mg if self.taken else Decimal(0)

    def movements(self) -> tuple[Movement, ...]:
        """Out of the bucket, into jars, breakage, samples, named loss and the unexplained rest."""
        ends = [(Account.JARS, f) for f in self.jars]
        ends += [(Account.BROKEN, f) for f in self.broken]
        ends += [(Account.SAMPLE, f) for f in self.samples]
        rest = [
            Movement(account, self.lot, mass)
            for account, mass in ((Account.LOST, self.lost), (Account.UNEXPLAINED, self.unexplained))
            if mass
        ]
        return (
            Movement(Account.BUCKET, self.bucket, -self.taken),
            *(Movement(account, self.lot, f.mass, f.size, f.count) for account, f in ends if f.count),
            *rest,
        )


def bottle(
    bucket: Bucket,
    lot: str,
    day: date,
    jars: Iterable[Filled],
    *,
    broken: Iterable[Filled] = (),
    samples: Iterable[Filled] = (),
    left: Mass | None = None,
    lost: Mass = NOTHING,
    explained: Mass = NOTHING,
    because: str = "",
    locale: str,
) -> Run:
    """Close a run against what the bucket holds.

    Where ``left`` was weighed, the unexplained difference is what the scale says; where it was not, what is left is
    reckoned and nothing can be unexplained. ``explained`` is how much more may come out by the scale's step and the usual
    share; ``because`` lets through what is asked about; ``locale`` is how a refusal writes figures.

    Raises :class:`~labelkit.errors.run.NothingFilled`, :class:`~labelkit.errors.run.RestHeavierThanBucket`; and unless it
    is said why, :class:`~labelkit.errors.run.RunTakesTooMuch` and :class:`~labelkit.errors.run.MostIsMissing`.

    >>> from labelkit.lots.bucket import Bucket
    >>> pound = Filled("one pound", "1 lb", 59, Mass.read("1 lb", "en_US"))
    >>> run = bottle(Bucket("B1", Mass.read("60 lb", "en_US")), "L26195AXR", date(2026, 7, 14), [pound], left=Mass.read("400 g", "en_US"), locale="en_US")
    >>> run.unexplained.mg, round(run.unexplained_percent, 2)
    (53614, Decimal('0.20'))
    """
    filled = tuple(f for f in jars if f.count)
    spoiled, kept = tuple(broken), tuple(samples)
    if not filled and not spoiled and not kept:
        raise NothingFilled(bucket.id)
    accounted = total(f.mass for f in (*filled, *spoiled, *kept)) + lost
    remaining = max(bucket.holds - accounted, NOTHING) if left is None else left
    run = Run(
        lot,
        day,
        bucket.id,
        bucket.holds,
        filled,
        spoiled,
        kept,
        left=remaining,
        lost=lost,
        left_was_weighed=left is not None,
        because=because.strip(),
    )
    _check_order(run, explained, locale)
    return run


def _check_order(run: Run, explained: Mass, locale: str) -> None:
    """No honey from nowhere, and none gone unnoticed, unless a person says why."""

    def shown(mass: Mass) -> str:
        return show_both(mass, locale)

    if run.left > run.held:
        raise RestHeavierThanBucket(run.bucket, shown(run.held), shown(run.left))
    if run.accounted > run.held or -run.unexplained > explained:
        left = shown(run.left) if run.left_was_weighed else None
        more = shown(-run.unexplained)
        unless_said(run.because, RunTakesTooMuch(run.bucket, shown(run.held), shown(run.accounted), left, more))
    if run.unexplained > run.taken.times(ABSURD_SHARE):
        missing = MostIsMissing(run.bucket, shown(run.taken), shown(run.unexplained), shown(run.left))
        unless_said(run.because, missing)
