"""What customers owe: deliveries that are open or late, payments, refunds, and reminders."""

from __future__ import annotations

from flask import Blueprint, Response, request

from labelkit.errors import LabelkitError
from labelkit.errors.page import NoSuchPage
from labelkit.page import recent_events, request_context
from labelkit.page.forms import about, amount, booked, paper, step_key, typed
from labelkit.page.language import say
from labelkit.page.view import money, page
from labelkit.paper.mail import mail_file
from labelkit.sale.account_events import Reminder
from labelkit.sale.reminder import reminder_pdf
from labelkit.season.account import GivingBack, Paying, balances, last_reminder, pay, refund, remind
from labelkit.season.letters import language_for, reminder_letter
from labelkit.season.papers import paper_size, paper_words
from labelkit.season.settings import settings_of

view = Blueprint("owed", __name__)

SHOWN = 60  # customers; the command line lists more


@view.get("/owed")
def owed() -> str:
    """Every customer with an account, and the forms."""
    return _owed()


@view.post("/owed/pay")
def paid():
    """Book a payment, or money that was given back."""
    return booked(_paid, _owed, lambda _: "/owed", lambda said: said)


def _paid() -> str:
    context, customer = request_context.context(), typed("customer")
    how, back = typed("how"), typed("way") == "refund"
    with about("amount"):
        sum_ = amount(typed("amount"), context.locale)
    with context.work(step_key()) as work:
        if back:
            refund(work, GivingBack(customer, sum_, how, typed("because")), context.day)
        else:
            pay(work, Paying(customer, sum_, how, typed("number")), context.day)
    if back:
        return say("{customer}: {amount} given back.", customer=customer, amount=money(sum_))
    return say("{customer}: {amount} paid.", customer=customer, amount=money(sum_))


@view.post("/owed/remind")
def reminded():
    """Book a reminder; its letter is drawn from the record."""
    return booked(
        _reminded,
        _owed,
        lambda _: "/owed",
        lambda done: say("{customer} is reminded of {amount}.", customer=done.customer, amount=money(done.amount)),
    )


def _reminded() -> Reminder:
    context = request_context.context()
    with context.work(step_key()) as work:
        return remind(work, typed("customer"), context.day).reminder


@view.get("/owed/reminder.<kind>")
def letter(kind: str) -> Response:
    """The last reminder a customer got, on paper (pdf) or as a message to send (eml)."""
    context = request_context.context()
    with context.reading() as state:
        sent, settings = last_reminder(state, typed("customer")), state.settings()
        if sent is None or kind not in ("pdf", "eml"):
            raise NoSuchPage(f"/owed/reminder.{kind[:20]}")
        season = settings_of(state, sent.reminder.day)
    language = language_for(settings, sent.reminder.customer, None) or settings.get("language")
    words, locale = paper_words(language, context.locale)
    made = reminder_pdf(
        sent.reminder, sent.deliveries, sent.address, season.maker, words, locale, page=paper_size(season)
    )
    if kind == "pdf":
        return paper(made, "reminder.pdf")
    mail = reminder_letter(settings, sent, made, words, locale)
    return paper(mail_file(mail, context.now), "reminder.eml", "message/rfc822")


def _owed(refused: LabelkitError | None = None) -> str:
    context = request_context.context()
    with context.reading() as state:
        accounts = balances(state)
        reminded = {each.event.customer for each in state.events((Reminder.kind,)) if each.stands}
        undo = recent_events.undoable(state, context.locale)
    shown = sorted(accounts, key=lambda each: (not each.late(context.day), -each.open.minor, each.customer))
    return page(
        "owed.html",
        refused=refused,
        accounts=shown[:SHOWN],
        more=len(shown) - SHOWN,
        currency=request_context.season().currency,
        day=context.day,
        reminded=reminded,
        undo=undo,
        chosen=request.values.get("customer", "").strip(),
    )
