"""What keeps the packs true: how much was read, what is to be read again, what depends on one act, what changed.

Depends on the catalogue alone. Nothing here decides what a label must show.
"""

from __future__ import annotations

from calendar import monthrange
from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from datetime import date
from functools import cached_property

from labelkit.measures import years_after
from labelkit.rules import shelf
from labelkit.rules.blocks import Law, Wording
from labelkit.rules.catalogue import own
from labelkit.rules.market import Market, market
from labelkit.rules.sources import READ_IN

YEARS_FRESH = 1  # a text is read again after this long where its citation names no day; house rule


@dataclass(frozen=True, slots=True)
class Totals:
    """How the rules and values of one pack, or of all, are known; wording rules are not counted."""

    code: str
    seen: int
    second_hand: int
    memory: int
    no_clause: int
    no_url: int
    quoted: int
    read_in: dict[str, int]  # the values marked seen, by the kind of text they were read in

    @property
    def values(self) -> int:
        """All that were counted."""
        return self.seen + self.second_hand + self.memory


def totals(day: date) -> tuple[Totals, tuple[Totals, ...]]:
    """The totals of all packs together, and of each."""
    packs = {
        head.id: [law for law in own(market(head.id, day)) if not isinstance(law, Wording)] for head in shelf.markets()
    }
    every = [law for laws in packs.values() for law in laws]
    return _totals("all", every), tuple(_totals(code, laws) for code, laws in packs.items())


def _totals(code: str, laws: list[Law]) -> Totals:
    sure = Counter(law.sure for law in laws)
    kinds = Counter(law.cite.read_in for law in laws if law.sure == "seen")
    return Totals(
        code=code,
        seen=sure["seen"],
        second_hand=sure["second-hand"],
        memory=sure["memory"],
        no_clause=sum(not law.cite.clause for law in laws),
        no_url=sum(not law.cite.url for law in laws),
        quoted=sum(bool(law.cite.quote) for law in laws),
        read_in={kind: kinds[kind] for kind in READ_IN} | {"not recorded": kinds[""]},
    )


def read_again_by(law: Law) -> date | None:
    """The day by which a text is to be read again; ``None`` for one nobody has read."""
    if law.cite.recheck_by:
        return law.cite.recheck_by
    return years_after(law.cite.read_on, YEARS_FRESH) if law.cite.read_on else None


def due(here: Market) -> tuple[Law, ...]:
    """The blocks of the market's own pack to be read again by the end of this month, the most overdue first.

    A block whose watched bill is expected to hold by then is due as well.
    """
    last = here.day.replace(day=monthrange(here.day.year, here.day.month)[1])
    dated = [(_due_day(law), law) for law in own(here)]
    found = [(day, law) for day, law in dated if day and day <= last]
    return tuple(law for _, law in sorted(found, key=lambda pair: pair[0]))


def _due_day(law: Law) -> date | None:
    days = [read_again_by(law), *(bill.expected for bill in law.watch)]
    return min((day for day in days if day), default=None)


def of_act(places: Iterable[Market], name: str) -> tuple[Law, ...]:
    """The blocks that cite an act: its id as it is, or words of its title."""
    laws = [law for here in places for law in own(here)]
    exact = [law for law in laws if law.cite.source and law.cite.source.id == name.casefold()]
    words = name.casefold().split()
    return tuple(exact or [law for law in laws if all(word in law.cite.title.casefold() for word in words)])


@dataclass(frozen=True, slots=True)
class Change:
    """One rule or value that began, ended or was replaced on a day."""

    day: date
    law: Law  # the new block, or the one that ended
    before: Law | None
    after: Law | None


@dataclass(frozen=True)
class Between:
    """What changed in a market from one day to another, both included, its parents included."""

    here: Market
    first: date
    last: date

    @cached_property
    def changes(self) -> tuple[Change, ...]:
        """The changes, in the order of their days.

        A block whose first day is only the oldest we can vouch for did not change on that day, and is left out.
        """
        found = [*self._began(), *self._ended()]
        return tuple(sorted(found, key=lambda change: (change.day, change.law.pack, change.law.label)))

    @cached_property
    def _laws(self) -> tuple[Law, ...]:
        return tuple(law for pack in self.here.packs for law in own(replace(self.here, code=pack)) if self._spoken(law))

    def _spoken(self, law: Law) -> bool:
        """Whether a wording rule is in a language of the place; anything else is."""
        speaks = self.here.speaks
        return speaks is None or not isinstance(law, Wording) or law.language in speaks

    def _within(self, day: date) -> bool:
        return self.first <= day <= self.last

    def _began(self) -> Iterator[Change]:
        for law in self._laws:
            if self._within(law.since) and law.since_is != "at least":
                yield Change(law.since, law, self._twin(law), law)

    def _ended(self) -> Iterator[Change]:
        replaced = {id(change.before) for change in self._began()}
        for law in self._laws:
            if law.until and self._within(law.until) and id(law) not in replaced:
                yield Change(law.until, law, law, None)

    def _twin(self, new: Law) -> Law | None:
        """The block a new one replaces: same pack and name, ended on the day it began, under the nearest conditions."""
        old = [law for law in self._laws if law.pack == new.pack and law.until == new.since and law.label == new.label]
        same = [law for law in old if str(law.when) == str(new.when)]
        return next(iter(same or old), None)
