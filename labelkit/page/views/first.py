"""The first evening: buckets, jars, plan and label, one question after the other, the next step always one button."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from decimal import Decimal
from functools import lru_cache
from typing import Any

from flask import Blueprint, Response, redirect, request, session

from labelkit.errors import LabelkitError
from labelkit.errors.page import NoJarsCounted
from labelkit.labels.design import USUAL_DESIGN, designs
from labelkit.labels.label_set import said_on
from labelkit.labels.printed import Printed
from labelkit.lots.movement import Account
from labelkit.measures import Length, total
from labelkit.measures.locales import language_name
from labelkit.page import explanations, recent_events, request_context
from labelkit.page.findings import on_desk, spots, told, unruled
from labelkit.page.forms import about, booked, declared, length, paper, step_key, typed, value
from labelkit.page.label_choice import named_so_far, saying
from labelkit.page.language import later, say_count
from labelkit.page.view import first, number, page, weight_unit
from labelkit.rules import market
from labelkit.rules.address import address_lines
from labelkit.season.first_evening import (
    as_many_of_each,
    fill_as_planned,
    first_labels,
    further_languages,
    labels_pdf,
    print_first_labels,
    say_label,
)
from labelkit.season.label import DrawnLabels, picture_of
from labelkit.season.label_desk import Saying
from labelkit.season.plan import basis_of_record, plan
from labelkit.season.start import country_of
from labelkit.season.usual_jars import Jar, keep_jars, usual_jars

view = Blueprint("first", __name__)

STEPS = (
    ("/start", later("Place")),
    ("/first/bucket", later("Bucket")),
    ("/first/jars", later("Jars")),
    ("/first/plan", later("Plan")),
    ("/first/label", later("Label")),
)
PREVIEW_DPI = 200
#: The date offered until another is said. Common practice, without a source.
USUAL_KEEPING = "24 months"
#: Between the names of one honey in two languages.
IN_BOTH = " / "


def path_facts(at: str) -> dict[str, Any]:
    """The five steps with what was answered, for the head of each of them; ``at`` is the one that is open."""
    context, answers = request_context.context(), ["", "", "", "", ""]
    if request_context.has_record():
        season = request_context.season()
        with context.reading() as state:
            buckets = state.buckets()
            weighed = total(event.net for bucket in buckets for event in bucket.history if hasattr(event, "net"))
            filled = sum(jars.count for jars in state.stock(Account.JARS))
        sizes = len(season.jars(context.day))
        answers = [
            market(season.first_market, context.day).name if season.first_market else "",
            first(weighed) if buckets else "",
            say_count("{n} size", "{n} sizes", sizes) if sizes else "",
            say_count("{n} jar", "{n} jars", filled) if filled else "",
            "",
        ]
    return {"path": [(where, word, said) for (where, word), said in zip(STEPS, answers, strict=True)], "path_at": at}


@view.get("/first/jars")
def jars() -> str:
    """Which jars there are."""
    return _jars()


@view.post("/first/jars")
def jars_kept():
    """Keep the sizes that are ticked."""

    def step() -> int:
        context, chosen = request_context.context(), _chosen()
        with context.work(step_key()) as work:
            keep_jars(work, chosen, context.day)
        return len(chosen)

    return booked(step, _jars, lambda _: "/first/plan", lambda _: "")


def _chosen() -> tuple[Jar, ...]:
    named = [*((name, name) for name in request.form.getlist("size")), ("", typed("name:"))]
    found = [
        Jar(name, value(f"declares:{key}", declared), value(f"wide:{key}", length), value(f"high:{key}", length))
        for key, name in named
        if name
    ]
    if not found:
        with about("size"):
            raise NoJarsCounted()
    return tuple(found)


def _jars(refused: LabelkitError | None = None) -> str:
    season = request_context.season()
    return page(
        "first_jars.html",
        **path_facts("/first/jars"),
        refused=refused,
        jars=usual_jars(season.first_market),
        known=season.prices,
        ticked=set(request.form.getlist("size")) if refused else None,
        show=shown_length,
        place=market(season.first_market, request_context.context().day).name if season.first_market else "",
    )


def shown_length(length: Length) -> str:
    """A length as the season measures: in inches where it weighs in pounds and the inches come out even."""
    inches = length.mm / Decimal("25.4")
    if weight_unit() == "lb" and inches == round(inches, 3):
        return f"{number(inches.normalize())} in"
    return length.show(request_context.context().locale)


@view.get("/first/plan")
def planned() -> str:
    """How many jars of each the honey fills."""
    return _planned()


@view.post("/first/plan")
def filled():
    """The jars are filled as the plan has them."""

    def step() -> int:
        context = request_context.context()
        with context.work(step_key()) as work:
            runs = fill_as_planned(work, context.day, context.locale)
        return sum(jar.count for done in runs for jar in done.run.jars)

    return booked(step, _planned, lambda _: "/first/label", lambda _: "")


def _planned(refused: LabelkitError | None = None) -> str:
    context, unable, found = request_context.context(), None, None
    try:
        with context.reading() as state:
            basis = basis_of_record(state, context.day, with_past=False)
        found = (
            plan(basis, as_many_of_each(request_context.season(), context.day))
            if basis.request.buckets and basis.request.sizes
            else None
        )
    except LabelkitError as refusal:
        unable = refusal
    return page(
        "first_plan.html",
        **path_facts("/first/plan"),
        refused=refused,
        unable=unable,
        found=found,
        why_plan=explanations.of_plan(found.request, found.plan, context.locale) if found else None,
    )


@view.get("/first/label")
def label() -> str:
    """What the label says, and how it looks so far."""
    return _label()


@view.get("/first/label/look")
def look() -> str:
    """Only the look and what is found."""
    with request_context.context().reading() as state:
        jars = sum(jars.count for jars in state.stock(Account.JARS))
    return page("first_label_look.html", live=True, jars=jars, **_look())


@view.get("/first/label.png")
def picture() -> Response:
    """The first label as it prints with the words typed so far."""
    return Response(picture_of(_so_far()[0], PREVIEW_DPI), mimetype="image/png")


@view.post("/first/print")
def printed():
    """Keep the words, book the labels of every jar, and open the file."""

    def step() -> int:
        context = request_context.context()
        with context.work(step_key()) as work:
            prints = print_first_labels(work, _saying(), typed("because"), context.day, context.locale)
            return sum(each.drawn[0].printed.labels for each in prints)

    return booked(step, _label, lambda _: "/first/labels.pdf", lambda _: "")


@view.get("/first/labels.pdf")
def pdf() -> Response:
    """The labels as they were booked, to print."""
    context = request_context.context()
    with context.reading() as state:
        return paper(labels_pdf(first_labels(state, context.day, context.locale, "printed")), "labels.pdf")


@view.get("/first/done")
def done():
    """What was printed, and how it goes on."""
    context = request_context.context()
    with context.reading() as state:
        after = int(typed("after")) if typed("after").isdigit() else 0
        prints = [each for each in state.events((Printed.kind,), after=after) if each.stands]
        undo = recent_events.undoable(state, context.locale)
    if not prints:
        return redirect("/first/label", 303)
    session.pop("said", None)
    return page("first_done.html", **path_facts(""), prints=[each.event for each in prints], undo=undo)


def _saying() -> Saying:
    words = request_context.settings().get("label", {})
    said = saying(("name", "best_before", "design", "origin"), ("lines",) if words.get("lines") else ())
    usual = {"name": "", "best_before": USUAL_KEEPING, "design": USUAL_DESIGN}
    texts = {**usual, **{key: words[key] for key in usual if words.get(key)}, **dict(said.texts)}
    # One name in two languages: other lines are left out where a label is small, the name never is.
    if texts["name"] and typed("name_too"):
        texts["name"] += IN_BOTH + typed("name_too")
    return replace(said, texts=tuple(texts.items()))


def _so_far() -> list[DrawnLabels]:
    context = request_context.context()
    with context.reading() as state:
        head = state.head().hash
    return _draw_once(context.record, context.day, context.locale, head, named_so_far(_saying()))


@lru_cache(maxsize=8)
def _draw_once(record: str | None, day: date, locale: str, head: str, said: Saying) -> list[DrawnLabels]:
    """The labels these words would make, kept for the few requests of one look; the record's head is part of the key."""
    with request_context.context().rehearsal() as work:
        say_label(work, said, day)
        return first_labels(work, day, locale, one=True)


