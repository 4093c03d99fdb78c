"""Buckets: weighing in with a running list, cappings honey added later, blending."""

from __future__ import annotations

import re
from collections.abc import Callable
from decimal import Decimal
from itertools import islice

from flask import Blueprint, request

from labelkit.errors import LabelkitError
from labelkit.errors.page import FileNotGiven
from labelkit.page import explanations, recent_events, request_context
from labelkit.page.language import later, say, say_count, told
from labelkit.page.verbs import booked, do, line_task, once, once_key, option, options, typed, with_file, with_unit
from labelkit.page.view import first, href, on, page, second, weight_unit
from labelkit.page.views.work import begun

view = Blueprint("buckets", __name__)

AT_ONCE = 64 * 1024  # bytes of a table booked while one waits: some two thousand buckets
INTAKE = ("weigh", "drain", "blend")
LISTED = 40
WEIGHTS = ("gross", "tare", "net", "division")
SCALES = {"percent": "% water", "brix": "°Brix", "refractive-index": "refractive index"}


@view.get("/weigh")
def weigh() -> str:
    """The form and the running list."""
    return _weigh()


@view.post("/weigh")
def weigh_in():
    """Book one bucket."""
    return booked(
        lambda: do("weigh", *_words(), *once()),
        _weigh,
        lambda _: "/weigh",
        lambda answer: _told(answer.document["buckets"][0]),
    )


@view.get("/weigh/look")
def look() -> str:
    """What the form says so far, by the same road as booking it, and nothing booked."""
    return page("weigh_look.html", **_look())


@view.post("/weigh/file")
def from_file():
    """Book a spreadsheet of buckets, all of it or nothing; a great one as long work."""
    name, content = _file_given()
    if len(content) > AT_ONCE:
        return begun(
            later("Take the file"),
            line_task,
            ["weigh", "--from={folder}/" + name, *once()],
            key=once_key(),
            files={name: content},
        )
    return booked(
        lambda: _file_taken(name, content),
        _weigh,
        lambda _: "/weigh",
        lambda a: say_count("{n} bucket weighed in.", "{n} buckets weighed in.", len(a.document["buckets"])),
    )


@view.get("/drain")
def drain() -> str:
    """The form for cappings honey."""
    return _drain()


@view.post("/drain")
def drained():
    """Book cappings honey into its bucket."""
    return booked(
        lambda: do(
            "drain",
            *option("bucket", typed("bucket")),
            *_weights(("net", "gross", "tare")),
            *_moisture(),
            *_yards(),
            *once(),
        ),
        _drain,
        lambda _: "/",
        lambda answer: told(answer.text.splitlines()[0]),
    )


@view.get("/blend")
def blend() -> str:
    """The form for a blend."""
    return _blend()


@view.post("/blend")
def blended():
    """Book a blend of what was ticked."""
    parts = [
        f"--part={name}={with_unit(request.form.get(f'part:{name}', ''), weight_unit())}".rstrip("=")
        for name in request.form.getlist("from")
    ]
    return booked(
        lambda: do("blend", f"--into={typed('into')}", *(parts or ["--part="]), *once()),
        _blend,
        lambda _: "/",
        lambda answer: (
            told(answer.text.split("\n\n")[-1].strip()) or say("Blended into {bucket}.", bucket=typed("into"))
        ),
    )


def _words() -> tuple[str, ...]:
    return (
        *option("bucket", typed("bucket")),
        *_weights(WEIGHTS),
        *option("container", with_unit(typed("container"), "l" if weight_unit() == "kg" else "gal")),
        *options(("harvested", "plant"), typed),
        *_yards(),
        *_moisture(),
    )


def _weights(names: tuple[str, ...]) -> tuple[str, ...]:
    return options(names, lambda name: with_unit(typed(name), weight_unit()))


def _yards() -> tuple[str, ...]:
    return tuple(word for line in request.values.get("yards", "").splitlines() for word in option("yard", line))


