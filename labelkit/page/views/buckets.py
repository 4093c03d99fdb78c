"""Buckets: weighing in with a running list, cappings honey added later, blending."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import replace
from decimal import Decimal
from itertools import islice
from pathlib import Path
from typing import Any

from flask import Blueprint, request

from labelkit.errors import LabelkitError
from labelkit.errors.page import FileNotGiven
from labelkit.lots.bucket import Bucket
from labelkit.lots.intake import Intake, Receipt
from labelkit.lots.received import STATES, OriginShare
from labelkit.page import explanations, recent_events, request_context
from labelkit.page.booked_fields import yards_text
from labelkit.page.forms import (
    about,
    amount,
    booked,
    booking_day,
    day,
    lines,
    mass,
    number,
    percent,
    step_key,
    temperature,
    typed,
    value,
    volume,
    volume_unit,
)
from labelkit.page.language import later, say, say_count
from labelkit.page.view import first, href, on, page, second, weight_unit
from labelkit.page.views.first import path_facts
from labelkit.page.views.work import begun
from labelkit.page.worker import Outcome
from labelkit.reading.entry import read_source
from labelkit.reading.shares import read_share
from labelkit.record.work import Work
from labelkit.season import SeasonContext
from labelkit.season.blend import Blending, blend
from labelkit.season.drain import Drained, drain
from labelkit.season.note import Noted, nothing_drained
from labelkit.season.receive import receipt_read, receive
from labelkit.season.weigh import events_of, weigh, weigh_all, weighed

view = Blueprint("buckets", __name__)

AT_ONCE = 64 * 1024  # bytes of a table booked while one waits: some two thousand buckets
INTAKE = ("weigh", "receive", "drain", "blend")
LISTED = 40
SCALES = {"percent": "% water", "brix": "°Brix", "refractive-index": "refractive index"}
FILE = "Your file"
STATED = {"raw": later("raw"), "unfiltered": later("unfiltered"), "organic": later("organic"), "local": later("local")}


#: Where the two buttons of the first evening lead.
FIRST_EVENING = {"jars": "/first/jars", "again": "/first/bucket"}


@view.get("/weigh")
def weigh_form() -> str:
    """The form and the running list."""
    return _weigh()


@view.get("/first/bucket")
def first_bucket() -> str:
    """The same as a step of the first evening."""
    return _weigh()


@view.post("/weigh")
def weigh_in():
    """Book one bucket."""
    return booked(
        _weighed,
        _weigh,
        lambda _: FIRST_EVENING.get(typed("then"), "/weigh"),
        lambda bucket: (
            ""
            if typed("then") == "jars"
            else say(
                "{bucket} is weighed in: {weight} ({other}) of honey.",
                bucket=bucket.id,
                weight=first(bucket.holds),
                other=second(bucket.holds),
            )
        ),
    )


@view.get("/weigh/look")
def look() -> str:
    """What the form says so far, by the same road as booking it, and nothing booked."""
    return page("weigh_look.html", **_look())


@view.post("/weigh/file")
def from_file():
    """Book a spreadsheet of buckets, all of it or nothing; a great one as long work."""
    upload = request.files.get("table")
    content = upload.read() if upload else b""
    # A name of our own, whatever the sender called it.
    name = "season.toml" if upload and (upload.filename or "").lower().endswith(".toml") else "buckets.csv"
    if len(content) > AT_ONCE:
        key = step_key()
        return begun(later("Take the file"), take_file, (name, key), key=key or "", files={name: content})
    return booked(
        lambda: _taken(request_context.context(), name, content, step_key()),
        _weigh,
        lambda _: "/weigh",
        lambda buckets: say_count("{n} bucket weighed in.", "{n} buckets weighed in.", len(buckets)),
    )


def take_file(context: SeasonContext, folder: Path, asked: tuple[str, str | None]) -> Outcome:
    """The same as long work; ``asked`` is the file's name and the step's key."""
    name, key = asked
    return Outcome(f"{len(_taken(context, name, (folder / name).read_bytes(), key))} buckets weighed in.")


@view.get("/drain")
def drain_form() -> str:
    """The form for cappings honey."""
    return _drain()


@view.post("/drain")
def drained():
    """Book cappings honey into its bucket."""
    return booked(
        _drained,
        _drain,
        lambda _: "/",
        lambda done: say("{weight} added to {bucket}.", weight=first(done.added), bucket=done.bucket.id),
    )


@view.post("/drain/nothing")
def nothing():
    """No cappings honey came of a bucket's extraction: nobody is reminded any more."""

    def step() -> Noted:
        context = request_context.context()
        with context.work(step_key()) as work:
            return nothing_drained(work, typed("bucket"), booking_day(), typed("because"))

    return booked(
        step,
        _drain,
        lambda _: "/",
        lambda done: say("Noted: nothing drained for {buckets}.", buckets=", ".join(done.note.lots)),
    )


