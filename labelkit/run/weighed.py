"""Check weights kept: what some jars of a lot weighed on filling day, so that the next filling can learn from it."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from typing import ClassVar

from labelkit.errors.filling import WeightsKeptAlready
from labelkit.lots.event import Event
from labelkit.measures import Declared, Mass
from labelkit.measures.division import Division
from labelkit.run.check_weighing.margin import PastRun
from labelkit.run.check_weighing.sample import Sample


@dataclass(frozen=True, slots=True)
class CheckWeighed(Event):
    """Some jars of one size of a lot, as the scale showed them; with ``tare`` those are gross weights.

    ``aimed`` is the net weight the jars were filled to, where somebody wrote it down. ``anew`` says that the lot was
    topped up or sorted before: what was weighed earlier no longer speaks of these jars. ``market`` and ``system`` say by
    which test the lot was judged, where that was not the season's own.
    """

    kind: ClassVar[str] = "check-weigh"
    title: ClassVar[str] = "jars weighed"
    day: date
    lot: str
    size: str
    declares: Declared
    shown: tuple[Mass, ...]
    tare: Mass | None = None
    division: Mass | None = None
    aimed: Mass | None = None
    anew: bool = False
    market: str = ""
    system: str = ""
    scale: Division | None = None  # the step of the scale in its own unit; earlier weights have it as ``division``

    @property
    def counts_in(self) -> Division | None:
        """The step of the scale, where it was said."""
        return self.scale or (Division.of(self.division) if self.division else None)

    @property
    def nets(self) -> tuple[Mass, ...]:
        """Net weights in the order they were weighed."""
        return self.shown if self.tare is None else tuple(mass - self.tare for mass in self.shown)

    def describe(self, locale: str) -> str:
        """Return the event in a few words, for lists."""
        return f"{self.lot} {len(self.shown)} × {self.size} weighed"


@dataclass(frozen=True, slots=True)
class Weighed:
    """All check weights of one size of one lot together: net, in the order they were weighed.

    ``jars`` are the jars as they stand; ``filled`` as they were filled, where they were topped up or sorted since.
    """

    lot: str
    size: str
    declares: Declared
    jars: Sample
    aimed: Mass | None
    filled: Sample | None = None

    @property
    def as_past_run(self) -> PastRun:
        """What a next filling can learn from it (grams): how the jars were filled, and not what topping up made of them."""
        filled = self.filled or self.jars
        above = None if self.aimed is None else filled.mean - self.aimed.g
        return PastRun(above, filled.stdev, len(filled))

    def above(self, label: Decimal) -> Decimal:
        """How many grams a jar holds above the label on average; negative below it."""
        return self.jars.mean - label


def together(checks: Iterable[CheckWeighed]) -> dict[tuple[str, str], Weighed]:
    """Check weights by lot and size, several weighings of one joined; the last aim that was written down holds.

    >>> first = CheckWeighed(date(2026, 7, 14), "L1", "pound", "1 lb", (Mass.of_grams(455), Mass.of_grams(457)))
    >>> more = CheckWeighed(date(2026, 7, 14), "L1", "pound", "1 lb", (Mass.of_grams(667),), tare=Mass.of_grams(212))
    >>> found = together([first, more])["L1", "pound"]
    >>> len(found.jars), found.jars.mean, found.above(Decimal("453.6"))
    (3, Decimal('455.6666666666666666666666667'), Decimal('2.0666666666666666666666667'))
    """
    found: dict[tuple[str, str], Weighed] = {}
    for check in checks:
        key = (check.lot, check.size)
        before = found.get(key)
        anew = check.anew and before is not None
        weights = (*(before.jars.weights if before and not anew else ()), *check.nets)
        aimed = check.aimed or (before.aimed if before else None)
        filled = (before.filled or (before.jars if anew else None)) if before else None
        found[key] = Weighed(check.lot, check.size, check.declares, Sample(weights), aimed, filled)
    return found


def as_they_stand(checks: Sequence[CheckWeighed]) -> list[CheckWeighed]:
    """The check weights of one lot and size that still speak of its jars: those since it was last weighed anew.

    >>> day = date(2026, 7, 14)
    >>> first = CheckWeighed(day, "L1", "pound", "1 lb", (Mass.of_grams(440),))
    >>> again = CheckWeighed(day, "L1", "pound", "1 lb", (Mass.of_grams(455),), anew=True)
    >>> as_they_stand([first, again]) == [again]
    True
    """
    begun = max((place for place, check in enumerate(checks) if check.anew), default=0)
    return list(checks[begun:])


def refuse_twice(check: CheckWeighed, kept: Iterable[CheckWeighed]) -> None:
    """The very same list for the same jars a second time is a slip, not a second weighing.

    Raises :class:`~labelkit.errors.filling.WeightsKeptAlready`. One or two jars may well weigh the same again.
    """
    for other in kept:
        if (other.lot, other.size, other.shown) == (check.lot, check.size, check.shown) and len(check.shown) > 2:
            raise WeightsKeptAlready(len(check.shown), check.size, check.lot, other.day.isoformat())
