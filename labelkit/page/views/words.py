"""What every label of the season says, and how its maker works: kept in the record by ``labelkit label-words``."""

from __future__ import annotations

from flask import Blueprint, request

from labelkit.errors import LabelkitError
from labelkit.page import request_context
from labelkit.page.forms import booked, lines, step_key, typed
from labelkit.page.language import say
from labelkit.page.view import page
from labelkit.season.label_words import LabelWords, fact_value, keep_words

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
    return booked(_kept, _words, lambda _: "/labels", lambda _: say("Your label says so from now on."))


def _kept():
    context = request_context.context()
    with context.work(step_key()) as work:
        return keep_words(work, _asked(), context.day)


def _asked() -> LabelWords:
    """What the form says; an answer that was taken out of it is open again."""
    texts = {name: typed(name) for name in ("name", "floral_source", "grade", "best_before")}
    jars = {}
    for size in request_context.season().prices:
        wide, high = typed(f"wide:{size}"), typed(f"high:{size}")
        if wide:
            jars[size] = {"diameter": wide, **({"height": high} if high else {})}
    given = {name: _given(name) for name in FACTS}
    return LabelWords(
        {**texts, "origin": typed("origin").upper(), "kind": typed("kind") or "honey"},
        tuple(lines("lines")),
        jars,
        facts={name: fact_value(name, text) for name, text in given.items() if text},
        unsay=[name for name, text in given.items() if not text],
    )


def _given(name: str) -> str:
    return ", ".join(request.form.getlist(f"fact:{name}")) if name == "sells_to" else typed(f"fact:{name}")


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
