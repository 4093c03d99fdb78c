"""Recall: how far it reaches, the hold, whom to call, what they answered, and every jar to the last one."""

from __future__ import annotations

import difflib
import random
import time
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING, Any

from labelkit.errors.sale import ReasonMissing
from labelkit.errors.trace import (
    CustomerHadNone,
    MoreThanTheyHad,
    NothingToRecall,
    OpenedStayApart,
    RecallNotNamed,
    RecallTwice,
    RecallUnknown,
)
from labelkit.measures.wording import language_of
from labelkit.paper.mail import Mail
from labelkit.season.apart import opened
from labelkit.season.letters import letter_to
from labelkit.season.trace import story_of, trace_of
from labelkit.trace.follow import Trace
from labelkit.trace.hold import Hold, Release
from labelkit.trace.notices import Notice, notices
from labelkit.trace.papers import notice_paper
from labelkit.trace.recall import (
    Cause,
    Closing,
    JarCount,
    Scope,
    SoldDirect,
    ToTell,
    cause_of,
    closing,
    count_of,
    hold_for,
    release_for,
    scope,
    sold_direct,
    to_tell,
)
from labelkit.trace.recall_events import Drill, Recall, Told

if TYPE_CHECKING:
    from labelkit.record.reading import Reading
    from labelkit.record.work import Work


@dataclass(frozen=True, slots=True)
class Reach:
    """How far a recall would reach, and who has the jars."""

    scope: Scope
    trace: Trace
    held: Mapping[str, Any]  # what is on hold already, by lot or bucket
    settings: Mapping[str, Any]

    @property
    def jars_made(self) -> int:
        """All jars of the lots it reaches."""
        return sum(self.trace.balance(lot).jars_under_code for lot in self.scope.lots)

    def customers(self, lots: Sequence[str] | None = None) -> tuple[ToTell, ...]:
        """Whom to call, of all it reaches or of these lots."""
        return to_tell(self.trace, self.scope.lots if lots is None else lots, self.settings)

    def direct(self, lots: Sequence[str] | None = None) -> tuple[SoldDirect, ...]:
        """Where jars went to people nobody wrote down."""
        return sold_direct(self.trace, self.scope.lots if lots is None else lots)


@dataclass(frozen=True, slots=True)
class CallingBack:
    """A recall as somebody begins it; without a name it is called after its day."""

    lots: tuple[str, ...]
    cause: str
    why: str
    name: str = ""
    only: bool = False  # only the lots named, not those the cause also reaches
    ordered_by: str = ""
    buckets: tuple[str, ...] = ()  # with ``only``: buckets to hold with them


@dataclass(frozen=True, slots=True)
class Running:
    """A recall that was begun: its lots, their trace, who has jars of them, and where it stands."""

    recall: Recall
    trace: Trace
    customers: tuple[ToTell, ...]
    direct: tuple[SoldDirect, ...]
    now: Closing
    told: Mapping[str, list[Any]]  # what was noted of each customer, in order
    held: Mapping[str, Any]
    settings: Mapping[str, Any]

    @property
    def cause(self) -> Cause:
        """Why."""
        return cause_of(self.recall.cause)

    @property
    def next_to_call(self) -> ToTell | None:
        """Whoever has most jars and was not told yet."""
        return next((each for each in self.customers if each.customer in self.now.not_told), None)

    @property
    def silent(self) -> tuple[str, ...]:
        """Who was told and has not answered."""
        return tuple(each for each in self.now.told if each not in self.now.answered)


@dataclass(frozen=True, slots=True)
class Begun:
    """A recall just begun, and the buckets of the same honey that went on hold with it."""

    running: Running
    event: int
    buckets: tuple[str, ...]
    to_ask: str


@dataclass(frozen=True, slots=True)
class HeldLots:
    """A hold or a release as it was booked."""

    event: int
    lots: tuple[str, ...]
    jars: int


@dataclass(frozen=True, slots=True)
class Answered:
    """A customer who was told, and what they answered, as it was booked."""

    event: int
    told: Told


@dataclass(frozen=True, slots=True)
class Drilled:
    """A practised recall: where the jars of a lot are, as it was booked, and who would be called."""

    event: int
    who: str
    drill: Drill
    count: JarCount
    customers: tuple[ToTell, ...]
    direct: tuple[SoldDirect, ...]


