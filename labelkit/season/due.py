"""What the season asks for today, read off the record: what is urgent first, each with its reason and the next verb."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, timedelta
from typing import TYPE_CHECKING, Any

from labelkit.errors.sentence import Figure, Sentence
from labelkit.lots.bucket import Drain
from labelkit.lots.bucket_life import Measured, Note
from labelkit.lots.movement import Account
from labelkit.measures import Mass
from labelkit.measures.locales import show_number
from labelkit.run.bottling import Run
from labelkit.sale.apportion import together
from labelkit.season.account import balances
from labelkit.season.apart import opened
from labelkit.season.caps import near_caps, overtaken
from labelkit.season.kept_papers import KINDS, papers_of
from labelkit.season.known_jars import known_of
from labelkit.season.settings import SeasonSettings, settings_of
from labelkit.season.stall import loads, stall_days
from labelkit.season.unmet import ON_HOLD, SHORT, against_buckets, best_before, held_jars, past_dates, strained_badly

if TYPE_CHECKING:
    from labelkit.lots.bucket import Bucket
    from labelkit.record.last_copy import Uncopied
    from labelkit.season.kept_papers import KeptPaper
    from labelkit.season.known_jars import KnownJars
    from labelkit.season.unmet import Unmet
    from labelkit.trace.booked import Booked

URGENT, DUE, GOOD = "urgent", "due", "good"
# Cappings drip for one to three days: common practice, no source.
CAPPINGS_FROM, CAPPINGS_TO = timedelta(days=1), timedelta(days=10)
# A difference is searched for while somebody still remembers the day: common practice, no source.
LOOKED_INTO = timedelta(days=14)
# Less than this clings to the walls of an emptied bucket: common practice, no source.
CLINGS = Mass.of_grams(100)
# Jars are told of a month before their best-before date, so that there are market days left: common practice, no source.
PASSES_SOON = timedelta(days=30)
# A record is copied after a week's work, and at least once a month while it grows: common practice, no source.
COPY_AFTER, COPY_WITHIN = 5, timedelta(days=30)
NAMED = 6  # buckets; more of one extraction are not listed


@dataclass(frozen=True, slots=True)
class Due:
    """Something to do: how pressing, the verb that does it, what about, what and why; and its day, where it has one."""

    level: str
    verb: str
    about: str
    what: str
    why: str
    on: date | None = None


def due_today(book: Any, day: date, locale: str, full: Iterable[Bucket] | None = None) -> list[Due]:
    """All that is due, the urgent first; ``full`` the buckets with honey in them, where somebody has read them already."""
    season = settings_of(book)
    buckets = list(book.buckets(full=True) if full is None else full)
    stock = book.stock(Account.JARS, Account.HELD)
    on_shelf = [jars for jars in stock if jars.account == Account.JARS]
    events = _concerned(book, buckets, on_shelf, day)
    known, wet = known_of(book, {jars.lot for jars in stock}), against_buckets(book, buckets, day)
    short = [each for each in held_jars(known) if each.kind == SHORT]
    no_labels = {(each.of, each.size) for each in short}
    found = [
        *recalls_running(book),
        *_held(book),
        *_as_due(short),
        *_as_due(each for each in wet if each.kind != ON_HOLD),
        *_keeping(buckets, {each.of for each in wet}),
        *_as_due(strained_badly(book, known)),
        *_apart(book, known, stock),
        *_cappings(book, buckets, day),
        *_weigh_again(buckets, events),
        *_balances(book, events, day, locale),
        *_unmeasured(buckets),
        *_unpriced(season, buckets, day),
        *_labels((jars for jars in on_shelf if (jars.lot, jars.size) not in no_labels), known),
        *_as_due(past_dates(known, day), DUE),
        *_passing(book, day),
        *_market(book, day),
        *_late(book, day, locale),
        *_phones(book),
        *_papers(book, day),
        *_copy(book, day),
        *_near_caps(book, season, day),
        *_overtaken(book, season, day),
        *rules_due(season, day),
    ]
    order = (URGENT, DUE, GOOD)
    return sorted(found, key=lambda due: order.index(due.level))


def _concerned(book: Any, buckets: list[Bucket], stock: Iterable[Any], day: date) -> list[Booked]:
    """The events that can make something due, in order: about the honey and jars at hand, and the runs of the last days.

    The rest of a long season is not read.
    """
    kinds = ("run", Measured.kind)
    at_hand = {bucket.id for bucket in buckets} | {jars.lot for jars in stock}
    found = (*book.events_about(at_hand, kinds), *book.latest(("run",), since=day - LOOKED_INTO))
    return sorted({each.seq: each for each in found if each.stands}.values(), key=lambda each: each.seq)


def _held(book: Any) -> Iterable[Due]:
    for held, (since, because) in sorted(book.holds().items()):
        made = [booked.event for booked in book.events_about([held], ("weigh", "receive", "blend"))]
        is_bucket = any(held in (getattr(each, "bucket", ""), getattr(each, "into", "")) for each in made)
        bucket, lot = Sentence("Bucket {name} is on hold.", name=held), Sentence("Lot {name} is on hold.", name=held)
        yield Due(
            URGENT,
            "recall",
            held,
            bucket if is_bucket else lot,
            Sentence("Since {since}: {because}. None of it may go out.", since=since, because=because),
        )


def recalls_running(book: Any) -> Iterable[Due]:
    """Recalls that are not over: whom to call next, or whose answer is missing."""
    from labelkit.season.recall import running
    from labelkit.season.trace import story_of

    for begun in story_of(book, "recall"):
        one = running(book, begun.event.name)
        who = one.next_to_call
        if who is not None:
            what = Sentence(
                "Recall {name} is running: call {customer} next.", name=one.recall.name, customer=who.customer
            )
            why = Sentence.plural(
                "They have {n} jar. Phone: {phone}.",
                "They have {n} jars. Phone: {phone}.",
                who.count,
                phone=who.phone or Sentence("not noted"),
            )
        elif one.silent:
            customer = one.silent[0]
            what = Sentence("Recall {name} is running: ask {customer} again.", name=one.recall.name, customer=customer)
            why = Sentence("They were told and have not answered.")
        else:
            continue
        yield Due(URGENT, "call", one.recall.name, what, why)


def _as_due(found: Iterable[Unmet], level: str = URGENT) -> Iterable[Due]:
    """What stands against honey or jars, as something to do: its first way out."""
    return (Due(level, each.ways[0].verb, each.ways[0].about, each.what, each.why) for each in found)


def _keeping(buckets: list[Bucket], known: set[str]) -> Iterable[Due]:
    """Honey that may ferment though it may be bottled; the wetter is told already."""
    from labelkit.honey.ferment import ferment_risk
    from labelkit.honey.moisture import FORMULA_HOLDS

    for bucket in buckets:
        if bucket.moisture is None or bucket.id in known or not bucket.moisture >= FORMULA_HOLDS[0]:
            continue
        risk = ferment_risk(bucket.moisture, blended=bool(bucket.parents))
        if risk.risk in ("high", "certain"):
            yield Due(
                URGENT,
                "bucket dry",
                bucket.id,
                Sentence(
                    "Bucket {name} may ferment: {share} % water.",
                    name=bucket.id,
                    share=Figure(show_number, risk.moisture),
                ),
                Sentence("{risk} Keep it cold, dry it, or fill and sell it first.", risk=risk.says),
            )


def _apart(book: Any, known: KnownJars, stock: Iterable[Any]) -> Iterable[Due]:
    """Jars that came back and stand apart: nobody has said yet whether they may go again."""
    for jars in stock:
        if jars.account != Account.HELD:
            continue
        bad = min(jars.count, opened(book, jars.lot).get(jars.size, 0))
        if bad:
            what = Sentence.plural(
                "{n} jar of lot {lot}, {size}, came back opened and stands apart.",
                "{n} jars of lot {lot}, {size}, came back opened and stand apart.",
                bad,
                lot=jars.lot,
                size=jars.size,
            )
            yield Due(DUE, "sell", jars.lot, what, Sentence("An opened jar never goes out again. Discard it."))
        if jars.count > bad and jars.lot not in known.holds:
            yield Due(
                DUE,
                "release",
                jars.lot,
                Sentence.plural(
                    "{n} jar of lot {lot}, {size}, came back and stands apart.",
                    "{n} jars of lot {lot}, {size}, came back and stand apart.",
                    jars.count - bad,
                    lot=jars.lot,
                    size=jars.size,
                ),
                Sentence("Look at them: release them with a reason, or discard them."),
            )


def _passing(book: Any, day: date) -> Iterable[Due]:
    """Jars whose best-before date passes soon: on the shelf, at the stall, and delivered to a shop that may have them."""
    soon = day + PASSES_SOON
    at_hand = [jars for jars in book.stock(Account.JARS, Account.HELD, Account.STALL) if jars.count]
    sent = [each.event for each in book.events(("deliver",)) if each.stands]
    known = known_of(book, {jars.lot for jars in at_hand} | {line.lot for event in sent for line in event.lines})
    for (lot, size), count in _counted(at_hand).items():
        on = best_before(known, lot, size)
        if on and day <= on <= soon:
            yield Due(
                DUE,
                "labels",
                f"{lot}={size}",
                Sentence.plural(
                    "{n} jar of lot {lot}, {size}: the best-before date passes on {on}.",
                    "{n} jars of lot {lot}, {size}: the best-before date passes on {on}.",
                    count,
                    lot=lot,
                    size=size,
                    on=on,
                ),
                Sentence("Sell these first. After that day labelkit asks why they are sold."),
                on,
            )
    for customer in sorted({event.customer for event in sent}):
        lines = [line for event in sent if event.customer == customer for line in event.lines]
        for (lot, size), count in _counted(lines).items():
            on = best_before(known, lot, size)
            if on and day - PASSES_SOON <= on <= soon:
                yield Due(
                    GOOD,
                    "customer",
                    customer,
                    Sentence.plural(
                        "{customer} got {n} jar of lot {lot}, {size}: best before {on}.",
                        "{customer} got {n} jars of lot {lot}, {size}: best before {on}.",
                        count,
                        customer=customer,
                        lot=lot,
                        size=size,
                        on=on,
                    ),
                    Sentence("Ask how many are left, and what becomes of them."),
                )


def _counted(jars: Iterable[Any]) -> Counter[tuple[str, str]]:
    found: Counter[tuple[str, str]] = Counter()
    for each in jars:
        found[each.lot, each.size] += each.count
    return found


def _late(book: Any, day: date, locale: str) -> Iterable[Due]:
    """Customers who are late with a payment, and were not reminded of it within its days of grace."""
    reminded = {each.event.customer: each.event.pay_by for each in book.events(("remind",)) if each.stands}
    for account in balances(book):
        late = account.late(day)
        if not late or reminded.get(account.customer, day) > day:
            continue
        yield Due(
            DUE,
            "remind",
            account.customer,
            Sentence(
                "{customer} owes {amount} since {since}: {numbers}.",
                customer=account.customer,
                amount=together((each.open for each in late), account.open.currency).show(locale),
                since=late[0].late_from - timedelta(days=1),
                numbers=", ".join(each.delivery.number for each in late),
            ),
            Sentence.plural(
                "It is late by {n} day. Book the payment, or send a reminder.",
                "It is late by {n} days. Book the payment, or send a reminder.",
                late[0].late(day),
            ),
        )


def _phones(book: Any) -> Iterable[Due]:
    """Customers by name a recall could not call."""
    settings = book.settings()
    missing = [name for name in sorted(book.names("customer")) if not settings.get(f"customer {name}", {}).get("phone")]
    if missing:
        yield Due(
            GOOD,
            "customer",
            missing[0],
            Sentence.plural(
                "Note the phone number of {n} customer: {names}.",
                "Note the phone numbers of {n} customers: {names}.",
                len(missing),
                names=", ".join(missing[:5]) + (" …" if len(missing) > 5 else ""),
            ),
            Sentence("In a recall you call everybody who has the jars."),
        )


def _cappings(book: Any, buckets: list[Bucket], day: date) -> Iterable[Due]:
    """The cappings of one extraction are one pot: asked for once, until some honey of it was added or none came."""
    late = [each for each in book.latest(("weigh", "drain", Note.kind), since=day - CAPPINGS_TO) if each.stands]
    filled = {each.event.bucket: each.day for each in late if each.kind == "weigh"}
    done = {name for each in late for name in _ended(each.event)}
    over = {filled[name] for name in done if name in filled}
    pots: dict[date, list[str]] = defaultdict(list)
    for bucket in buckets:
        if bucket.id in filled and filled[bucket.id] not in over:
            pots[filled[bucket.id]].append(bucket.id)
    for weighed, names in sorted(pots.items()):
        if CAPPINGS_FROM <= day - weighed <= CAPPINGS_TO:
            shown = ", ".join(names[:NAMED]) + (" …" if len(names) > NAMED else "")
            yield Due(
                DUE,
                "drain",
                ", ".join(names),
                Sentence("Drain the cappings of {bucket} and add what came.", bucket=shown),
                Sentence.plural(
                    "Weighed in {n} day ago; cappings drip for one to three days. If nothing came, say so.",
                    "Weighed in {n} days ago; cappings drip for one to three days. If nothing came, say so.",
                    (day - weighed).days,
                ),
            )


def _ended(event: Any) -> tuple[str, ...]:
    """The buckets whose cappings an event puts an end to."""
    if isinstance(event, Note):
        return event.lots if event.ends == "drain" else ()
    return (event.bucket,) if isinstance(event, Drain) else ()


def _weigh_again(buckets: list[Bucket], events: list[Booked]) -> Iterable[Due]:
    last = {booked.event.bucket: booked.event for booked in events if _weighed_or_filled(booked.event)}
    for bucket in buckets:
        run = last.get(bucket.id)
        if isinstance(run, Run) and not run.left_was_weighed and bucket.holds > CLINGS:
            yield Due(
                DUE,
                "bucket weigh-again",
                bucket.id,
                Sentence("Weigh what is left in {bucket}.", bucket=bucket.id),
                Sentence("After lot {lot} it was reckoned, not weighed; a loss would stay unseen.", lot=run.lot),
            )


def _weighed_or_filled(event: Any) -> bool:
    return isinstance(event, Run) or (isinstance(event, Measured) and event.net is not None)


def _balances(book: Any, events: list[Booked], day: date, locale: str) -> Iterable[Due]:
    """Runs of the last days whose figures are over the producer's limits, and jars found missing on a market day."""
    from labelkit.trace.alarms import limits_of, look_into

    limits = limits_of(book.settings())
    for booked in events:
        if booked.kind != "run" or not timedelta(0) <= day - booked.day <= LOOKED_INTO:
            continue
        run = booked.event
        for alarm in look_into(run.lot, run.taken, run.lost, run.unexplained, limits=limits):
            yield Due(DUE, "trace", run.lot, f"Lot {run.lot}: {alarm.says(locale)}.", f"Look for {alarm.look_for}")
    for market in stall_days(book):
        recent = timedelta(0) <= day - market.day <= LOOKED_INTO
        missing = sum(line.count for line in market.missing) if recent else 0
        if missing:
            lots = ", ".join(dict.fromkeys(line.lot for line in market.missing))
            yield Due(
                DUE,
                "trace",
                lots,
                Sentence.plural(
                    "{n} jar missing since {place}, {day}.",
                    "{n} jars missing since {place}, {day}.",
                    missing,
                    place=market.place,
                    day=market.day,
                ),
                Sentence(
                    "Lot {lots}. Look for a sale or gift that was not tallied; then correct the market day.", lots=lots
                ),
            )