@view.get("/blend")
def blend_form() -> str:
    """The form for a blend."""
    return _blend()


@view.post("/blend")
def blended():
    """Book a blend of what was ticked."""
    return booked(_blended, _blend, lambda _: "/", _blend_told)


def _weighed() -> Bucket:
    context = request_context.context()
    asked = _receipt() or _asked()
    if isinstance(asked, Receipt):
        receipt_read(asked, booking_day(), context.locale)
    else:
        weighed(asked, booking_day(), context.locale)
    with context.work(step_key()) as work:
        return _came(work, asked)


def _came(work: Work, asked: Intake | Receipt) -> Bucket:
    context = request_context.context()
    if isinstance(asked, Receipt):
        return receive(work, asked, booking_day(), context.locale)
    return weigh(work, asked, booking_day(), context.locale)


def _drained() -> Drained:
    context = request_context.context()
    with context.work(step_key()) as work:
        return drain(work, _asked(), booking_day(), context.locale)


def _blended() -> Bucket:
    context = request_context.context()
    parts = tuple((name, value(f"part:{name}", mass)) for name in request.form.getlist("from"))
    with context.work(step_key()) as work:
        return blend(work, Blending(typed("into"), parts), booking_day(), context.locale)


def _blend_told(bucket: Bucket) -> str:
    said = say("Blended into {bucket}.", bucket=bucket.id)
    hives = sum(len(source.hives) for source in bucket.sources)
    reach = say_count("A recall of it reaches {n} hive.", "A recall of it reaches {n} hives.", hives) if hives else ""
    return f"{said} {reach}".rstrip()


def _taken(context: SeasonContext, name: str, content: bytes, key: str | None) -> tuple[Bucket, ...]:
    if not content:
        raise FileNotGiven()
    events = _events(context, name, content)
    with context.work(key) as work:
        return weigh_all(work, events, context.locale)


def _events(context: SeasonContext, name: str, content: bytes) -> list[Any]:
    """What an uploaded file says, as events."""
    from labelkit.reading.open_table import table_in
    from labelkit.reading.season_file import read_season
    from labelkit.reading.table_file import names_buckets, read_table
    from labelkit.reading.tables import text_of

    if name.endswith(".toml"):
        return events_of(read_season(text_of(content, FILE), FILE, context.day), context.day)
    table = table_in(content, FILE, context.locale, "", names_buckets)
    return list(read_table(table, context.day, context.locale))


def _asked() -> Intake:
    """The bucket or the pot as the form says it."""
    return Intake(
        typed("bucket"),
        **{name: value(name, mass) for name in ("net", "gross", "tare", "division")},
        container_ml=value("container", volume),
        moisture=_moisture(),
        harvested=value("harvested", day),
        sources=tuple(map(read_source, lines("yards"))),
        plant=typed("plant"),
        because=typed("because"),
    )


def _receipt() -> Receipt | None:
    """The delivery as the form says it; nothing where the form says nothing of one."""
    if not any(map(typed, ("supplier", "their_lot", "origin", "number", "harvest", "paid", "states"))):
        return None
    with about("origin"):
        shares = [read_share(line, request_context.context().locale) for line in lines("origin")]
    return Receipt(
        # What the form remembers of the last bucket, its plant and its yards, is of the season's own honey.
        replace(_asked(), plant=typed("their_plant"), sources=()),
        typed("supplier"),
        typed("their_lot"),
        tuple(OriginShare(country, percent) for country, percent in shares),
        number=typed("number"),
        harvest=typed("harvest"),
        states=tuple(state for state in STATES if state in request.values.getlist("states")),
        paid=value("paid", amount),
        moisture_stated=bool(typed("moisture_stated")),
    )


