"""The first start: who you are, where you sell; or a sample season to try and throw away."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

from flask import Blueprint, redirect, request, session

from labelkit.errors import LabelkitError
from labelkit.measures.division import Division
from labelkit.measures.locales import show_number
from labelkit.page import request_context
from labelkit.page.forms import booked, typed, value
from labelkit.page.language import LANGUAGES, chosen, later, say
from labelkit.page.view import own_path, page
from labelkit.page.views.first import path_facts
from labelkit.rules import market
from labelkit.season.start import MAKER, SeasonStart, Started, check_start, start, usual_of

view = Blueprint("start", __name__)

MAKER_WORDS = {
    "name": later("Name on the jars"),
    "street": later("Street and number"),
    "city": later("Town"),
    "region": later("State or region"),
    "postcode": later("Postcode"),
    "phone": later("Telephone for the label"),
    "email": later("E-mail for the label"),
    "registration": later("Registration or permit number"),
}
NUMBERS = {"en_US": "1,234.5", "de_DE": "1.234,5", "fr_FR": "1 234,5", "de_CH": "1’234.5"}
CURRENCIES = ("USD", "CAD", "EUR", "GBP", "AUD", "NZD", "CHF", "PLN", "SEK", "DKK", "NOK", "CZK", "HUF", "RON", "UAH")


@view.get("/start")
def form() -> str:
    """The questions, with the answers given before."""
    return _form()


@view.post("/start")
def begin():
    """Make the record, or change who you are and where you sell."""
    new = _is_new()
    return booked(
        _begun,
        _form,
        lambda _: "/first/bucket" if new else "/",
        lambda done: (
            ""
            if new
            else say(
                "{name}: the record is kept in {where}.",
                name=done.settings.get("maker", {}).get("name") or say("Your season"),
                where=request_context.context().shown,
            )
        ),
    )


def _is_new() -> bool:
    # A record made for stations is there before its season is.
    return not (request_context.has_record() and request_context.settings())


def _begun() -> Started:
    context = request_context.context()
    asked = SeasonStart(
        tuple(dict.fromkeys(name.strip() for name in request.form.getlist("market") if name.strip())),
        maker={name: typed(name) for name in MAKER},
        **{name: typed(name) for name in ("currency", "units", "language", "numbers")},
        scale=value("scale", Division.read),
    )
    if _is_new() and asked.markets:
        language, numbers = usual_of(market(asked.markets[0], context.day))
        language = session.get("language") or (language if language in LANGUAGES else chosen())
        asked = replace(asked, language=asked.language or language, numbers=asked.numbers or numbers)
    check_start(asked, context.day)
    with context.work(create=True) as work:
        done = start(work, asked, context.day)
    session.pop("language", None)  # what the season says goes before what was switched to
    return done


@view.post("/language")
def language():
    """Read the page in another language from here on."""
    if typed("language") in LANGUAGES:
        session["language"] = typed("language")
    return redirect(own_path(typed("back"), "/"), 303)


@view.post("/sample")
def sample():
    """Try an invented season."""
    request_context.station().samples.throw_away(session.get("sample"))
    session["sample"] = request_context.station().samples.make()
    session["said"] = say(
        "This is an invented season to try everything on. Nothing you do here touches a record of your own."
    )
    return redirect("/", 303)


@view.post("/sample/away")
def throw_away():
    """Done with trying."""
    request_context.station().samples.throw_away(session.pop("sample", None))
    session["said"] = say("The sample season is thrown away.")
    return redirect("/", 303)


def _form(refused: LabelkitError | None = None) -> str:
    from labelkit.rules import shelf

    if _is_new():
        return page(
            "first_place.html",
            **path_facts("/start"),
            refused=refused,
            groups=_groups(shelf.markets()),
            chosen=typed("market"),
        )
    settings = request_context.settings()
    return page(
        "start.html",
        refused=refused,
        settings=settings,
        maker_words=MAKER_WORDS,
        languages=LANGUAGES,
        numbers=NUMBERS | {settings["numbers"]: show_number(Decimal("1234.5"), settings["numbers"])}
        if settings.get("numbers")
        else NUMBERS,
        currencies=CURRENCIES,
        groups=_groups(shelf.markets()),
        chosen=[m for m in request.form.getlist("market") if m] or list(settings.get("market", [])),
    )


def _groups(heads) -> list[tuple[str, list[tuple[str, str]]]]:
    """Markets under the country or union they belong to."""
    roots = {head.id: head.name for head in heads if "-" not in head.id}
    groups: dict[str, list[tuple[str, str]]] = {name: [(code, name)] for code, name in roots.items()}
    for head in heads:
        if "-" in head.id:
            groups.setdefault(roots.get(head.id.partition("-")[0], head.name), []).append((head.id, head.name))
    return list(groups.items())
