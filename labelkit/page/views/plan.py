"""The jar plan: limits to type, and what they bring at once."""

from __future__ import annotations

from decimal import Decimal
from typing import TYPE_CHECKING

from flask import Blueprint, g, request

from labelkit.cli._wishes import GOALS
from labelkit.cli.plan import plan_asked
from labelkit.errors import LabelkitError
from labelkit.page import explanations, request_context
from labelkit.page.verbs import by_size, typed
from labelkit.page.view import first, href, page

if TYPE_CHECKING:
    from labelkit.lots.bucket import Bucket

view = Blueprint("plan", __name__)


@view.get("/plan")
def plan() -> str:
    """The whole page; what is asked stands in the address, so that it can be kept and sent on."""
    season = request_context.season()
    fills = [
        {
            "price": p,
            "fill": season.fill(p.size, request_context.context().day),
            "why": explanations.of_fill(season, p.size, request_context.context().day, first),
        }
        for p in season.prices.values()
    ]
    return page(
        "plan.html",
        **_outcome(),
        sizes=fills,
        goals=GOALS,
        all_buckets=[bucket.id for bucket in _full()],
        currency=season.currency,
        **_to_drag(fills),
    )


@view.get("/plan/look")
def look() -> str:
    """Only what the limits lead to."""
    return page("plan_outcome.html", **_outcome())


@view.get("/plan/why")
def reasons() -> str:
    """Why this many of each size and not one more or less."""
    from labelkit.plan.why import reasons as why_this_many

    found = _outcome()
    told = why_this_many(found["asked"], found["plan"]) if found["plan"] else ()
    return page(
        "plan_why.html",
        **found,
        told=[reason.words(request_context.context().locale) for reason in told],
        back=_address("/plan"),
    )


def _to_drag(fills: list[dict]) -> dict:
    """How far each bar goes: to every jar the honey could fill, and to twice the price; nothing to drag without honey."""
    from labelkit.measures.locales import currency_digits, show_number

    most = {each["price"].size: sum(bucket.holds // each["fill"] for bucket in _full()) for each in fills}
    return {
        "most": {size: count for size, count in most.items() if count},
        "digits": currency_digits(request_context.season().currency),
        "mark": show_number(Decimal("1.5"), request_context.context().locale)[1],
    }


def _address(path: str) -> str:
    """The same question at another of the plan's pages."""
    return href(path, **request.args.to_dict(flat=False))


def _full() -> tuple[Bucket, ...]:
    """The buckets with honey in them, read once a request."""

    if "full_buckets" not in g:
        with request_context.context().reading() as book:
            g.full_buckets = book.buckets(full=True)
    return g.full_buckets


def _outcome() -> dict:
    context = request_context.context()
    wishes = {
        "goal": typed("goal") if typed("goal") in GOALS else "money",
        "first": typed("first") or None,
        "mix": tuple(f"{size}={share}" for size, share in by_size("mix").items()),
        "wet": "allow" if typed("wet") == "allow" else "leave-out",
        "without": tuple(request.args.getlist("without")),
        "prices": tuple(f"{size}={amount}" for size, amount in by_size("price").items()),
        "at_least": tuple(f"{size}={count}" for size, count in by_size("at-least").items()),
        "at_most": tuple(f"{size}={count}" for size, count in by_size("at-most").items()),
    }
    nothing = {"plan": None, "unable": None, "bars": (), "instead": None}
    if not request_context.season().prices or not _full():
        return nothing
    try:
        asked, found, before = plan_asked(context, None, wishes)
    except LabelkitError as refusal:
        return nothing | {"unable": refusal}
    return {
        "plan": found,
        "unable": None,
        "instead": before,
        "asked": asked,
        "why_plan": explanations.of_plan(asked, found, context.locale),
        "bars": _bars(asked, found),
        "why_many": _address("/plan/why"),
    }


def _bars(asked, found) -> list[dict]:
    """Each bucket as a bar divided into its jars, all to one scale; floats only here, as places on the page."""
    sizes = [size.id for size in asked.sizes]
    fill = {size.id: size.fill for size in asked.sizes}
    most = max((b.usable.mg for b in found.buckets), default=1) or 1
    bars = []
    for bucket in found.buckets:
        x, cells = 0.0, []
        for size, count in bucket.jars.items():
            wide = 1000 * count * fill[size].mg / most
            ticks = [round(x + wide * n / count, 2) for n in range(1, count)] if wide / count > 4 else []
            cells.append(
                {
                    "size": size,
                    "count": count,
                    "x": round(x, 2),
                    "wide": round(wide, 2),
                    "tone": sizes.index(size) % 6,
                    "ticks": ticks,
                }
            )
            x += wide
        bars.append(
            {
                "bucket": bucket,
                "cells": cells,
                "rest": round(1000 * bucket.left.mg / most, 2),
                "x": round(x, 2),
                "bottle": href("/bottle", bucket=bucket.id, **{f"jar:{size}": n for size, n in bucket.jars.items()}),
            }
        )
    return bars