def _moisture() -> tuple[str, ...]:
    """The moisture in percent: as typed, or reckoned from a reading first, by the command that reckons it."""
    reading, scale = typed("moisture"), typed("scale") or "percent"
    if not reading or scale not in SCALES or scale == "percent":
        return option("moisture", reading)
    warm = option("temperature", _degrees(typed("temperature")))
    found = do("reckon", "moisture", f"--{scale}={reading}", *warm).document["moisture_percent"]
    from labelkit.measures.locales import show_number

    return (f"--moisture={show_number(Decimal(found), request_context.context().locale, digits=1)}",)


def _degrees(text: str) -> str:
    bare = text.strip()
    return f"{bare} {'C' if weight_unit() == 'kg' else 'F'}" if re.fullmatch(r"-?[0-9.,]+", bare) else bare


def _file_given() -> tuple[str, bytes]:
    """What was uploaded, under a name of our own."""
    upload = request.files.get("table")
    content = upload.read() if upload else b""
    toml = bool(upload) and (upload.filename or "").lower().endswith(".toml")
    return "season.toml" if toml else "buckets.csv", content


def _file_taken(name: str, content: bytes):
    if not content:
        raise FileNotGiven()
    return with_file(content, name, lambda file: do("weigh", f"--from={file}", *once()))


def _told(bucket: dict) -> str:
    from labelkit.measures import Mass

    mass = Mass.of_grams(bucket["holds_g"])
    return say(
        "{bucket} is weighed in: {weight} ({other}) of honey.",
        bucket=bucket["id"],
        weight=first(mass),
        other=second(mass),
    )


def _look() -> dict:
    """The bucket as it would stand, or the refusal; nothing while the form is not full enough to say."""
    from labelkit.cli.weigh import typed_in

    enough = typed("bucket") and (typed("net") or (typed("gross") and typed("tare")))
    if not enough:
        return {"bucket": None, "water": None, "found": "", "unable": None}
    try:
        reckoned = _moisture()
        event = typed_in(
            typed("bucket"),
            tuple(line for line in request.values.get("yards", "").splitlines() if line.strip()),
            {
                **{name: with_unit(typed(name), weight_unit()) for name in WEIGHTS},
                "container": with_unit(typed("container"), "l" if weight_unit() == "kg" else "gal"),
                "harvested": typed("harvested"),
                "plant": typed("plant"),
                "moisture": reckoned[0].partition("=")[2] if reckoned else "",
            },
            request_context.context(),
        )
        with request_context.context().rehearsal() as work:  # never committed: a rehearsal before all the guards
            work.add(event)
            bucket = work.bucket(event.bucket)
    except LabelkitError as refusal:
        return {"bucket": None, "water": None, "found": "", "unable": refusal}
    from labelkit.page.bucket_drawing import pail

    found = reckoned[0].partition("=")[2] if reckoned and typed("scale") not in ("", "percent") else ""
    return {
        "bucket": bucket,
        "water": explanations.of_moisture(bucket, first),
        "found": found,
        "unable": None,
        "pail": pail(bucket),
    }


def _weigh(refused: LabelkitError | None = None) -> str:
    with request_context.context().reading() as state:
        newest = islice((each for each in state.latest(INTAKE) if each.stands), LISTED)
        listed = [_row(each) for each in newest]
        count = state.counted("weigh")
        before = next((each.event for each in state.latest(("weigh",)) if each.stands), None)
        fill = dict(request.values) if refused else _as_before(before, state.knows) | dict(request.args)
        undo = recent_events.undoable(state, request_context.context().locale)
    shown = (
        _look()
        if refused is None and request.args
        else {"bucket": None, "water": None, "found": "", "pail": None, "unable": None}
    )
    return page(
        "weigh.html",
        **shown,
        refused=refused,
        fill=fill,
        scales=SCALES,
        unit=weight_unit(),
        undo=undo,
        volume="l" if weight_unit() == "kg" else "gal",
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
        again["yards"] = "\n".join(f"{s.yard}: {', '.join(s.hives)}" if s.hives else s.yard for s in before.sources)
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
        "from": "; ".join(map(str, getattr(event, "sources", ())))
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
