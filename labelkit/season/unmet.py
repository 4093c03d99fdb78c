"""What stands against honey and jars going further: asked here by every verb that could do harm, and by what is due.

On hold, or short by the last check weighing: refused, until that is put right. Too wet, without a label, labels printed
with a finding, past their date: asked about, and let through where a person says why.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from typing import TYPE_CHECKING

from labelkit.errors import Way, unless_said
from labelkit.errors.record import LotHeld
from labelkit.errors.sentence import Figure, Sentence
from labelkit.errors.trace import LotShort, StandsAgainst
from labelkit.honey.ferment import KEEPS_TO
from labelkit.measures.locales import show_number
from labelkit.run.batch_sheet import DAMAGED, STRAINERS, BatchLine
from labelkit.season.known_jars import FRONTS, Jars, KnownJars, known_of
from labelkit.season.settings import settings_of

if TYPE_CHECKING:
    from labelkit.lots.bucket import Bucket
    from labelkit.record.reading import Reading
    from labelkit.rules.market import Market
    from labelkit.trace.booked import Booked

CEILING = "highest moisture"
ON_HOLD, SHORT = "on hold", "short"
WET, FERMENTING, UNLABELLED, FINDINGS, PAST = "wet", "fermenting", "unlabelled", "findings", "past"
STRAINER = "strainer"


@dataclass(frozen=True, slots=True)
class Unmet:
    """One thing that stands against a bucket or a lot: what (its figures in ``what.facts``), why, and the ways out."""

    kind: str
    of: str
    what: Sentence
    why: Sentence
    ways: tuple[Way, ...] = ()
    size: str = ""


def ceiling_of(places: Sequence[Market]) -> Decimal | None:
    """The strictest moisture ceiling of the markets in per cent, where any of them has one."""
    limits = [place.value(CEILING, honey="honey").value for place in places if place.holds(CEILING, honey="honey")]
    return min(limits, default=None)


def moisture_limit(places: Sequence[Market]) -> Decimal:
    """Up to which moisture honey may be bottled: the markets' ceiling; where none has one, what can keep at all."""
    ceiling = ceiling_of(places)
    return KEEPS_TO if ceiling is None else ceiling


def against_buckets(state: Reading, buckets: Iterable[Bucket], day: date) -> tuple[Unmet, ...]:
    """What stands against bottling these buckets: a hold, too much water for the market, or certain fermentation."""
    held, ceiling = state.holds(), ceiling_of(settings_of(state).places(day))
    return tuple(each for bucket in buckets for each in _against_bucket(bucket, held, ceiling))


def _against_bucket(bucket: Bucket, held: Mapping[str, tuple[str, str]], ceiling: Decimal | None) -> Iterator[Unmet]:
    if bucket.id in held:
        yield _held(bucket.id, Sentence("Bucket {name} is on hold.", name=bucket.id), *held[bucket.id])
    yield from _wet(bucket, bucket.id, ceiling, (Way("bucket dry", bucket.id),))


def _wet(bucket: Bucket, of: str, ceiling: Decimal | None, ways: tuple[Way, ...]) -> Iterator[Unmet]:
    """The market's ceiling decides; where no market has one, whether honey so wet can keep at all."""
    limit = KEEPS_TO if ceiling is None else ceiling
    if bucket.moisture is None or bucket.moisture <= limit:
        return
    share = bucket.moisture.quantize(Decimal("0.01")).normalize()
    what = Sentence(
        "The honey of {name} has {share} % water; the limit is {limit} %.",
        name=bucket.id,
        share=Figure(show_number, share),
        limit=Figure(show_number, limit),
    )
    if ceiling is None:
        why = Sentence("Honey wetter than that ferments whatever its yeast count. Dry it, or keep it cold.")
        yield Unmet(FERMENTING, of, what, why, ways)
    else:
        why = Sentence("Your market does not allow it to be sold as honey. Dry it, or sell it otherwise.")
        yield Unmet(WET, of, what, why, ways)


def _held(name: str, what: Sentence, since: str, because: str) -> Unmet:
    why = Sentence("Since {since}: {because}. None of it may go out.", since=since, because=because)
    return Unmet(ON_HOLD, name, what, why, (Way("release", name),))


