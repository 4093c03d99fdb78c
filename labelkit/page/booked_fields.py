"""What was booked, as the fields of a form take it: to be put right in place, or typed anew once it was struck."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from datetime import date
from decimal import Decimal
from typing import Any

from labelkit.errors.page import NothingChanged
from labelkit.lots.bucket import Drain, Source, WeighIn
from labelkit.lots.bucket_life import (
    DISCARDED,
    DRIED,
    FED,
    GIVEN,
    SKIMMED,
    SOLD,
    STIRRED,
    WARMED,
    Measured,
    TakenOut,
    Treated,
)
from labelkit.lots.received import Receive
from labelkit.measures import Mass, Money
from labelkit.page import request_context
from labelkit.page.forms import amount, by_size, count, day, mass, mass_left, number, percent, temperature, typed, value
from labelkit.page.language import later
from labelkit.page.view import first, href, money
from labelkit.page.view import number as shown_number
from labelkit.run import Run
from labelkit.sale.events import Discard, Give, Return, Sale
from labelkit.season.changes import COUNTED, Changes, booked_values, held_values

# A value, what its field is called, and how it is read; text where nothing reads it.
_FIELDS: dict[str, tuple[str, Callable[[str, str], Any] | None]] = {
    "gross": (later("Full bucket"), mass),
    "tare": (later("Empty bucket"), mass),
    "net": (later("Or the honey alone"), mass),
    "left": (later("Left in the bucket, weighed"), mass_left),
    "removed": (later("Foam and wax taken off"), mass),
    "moisture": (later("Moisture"), percent),
    "hottest_c": (later("Warmest"), temperature),
    "hours": (later("Hours"), number),
    "seed": (later("Seed honey from"), None),
    "seed_mass": (later("Seed"), mass),
    "jars": (later("How many"), count),
    "prices": (later("Price of one"), amount),
    "rate": (later("Price of a kilogram or pound"), amount),
    "customer": (later("Customer"), None),
    "parts": (later("Out of bucket"), mass_left),
    "sold": (later("Sold"), count),
    "given": (later("Given away"), count),
    "tasted": (later("Tasted"), count),
    "broken": (later("Broken"), count),
    "back": (later("Back"), count),
    "cash": (later("Cash in the box, the change included"), amount),
    "cards": (later("Paid by card"), amount),
    "off": (later("Let off on prices"), amount),
    "fee": (later("What the stall cost"), amount),
    "amount": (later("Amount"), amount),
    "change": (later("Change in the box"), amount),
    "day": (later("Day"), day),
}
# How the forms that book a step call a value, and where they stand.
_BY_NAME = ("jars", "prices", "parts", *COUNTED)  # a field for each jar size, or for each bucket
_CALLED = {"jars": "jar", "prices": "price", "parts": "part", "hottest_c": "highest", "day": "on"}
_BUCKET_FORM = {
    SKIMMED: "skim",
    DRIED: "dry",
    WARMED: "warm",
    STIRRED: "stir",
    SOLD: "sell",
    FED: "feed",
    GIVEN: "give",
    DISCARDED: "discard",
}
_SELL_AS = {Sale: "sold", Give: "given", Return: "returned", Discard: "discarded"}


def fields_of(event: Any, sizes: Iterable[str] = ()) -> dict[str, tuple[str, str, str]]:
    """The fields to put an event right: what each is called, the jar size it is for, and what was booked.

    ``sizes`` are those a run may have filled as well.
    """
    booked, found = booked_values(event), {}
    for name in sorted(held_values(event), key=list(_FIELDS).index):
        word, said = _FIELDS[name][0], getattr(booked, name)
        if name in _BY_NAME:
            more = dict.fromkeys(sizes) if isinstance(event, Run) else {}
            for size, each in {**more, **(said or {})}.items():
                found[f"{_CALLED.get(name, name)}:{size}"] = word, size, _text(each)
        else:
            found[name] = word, "", _text(said)
    return found


def changes_typed(event: Any, sizes: Iterable[str] = ()) -> Changes:
    """What the form says otherwise than was booked; a field left empty says nothing.

    Raises :class:`~labelkit.errors.page.NothingChanged`.
    """
    changed = {
        field for field, (_, _, booked) in fields_of(event, sizes).items() if typed(field) and typed(field) != booked
    }
    said: dict[str, Any] = {}
    for name, (_, read) in _FIELDS.items():
        if name in _BY_NAME:
            field = _CALLED.get(name, name)
            every = by_size(field, read) if read else {}
            said[name] = {size: each for size, each in every.items() if f"{field}:{size}" in changed}
        elif name in changed:
            said[name] = value(name, read) if read else typed(name)
    if not changed:
        raise NothingChanged()
    return Changes(**said)


def form_again(event: Any) -> str:
    """The address of the form an event is booked with, filled with what was booked; nothing where there is none."""
    fields = {_CALLED.get(name, name): text for name, (_, _, text) in fields_of(event).items()}
    fields |= {"because": getattr(event, "because", ""), "bucket": getattr(event, "bucket", "")}
    if isinstance(event, WeighIn):
        more = {"yards": yards_text(event.sources), "plant": event.plant or "", "harvested": _text(event.harvested)}
        return href("/weigh", **{**fields, **more})
    if isinstance(event, Receive):
        papers = {name: getattr(event, name) for name in ("supplier", "their_lot", "number", "harvest", "states")}
        origin = "\n".join(f"{share.country}={share.percent}" for share in event.origin)
        return href("/weigh", **fields, **papers, origin=origin, their_plant=event.plant or "", paid=_text(event.paid))
    if isinstance(event, Drain):
        return href("/drain", **fields, yards=yards_text(event.sources))
    if isinstance(event, Measured):
        form = "moisture" if event.net is None else "weigh-again"
        return href(f"/bucket/{form}", **fields, instrument=event.instrument)
    if isinstance(event, Treated):
        renamed = {"dry": {"left": "after", "moisture": "moisture_after"}, "skim": {"left": "net"}}
        form = _BUCKET_FORM[event.how]
        return href(f"/bucket/{form}", **{renamed.get(form, {}).get(name, name): v for name, v in fields.items()})
    if isinstance(event, TakenOut):
        whole = event.mass == event.held
        part = {} if whole else {"part": _text(event.mass)}
        return href(
            f"/bucket/{_BUCKET_FORM[event.how]}", **{**fields, "net": ""}, address="\n".join(event.address), **part
        )
    if isinstance(event, Run):
        others = {
            f"{name}:{jar.size}": str(jar.count)
            for name, jars in (("broken", event.broken), ("sample", event.samples))
            for jar in jars
        }
        return href("/bottle", **fields, **others, lost=_text(event.lost) if event.lost.mg else "")
    if type(event) in _SELL_AS and len({line.lot for line in event.lines}) == 1:
        more = {name: getattr(event, name, None) or "" for name in ("to", "place", "reason", "customer")}
        return href("/sell", **{**fields, **more, "lot": event.lines[0].lot, "as": _SELL_AS[type(event)]})
    return ""


def yards_text(sources: Iterable[Source]) -> str:
    """Yards and hives as the form takes them, a yard a line."""
    return "\n".join(f"{s.yard}: {', '.join(s.hives)}" if s.hives else s.yard for s in sources)


def _text(said: Any) -> str:
    """A value as somebody would type it, exactly."""
    locale = request_context.context().locale
    if isinstance(said, Mass):
        text = first(said)
        return text if Mass.read(text, locale) == said else f"{shown_number(said.kg)} kg"
    if isinstance(said, Money):
        return money(said)
    if isinstance(said, date):
        return said.isoformat()
    if isinstance(said, Decimal):
        return shown_number(said)
    return "" if said is None else str(said)
