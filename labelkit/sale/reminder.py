"""The reminder of deliveries that are not paid, as a paper."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

from labelkit.measures.locales import show_day
from labelkit.measures.wording import Wording
from labelkit.sale.account_events import Reminder
from labelkit.sale.balances import DeliveryAccount
from labelkit.sale.paper_note import quality_note
from labelkit.sale.price_list import maker_lines


def reminder_pdf(
    reminder: Reminder,
    deliveries: Iterable[DeliveryAccount],
    address: Sequence[str],
    maker: Mapping[str, str],
    words: Wording,
    locale: str,
    *,
    page: str = "letter",
) -> bytes:
    """The reminder: each delivery with what is still open of it, and the day to pay by. It claims no interest."""
    from labelkit.paper.document import Document

    title = words("Payment reminder")
    paper = Document(page, f"{title} {reminder.customer}", lang=words.lang, author=maker.get("name", ""))
    paper.title(title)
    paper.paragraph(show_day(reminder.day, locale), "lead")
    sender = ", ".join(maker_lines(maker, ""))
    receiver = ", ".join((reminder.customer, *address))
    paper.facts([(words("From"), sender), (words("To"), receiver)], label_mm=46)
    paper.paragraph(words("Our records show these deliveries as not paid in full:"))
    head = [words("Delivery"), words("Day"), words("To be paid by"), words("Amount"), words("Still open")]
    rows = [
        [
            each.delivery.number,
            show_day(each.delivery.day, locale, form="medium"),
            show_day(each.delivery.due, locale, form="medium") if each.delivery.due else "–",
            each.delivery.owed.show(locale),
            each.open.show(locale),
        ]
        for each in deliveries
    ]
    rows.append([words("Together"), "", "", "", reminder.amount.show(locale)])
    paper.table(rows, head=head, align="lllrr", widths_mm=[paper.width_mm / 5] * 5, total=True)
    paper.paragraph(words("Please pay by {day}.", day=show_day(reminder.pay_by, locale)))
    paper.paragraph(words("If you have paid in the meantime, please disregard this letter."))
    if note := quality_note(words):
        paper.paragraph(note, "small")
    return paper.bytes()
