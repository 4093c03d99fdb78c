"""The delivery note as a paper, carrying the lots."""

from __future__ import annotations

from collections.abc import Mapping

from labelkit.measures.locales import show_day
from labelkit.measures.wording import Wording
from labelkit.sale.account_events import Delivery
from labelkit.sale.delivery import note_fields
from labelkit.sale.paper_note import quality_note


def delivery_note_pdf(
    delivery: Delivery,
    maker: Mapping[str, str],
    words: Wording,
    locale: str,
    *,
    page: str = "letter",
    prices: bool = True,
    acts: str = "",
) -> bytes:
    """The note, with or without prices; ``acts`` names the law that lists what it holds, where the markets have one."""
    from labelkit.paper.document import Document

    fields = note_fields(delivery, maker, locale)
    title = words("Delivery note")
    paper = Document(page, f"{title} {delivery.number}", lang=words.lang, author=maker.get("name", ""))
    paper.title(title)
    paper.paragraph(f"{delivery.number} · {show_day(delivery.day, locale)}", "lead")
    described = {"(a)": f"{words('Honey in jars')}: "}
    shown = [(words(asked.name), described.get(asked.eu, "") + text) for asked, text in fields if asked.eu != "(b)"]
    paper.facts(shown, label_mm=46)
    head = [words("Jar"), words("Lot"), words("Jars"), *([words("Price"), words("Amount")] if prices else [])]
    rows = [
        [
            line.size,
            line.lot,
            str(line.count),
            *([line.price.show(locale), line.amount.show(locale)] if prices and line.price else []),
        ]
        for line in delivery.lines
    ]
    amount = next(text for asked, text in fields if asked.eu == "(b)")
    if prices:
        rows.append(
            [words("Together"), "", str(sum(line.count for line in delivery.lines)), "", delivery.owed.show(locale)]
        )
    wide = paper.width_mm
    shares = (0.34, 0.24, 0.12, 0.14, 0.16) if prices else (0.5, 0.35, 0.15)
    paper.table(rows, head=head, align="llrrr"[: len(head)], widths_mm=[wide * share for share in shares], total=prices)
    paper.paragraph(f"{words('Packed')}: {amount}")
    if prices and delivery.due:
        paper.paragraph(words("Please pay by {day}.", day=show_day(delivery.due, locale)))
    paper.paragraph(words("Keep this note: it says which lots you received. If a lot is recalled, these are the jars."))
    paper.space(14)
    paper.facts([(words("Received, day and name"), "____________________________________")], label_mm=60)
    if acts:
        paper.paragraph(words("This note holds what {law} ask for. Check your local rules.", law=acts), "small")
    if note := quality_note(words):
        paper.paragraph(note, "small")
    return paper.bytes()
