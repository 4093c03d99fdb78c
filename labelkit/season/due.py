"""What the season asks for today, read off the record: what is urgent first, each with its reason and the next verb."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, timedelta
from typing import TYPE_CHECKING, Any

from labelkit.measures import Mass
from labelkit.measures.wording import Sentence
from labelkit.season.settings import SeasonSettings, settings_of
from labelkit.season.stall import loads, stall_days

if TYPE_CHECKING:
    from labelkit.lots.bucket import Bucket
    from labelkit.trace.booked import Booked

URGENT, DUE, GOOD = "urgent", "due", "good"
# Cappings drip for one to three days: common practice, no source.
CAPPINGS_FROM, CAPPINGS_TO = timedelta(days=1), timedelta(days=10)
# A difference is searched for while somebody still remembers the day: common practice, no source.
LOOKED_INTO = timedelta(days=14)
# Less than this clings to the walls of an emptied bucket: common practice, no source.
CLINGS = Mass.of_grams(100)


@dataclass(frozen=True, slots=True)
class Due:
    """Something to do: how pressing, the verb of the command line that does it, what about, what and why."""

    level: str
    verb: str
    about: str
    what: str
    why: str


def due_today(book: Any, day: date, full: Iterable[Bucket] | None = None) -> list[Due]:
    """All that is due, the urgent first; ``full`` the buckets with honey in them, where somebody has read them already."""
    from labelkit.lots.movement import Account

    season = settings_of(book)
    buckets = list(book.buckets(full=True) if full is None else full)
    stock = book.stock(Account.JARS)
    events = _concerned(book, buckets, stock, day)
    found = [
        *_held(book),
        *_keeping(buckets, day),
        *_cappings(buckets, events, day),
        *_weigh_again(buckets, events),
        *_balances(book, events, day),
        *_unmeasured(buckets),
        *_unpriced(season, buckets),
        *_labels(stock, events),
        *_market(book, day),
        *_rules(season, day),
    ]
    order = (URGENT, DUE, GOOD)
    return sorted(found, key=lambda due: order.index(due.level))


def _concerned(book: Any, buckets: list[Bucket], stock: Iterable[Any], day: date) -> list[Booked]:
    """The events that can make something due, in order: about the honey and jars at hand, and the runs of the last days.

    The rest of a long season is not read.
    """
    kinds = ("weigh", "drain", "run", "print")
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


def _keeping(buckets: list[Bucket], day: date) -> Iterable[Due]:
    from labelkit.honey.ferment import ferment_risk
    from labelkit.honey.moisture import FORMULA_HOLDS

    for bucket in buckets:
        if bucket.moisture is None or not FORMULA_HOLDS[0] <= bucket.moisture <= FORMULA_HOLDS[1]:
            continue
        risk = ferment_risk(bucket.moisture, blended=bool(bucket.parents))
        if risk.risk in ("high", "certain"):
            yield Due(
                URGENT,
                "bottle",
                bucket.id,
                Sentence("Bucket {name} may ferment: {share} % water.", name=bucket.id, share=risk.moisture),
                Sentence(
                    "{risk} Keep it cold or dry it; bottle it only if your market allows this moisture.", risk=risk.says
                ),
            )


def _cappings(buckets: list[Bucket], events: list[Booked], day: date) -> Iterable[Due]:
    drained = {booked.event.bucket for booked in events if booked.kind == "drain"}
    filled = {booked.event.bucket: booked.day for booked in events if booked.kind == "weigh"}
    for bucket in buckets:
        since = day - filled[bucket.id] if bucket.id in filled else None
        if since is not None and CAPPINGS_FROM <= since <= CAPPINGS_TO and bucket.id not in drained:
            yield Due(
                DUE,
                "drain",
                bucket.id,
                Sentence("Drain the cappings of {bucket} and add what came.", bucket=bucket.id),
                Sentence.plural(
                    "Weighed in {n} day ago; cappings drip for one to three days.",
                    "Weighed in {n} days ago; cappings drip for one to three days.",
                    since.days,
                ),
            )


def _weigh_again(buckets: list[Bucket], events: list[Booked]) -> Iterable[Due]:
    last = {booked.event.bucket: booked.event for booked in events if booked.kind == "run"}
    for bucket in buckets:
        run = last.get(bucket.id)
        if run is not None and not run.left_was_weighed and bucket.holds > CLINGS:
            yield Due(
                DUE,
                "bottle",
                bucket.id,
                Sentence("Weigh what is left in {bucket}.", bucket=bucket.id),
                Sentence("After lot {lot} it was reckoned, not weighed; a loss would stay unseen.", lot=run.lot),
            )


def _balances(book: Any, events: list[Booked], day: date) -> Iterable[Due]:
    """Runs of the last days whose figures are over the producer's limits, and jars found missing on a market day."""
    from labelkit.trace.alarms import limits_of, look_into

    limits = limits_of(book.settings())
    for booked in events:
        if booked.kind != "run" or not timedelta(0) <= day - booked.day <= LOOKED_INTO:
            continue
        run = booked.event
        for alarm in look_into(run.lot, run.taken, run.lost, run.unexplained, limits=limits):
            yield Due(DUE, "trace", run.lot, f"Lot {run.lot}: {alarm.says()}.", f"Look for {alarm.look_for}")
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
                "weigh",
                bucket.id,
                Sentence("Measure the moisture of {bucket}.", bucket=bucket.id),
                Sentence("Without it nobody can say whether it keeps, or whether your market allows it."),
            )


def _unpriced(season: SeasonSettings, buckets: list[Bucket]) -> Iterable[Due]:
    if buckets and not season.prices:
        yield Due(
            DUE,
            "price",
            "",
            Sentence("Name your jar sizes and what they cost."),
            Sentence("The plan needs them: what a jar declares, what it sells for, what it costs you."),
        )


def _labels(in_stock: Iterable[Any], events: list[Booked]) -> Iterable[Due]:
    filled: Counter[tuple[str, str]] = Counter()
    printed: Counter[tuple[str, str]] = Counter()
    for booked in events:
        if booked.kind == "run":
            for jar in booked.event.jars:
                filled[booked.event.lot, jar.size] += jar.count
        elif booked.kind == "print" and booked.event.label in ("front", "wrap"):
            printed[booked.event.lot, booked.event.size] += booked.event.count - booked.event.spoiled
    for stock in in_stock:
        short = min(filled[stock.lot, stock.size] - printed[stock.lot, stock.size], stock.count)
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
                Sentence(
                    "{filled} were filled and {printed} have a label.",
                    filled=filled[stock.lot, stock.size],
                    printed=printed[stock.lot, stock.size],
                ),
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
            )


def _rules(season: SeasonSettings, day: date) -> Iterable[Due]:
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
