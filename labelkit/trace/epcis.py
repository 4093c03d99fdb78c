"""The season as EPCIS 2.0 events in JSON-LD (GS1; ISO/IEC 19987 and 19988), for partners who read that.

Classes of jars are named by GS1 Digital Link where a size has a GTIN, and by the producer's own web address otherwise;
buckets, places and events always by the web address. Corrections are told the way EPCIS asks: the wrong event with an
errorDeclaration, and the right one beside it. The words for steps and states are those of the Core Business
Vocabulary 2.0; it has none for blending or bottling, so those are transformations that commission the new lot.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from datetime import datetime, time
from decimal import Decimal
from typing import Any
from urllib.parse import quote

from labelkit.barcodes.matrix import digital_link
from labelkit.lots.bucket_life import DISCARDED, GIVEN, SOLD, Measured, TakenOut, Treated
from labelkit.lots.movement import Account, Movement
from labelkit.measures import Mass
from labelkit.measures.locales import DEFAULT_LOCALE
from labelkit.trace.booked import Booked
from labelkit.trace.intake import intakes

CONTEXT = "https://ref.gs1.org/standards/epcis/2.0.0/epcis-context.jsonld"
KILOGRAM = "KGM"  # UN/ECE Recommendation 20


@dataclass(frozen=True, slots=True)
class Names:
    """How things are named: the producer's web address, and the GTIN of each jar size that has one."""

    web: str
    gtins: Mapping[str, str] = field(default_factory=dict)

    def lot(self, lot: str, size: str = "") -> str:
        """A bucket, or the jars of one size of a lot.

        >>> Names("https://hazelbank.example", {"small": "09521234543213"}).lot("L26195K", "small")
        'https://id.gs1.org/01/09521234543213/10/L26195K'
        >>> Names("https://hazelbank.example/").lot("B 1")
        'https://hazelbank.example/lot/B%201'
        """
        if size in self.gtins:
            return digital_link(self.gtins[size], lot)
        return self.own("lot", lot, size) if size else self.own("lot", lot)

    def own(self, *path: str | int) -> str:
        """A name under the producer's own web address."""
        return "/".join((self.web.rstrip("/"), *(quote(str(part), safe="") for part in path)))


# What an arrival at an account means: action, step and state, in the words of CBV 2.0.
_ARRIVALS = {
    ("made", Account.JARS): ("ADD", "commissioning", "active"),
    ("sell", Account.SOLD): ("DELETE", "retail_selling", "retail_sold"),
    ("unload", Account.SOLD): ("DELETE", "retail_selling", "retail_sold"),
    ("deliver", Account.SOLD): ("OBSERVE", "shipping", "in_transit"),
    ("give", Account.GIVEN): ("DELETE", "other", None),
    ("unload", Account.GIVEN): ("DELETE", "other", None),
    ("return", Account.JARS): ("OBSERVE", "receiving", "returned"),
    ("return", Account.HELD): ("OBSERVE", "receiving", "returned"),
    ("load", Account.STALL): ("OBSERVE", "transporting", "in_transit"),
    ("unload", Account.JARS): ("OBSERVE", "receiving", "sellable_accessible"),
    ("hold", Account.HELD): ("OBSERVE", "holding", "non_sellable_other"),
    ("release", Account.JARS): ("OBSERVE", "storing", "sellable_accessible"),
}
_ANY_ARRIVAL = {
    Account.BROKEN: ("DELETE", "destroying", "destroyed"),
    Account.DISCARDED: ("DELETE", "destroying", "destroyed"),
    Account.SAMPLE: ("DELETE", "sampling", None),
    Account.UNEXPLAINED: ("OBSERVE", "stock_taking", "unknown"),
}


_ANYTHING_ELSE = ("OBSERVE", "other", None)


def epcis_document(booked: Iterable[Booked], names: Names, created: datetime) -> dict[str, Any]:
    """An EPCISDocument of these events; quantities of honey in kilograms, of jars in pieces."""
    story = tuple(booked)
    instead: dict[int, list[str]] = defaultdict(list)
    strikes = {each.event.corrects: each for each in story if each.kind == "correct"}
    sizes = {(m.lot, m.size): None for each in story for m in each.event.movements() if m.size}
    events = {each.seq: _events(each, names, tuple(sizes)) for each in story}
    for came in intakes(story, {m.lot for each in story for m in each.event.movements()}):
        if len(came.sources) > 1:
            events[came.seq][0]["ilmd"]["honey:sources"] = [
                {"honey:yard": source.yard, "honey:hives": list(source.hives), "honey:kilograms": _number(share)}
                for source, share in zip(came.sources, came.shares, strict=True)
            ]
    for each in story:
        if each.stands_for is not None:
            instead[each.stands_for] += [made["eventID"] for made in events[each.seq]]
    for seq, strike in strikes.items():
        for made in events.get(seq, ()):
            made["errorDeclaration"] = {
                "declarationTime": strike.at.isoformat(),
                "reason": "incorrect_data" if instead[seq] else "did_not_occur",
                **({"correctiveEventIDs": instead[seq]} if instead[seq] else {}),
            }
    return {
        "@context": [CONTEXT, {"honey": names.own("terms") + "#"}],
        "id": names.own("epcis", created.date().isoformat()),
        "type": "EPCISDocument",
        "schemaVersion": "2.0",
        "creationDate": created.isoformat(),
        "epcisBody": {"eventList": [made for each in story for made in events[each.seq]]},
    }