def look(state: Reading, lots: Sequence[str], cause: str) -> Reach:
    """How far a recall would reach. Raises :class:`~labelkit.errors.trace.NothingToRecall`."""
    trace = trace_of(state, lots)
    reached = scope(trace, cause_of(cause), state.events(("print",)))
    if not reached.lots:
        raise NothingToRecall(" and ".join(lots))
    return Reach(reached, trace_of(state, reached.lots), state.holds(), state.settings())


def begin(work: Work, asked: CallingBack, day: date) -> Begun:
    """Call lots back and put what is left of them on hold, with the honey they came from.

    Raises :class:`~labelkit.errors.trace.RecallTwice` and what :func:`look` refuses.
    """
    _must_say("called back", asked.why)
    name = asked.name or f"R{day:%Y-%m-%d}"
    reach = look(work, asked.lots, asked.cause)
    lots = [lot for lot, how in reach.scope.taken_in.items() if how == "named" or not asked.only]
    recall = Recall(day, name, reach.scope.cause.id, asked.why, tuple(lots), asked.ordered_by)
    if work.booked_before:
        first, second = work.booked_before[:2]
        return Begun(_running(work, first.event), first.seq, _besides(second.event, first.event), reach.scope.to_ask)
    for begun in story_of(work, "recall"):
        if begun.event.name == name:
            raise RecallTwice(name, begun.day.isoformat())
    booked = work.add(recall)
    # More jars of the same honey would have to be called back too.
    held = (*lots, *(asked.buckets if asked.only else reach.scope.buckets))
    hold = hold_for(day, asked.why, trace_of(work, lots), held)
    work.add(hold)
    return Begun(_running(work, recall), booked.seq, _besides(hold, recall), reach.scope.to_ask)


def _besides(hold: Hold, recall: Recall) -> tuple[str, ...]:
    return tuple(lot for lot in hold.lots if lot not in recall.lots)


def hold(work: Work, lots: Sequence[str], because: str, day: date) -> HeldLots:
    """Put lots on hold: none of their jars or honey goes anywhere until they are released."""
    _must_say("held", because)
    if work.booked_before:
        booked = next(each for each in work.booked_before if isinstance(each.event, Hold))
    else:
        trace = trace_of(work, lots)
        booked = work.add(hold_for(day, because, trace, trace.start.lots))
    jars = sum(line.count for line in (*booked.event.jars, *booked.event.at_stall))
    return HeldLots(booked.seq, booked.event.lots, jars)


def release(work: Work, lots: Sequence[str], because: str, day: date) -> HeldLots:
    """Release lots from hold; their jars are in stock again, but for those that came back opened.

    Raises :class:`~labelkit.errors.trace.OpenedStayApart` where nothing else is there to release.
    """
    _must_say("released", because)
    if work.booked_before:
        booked = next(each for each in work.booked_before if isinstance(each.event, Release))
    else:
        trace = trace_of(work, lots)
        stay = {(lot, size): count for lot in trace.start.lots for size, count in opened(work, lot).items()}
        freed = release_for(day, because, trace, trace.start.lots, stay)
        held = work.holds()
        if stay and not freed.jars and not any(lot in held for lot in freed.lots):
            (lot, size), count = next(iter(stay.items()))
            raise OpenedStayApart(lot, size, count)
        booked = work.add(freed)
    return HeldLots(booked.seq, booked.event.lots, sum(line.count for line in booked.event.jars))


def _must_say(way: str, because: str) -> None:
    if not because.strip():
        raise ReasonMissing(way)


def running(state: Reading, name: str = "") -> Running:
    """Where a recall stands; without a name the only one there is, or the only one whose customers have not all answered.

    Raises :class:`~labelkit.errors.trace.RecallUnknown` and :class:`~labelkit.errors.trace.RecallNotNamed`.
    """
    begun: dict[str, Recall] = {each.event.name: each.event for each in story_of(state, "recall")}
    if name in begun:
        return _running(state, begun[name])
    if name or not begun:
        raise RecallUnknown(name, ", ".join(begun))
    every = [_running(state, recall) for recall in begun.values()]
    going_on = [one for one in every if one.next_to_call or one.silent] if len(every) > 1 else every
    if len(going_on) != 1:
        raise RecallNotNamed(", ".join(one.recall.name for one in going_on or every))
    return going_on[0]


