"""What every label of the season says, and how its maker works: kept in the record by ``labelkit label-words``."""

from __future__ import annotations

from flask import Blueprint, request

from labelkit.errors import LabelkitError
from labelkit.page import request_context
from labelkit.page.language import say
from labelkit.page.verbs import booked, do, once, typed
from labelkit.page.view import page

view = Blueprint("words", __name__)

FACTS = (
    "home_kitchen",
    "own_hives",
    "sells_to",
    "gallons_per_year",
    "food_sales_per_year",
    "employees",
    "units_per_year",
    "pasteurized",
    "infused",
)


@view.get("/words")
def words() -> str:
    """What every label says."""
    return _words()


@view.post("/words")
def keep():
    """Keep what the labels say."""
    lines = [line for line in request.form.get("lines", "").splitlines() if line.strip()]
    arguments = [
        f"--{name.replace('_', '-')}={typed(name)}"
        for name in ("name", "floral_source", "grade", "best_before", "origin")
    ]
    arguments += [
        f"--kind={typed('kind') or 'honey'}",
        *(f"--line={line}" for line in lines),
        *([] if lines else ["--no-lines"]),
    ]
    for size in request_context.season().prices:
        wide, high = typed(f"wide:{size}"), typed(f"high:{size}")
        if wide:
            arguments.append(f"--jar={size}={wide}{f' x {high}' if high else ''}")
    for name in FACTS:
        given = ", ".join(request.form.getlist(f"fact:{name}")) if name == "sells_to" else typed(f"fact:{name}")
        if given:
            arguments.append(f"--fact={name}={given}")
        elif name in request_context.settings().get("situation", {}):
            arguments.append(f"--unsay={name}")
    return booked(
        lambda: do("label-words", *arguments, *once()),
        _words,
        lambda _: "/labels",
        lambda _: say("Your label says so from now on."),
    )


def _words(refused: LabelkitError | None = None) -> str:
    from labelkit.rules.glossary import glossary

    settings = request_context.settings()
    facts = glossary().facts
    return page(
        "words.html",
        refused=refused,
        label=settings.get("label", {}),
        situation=settings.get("situation", {}),
        facts=[facts[name] for name in FACTS if name in facts],
        sizes=list(request_context.season().prices),
        sent=request.form if request.method == "POST" else None,
        maker_settings=settings.get("maker", {}),
    )
