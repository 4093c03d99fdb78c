"""Deliveries: jars to a business that pays later, with the note that carries their lots."""

from __future__ import annotations

from collections import Counter

from flask import Blueprint, Response

from labelkit.errors import LabelkitError
from labelkit.errors.page import NoSuchPage
from labelkit.page import recent_events, request_context
from labelkit.page.forms import amount, booked, booking_day, by_size, count, jar_counts, lines, paper, step_key, typed
from labelkit.page.forms import value as value_of
from labelkit.page.language import say
from labelkit.page.view import money, page
from labelkit.paper.mail import mail_file
from labelkit.sale.account_events import Delivery
from labelkit.season.deliver import Delivered, JarsForCustomer, deliver, note_paper
from labelkit.season.letters import delivery_letter, language_for
from labelkit.season.papers import paper_words
from labelkit.season.settings import settings_of
from labelkit.season.shelf import on_shelf

view = Blueprint("deliver", __name__)

#: Who buys jars to sell or use them on.
CHANNELS = ("shop", "wholesale", "restaurant")
LATELY = 12


@view.get("/deliver")
def form() -> str:
    """The form, and the notes of the last deliveries."""
    return _deliver()


@view.post("/deliver")
def delivered():
    """Book a delivery; its note is drawn from the record."""
    return booked(_booked, _deliver, lambda _: "/deliver", _told)


def _booked() -> Delivered:
    context = request_context.context()
    asked = JarsForCustomer(
        typed("customer"),
        jar_counts(),
        typed("lot") or None,
        by_size("price", amount),
        tuple(lines("address")),
        typed("carrier"),
        typed("to") if typed("to") in CHANNELS else CHANNELS[0],
        phone=typed("phone"),
        because=typed("because"),
        days_to_pay=value_of("days_to_pay", count),
    )
    with context.work(step_key()) as work:
        return deliver(work, asked, booking_day(), context.locale)


def _told(done: Delivered) -> str:
    booked_now = done.delivery
    said = say(
        "{number}: {customer} owes {amount}.",
        number=booked_now.number,
        customer=booked_now.customer,
        amount=money(booked_now.owed),
    )
    missing = say("No phone number of {customer} is known; a recall calls it.", customer=booked_now.customer)
    return f"{said} {missing}" if done.phone_missing else said


@view.get("/deliver/<number>.<kind>")
def note(number: str, kind: str) -> Response:
    """The note of a delivery, on paper (pdf) or as a message to send (eml), in the customer's language."""
    context = request_context.context()
    with context.reading() as state:
        made = [each.event for each in state.events((Delivery.kind,)) if each.stands and each.event.number == number]
        if not made or kind not in ("pdf", "eml"):
            raise NoSuchPage(f"/deliver/{number[:40]}.{kind[:20]}")
        delivery, settings = made[-1], state.settings()
        season = settings_of(state, delivery.day)  # whose jars they were on the day they went
    language = language_for(settings, delivery.customer, None) or settings.get("language")
    words, locale = paper_words(language, context.locale)
    on_paper = note_paper(delivery, season, words, locale)
    if kind == "pdf":
        return paper(on_paper, f"delivery-{delivery.number}.pdf")
    mail = delivery_letter(settings, delivery, on_paper, words, locale)
    return paper(mail_file(mail, context.now), f"delivery-{delivery.number}.eml", "message/rfc822")


def _deliver(refused: LabelkitError | None = None) -> str:
    context = request_context.context()
    with context.reading() as state:
        at_hand, lots = Counter[str](), dict[str, list[str]]()
        for jars in on_shelf(state):
            at_hand[jars.size] += jars.count
            lots.setdefault(jars.lot, []).append(f"{jars.count} × {jars.size}")
        customers = sorted(state.names("customer"))
        notes = [each.event for each in state.latest((Delivery.kind,)) if each.stands][:LATELY]
        undo = recent_events.undoable(state, context.locale)
    return page(
        "deliver.html",
        refused=refused,
        sizes=sorted(at_hand.items()),
        lots=[(lot, f"{lot}: {', '.join(jars)}") for lot, jars in sorted(lots.items())],
        customers=customers,
        channels=CHANNELS,
        notes=notes,
        undo=undo,
    )
