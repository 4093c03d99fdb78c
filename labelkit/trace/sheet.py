"""A trace as one spreadsheet file: one line a step, every line under the same headings."""

from __future__ import annotations

import csv
import re
from collections.abc import Iterable, Iterator, Mapping
from io import StringIO

from labelkit.lots.bucket_life import TakenOut
from labelkit.lots.movement import Account
from labelkit.lots.received import Receive
from labelkit.measures import Mass
from labelkit.measures.locales import DEFAULT_LOCALE
from labelkit.measures.rounding import plain
from labelkit.rules.address import address_lines
from labelkit.sale.goods import Made
from labelkit.trace.follow import Trace
from labelkit.trace.recall import ToTell

_FIGURE = re.compile(r"-?\d+(\.\d+)?")
HEADINGS = (
    "common_name",
    "producer",
    "step",
    "event",
    "day",
    "lot",
    "from_or_to_lot",
    "size",
    "count",
    "grams",
    "harvested",
    "yard",
    "hives",
    "yard_share_grams",
    "yard_known",
    "supplier",
    "their_lot",
    "origin",
    "plant",
    "moisture_percent",
    "to",
    "customer",
    "address",
    "number",
    "place",
    "came_to",
    "where_now",
    "label",
    "wording",
)


def sheet(trace: Trace, maker: Mapping[str, str] | None = None, market: str = "") -> str:
    """The trace as CSV (RFC 4180): weighed in, blended, bottled, changed hands, and where all of it is now.

    With ``maker`` every line also says whose honey it is, as a file that is handed over must.
    """
    out = StringIO()
    writer = csv.DictWriter(out, HEADINGS, restval="", lineterminator="\r\n")
    writer.writeheader()
    whose = ", ".join(filter(None, (maker.get("name"), *address_lines(maker, market=market)))) if maker else ""
    goods = {went.lot for went in trace.went if went.how == Made.kind}
    for step in steps(trace):
        what = {"common_name": "no food" if step.get("lot") in goods else "honey", "producer": _text(whose)}
        writer.writerow(what | {k: _text(v) for k, v in step.items()})
    return out.getvalue()


CALL_HEADINGS = (
    "customer",
    "phone",
    "email",
    "address",
    "jars",
    "which",
    "delivered",
    "delivery_notes",
    "told_on",
    "still_has",
)


def call_sheet(customers: Iterable[ToTell]) -> str:
    """Whom to call as CSV, those with most jars first, with room to note what they answered."""
    out = StringIO()
    writer = csv.DictWriter(out, CALL_HEADINGS, restval="", lineterminator="\r\n")
    writer.writeheader()
    for each in customers:
        line = {
            "customer": each.customer,
            "phone": each.phone,
            "email": each.email,
            "address": " / ".join(each.address),
            "jars": each.count,
            "which": ", ".join(
                [f"{count} × {size} {lot}" for lot, size, count in each.jars]
                + [f"{_g(mass)} g in bulk {lot}" for lot, mass in each.bulk]
            ),
            "delivered": " ".join(day.isoformat() for day in each.days),
            "delivery_notes": " ".join(each.numbers),
        }
        writer.writerow({k: _text(v) for k, v in line.items()})
    return out.getvalue()


def steps(trace: Trace) -> Iterator[dict]:
    """The lines of a trace, each with what it has under the headings."""
    for each in trace.intakes:
        # What was weighed stands once, so that the column adds up; the shares of its yards stand in their own.
        for n, (source, share) in enumerate(zip(each.sources or (None,), each.shares or (None,), strict=True)):
            yield {
                "step": each.how,
                "event": each.seq,
                "day": each.day,
                "lot": each.bucket,
                "grams": "" if n else _g(each.mass),
                "harvested": each.receipt.harvest if each.receipt else each.harvested,
                "yard": source.yard if source else "",
                "hives": " ".join(source.hives) if source else "",
                "yard_share_grams": _g(share) if share else "",
                "yard_known": "as the bucket" if each.as_bucket else "noted" if source else "",
                **_supplied(each.receipt),
                "plant": each.plant or "",
                "moisture_percent": "" if each.moisture is None else plain(each.moisture),
            }
    for blend in trace.blends:
        for bucket, mass in blend.parts:
            yield {
                "step": "blend",
                "event": blend.seq,
                "day": blend.day,
                "lot": blend.into,
                "from_or_to_lot": bucket,
                "grams": _g(mass),
            }
    for done in trace.steps:
        gone = [m for m in done.movements() if m.mass.mg > 0 and m.account != Account.BUCKET]
        if done.kind != TakenOut.kind:  # that changed hands, and stands below
            yield {
                "step": done.kind,
                "event": done.seq,
                "day": done.day,
                "lot": done.event.bucket,
                "grams": _g(gone[0].mass) if gone else "",
                "moisture_percent": "" if done.event.moisture is None else plain(done.event.moisture),
                "to": done.event.describe(DEFAULT_LOCALE),
                "came_to": str(gone[0].account) if gone else "",
            }
    for run in trace.runs:
        for step, filled in (("run", run.jars), ("broken", run.broken), ("sample", run.samples)):
            for f in filled:
                yield {
                    "step": step,
                    "event": run.seq,
                    "day": run.day,
                    "lot": run.lot,
                    "from_or_to_lot": run.bucket,
                    "size": f.size,
                    "count": f.count,
                    "grams": _g(f.mass),
                }
        for step, mass in (("lost", run.lost), ("unexplained", run.unexplained)):
            if mass:
                yield {"step": step, "event": run.seq, "day": run.day, "lot": run.lot, "grams": _g(mass)}
    for went in trace.went:
        yield {
            "step": went.how,
            "event": went.seq,
            "day": went.day,
            "lot": went.lot,
            "size": went.size,
            "count": went.count or "",
            "grams": _g(went.mass),
            "to": went.to,
            "customer": went.customer or "",
            "address": " / ".join(went.address),
            "place": went.place or "",
            "number": went.number,
            "came_to": str(went.where),
        }
    for label in trace.labels:
        yield {
            "step": "label",
            "event": label.seq,
            "day": label.day,
            "lot": label.lot,
            "size": label.size,
            "count": label.count - label.spoiled,
            "label": f"{label.label} {label.design}",
            "wording": label.wording,
        }
    for balance in trace.balances:
        for jars in balance.jars:
            yield {
                "step": "now",
                "lot": jars.lot,
                "size": jars.size,
                "count": jars.count,
                "grams": _g(jars.mass),
                "where_now": str(jars.account),
            }
        if balance.in_bucket:
            yield {"step": "now", "lot": balance.lot, "grams": _g(balance.in_bucket), "where_now": "bucket"}


def _supplied(came: Receive | None) -> dict[str, str]:
    if came is None:
        return {}
    origin = " ".join(f"{share.country}={plain(share.percent)}" for share in came.origin)
    return {"supplier": came.supplier, "their_lot": came.their_lot, "origin": origin, "number": came.number}


def _text(value: object) -> object:
    """A text that a spreadsheet would take for a formula, marked as text; figures as they are."""
    if isinstance(value, str) and value[:1] in ("=", "+", "-", "@", "\t", "\r") and not _FIGURE.fullmatch(value):
        return f"'{value}"
    return value


def _g(mass: Mass) -> str:
    return plain(mass.g)