def _unmeasured(buckets: list[Bucket]) -> Iterable[Due]:
    for bucket in buckets:
        if bucket.moisture is None:
            yield Due(
                DUE,
                "bucket moisture",
                bucket.id,
                Sentence("Measure the moisture of {bucket}.", bucket=bucket.id),
                Sentence("Without it nobody can say whether it keeps, or whether your market allows it."),
            )


def _unpriced(season: SeasonSettings, buckets: list[Bucket], day: date) -> Iterable[Due]:
    if buckets and not season.prices:
        yield Due(
            DUE,
            "price",
            "",
            Sentence("Name your jar sizes and what they cost."),
            Sentence("The plan needs them: what a jar declares, what it sells for, what it costs you."),
        )
    for size, price in season.offered(day).items():
        if not price.is_priced:
            yield Due(
                DUE,
                "price",
                size,
                Sentence("{size} has no price yet.", size=size),
                Sentence("Jars without a price are on no price list and cannot be sold."),
            )


def _labels(in_stock: Iterable[Any], known: KnownJars) -> Iterable[Due]:
    for stock in in_stock:
        at = known.labelled(stock.lot, stock.size)
        short = min(at.made - at.labels, stock.count)
        if short > 0:
            yield Due(
                DUE,
                "labels",
                f"{stock.lot}={stock.size}",
                Sentence.plural(
                    "Print {n} label: {size}, lot {lot}.",
                    "Print {n} labels: {size}, lot {lot}.",
                    short,
                    size=stock.size,
                    lot=stock.lot,
                ),
                Sentence("{filled} were filled and {printed} have a label.", filled=at.made, printed=at.labels),
            )