def against_jars(state: Reading, jars: Mapping[Jars, int], day: date, *, printing: bool = False) -> tuple[Unmet, ...]:
    """What stands against so many jars of these lots and sizes going out, or (``printing``) getting their labels."""
    known = known_of(state, {lot for lot, _ in jars})
    found = [each for lot in dict.fromkeys(lot for lot, _ in jars) for each in _on_hold(known, lot)]
    damaged = _damaged_strainers(state)
    for (lot, size), count in jars.items():
        found += _short(known, lot, size)
        found += _made_of_wet(state, known, lot, size, day)
        found += _through_damage(known, damaged, lot, size)
        if not printing:
            found += _bare(state, known, lot, size, count)
            found += _with_findings(known, lot, size)
            found += _past(known, lot, size, day)
    return tuple(dict.fromkeys(found))


def _on_hold(known: KnownJars, lot: str) -> Iterator[Unmet]:
    if lot in known.holds:
        yield _held(lot, Sentence("Lot {name} is on hold.", name=lot), *known.holds[lot])


def _short(known: KnownJars, lot: str, size: str) -> Iterator[Unmet]:
    """A lot whose last check weighing failed is on hold by itself: until weighed anew, relabelled or released."""
    from labelkit.measures import Mass, show_metric
    from labelkit.season.check_weigh import judge_kept

    first = known.first(lot, size)
    checks = known.checks.get(first, [])
    if (
        first[1] != size
        or not checks
        or checks[-1].seq < max(known.released.get(lot, 0), known.released.get(first[0], 0))
    ):
        return
    run = known.runs.get(first[0])
    filled = next((jar for jar in run.jars if jar.size == first[1]), None) if run else None
    if filled is None:
        return
    judged = judge_kept(known.season, filled.declares, filled.count, [each.event for each in checks])
    if judged is None or judged.verdict.verdict != "fail":
        return
    mean = judged.verdict.sample.mean
    what = Sentence(
        "Lot {lot}, {size}: the check weighing of {day} failed; {n} jars held {mean} on average, the label says {label}.",
        lot=lot,
        size=size,
        day=checks[-1].day,
        n=len(judged.verdict.sample),
        mean=Figure(_grams, mean),
        label=Figure(show_metric, Mass.of_grams(judged.test.label)),
    )
    why = Sentence("Jars that hold less than their label may not be sold, given away or taken to a stall.")
    about = f"{lot}={size}"
    yield Unmet(SHORT, lot, what, why, (Way("weigh jars", about), Way("relabel", about), Way("release", lot)), size)


def _grams(mean: Decimal, locale: str) -> str:
    return f"{show_number(mean.quantize(Decimal('0.1')), locale)} g"


def _made_of_wet(state: Reading, known: KnownJars, lot: str, size: str, day: date) -> Iterator[Unmet]:
    """Jars of honey found too wet after it was bottled; where it was known then, the words of the run stand for it."""
    run = known.runs.get(known.first(lot, size)[0])
    if run is not None and not run.because:
        ceiling = ceiling_of(known.season.places(day))
        yield from _wet(state.bucket(run.bucket), lot, ceiling, (Way("hold", lot),))


def _damaged_strainers(state: Reading) -> tuple[Booked, ...]:
    lines = (each for each in state.latest((BatchLine.kind,)) if each.stands)
    return tuple(each for each in lines if each.event.line in STRAINERS and each.event.words == DAMAGED)


def _through_damage(known: KnownJars, damaged: Sequence[Booked], lot: str, size: str) -> Iterator[Unmet]:
    """Jars filled on the day and from the bucket whose strainer was found damaged, until somebody releases the lot."""
    first = known.first(lot, size)[0]
    run = known.runs.get(first)
    if run is None:
        return
    for each in damaged:
        about = set(each.event.lots)
        freed = max(known.released.get(lot, 0), known.released.get(first, 0)) > each.seq
        if run.day == each.day and not freed and (not about or about & {run.bucket, run.lot}):
            what = Sentence(
                "The strainer was found damaged on {day}, when lot {lot} was filled.", day=each.day, lot=lot
            )
            why = Sentence("A piece of it may be in a jar. Hold the lot and strain it again, or look and release it.")
            yield Unmet(STRAINER, lot, what, why, (Way("hold", lot), Way("release", lot)))
            return


