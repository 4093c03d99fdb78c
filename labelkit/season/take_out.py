"""Take out: honey that leaves its bucket otherwise than in jars: sold in bulk, fed back, given, discarded."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING

from labelkit.errors.lots import BuyerNotNamed, WhyNotSaid
from labelkit.lots.bucket_life import DISCARDED, SOLD, TakenOut
from labelkit.measures import Mass, Money
from labelkit.season.fills import in_current_fill
from labelkit.season.measure import NOT_WEIGHED, Happened, Measuring, Weighed, booked, measure, step_before, what_stays

if TYPE_CHECKING:
    from labelkit.record.reading import Reading
    from labelkit.record.work import Work


@dataclass(frozen=True, slots=True)
class TakingOut:
    """Honey sold in bulk, fed back, given or discarded: all of the bucket, or ``part`` of it.

    ``weighed`` is what the scale says of the whole bucket; ``rate`` is the price of one ``per`` (kg or lb).
    """

    bucket: str
    how: str
    part: Mass | None = None
    weighed: Weighed = NOT_WEIGHED
    customer: str | None = None
    address: tuple[str, ...] = ()
    rate: Money | None = None
    per: str = "kg"
    because: str = ""


def take_out(work: Work, asked: TakingOut, day: date, locale: str) -> Happened[TakenOut]:
    """Book honey that leaves its bucket otherwise than in jars. What is weighed first is booked as weighed again.

    Raises :class:`~labelkit.errors.lots.BuyerNotNamed`, :class:`~labelkit.errors.lots.WhyNotSaid` for what is discarded,
    :class:`~labelkit.errors.lots.BucketTooEmpty` and what :func:`measure` does.
    """
    asked = in_current_fill(work, asked)
    if again := step_before(work, TakenOut, asked.bucket):
        return again
    if asked.how == SOLD and not (asked.customer or "").strip():
        raise BuyerNotNamed(asked.bucket)
    if asked.how == DISCARDED and not asked.because.strip():
        raise WhyNotSaid(asked.bucket)
    net, weighing = asked.weighed.honey(asked.bucket, locale)
    if net is not None and net != work.bucket(asked.bucket).holds:
        measure(work, Measuring(asked.bucket, asked.weighed, because=asked.because), day, locale)
    held = work.bucket(asked.bucket).holds
    what_stays(asked.bucket, held, asked.part or held, locale)
    return booked(
        work,
        TakenOut(
            asked.bucket,
            day,
            held,
            asked.how,
            asked.part or held,
            weighing,
            asked.customer,
            asked.address,
            asked.rate,
            asked.per,
            asked.because,
        ),
    )


def declaration(
    state: Reading, done: Happened[TakenOut], language: str | None, locale: str, page: str | None = None
) -> bytes:
    """The paper that goes with honey sold in bulk, as a PDF; the origin is that of the label words kept in the record."""
    from labelkit.sale.bulk_note import bulk_note_pdf
    from labelkit.season.papers import paper_size, paper_words
    from labelkit.season.settings import settings_of

    season = settings_of(state)
    words, written = paper_words(language, locale)
    return bulk_note_pdf(
        done.step,
        done.bucket,
        season.maker,
        countries_of(state, done, words.lang),
        words,
        written,
        number=str(done.event),
        page=paper_size(season, page),
    )


def countries_of(state: Reading, done: Happened[TakenOut], language: str) -> str:
    """The countries the honey was from when it was sold, by mass; nothing where any of it is not known."""
    from labelkit.rules.figures.origin import country_names
    from labelkit.trace.heritage import heritage, percent

    bucket = done.step.bucket
    story = state.events_about({bucket, *state.ancestry(bucket)})
    (found,) = heritage((each for each in story if each.seq < done.event), [bucket])
    shares = found.countries(state.settings().get("label", {}).get("origin"))
    if not shares or None in shares:
        return ""
    names = country_names(language)
    said = {names.get(str(country), str(country)): share for country, share in shares.items()}
    return next(iter(said)) if len(said) == 1 else ", ".join(f"{name} {percent(part)} %" for name, part in said.items())