def _market(book: Any, day: date) -> Iterable[Due]:
    settled = {event.key for event in stall_days(book)}
    for load in loads(book):
        if load.key in settled:
            continue
        if load.day < day:
            yield Due(
                URGENT,
                "stall settle",
                load.key,
                Sentence("Settle {place} of {day}.", place=load.place, day=load.day),
                Sentence("Until then the jars you took are neither sold nor back."),
            )
        else:
            yield Due(
                DUE,
                "stall file",
                load.key,
                Sentence("Market: {place}, {day}.", place=load.place, day=load.day),
                Sentence("The jars are loaded."),
                load.day,
            )


def runs_out(paper: KeptPaper, day: date, *, renew: bool = False) -> Due:
    """What is said of a paper with a last day: on a day, or, with ``renew``, on the first day it is asked for."""
    name = f"{paper.name} ({paper.number})" if paper.number else paper.name
    facts = {"kind": KINDS[paper.kind], "name": name, "on": paper.until}
    if paper.state(day) == "run out":
        what = Sentence("{kind} {name} ran out on {on}.", **facts)
        why = Sentence("Without it you may not be allowed to sell. Check your local rules.")
        return Due(URGENT, "papers", paper.name, what, why)
    what = Sentence("{kind} {name} runs out on {on}.", **facts)
    if renew:
        what = Sentence("Renew it: {kind} {name} runs out on {on}.", **facts)
    why = Sentence("An office may take weeks. Note the new last day when you have it.")
    return Due(DUE, "papers", paper.name, what, why, None if renew else paper.until)