def strained_badly(state: Reading, known: KnownJars) -> tuple[Unmet, ...]:
    """Of the jars at hand those that were filled through a damaged strainer."""
    damaged = _damaged_strainers(state)
    at_hand = [jars for jars, count in known.stock.items() if count and jars[0] not in known.holds]
    return tuple(dict.fromkeys(each for lot, size in at_hand for each in _through_damage(known, damaged, lot, size)))


def _bare(state: Reading, known: KnownJars, lot: str, size: str, count: int) -> Iterator[Unmet]:
    """More jars than have a label; asked only of sizes whose labels are printed with labelkit at all."""
    bare = known.bare(lot, size)
    short = count - (known.stock.get((lot, size), 0) - bare)
    if bare and short > 0 and _prints(state, size):
        what = Sentence.plural(
            "{n} jar of lot {lot}, {size}, has no label yet.",
            "{n} jars of lot {lot}, {size}, have no label yet.",
            min(short, bare),
            lot=lot,
            size=size,
        )
        why = Sentence("A jar without a label says neither what it is nor its lot; a recall cannot find it.")
        yield Unmet(UNLABELLED, lot, what, why, (Way("labels", f"{lot}={size}"),), size)


def _prints(state: Reading, size: str) -> bool:
    return any(each.stands and each.event.size == size for each in state.latest(("print",)))


def _with_findings(known: KnownJars, lot: str, size: str) -> Iterator[Unmet]:
    """Labels whose last print was let through with findings that must be fixed."""
    fronts = [each for each in known.prints.get((lot, size), ()) if each.event.label in FRONTS]
    if fronts and fronts[-1].event.findings:
        last = fronts[-1].event
        what = Sentence(
            "The labels of lot {lot}, {size}, were printed with findings that must be fixed: {findings}",
            lot=lot,
            size=size,
            findings=" ".join(last.findings),
        )
        why = Sentence(
            "Such a label should not reach a buyer. It was printed because: {because}.",
            because=last.because.rstrip("."),
        )
        yield Unmet(FINDINGS, lot, what, why, (Way("labels", f"{lot}={size}"),), size)


def _past(known: KnownJars, lot: str, size: str, day: date) -> Iterator[Unmet]:
    on = best_before(known, lot, size)
    if on and on < day:
        what = Sentence("The best-before date of lot {lot}, {size}, passed on {day}.", lot=lot, size=size, day=on)
        why = Sentence("Honey keeps, but the date is what you promised; check your local rules before you sell it.")
        yield Unmet(PAST, lot, what, why, (Way("labels", f"{lot}={size}"),), size)


def best_before(known: KnownJars, lot: str, size: str) -> date | None:
    """The best-before date last printed on these jars."""
    dates = [each.event.best_before for each in known.prints.get((lot, size), ()) if each.event.best_before]
    return dates[-1] if dates else None


def past_dates(known: KnownJars, day: date) -> tuple[Unmet, ...]:
    """Of the jars at hand those whose best-before date has passed."""
    return tuple(each for (lot, size), count in known.stock.items() if count for each in _past(known, lot, size, day))


def held_jars(known: KnownJars) -> tuple[Unmet, ...]:
    """All that may not go out whatever is said: lots on hold, and jars short by their last check weighing."""
    sizes = list(dict.fromkeys((*known.made, *known.stock)))
    held = [each for lot in dict.fromkeys(lot for lot, _ in sizes) for each in _on_hold(known, lot)]
    return (*held, *(each for lot, size in sizes for each in _short(known, lot, size)))


def refuse(found: Iterable[Unmet], because: str = "") -> None:
    """Refuse what stands against it; what is only asked about is let through where a person says why.

    Raises :class:`~labelkit.errors.record.LotHeld`, :class:`~labelkit.errors.trace.LotShort` and
    :class:`~labelkit.errors.trace.StandsAgainst`.
    """
    asked = []
    for each in found:
        if each.kind == ON_HOLD:
            raise LotHeld(each.of, each.why.facts["since"], each.why.facts["because"])
        if each.kind == SHORT:
            raise LotShort(each.what, each.why, each.ways)
        asked.append(each)
    if asked:
        ways = tuple(dict.fromkeys(way for each in asked for way in each.ways))
        unless_said(because, StandsAgainst(((each.what, each.why) for each in asked), ways))