def _events(each: Booked, names: Names, sizes: tuple[tuple[str, str], ...]) -> list[dict[str, Any]]:
    """The EPCIS events of one of ours: none where no honey and no jar is concerned."""
    makers = {
        "weigh": _filled,
        "drain": _filled,
        "receive": _received,
        "blend": _changed,
        "run": _bottled,
        "relabel": _relabelled,
        Measured.kind: _in_bucket,
        Treated.kind: _in_bucket,
        TakenOut.kind: _out_of_bucket,
    }
    if each.kind in ("correct", "set", "note"):
        return []
    if each.kind == "recall":
        found = [_recalled(each, names, sizes)]
    else:
        found = list(makers.get(each.kind, _arrived)(each, names))
    when = _when(each)
    for n, made in enumerate(found):
        made |= when | {"eventID": names.own("event", each.seq, *([n] if n else []))}
        made.setdefault("readPoint", {"id": names.own("place", "honey-house")})
    return found


def _when(each: Booked) -> dict[str, str]:
    """The time it was booked, if that was on the day itself; else noon of that day in the same zone."""
    at = each.at if each.at.date() == each.day else datetime.combine(each.day, time(12), each.at.tzinfo)
    offset = at.strftime("%z")
    return {
        "eventTime": at.isoformat(),
        "eventTimeZoneOffset": f"{offset[:3]}:{offset[3:5]}",
        "recordTime": each.at.isoformat(),
    }


def _filled(each: Booked, names: Names) -> Iterable[dict[str, Any]]:
    came = each.event
    step = "commissioning" if each.kind == "weigh" else "creating_class_instance"
    ilmd = {
        "honey:harvested": (came.harvested or came.day).isoformat(),
        "honey:sources": [{"honey:yard": s.yard, "honey:hives": list(s.hives)} for s in came.sources],
    }
    yield {
        "type": "ObjectEvent",
        "action": "ADD",
        "bizStep": step,
        "disposition": "active",
        "quantityList": [_honey(names, came.bucket, came.net)],
        "ilmd": ilmd,
    }


def _received(each: Booked, names: Names) -> Iterable[dict[str, Any]]:
    """The supplier's lot as it arrived, and the bucket it became: so one step back stands in the document itself."""
    came = each.event
    theirs = {
        "epcClass": names.own("supplied", came.supplier, came.their_lot),
        "quantity": _number(came.net),
        "uom": KILOGRAM,
    }
    yield {
        "type": "ObjectEvent",
        "action": "OBSERVE",
        "bizStep": "receiving",
        "disposition": "in_progress",
        "quantityList": [theirs],
        "sourceList": [{"type": "possessing_party", "source": names.own("party", came.supplier)}],
        **_note(came.number, names),
    }
    said = (("honey:supplierLot", came.their_lot), ("honey:harvest", came.harvest), ("honey:plant", came.plant))
    yield {
        "type": "TransformationEvent",
        "bizStep": "commissioning",
        "disposition": "active",
        "inputQuantityList": [theirs],
        "outputQuantityList": [_honey(names, came.bucket, came.net)],
        "ilmd": {name: text for name, text in said if text}
        | {
            "honey:origin": [
                {"honey:country": share.country, "honey:percent": _percent(share.percent)} for share in came.origin
            ]
        },
    }


def _changed(each: Booked, names: Names) -> Iterable[dict[str, Any]]:
    moves = each.event.movements()
    yield {
        "type": "TransformationEvent",
        "bizStep": "commissioning",
        "disposition": "active",
        "inputQuantityList": [_honey(names, m.lot, -m.mass) for m in moves if m.mass.mg < 0],
        "outputQuantityList": [_honey(names, m.lot, m.mass) for m in moves if m.mass.mg > 0],
    }


def _in_bucket(each: Booked, names: Names) -> Iterable[dict[str, Any]]:
    """Measured again or treated: the bucket as it was found or left; with seed, a bucket that another went into."""
    step = each.event
    if isinstance(step, Treated) and step.seed is not None:
        yield from _changed(each, names)
        return
    after = step.after if isinstance(step, Treated) else step.net or step.held
    yield {
        "type": "ObjectEvent",
        "action": "OBSERVE",
        "bizStep": "other" if isinstance(step, Treated) else "inspecting",
        "disposition": "active",
        "quantityList": [_honey(names, step.bucket, after)],
        "honey:says": step.describe(DEFAULT_LOCALE),
    }


