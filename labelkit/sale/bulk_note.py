"""The declaration that goes with honey sold in bulk: what it is, how much, how moist, from where, under which lot."""

from __future__ import annotations

from collections.abc import Mapping
from decimal import Decimal

from labelkit.lots.bucket import Bucket
from labelkit.lots.bucket_life import TakenOut
from labelkit.measures import show_both
from labelkit.measures.locales import show_day, show_number
from labelkit.measures.rounding import HALF_UP, to_step
from labelkit.measures.wording import Wording
from labelkit.sale.paper_note import quality_note
from labelkit.sale.price_list import maker_lines


def bulk_facts(
    sold: TakenOut, bucket: Bucket, maker: Mapping[str, str], origin: str, words: Wording, locale: str
) -> list[tuple[str, str]]:
    """Everything the declaration says, in its order; what nobody knows is said to be unknown, never left out.

    ``origin`` is the country in the producer's words, where one is kept.
    """
    unknown = words("not known: ask the seller")
    weights: list[tuple[str, str]] = []
    if sold.weighing:
        weights = [
            (words("Gross"), show_both(sold.weighing.gross, locale)),
            (words("Tare"), show_both(sold.weighing.tare, locale)),
        ]
    facts = [
        (words("What it is"), words("Honey in bulk, not packed for consumers")),
        *weights,
        (words("Net"), show_both(sold.mass, locale)),
        (words("Moisture"), _water(bucket, words, locale)),
        (words("Lot"), sold.bucket),
        (words("Origin"), origin or unknown),
        (words("Yard"), "; ".join(map(str, bucket.sources)) or unknown),
        (words("Plant"), ", ".join(bucket.plants)),
        (words("Harvested"), ", ".join(show_day(day, locale, form="medium") for day in bucket.harvested) or unknown),
        (words("Blend of"), ", ".join(part.bucket for part in bucket.parents)),
        (words("Warmed to at most"), _warmth(bucket, words, locale)),
        (words("From"), ", ".join(maker_lines(maker, ""))),
        (words("To"), ", ".join((sold.customer or "", *sold.address))),
    ]
    if sold.rate and sold.price:
        each = f"{show_number(sold.quantity, locale)} {sold.per} × {sold.rate.show(locale)}"
        facts += [(words("Price"), each), (words("Amount"), sold.price.show(locale))]
    return [(name, text) for name, text in facts if text]


def _water(bucket: Bucket, words: Wording, locale: str) -> str:
    if bucket.moisture is None:
        return words("not measured")
    percent = show_number(to_step(bucket.moisture, Decimal("0.1"), HALF_UP), locale, digits=1) + " %"
    return percent if bucket.moisture_is_whole else words("{percent} (of a part)", percent=percent)


def _warmth(bucket: Bucket, words: Wording, locale: str) -> str:
    if bucket.hottest_c is None:
        return words("no warming is recorded")
    hours, hottest = show_number(bucket.warm_hours, locale), show_number(bucket.hottest_c, locale)
    return words("{hottest} °C, {hours} hours in all", hottest=hottest, hours=hours)


def bulk_note_pdf(
    sold: TakenOut,
    bucket: Bucket,
    maker: Mapping[str, str],
    origin: str,
    words: Wording,
    locale: str,
    *,
    number: str,
    page: str = "letter",
) -> bytes:
    """The declaration as a paper; ``number`` is that of the sale in the record."""
    from labelkit.paper.document import Document

    title = words("Declaration for honey sold in bulk")
    paper = Document(page, f"{title} {sold.bucket}", lang=words.lang, author=maker.get("name", ""))
    paper.title(title)
    paper.paragraph(f"{sold.bucket} · {show_day(sold.day, locale)} · {words('No.')} {number}", "lead")
    paper.facts(bulk_facts(sold, bucket, maker, origin, words, locale), label_mm=46)
    paper.paragraph(
        words("Keep this paper with the honey and name its lot in what you make of it: a recall goes by it.")
    )
    paper.space(14)
    paper.facts([(words("Received, day and name"), "____________________________________")], label_mm=60)
    paper.paragraph(words("Your market may ask for more of honey sold in bulk. Check your local rules."), "small")
    if note := quality_note(words):
        paper.paragraph(note, "small")
    return paper.bytes()