def _running(state: Reading, recall: Recall) -> Running:
    trace, settings = trace_of(state, recall.lots), state.settings()
    story = story_of(state, "tell")
    told: dict[str, list[Any]] = {}
    for each in story:
        if each.event.recall == recall.name:
            told.setdefault(each.event.customer, []).append(each)
    return Running(
        recall,
        trace,
        to_tell(trace, recall.lots, settings),
        sold_direct(trace, recall.lots),
        closing(trace, recall, story),
        told,
        state.holds(),
        settings,
    )


def tell(
    work: Work, name: str, customer: str, day: date, *, how: str = "phone", has: int | None = None, note: str = ""
) -> Answered:
    """Note who was told, and what they answered: the jars they still hold, or nothing yet.

    Raises :class:`~labelkit.errors.trace.CustomerHadNone` with the near name, and
    :class:`~labelkit.errors.trace.MoreThanTheyHad`.
    """
    one = running(work, name)
    if work.booked_before:
        first = work.booked_before[0]
        return Answered(first.seq, first.event)
    theirs = {each.customer: each for each in one.customers}
    if customer not in theirs:
        near = difflib.get_close_matches(customer, theirs, n=1, cutoff=0.5)
        raise CustomerHadNone(customer, one.recall.name, near[0] if near else "", ", ".join(theirs) or "nobody")
    if has is not None and has > theirs[customer].count:
        raise MoreThanTheyHad(customer, has, theirs[customer].count)
    told = Told(day, one.recall.name, customer, how, has is not None, has or 0, note)
    return Answered(work.add(told).seq, told)


def drill(work: Work, day: date, lot: str = "", choose: Callable[[Sequence[str]], str] = random.choice) -> Drilled:
    """Practise: trace a lot as if it were called back, time it, and keep the result.

    ``choose`` picks the lot where none is named. Raises :class:`~labelkit.errors.trace.NothingToRecall`.
    """
    begun = time.monotonic()
    made = [lot] if lot else [each.event.lot for each in story_of(work, "run")]
    if not made:
        raise NothingToRecall("this record")
    before = work.booked_before[0] if work.booked_before else None
    trace = trace_of(work, (before.event.lot if before else lot or choose(made),))
    lots = scope(trace, cause_of("authority"), ()).lots
    if not lots:
        raise NothingToRecall(trace.start.name)
    customers, direct = to_tell(trace, lots, work.settings()), sold_direct(trace, lots)
    count = count_of(trace, lots)
    if before is None:
        seconds = int(time.monotonic() - begun) + 1
        jars = Drill(day, trace.start.name, seconds, count.jars_made, count.found)
        before = work.add(jars)
    return Drilled(before.seq, before.who, before.event, count, customers, direct)


def notices_in(one: Running, languages: Sequence[str], locale: str) -> tuple[tuple[str, tuple[Notice, ...]], ...]:
    """The letters, notices and the sign in each language asked for; else in the season's own; else in the reader's."""
    own = str(one.settings.get("language") or locale)
    found = []
    for lang in dict.fromkeys(languages or (language_of(own),)):
        writes = next((each for each in (locale, own) if language_of(each) == lang), lang)
        maker, market = one.settings.get("maker", {}), next(iter(one.settings.get("market", ())), "")
        found.append((lang, notices(one.recall, one.trace, one.customers, maker, writes, market=market)))
    return tuple(found)


def letters_to_send(
    one: Running, found: Sequence[tuple[str, tuple[Notice, ...]]], locale: str
) -> tuple[tuple[str, Mail], ...]:
    """The letter to each customer as a message with its papers, by the name of its file, in the customer's language.

    Where no language is noted of a customer it is the first of the notices'.
    """
    by_language = dict(found)
    letters = []
    for n, customer in enumerate(one.customers, start=1):
        lang = language_of(customer.language) if customer.language else found[0][0]
        if lang not in by_language:
            by_language[lang] = notices_in(one, (lang,), locale)[0][1]
        notices = {each.id: each for each in by_language[lang]}
        letter = notices[f"letter-{n}"]
        papers = (letter, notices["shop-notice"]) if customer.jars and not customer.gift else (letter,)
        attached = {f"{each.id}.pdf": notice_paper(each) for each in papers}
        subject = f"{letter.heading}: {', '.join(one.recall.lots)}"
        mail = letter_to(one.settings, customer.customer, subject, letter.text, attached)
        letters.append((f"letter-{n}.eml", mail))
    return tuple(letters)
