"""What the record says of the jars of some lots: made, labelled, weighed, released, relabelled from what; read once."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from labelkit.season.settings import SeasonSettings, settings_of

if TYPE_CHECKING:
    from labelkit.record.reading import Reading
    from labelkit.trace.booked import Booked

# A label that goes round the jar is one too; backs, lids and seals are not what a buyer reads first.
FRONTS = ("front", "wrap")
# The kinds of event that say whether jars may go out.
_SPEAKS = ("run", "print", "check-weigh", "relabel", "release")

Jars = tuple[str, str]  # lot, size


@dataclass(frozen=True, slots=True)
class Labelled:
    """Jars of one lot and size that were made, and that got a label."""

    made: int = 0
    labels: int = 0


@dataclass(frozen=True)
class KnownJars:
    """What the record says of some lots, read once; a lot relabelled from another carries its check weights on."""

    season: SeasonSettings
    holds: Mapping[str, tuple[str, str]]
    runs: Mapping[str, Any]
    made: Mapping[Jars, int]
    prints: Mapping[Jars, list[Booked]]
    checks: Mapping[Jars, list[Booked]]
    released: Mapping[str, int]
    stock: Mapping[Jars, int]
    came_from: Mapping[Jars, Jars]

    def filled_on(self, lot: str) -> str:
        """The day of a lot's run, for sorting; nothing where it has none of its own."""
        return self.runs[lot].day.isoformat() if lot in self.runs else ""

    def labelled(self, lot: str, size: str) -> Labelled:
        """Jars made and labels printed for them, spoiled ones not counted."""
        fronts = (each.event for each in self.prints.get((lot, size), ()) if each.event.label in FRONTS)
        return Labelled(self.made.get((lot, size), 0), sum(one.count - one.spoiled for one in fronts))

    def bare(self, lot: str, size: str) -> int:
        """Jars at hand that have no label yet."""
        at = self.labelled(lot, size)
        return max(0, min(at.made - at.labels, self.stock.get((lot, size), 0)))

    def first(self, lot: str, size: str) -> Jars:
        """The lot and size these jars were filled as."""
        seen, at = set[Jars](), (lot, size)
        while at in self.came_from and at not in seen:
            seen.add(at)
            at = self.came_from[at]
        return at


def known_of(state: Reading, lots: Iterable[str]) -> KnownJars:
    """Read what is asked of these lots."""
    wanted = set(lots)
    events = _story(state, wanted)
    made, stock = Counter[Jars](), Counter[Jars]()
    prints, checks = defaultdict[Jars, list[Any]](list), defaultdict[Jars, list[Any]](list)
    runs: dict[str, Any] = {}
    released: dict[str, int] = {}
    came_from: dict[Jars, Jars] = {}
    for each in events:
        event = each.event
        if each.kind == "run":
            runs[event.lot] = event
            made.update({(event.lot, jar.size): jar.count for jar in event.jars})
        elif each.kind == "print":
            prints[event.lot, event.size].append(each)
        elif each.kind == "check-weigh":
            checks[event.lot, event.size].append(each)
        elif each.kind == "release":
            released.update(dict.fromkeys(event.lots, each.seq))
        else:
            for line in event.lines:
                size = event.size or line.size
                made[event.into, size] += line.count
                came_from[event.into, size] = (line.lot, line.size)
    for jars in state.stock(lots=wanted):
        stock[jars.lot, jars.size] += jars.count
    return KnownJars(settings_of(state), state.holds(), runs, made, prints, checks, released, stock, came_from)


def _story(state: Reading, lots: set[str]) -> list[Booked]:
    """What speaks of these lots, and of those they were relabelled from, in order."""
    found: dict[int, Booked] = {}
    asked, more = set[str](), set(lots)
    while more:
        about = [each for each in state.events_about(more, _SPEAKS) if each.stands]
        found |= {each.seq: each for each in about}
        asked |= more
        more = {line.lot for each in about if each.kind == "relabel" for line in each.event.lines} - asked
    return [found[seq] for seq in sorted(found)]