def _papers(book: Any, day: date) -> Iterable[Due]:
    """Papers that run out soon or have run out."""
    return (runs_out(each, day) for each in papers_of(book.settings()) if each.state(day) in ("soon", "run out"))


def copy_is_old(new: Uncopied, day: date) -> bool:
    """Whether a copy is due by the season's own rhythm: after so many days of bookings, or a month after the first."""
    return new.since is not None and (new.days >= COPY_AFTER or day - new.since >= COPY_WITHIN)


def _copy(book: Any, day: date) -> Iterable[Due]:
    """What was booked and is in no copy; a server's record is copied by its server."""
    from labelkit.record.last_copy import uncopied

    new = uncopied(book, day)
    if "://" in book.where or not copy_is_old(new, day):
        return
    last = (
        Sentence("{file} of {day}", file=new.last.path.name, day=new.last.day or "") if new.last else Sentence("none")
    )
    yield Due(
        DUE,
        "record copy",
        "",
        Sentence.plural(
            "Copy the record: {n} event is in no copy.", "Copy the record: {n} events are in no copy.", new.events
        ),
        Sentence(
            "Last copy: {last}. If the disk fails, what was booked since {since} is lost. A stick or another disk is best.",
            last=last,
            since=new.since,
        ),
    )


def _near_caps(book: Any, season: SeasonSettings, day: date) -> Iterable[Due]:
    """Limits of the small producer's reliefs that the sales of the year come near, or are past."""
    for near in near_caps(book, season, day):
        why = Sentence(
            "Counted off the record since {since}. {says} ({act}, {clause}) Check your local rules.",
            since=near.counted.since,
            says=near.law.says,
            act=near.law.cite.title,
            clause=near.law.cite.clause,
        )
        yield Due(URGENT if near.passed else DUE, "rules", near.code, near.what, why)


def _overtaken(book: Any, season: SeasonSettings, day: date) -> Iterable[Due]:
    """Yearly figures somebody typed that the record is above already."""
    from labelkit.rules.glossary import glossary

    for one in overtaken(book, season, day):
        yield Due(
            DUE,
            "label-words",
            one.counted.fact,
            Sentence(
                "You said {said} a year; the record counts {sold} since {since}.",
                said=one.counted.shown(one.said),
                sold=one.counted.shown(),
                since=one.counted.since,
            ),
            Sentence(
                "“{asks}” Rules are judged by your answer: correct it.", asks=glossary().fact(one.counted.fact).asks
            ),
        )


def rules_due(season: SeasonSettings, day: date) -> Iterable[Due]:
    """Rules of the season's markets to be read again by the end of the month."""
    from labelkit.rules import market, upkeep

    for name in season.markets:
        old = upkeep.due(market(name, day))
        if old:
            yield Due(
                GOOD,
                "rules",
                name,
                Sentence.plural(
                    "{n} rule of {name} was not read again for a year.",
                    "{n} rules of {name} were not read again for a year.",
                    len(old),
                    name=name,
                ),
                Sentence("Law changes; look whether a newer labelkit has read them, and check your local rules."),
            )
