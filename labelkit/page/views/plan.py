"""The jar plan: limits to type, and what they bring at once."""

from __future__ import annotations

from decimal import Decimal
from pathlib import Path
from typing import Any

from flask import Blueprint, g, request

from labelkit.errors import LabelkitError
from labelkit.errors.sentence import written
from labelkit.page import explanations, request_context
from labelkit.page.forms import booked, step_key, typed
from labelkit.page.language import later, say
from labelkit.page.view import first, href, page
from labelkit.page.wishes import planning
from labelkit.page.worker import Outcome
from labelkit.plan.wishes import Planning
from labelkit.season import SeasonContext
from labelkit.season.kept_plan import keep_plan, kept_plan, same_wishes
from labelkit.season.plan import PlanBasis, basis_of_record, plan
from labelkit.season.unmet import against_buckets

view = Blueprint("plan", __name__)

NOT_WISHES = ("token", "step", "same")

GOAL_WORDS = {
    "money": later("most money"),
    "least-left": later("least left over"),
    "first": later("one size first"),
}


@view.get("/plan")
def plan_form() -> str:
    """The whole page; what is asked stands in the address, so that it can be kept and sent on."""
    return _page()


@view.post("/plan/keep")
def keep():
    """Keep the plan of these limits, or of those of the plan kept before; filling day follows it."""
    return booked(_kept, _page, lambda _: "/filling", lambda event: say("The plan is kept. Fill by it."))


def _kept() -> int:
    context = request_context.context()
    with context.work(step_key()) as work:
        asked = same_wishes(work, context.day) if typed("same") else planning()
        return keep_plan(work, asked, context.day)[1]


def _page(refused: LabelkitError | None = None) -> str:
    season = request_context.season()
    fills = [
        {
            "price": p,
            "fill": season.fill(p.size, request_context.context().day),
            "why": explanations.of_fill(season, p.size, request_context.context().day, first),
        }
        for p in season.planned(request_context.context().day).values()
    ]
    return page(
        "plan.html",
        **_outcome(),
        refused=refused,
        sizes=fills,
        goals=GOAL_WORDS,
        all_buckets=[bucket.id for bucket in _basis().request.buckets],
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
    told = why_this_many(found["request"], found["plan"]) if found["plan"] else ()
    return page(
        "plan_why.html",
        **found,
        told=[reason.words(request_context.context().locale) for reason in told],
        back=_address("/plan"),
    )


def _to_drag(fills: list[dict]) -> dict:
    """How far each bar goes: to every jar the honey could fill, and to twice the price; nothing to drag without honey."""
    from labelkit.measures.locales import currency_digits, show_number

    most = {each["price"].size: sum(b.usable // each["fill"] for b in _basis().request.buckets) for each in fills}
    return {
        "most": {size: count for size, count in most.items() if count},
        "digits": currency_digits(request_context.season().currency),
        "mark": show_number(Decimal("1.5"), request_context.context().locale)[1],
    }


def _address(path: str) -> str:
    """The same question at another of the plan's pages."""
    return href(path, **request.args.to_dict(flat=False))


def _basis() -> PlanBasis:
    """What there is to plan with, read once a request."""
    if "plan_basis" not in g:
        context = request_context.context()
        with context.reading() as state:
            g.plan_basis = basis_of_record(state, context.day, with_past=False)
            g.kept_plan = kept_plan(state)
            g.plan_unmet = against_buckets(state, state.buckets(full=True), context.day)
    return g.plan_basis


def plan_longer(context: SeasonContext, folder: Path, asked: Planning) -> Outcome:
    """The plan of these limits as long work, with its picture and a spreadsheet of its buckets."""
    from labelkit.paper.workbook import table_file
    from labelkit.plan.picture import plan_svg
    from labelkit.plan.table import plan_table
    from labelkit.plan.why import reasons as why_this_many

    with context.reading() as state:
        basis = basis_of_record(state, context.day, with_past=False)
    done = plan(basis, asked)
    (folder / "plan.svg").write_text(plan_svg(done.request, done.plan, context.locale), encoding="utf-8")
    (folder / "plan.csv").write_bytes(table_file(plan_table(done.request, done.plan), "plan.csv", context.now))
    jars = ", ".join(f"{count} × {size}" for size, count in done.plan.jars.items() if count) or "No jar can be filled."
    proof = "Proved." if done.plan.proved else f"Not proved; at most {done.plan.bound.show(context.locale)}."
    lines = [jars, f"{done.plan.value.show(context.locale)}. {proof}"]
    lines += [f"Left out: {out.bucket}, {written(out.reason, context.locale)}." for out in done.plan.left_out]
    lines += [f"Buy {count} more {size} jars." for size, count in done.plan.to_buy.items()]
    lines += ["", *(reason.words(context.locale) for reason in why_this_many(done.request, done.plan))]
    return Outcome("\n".join(lines))


def _outcome() -> dict[str, Any]:
    basis = _basis()
    nothing = {"plan": None, "unable": None, "bars": (), "instead": None, "unmet": g.plan_unmet}
    wished = [(name, value) for name, value in request.values.items(multi=True) if value and name not in NOT_WISHES]
    if not basis.request.sizes or not basis.request.buckets:
        return nothing
    try:
        found = plan(basis, planning())
    except LabelkitError as refusal:
        return nothing | {"unable": refusal}
    return {
        "plan": found.plan,
        "unable": None,
        "unmet": g.plan_unmet,
        "instead": found.before,
        "request": found.request,
        "why_plan": explanations.of_plan(found.request, found.plan, request_context.context().locale),
        "bars": _bars(found.request, found.plan),
        "why_many": _address("/plan/why"),
        "wished": wished,
        "kept_plan": g.kept_plan and g.kept_plan.event.plan,
    }


def _bars(asked, found) -> list[dict]:
    """Each bucket as a bar divided into its jars, all to one scale; floats only here, as places on the page."""
    sizes = [size.id for size in asked.sizes]
    fill = {size.id: size.fill for size in asked.sizes}
    most = max((b.usable.mg for b in found.buckets), default=1) or 1
    bars = []
    for bucket in found.buckets:
        x, cells = 0.0, []
        for size, jars in bucket.jars.items():
            wide = 1000 * jars * fill[size].mg / most
            ticks = [round(x + wide * n / jars, 2) for n in range(1, jars)] if wide / jars > 4 else []
            cells.append(
                {
                    "size": size,
                    "count": jars,
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
