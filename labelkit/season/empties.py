"""Empty jars and lids as they are kept: bought, counted, broken, and used up by runs."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass
from typing import TYPE_CHECKING

from labelkit.run.empties import Empties

if TYPE_CHECKING:
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


def empties(state: Reading) -> tuple[EmptyJars, ...]:
    """What there is of every size whose empties were ever kept, by size; runs use them up from then on."""
    if not state.counted(Empties.kind):
        return ()
    jars, lids = Counter[str](), Counter[str]()
    for booked in state.events((Empties.kind, "run")):
        if not booked.stands:
            continue
        if booked.kind == Empties.kind:
            jars[booked.event.size] += booked.event.jars
            lids[booked.event.size] += booked.event.lids
            continue
        for filled in (*booked.event.jars, *booked.event.broken, *booked.event.samples):
            if filled.size in jars:  # from the first booking of its empties on
                jars[filled.size] -= filled.count
                lids[filled.size] -= filled.count
    return tuple(EmptyJars(size, jars[size], lids[size]) for size in sorted(jars))