def _out_of_bucket(each: Booked, names: Names) -> Iterable[dict[str, Any]]:
    step = each.event
    sold = _ARRIVALS["deliver" if step.customer else "sell", Account.SOLD]
    ways = {DISCARDED: _ANY_ARRIVAL[Account.DISCARDED], SOLD: sold, GIVEN: _ARRIVALS["give", Account.GIVEN]}
    action, business, state = ways.get(step.how, ("DELETE", "other", None))
    yield {
        "type": "ObjectEvent",
        "action": action,
        "bizStep": business,
        **({"disposition": state} if state else {}),
        "quantityList": [_honey(names, step.bucket, step.mass)],
        **_parties(each, names),
    }


def _bottled(each: Booked, names: Names) -> Iterable[dict[str, Any]]:
    moves = each.event.movements()
    made: dict[tuple[str, str], int] = defaultdict(int)
    for m in moves:
        if m.count > 0:
            made[m.lot, m.size] += m.count
    yield {
        "type": "TransformationEvent",
        "bizStep": "commissioning",
        "disposition": "active",
        "inputQuantityList": [_honey(names, m.lot, -m.mass) for m in moves if m.account == Account.BUCKET],
        "outputQuantityList": [_jars(names, lot, size, count) for (lot, size), count in made.items()],
    }
    yield from _by_arrival(each, names, [m for m in moves if m.account in _ANY_ARRIVAL])


def _relabelled(each: Booked, names: Names) -> Iterable[dict[str, Any]]:
    moves = each.event.movements()
    yield {
        "type": "TransformationEvent",
        "bizStep": "commissioning",
        "disposition": "active",
        "inputQuantityList": [_jars(names, m.lot, m.size, -m.count) for m in moves if m.count < 0],
        "outputQuantityList": [_jars(names, m.lot, m.size, m.count) for m in moves if m.count > 0],
    }


def _arrived(each: Booked, names: Names) -> Iterable[dict[str, Any]]:
    yield from _by_arrival(each, names, each.event.movements())


def _by_arrival(each: Booked, names: Names, moves: Iterable[Movement]) -> Iterable[dict[str, Any]]:
    jars: dict[Account, list[Movement]] = defaultdict(list)
    for m in moves:
        if m.count > 0:
            jars[m.account].append(m)
    for account, arrived in jars.items():
        action, step, state = _ARRIVALS.get((each.kind, account)) or _ANY_ARRIVAL.get(account, _ANYTHING_ELSE)
        if each.kind == "sell" and each.event.customer:
            action, step, state = _ARRIVALS["deliver", Account.SOLD]
        yield {
            "type": "ObjectEvent",
            "action": action,
            "bizStep": step,
            **({"disposition": state} if state else {}),
            "quantityList": [_jars(names, m.lot, m.size, m.count) for m in arrived],
            **_parties(each, names),
        }


def _parties(each: Booked, names: Names) -> dict[str, Any]:
    """Where it happened, and to or from whom."""
    happened = each.event
    parts: dict[str, Any] = {}
    if place := getattr(happened, "place", None):
        parts["readPoint"] = {"id": names.own("place", place)}
    if customer := getattr(happened, "customer", None):
        end = {
            "type": "possessing_party",
            ("source" if each.kind == "return" else "destination"): names.own("party", customer),
        }
        parts["sourceList" if each.kind == "return" else "destinationList"] = [end]
    return parts | _note(getattr(happened, "number", ""), names)


def _note(number: str, names: Names) -> dict[str, Any]:
    """The delivery note an event belongs to, where it has one."""
    return (
        {"bizTransactionList": [{"type": "desadv", "bizTransaction": names.own("delivery", number)}]} if number else {}
    )


def _recalled(each: Booked, names: Names, sizes: tuple[tuple[str, str], ...]) -> dict[str, Any]:
    return {
        "type": "ObjectEvent",
        "action": "OBSERVE",
        "bizStep": "holding",
        "disposition": "recalled",
        "quantityList": [{"epcClass": names.lot(lot, size)} for lot, size in sizes if lot in each.event.lots],
        "honey:reason": each.event.why,
    }


def _honey(names: Names, lot: str, mass: Mass) -> dict[str, Any]:
    return {"epcClass": names.lot(lot), "quantity": _number(mass), "uom": KILOGRAM}


def _jars(names: Names, lot: str, size: str, count: int) -> dict[str, Any]:
    return {"epcClass": names.lot(lot, size), "quantity": count}


def _percent(share: Decimal) -> int | float:
    """Per cent as a JSON number; the nearest float prints as the digits that were given."""
    return int(share) if share == int(share) else float(share)


def _number(mass: Mass) -> int | float:
    """Kilograms as the JSON number EPCIS wants. The nearest float prints as the exact decimal up to 10^9 kg."""
    whole, rest = divmod(mass.mg, 1_000_000)
    return whole if not rest else float(mass.kg)