def _look() -> dict[str, Any]:
    said = _saying()
    maker = dict(said.maker)
    whole = bool(dict(said.texts)["name"] and maker.get("name") and maker.get("city"))
    shown: dict[str, Any] = {"drawn": (), "unable": None, "words": None, "untrue": (), "query": {}, "whole": whole}
    found, stops = [], []
    try:
        drawn = _so_far()
    except LabelkitError as refusal:
        drawn, shown["unable"] = [], refusal
    if drawn:
        placed = drawn[0].drawn[0].printed.placed[0]
        shown |= {"drawn": drawn, "placed": placed, "says": said_on(placed)}
        shown["untrue"] = tuple(text for each in drawn for text in each.untrue)
        sent = ("name", "name_too", "origin", "maker", "address", "design", "best_before")
        shown["query"] = {name: typed(name) or " " for name in sent if name in request.values}
    if drawn and whole:
        found = told({(one.rule, one.says): one for each in drawn for one in each.findings}.values())
        stops = unruled(found, (text for each in drawn for text in each.stops))
    return shown | on_desk(found, stops, dict(said.facts)) | {"spots": spots(found, placed) if found else ()}


def _label(refused: LabelkitError | None = None) -> str:
    context, settings = request_context.context(), request_context.settings()
    named = request_context.season().first_market
    place = market(named, context.day) if named else None
    with context.reading() as state:
        jars = sum(jars.count for jars in state.stock(Account.JARS))
        head = state.head().seq
    return page(
        "first_label.html",
        **path_facts("/first/label"),
        **_look(),
        live=False,
        refused=refused,
        jars=jars,
        head=head,
        designs=list(designs().values()),
        chosen=dict(_saying().texts)["design"],
        best_before=dict(_saying().texts)["best_before"],
        further=[language_name(each) for each in further_languages(place)] if place else (),
        no_country=place is not None and not country_of(place.code),
        maker_now=settings.get("maker", {}),
        words_now=settings.get("label", {}),
        names=settings.get("label", {}).get("name", "").partition(IN_BOTH),
        address="\n".join(address_lines(settings.get("maker", {}))),
    )
