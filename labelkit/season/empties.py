"""Empty jars and lids as they are kept: bought, counted, broken, and used up by runs."""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING

from labelkit.run.empties import Empties
from labelkit.season.settings import SeasonSettings, settings_of

if TYPE_CHECKING:
    from labelkit.plan.request import JarSize, PlanBucket
    from labelkit.record.reading import Reading


@dataclass(frozen=True, slots=True)
class EmptyJars:
    """Empty jars and lids of one size; below nothing where more were filled than were ever booked as bought."""

    size: str
    jars: int
    lids: int

    @property
    def to_fill(self) -> int:
        """How many jars can be filled and closed."""
        return max(0, min(self.jars, self.lids))


def kept_as(season: SeasonSettings, size: str, kept: Collection[str]) -> str:
    """Under which name the empty jars of a size are kept: its own, or that of the jar several products share."""
    return size if size in kept or size not in season.prices else season.jar_of(size)


def share_out(
    season: SeasonSettings, sizes: Iterable[JarSize], buckets: Iterable[PlanBucket], kept: Mapping[str, int]
) -> dict[str, int]:
    """How many of the empties that are kept each size may take.

    Of one jar the size that brings most gets as many as its honey could fill, and the next what is left: labelkit's own
    rule, no source.
    """
    left, found, honey = dict(kept), dict[str, int](), tuple(buckets)
    for size in sorted(sizes, key=lambda one: one.cost.minor - one.price.minor):
        name = kept_as(season, size.id, kept)
        if name in left:
            could = sum(bucket.usable // size.fill for bucket in honey if size.only_from <= bucket.tags)
            found[size.id] = left[name] if name == size.id and not _shared(season, name) else min(left[name], could)
            left[name] -= found[size.id]
    return found


def _shared(season: SeasonSettings, jar: str) -> bool:
    return any(price.jar == jar for price in season.prices.values())


def empties(state: Reading) -> tuple[EmptyJars, ...]:
    """What there is of every size whose empties were ever kept, by size; runs use them up from then on."""
    if not state.counted(Empties.kind):
        return ()
    jars, lids, season = Counter[str](), Counter[str](), settings_of(state)
    for booked in state.events((Empties.kind, "run")):
        if not booked.stands:
            continue
        if booked.kind == Empties.kind:
            jars[booked.event.size] += booked.event.jars
            lids[booked.event.size] += booked.event.lids
            continue
        for filled in (*booked.event.jars, *booked.event.broken, *booked.event.samples):
            size = kept_as(season, filled.size, jars)
            if size in jars:  # from the first booking of its empties on
                jars[size] -= filled.count
                lids[size] -= filled.count
    return tuple(EmptyJars(size, jars[size], lids[size]) for size in sorted(jars))
