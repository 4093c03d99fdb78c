"""Filling a page: the facts every template may use, and how a refusal looks."""

from __future__ import annotations

import re
from datetime import date
from decimal import Decimal
from typing import TYPE_CHECKING
from urllib.parse import quote, unquote, urlencode, urlsplit

from flask import current_app, g, request, session
from werkzeug.exceptions import HTTPException
from werkzeug.routing import RoutingException

from labelkit import __version__
from labelkit.errors import LabelkitError
from labelkit.page import language, request_context, security
from labelkit.page.language import later
from labelkit.season.settings import units_of
from labelkit.shipped import render

if TYPE_CHECKING:
    from labelkit.measures import Mass, Money

# The verbs of the season in their order: address, word.
STEPS = (
    ("/", later("Season")),
    ("/weigh", later("Buckets")),
    ("/prices", later("Jars")),
    ("/plan", later("Plan")),
    ("/bottle", later("Bottle")),
    ("/labels", later("Labels")),
    ("/sell", later("Sell")),
    ("/trace", later("Trace")),
    ("/record", later("Record")),
    ("/rules", later("Rules")),
)
_UNDER = {
    "/bucket": "/weigh",
    "/copies": "/record",
    "/correct": "/record",
    "/papers": "/record",
    "/drain": "/weigh",
    "/blend": "/weigh",
    "/words": "/labels",
    "/looks": "/labels",
    "/start": "",
    "/lot": "/bottle",
    "/stall": "/sell",
    "/deliver": "/sell",
    "/owed": "/sell",
    "/years": "/sell",
    "/filling": "/bottle",
    "/batch": "/bottle",
    "/honey-show": "/sell",
    "/reckon": "",
    "/warming": "/bottle",
    "/recall": "/trace",
}


def page(template: str, /, **facts) -> str:
    """A whole page."""
    return render(f"page/{template}", **{**_common(), **facts})


def bare_page(template: str, /, **facts) -> str:
    """A page that says nothing of the record, and does not ask it anything."""
    from labelkit.page.own_words import page_says, ways_of
    from labelkit.page.views.files import version

    bare = {
        "files_are": version(),
        "steps": STEPS,
        "at": "",
        "maker": "",
        "day": "",
        "token": "",
        "said": "",
        "sample": False,
        "typed": {},
        "has_record": g.get("may_see", False),
        "version": __version__,
        "href": href,
        "page_says": page_says,
        "ways_of": ways_of,
        "here_again": "/",
        "refused": None,
        "lan": request_context.station().lan,
        "under_way": (),
        "recalls": (),
        **language.facts(ask_record=False),
    }
    return render(f"page/{template}", **{**bare, **facts})


def refused_page(refusal: LabelkitError) -> str:
    """A refusal on a page of its own, without asking the record anything."""
    return bare_page("refused.html", refused=refusal)


def href(path: str, **query) -> str:
    """An address with its query, every part quoted.

    >>> href("/bottle", bucket="B 1&2", **{"jar:one pound": 3})
    '/bottle?bucket=B+1%262&jar%3Aone+pound=3'
    """
    kept = {key: value for key, value in query.items() if value not in (None, "")}
    return quote(path, safe="/") + (f"?{urlencode(kept, doseq=True)}" if kept else "")


def own_path(path: str, otherwise: str) -> str:
    """A path of this page as it was given, where one of its views answers it; else the other one.

    Browsers leave tabs and line breaks out of an address and take a backslash for a slash, so none may be in it
    (WHATWG URL Standard, 4.4 URL parsing).
    """
    if len(path) > 1500 or not path.startswith("/") or path.startswith("//") or re.search(r"[\x00-\x20\x7f\\]", path):
        return otherwise
    try:
        current_app.url_map.bind("").match(unquote(urlsplit(path).path), method="GET")
    except (HTTPException, RoutingException, ValueError):
        return otherwise
    return path


def _common() -> dict:
    from labelkit.measures.locales import show_day
    from labelkit.page.own_words import page_says, ways_of
    from labelkit.page.views.files import version

    context = request_context.context()
    known = request_context.has_record()
    settings = request_context.settings() if known else {}
    top = "/" + request.path.strip("/").split("/")[0]
    return {
        "steps": STEPS,
        "at": _UNDER.get(top, top),
        "token": security.token(),
        "step_key": security.step_key,
        "said": session.pop("said", ""),
        "sample": request_context.trying_a_sample(),
        "has_record": known,
        "maker": settings.get("maker", {}).get("name", ""),
        "today": context.day,
        "day": show_day(context.day, language.for_days(context.locale), form="long"),
        "locale": context.locale,
        "version": __version__,
        "files_are": version(),
        "typed": request.values,
        "href": href,
        "refused": None,
        "recalls": _recalls() if known and not request.path.startswith("/recall/") else (),
        "units": units_of(settings),
        "first": first,
        "second": second,
        "money": money,
        "percent": percent,
        "number": number,
        "on": on,
        "here_again": own_path(request.full_path.rstrip("?"), "/") if request.method == "GET" else "/",
        **language.facts(),
        "page_says": page_says,
        "ways_of": ways_of,
        "lan": request_context.station().lan,
        "under_way": [
            job
            for job in request_context.station().jobs.of(context.record or "")
            if not job.over and job.id not in request.path
        ],
    }


def _recalls() -> list[tuple[str, str, str]]:
    """What each running recall wants next, with its link."""
    from labelkit.errors import Way
    from labelkit.page.doors import door

    return [(one.what, *door(Way(one.verb, one.about))) for one in request_context.recalls()]


def weights_first() -> str:
    """Which weights come first, and whether the other stands beside."""
    return units_of(request_context.settings() if request_context.has_record() else {})


def weight_unit() -> str:
    """The unit a bare weight is read in: kilograms, or pounds."""
    return "kg" if weights_first().startswith("metric") else "lb"


def money(amount: Money) -> str:
    """An amount as the reader writes it."""
    return amount.show(request_context.context().locale)


def first(mass: Mass) -> str:
    """A mass in the units the season shows first."""
    from labelkit.measures import show_first

    return show_first(mass, request_context.context().locale)


def second(mass: Mass) -> str:
    """The same mass in the other units; nothing where the season never wants them."""
    from labelkit.measures import show_second

    return show_second(mass, request_context.context().locale)


def percent(value: Decimal, digits: int = 1) -> str:
    """Per cent as the reader writes numbers."""
    from labelkit.measures.locales import show_percent

    return show_percent(value, request_context.context().locale, digits=digits)


def number(value: Decimal | int, digits: int | None = None) -> str:
    """A number as the reader writes it."""
    from labelkit.measures.locales import show_number

    return show_number(value, request_context.context().locale, digits=digits)


def on(day: date) -> str:
    """A day in the reader's words."""
    from labelkit.measures.locales import show_day

    return show_day(day, language.for_days(request_context.context().locale), form="medium")
