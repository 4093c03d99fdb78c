"""Papers to customers as letters that are ready to send: to the address of record, in the customer's language."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from typing import TYPE_CHECKING, Any

from labelkit.measures.locales import show_day
from labelkit.paper.mail import Mail, Party
from labelkit.sale.paper_note import quality_note
from labelkit.sale.price_list import maker_lines
from labelkit.season.papers import sender_of
from labelkit.season.shelf import facts_of

if TYPE_CHECKING:
    from labelkit.measures.wording import Wording
    from labelkit.sale.account_events import Delivery
    from labelkit.season.account import Reminded


def language_for(settings: Mapping[str, Any], customer: str, asked: str | None) -> str | None:
    """The language of a paper to a customer: as asked for, else the customer's own, where it is known."""
    return asked or facts_of(settings, customer).get("language") or None


def letter_to(settings: Mapping[str, Any], customer: str, subject: str, text: str, papers: Mapping[str, bytes]) -> Mail:
    """A paper to a customer as a message from the producer; ``papers`` by the names of their files."""
    to = Party(customer, facts_of(settings, customer).get("email", ""))
    return Mail(sender_of(settings), to, subject, text, tuple(papers.items()))


def delivery_letter(settings: Mapping[str, Any], delivery: Delivery, note: bytes, words: Wording, locale: str) -> Mail:
    """The note of a delivery."""
    title = f"{words('Delivery note')} {delivery.number}"
    said = words(
        "Attached is the note of our delivery {number} of {day}. Keep it: it says which lots you received.",
        number=delivery.number,
        day=show_day(delivery.day, locale),
    )
    jars = [f"{line.count} × {line.size}, {words('Lot')} {line.lot}" for line in delivery.lines]
    text = _signed(settings, words, said, "\n".join(jars))
    return letter_to(settings, delivery.customer, title, text, {f"delivery-{delivery.number}.pdf": note})


def reminder_letter(settings: Mapping[str, Any], sent: Reminded, paper: bytes, words: Wording, locale: str) -> Mail:
    """The reminder of deliveries that are not paid."""
    open_ = [
        f"{each.delivery.number}, {show_day(each.delivery.day, locale)}: {each.open.show(locale)}"
        for each in sent.deliveries
    ]
    text = _signed(
        settings,
        words,
        words("Our records show these deliveries as not paid in full:"),
        "\n".join(open_),
        f"{words('Together')}: {sent.reminder.amount.show(locale)}",
        words("Please pay by {day}.", day=show_day(sent.reminder.pay_by, locale)),
        words("If you have paid in the meantime, please disregard this letter."),
    )
    papers = {f"reminder-{sent.reminder.day}.pdf": paper}
    return letter_to(settings, sent.reminder.customer, words("Payment reminder"), text, papers)


def price_letter(
    settings: Mapping[str, Any], customer: str, day: date, paper: bytes, words: Wording, locale: str
) -> Mail:
    """The price list."""
    said = words("Attached is our price list of {day}.", day=show_day(day, locale))
    return letter_to(
        settings, customer, words("Price list"), _signed(settings, words, said), {f"price-list-{day}.pdf": paper}
    )


def _signed(settings: Mapping[str, Any], words: Wording, *paragraphs: str) -> str:
    """The paragraphs, the producer's name and address below them."""
    parts = (*paragraphs, "\n".join(maker_lines(settings.get("maker", {}), "")), quality_note(words))
    return "\n\n".join(part for part in parts if part) + "\n"
