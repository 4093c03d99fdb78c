"""From what a person holds to where a trace begins: a code, also mistyped; a bucket, hive, yard, harvest day, supplier, customer, stall."""

from __future__ import annotations

import difflib
from collections.abc import Iterator

from labelkit.errors.lots import LotCodeWrong
from labelkit.errors.record import CorrectionRefused, LotUnknown
from labelkit.lots.bucket_life import TakenOut
from labelkit.lots.code import is_lot_code, read_lot_code
from labelkit.lots.received import Receive
from labelkit.measures.period import Period
from labelkit.record.reading import Reading
from labelkit.trace.booked import Booked, Correct
from labelkit.trace.follow import Start


def find_lot(record: Reading, text: str) -> Start:
    """The jar lot or bucket of this name. A mistyped code is refused with the nearest codes in the record."""
    name = text.strip()
    name = name if record.bottled(name) else record.fill(name)
    if record.knows(name):
        return Start("lot" if record.bottled(name) else "bucket", name, (name,))
    if is_lot_code(name) and record.bottled(code := read_lot_code(name).code):
        return Start("lot", code, (code,))
    taken = record.lot_codes_taken()
    try:
        code = read_lot_code(name, near=taken).code
    except LotCodeWrong:
        if name.upper().startswith("L") and len(name) >= 8:
            raise
        raise LotUnknown(f"lot or bucket “{name}”", _near(name, record.names("bucket") | taken)) from None
    raise LotUnknown(f"lot {code}, though the code itself is sound", _near(code, taken))


def find_source(record: Reading, yard: str = "", hive: str = "", harvested: Period | None = None) -> Start:
    """The buckets with honey from a yard, a hive, a harvest day or year, or what is common to those given."""
    days = str(harvested or "")
    lots = record.lots_of(yard, hive, harvested)
    given = [(what, name) for what, name in (("yard", yard), ("hive", hive), ("harvested", days)) if name]
    if not lots:
        named = [(what, name) for what, name in given if what != "harvested"] or given
        what, name = next(((w, n) for w, n in named if n not in record.names(w)), named[0])
        when = f" harvested in {days}" if days and what != "harvested" else ""
        raise LotUnknown(f"honey of {_SAID[what]} {name}{when}", _near(name, record.names(what) - {name}))
    return Start(given[0][0], " · ".join(name for _, name in given), tuple(sorted(lots)))


def find_supplier(record: Reading, supplier: str = "", their_lot: str = "", within: Period | None = None) -> Start:
    """The buckets of honey a supplier delivered, or of one lot of theirs, ever or in a year."""
    came = record.events_with("supplier", supplier) if supplier else record.events((Receive.kind,))
    found = [
        each.event
        for each in came
        if each.stands and their_lot in ("", each.event.their_lot) and (within is None or each.day in within)
    ]
    given = [name for name in (supplier, their_lot, str(within or "")) if name]
    if not found:
        known = record.names("supplier") if supplier else frozenset()
        raise LotUnknown(f"honey bought in from {' · '.join(given)}", _near(supplier, known - {supplier}))
    return Start("supplier", " · ".join(given), tuple(dict.fromkeys(event.bucket for event in found)))


def find_buyer(record: Reading, customer: str = "", place: str = "", within: Period | None = None) -> Start:
    """The lots a customer had, or that were sold at a place, on one day, in a year, or ever."""
    role, name = ("customer", customer) if customer else ("place", place)
    on = str(within or "")
    sold = [each for each in record.events_with(role, name, within) if each.stands]
    lots = {line.lot for each in sold for line in getattr(each.event, "lines", ())}
    lots |= {each.event.bucket for each in sold if isinstance(each.event, TakenOut)}
    if not lots:
        raise LotUnknown(
            f"jars of {_SAID[role]} {name}{f' of {on}' if on else ''}", _near(name, record.names(role) - {name})
        )
    return Start(role, name + (f" · {on}" if on else ""), tuple(sorted(lots)), tuple(each.seq for each in sold))


_SAID = {"yard": "yard", "hive": "hive", "harvested": "harvest day", "customer": "customer", "place": "place"}


def _near(name: str, known: frozenset[str]) -> str:
    lowered = {each.casefold(): each for each in sorted(known)}
    found = [lowered[n] for n in difflib.get_close_matches(name.casefold(), lowered, n=4, cutoff=0.5)]
    return f"; perhaps {' or '.join(found)}" if found else ""


def find_correctable(record: Reading, seq: int) -> Booked:
    """An event that a correction may strike.

    Raises :class:`~labelkit.errors.record.CorrectionRefused` with the events that stand where it stood.
    """
    found = record.event(seq)
    if found is None:
        raise CorrectionRefused(seq, "there is no event of this number")
    if found.kind == Correct.kind:
        gone = f"it is itself the correction of event {found.event.corrects}"
    elif found.stands:
        return found
    else:
        gone = f"it was already struck by event {found.struck_by}"
    instead = tuple(_standing_for(record, found))
    listed = ", ".join(f"event {each}" for each in instead) or "nothing"
    raise CorrectionRefused(seq, f"{gone}, and {listed} stands in its place", instead)


def _standing_for(record: Reading, booked: Booked) -> Iterator[int]:
    """The events that stand now where one stood: itself, or what was booked instead of it."""
    if booked.stands and booked.kind != Correct.kind:
        yield booked.seq
        return
    correction = booked if booked.kind == Correct.kind else record.event(booked.struck_by or 0)
    if correction:
        numbers = range(correction.seq + 1, correction.seq + 1 + correction.event.instead)
        for instead in filter(None, map(record.event, numbers)):
            yield from _standing_for(record, instead)