def _moisture() -> Decimal | None:
    """The moisture in per cent: as typed, or reckoned from a refractometer's reading."""
    from labelkit.honey.moisture import from_brix, from_index

    by = {"brix": from_brix, "refractive-index": from_index}.get(typed("scale"))
    if by is None:
        return value("moisture", percent)
    reading, warmth = value("moisture", number), value("temperature", temperature)
    with about("moisture"):
        return None if reading is None else by(reading, warmth).percent


def _look() -> dict:
    """The bucket as it would stand, or the refusal; nothing while the form is not full enough to say."""
    nothing = {"bucket": None, "water": None, "found": False, "unable": None}
    if not (typed("bucket") and (typed("net") or (typed("gross") and typed("tare")))):
        return nothing
    context = request_context.context()
    try:
        with context.rehearsal() as work:
            bucket = _came(work, _receipt() or _asked())
    except LabelkitError as refusal:
        return nothing | {"unable": refusal}
    from labelkit.page.bucket_drawing import pail

    return {
        "bucket": bucket,
        "water": explanations.of_moisture(bucket, first),
        "found": bool(typed("moisture")) and typed("scale") in ("brix", "refractive-index"),
        "unable": None,
        "pail": pail(bucket),
    }


def _weigh(refused: LabelkitError | None = None) -> str:
    with request_context.context().reading() as state:
        newest = islice((each for each in state.latest(INTAKE) if each.stands), LISTED)
        listed = [_row(each) for each in newest]
        count = state.counted("weigh", "receive")
        before = next((each.event for each in state.latest(("weigh",)) if each.stands), None)
        fill = dict(request.values) if refused else _as_before(before, state.knows) | dict(request.args)
        undo = recent_events.undoable(state, request_context.context().locale)
    shown = (
        _look()
        if refused is None and request.args
        else {"bucket": None, "water": None, "found": False, "pail": None, "unable": None}
    )
    of_the_evening = request.endpoint == "buckets.first_bucket" or typed("then") in FIRST_EVENING
    return page(
        "first_bucket.html" if of_the_evening else "weigh.html",
        **shown,
        **(path_facts("/first/bucket") if of_the_evening else {}),
        refused=refused,
        fill=fill,
        scales=SCALES,
        states=STATED,
        chosen=request.values.getlist("states") if refused else (),
        currency=request_context.season().currency,
        unit=weight_unit(),
        undo=undo,
        volume=volume_unit(),
        listed=listed,
        count=count,
    )


def _as_before(before, taken: Callable[[str], bool]) -> dict[str, str]:
    """What is mostly the same from bucket to bucket, and the next name."""
    if before is None:
        return {"bucket": "B1"}
    found = re.fullmatch(r"(.*?)(\d{1,6})", before.bucket, re.DOTALL)
    name = f"{found[1]}{int(found[2]) + 1:0{len(found[2])}d}" if found else ""
    again = {"bucket": "" if taken(name) else name, "plant": before.plant or ""}
    if before.sources:
        again["yards"] = yards_text(before.sources)
    if before.weighing:
        again["tare"] = first(before.weighing.tare)
        again["division"] = first(before.weighing.division) if before.weighing.division else ""
    if before.container_ml:
        from labelkit.measures.locales import show_number
        from labelkit.measures.rounding import HALF_UP, to_step

        per = 1000 if weight_unit() == "kg" else "3785.411784"
        again["container"] = show_number(
            to_step(before.container_ml / Decimal(per), Decimal("0.1"), HALF_UP), request_context.context().locale
        )
    return again


def _row(each) -> dict:
    event = each.event
    mass = event.mass if event.kind == "blend" else event.net
    return {
        "seq": each.seq,
        "name": event.into if event.kind == "blend" else event.bucket,
        "kind": event.kind,
        "mass": mass,
        "moisture": getattr(event, "moisture", None),
        "day": on(event.day),
        "from": getattr(event, "supplier", "")
        or "; ".join(map(str, getattr(event, "sources", ())))
        or "; ".join(p.bucket for p in getattr(event, "parts", ())),
    }


def _full():
    with request_context.context().reading() as book:
        return book.buckets(full=True)


def _drain(refused: LabelkitError | None = None) -> str:
    return page("drain.html", refused=refused, buckets=_full(), scales=SCALES, unit=weight_unit(), back=href("/weigh"))


def _blend(refused: LabelkitError | None = None) -> str:
    return page(
        "blend.html", refused=refused, buckets=_full(), unit=weight_unit(), chosen=request.values.getlist("from")
    )
