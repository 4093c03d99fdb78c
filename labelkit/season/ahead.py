"""What the coming days ask for: all that is due today, each with its day, and what is known to be due later."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from typing import TYPE_CHECKING, Any

from labelkit.errors.sentence import Sentence
from labelkit.lots.movement import Account
from labelkit.measures import years_after
from labelkit.paper.calendar import Appointment, calendar_file
from labelkit.season.due import CAPPINGS_FROM, DUE, GOOD, Due, due_today, rules_due, runs_out
from labelkit.season.kept_papers import WARNED, papers_of
from labelkit.season.known_jars import known_of
from labelkit.season.settings import SeasonSettings, settings_of
from labelkit.season.stall import loads
from labelkit.season.stock import settled_on
from labelkit.season.unmet import best_before

if TYPE_CHECKING:
    from labelkit.record.reading import Reading

YEARS_AHEAD = 1
MONTHS = 12


@dataclass(frozen=True, slots=True)
class Dated:
    """Something to do on a day; ``key`` names what it is about and stays the same from day to day."""

    key: str
    day: date
    due: Due


@dataclass(frozen=True, slots=True)
class Ahead:
    """The coming days of a record; ``whose`` is the record's own and never changes."""

    entries: tuple[Dated, ...]
    whose: str
    sequence: int  # rises with every event and every day


def ahead(state: Reading, day: date, locale: str) -> Ahead:
    """What is due today and what is known to be due later, in the order of the days, each thing once, on its first day."""
    found: dict[str, Dated] = {}
    for on, due in (*_due(state, day, locale), *_later(state, day)):
        key = f"{due.verb}|{due.about}|{getattr(due.what, 'text', '')}"
        found.setdefault(key, Dated(key, due.on or on, due))
    first = state.event(1)
    return Ahead(
        tuple(sorted(found.values(), key=lambda one: one.day)),
        first.hash if first else "",
        state.head().seq + day.toordinal(),
    )


def calendar_of(coming: Ahead, made: datetime, say: Callable[[str], str] = str) -> bytes:
    """The coming days as a calendar file; ``say`` words each text in the reader's language."""
    entries = (Appointment(one.key, one.day, say(one.due.what), say(one.due.why)) for one in coming.entries)
    return calendar_file(entries, coming.whose, made, coming.sequence)


def _due(state: Reading, day: date, locale: str) -> Iterator[tuple[date, Due]]:
    """What ``today`` says, today and on the days that are known to bring more."""
    weighed = (each.day for each in state.latest(("weigh",), since=day - CAPPINGS_FROM) if each.stands)
    markets = (load.day for load in loads(state) if load.day >= day)
    more = {each + CAPPINGS_FROM for each in weighed} | {each + timedelta(days=1) for each in markets}
    for on in sorted({day, *(each for each in more if each > day)}):
        yield from ((on, due) for due in due_today(state, on, locale))


def _later(state: Reading, day: date) -> Iterator[tuple[date, Due]]:
    season = settings_of(state)
    yield from _settled(state, day)
    yield from _best_before(state, day)
    yield from _law(season, day)
    yield from _papers(state, day)


def _settled(state: Any, day: date) -> Iterable[tuple[date, Due]]:
    for bucket in state.buckets(full=True):
        on = settled_on(bucket)
        if on and on > day:
            what = Sentence("Bucket {name} has settled: skim it, then it can be bottled.", name=bucket.id)
            why = Sentence("Foam and wax rise for a day or two: common practice, no source.")
            yield on, Due(GOOD, "bottle", bucket.id, what, why)


def _best_before(state: Any, day: date) -> Iterable[tuple[date, Due]]:
    stock = [jars for jars in state.stock(Account.JARS, Account.HELD) if jars.count]
    known = known_of(state, {jars.lot for jars in stock})
    for jars in stock:
        on = best_before(known, jars.lot, jars.size)
        if on and on >= day:
            what = Sentence.plural(
                "Best before today: {n} jar of lot {lot}, {size}.",
                "Best before today: {n} jars of lot {lot}, {size}.",
                jars.count,
                lot=jars.lot,
                size=jars.size,
            )
            why = Sentence("From tomorrow labelkit asks before they are sold. Check your local rules.")
            yield on, Due(DUE, "labels", f"{jars.lot}={jars.size}", what, why)


def _papers(state: Reading, day: date) -> Iterable[tuple[date, Due]]:
    """Papers on their last day, and on the day they are first asked for."""
    for each in papers_of(state.settings()):
        if each.until and each.until > day:
            yield each.until, runs_out(each, day)
            if each.until - WARNED > day:
                yield each.until - WARNED, runs_out(each, day, renew=True)


def _law(season: SeasonSettings, day: date) -> Iterable[tuple[date, Due]]:
    """Rules that begin or end within a year, and the months in which rules are to be read again."""
    from labelkit.rules import market, upkeep

    for name in season.markets:
        changes = upkeep.Between(market(name, day), day + timedelta(days=1), years_after(day, YEARS_AHEAD)).changes
        for change in changes:
            what = Sentence("A rule changes for {name}: {rule}.", name=name, rule=change.law.label)
            why = Sentence("Read what applies from this day on, and check your local rules.")
            yield change.day, Due(GOOD, "rules", f"{name} {change.law.label} {change.day}", what, why)
    for month in range(1, MONTHS + 1):
        years, at = divmod(day.month - 1 + month, 12)
        on = date(day.year + years, at + 1, 1)
        yield from ((on, due) for due in rules_due(season, on))
