"""A trace as a document for programs: plain names, grams as exact numbers, counts whole."""

from __future__ import annotations

from decimal import ROUND_HALF_EVEN, Decimal
from typing import Any

from labelkit.lots.received import Receive
from labelkit.measures import Mass
from labelkit.measures.locales import DEFAULT_LOCALE
from labelkit.trace.alarms import Limits, alarms
from labelkit.trace.balance import Balance
from labelkit.trace.follow import Bottled, Mixed, Trace, Went
from labelkit.trace.heritage import Heritage
from labelkit.trace.heritage import percent as shown
from labelkit.trace.intake import Intake


def document(trace: Trace, limits: Limits | None = None) -> dict[str, Any]:
    """Everything the trace holds, ready for JSON; ``to_look_into`` what is over its limit."""
    return {
        "asked": {"what": trace.start.what, "name": trace.start.name, "lots": list(trace.start.lots)},
        "lots": list(trace.lots),
        "buckets": list(trace.buckets),
        "sister_lots": [_sister(trace.balance(lot)) for lot in trace.sisters],
        "intakes": [_intake(each) for each in trace.intakes],
        "blends": [_blend(each) for each in trace.blends],
        "bucket_steps": [
            {
                "event": s.seq,
                "day": s.day,
                "kind": s.kind,
                "bucket": s.event.bucket,
                "says": s.event.describe(DEFAULT_LOCALE),
            }
            for s in trace.steps
        ],
        "runs": [_run(each) for each in trace.runs],
        "batch_sheet": [
            {
                "event": b.seq,
                "day": b.day,
                "lots": list(b.event.lots),
                "line": b.event.line,
                "says": b.event.says(DEFAULT_LOCALE),
            }
            for b in trace.batch_lines
        ],
        "jars": [
            {"lot": j.lot, "size": j.size, "where": str(j.account), "count": j.count, "g": j.mass.g}
            for balance in trace.balances
            for j in balance.jars
        ],
        "went": [_went(each) for each in trace.went],
        "labels": [
            {
                "event": k.seq,
                "day": k.day,
                "lot": k.lot,
                "size": k.size,
                "product": k.product,
                "label": k.label,
                "design": k.design,
                "wording": k.wording,
                "says": list(k.said),
                "count": k.count,
                "spoiled": k.spoiled,
                "because": k.because,
            }
            for k in trace.labels
        ],
        "notes": [
            {"event": n.seq, "day": n.day, "lots": list(n.event.lots), "note": n.event.note} for n in trace.notes
        ],
        "holds": [
            {"event": h.seq, "day": h.day, "how": h.how, "lots": list(h.lots), "because": h.because}
            for h in trace.holds
        ],
        "balance": [_balance(each) for each in trace.balances],
        "heritage": [_heritage(each) for each in trace.heritages],
        "to_look_into": [
            {
                "lot": a.lot,
                "figure": a.figure,
                "percent": percent(a.percent),
                "limit_percent": a.limit,
                "jars": a.jars,
                "look_for": a.look_for,
            }
            for a in alarms(trace.balances, limits)
        ],
        "links": [{"child": k.child, "parent": k.parent, "g": Mass(k.mg).g, "event": k.seq} for k in trace.links],
        "corrections": [
            {"event": s.seq, "struck_by": s.by, "day": s.day, "who": s.who, "kind": s.kind, "because": s.because}
            for s in trace.struck
        ],
    }


def percent(value: Decimal | None) -> Decimal | None:
    """A per cent figure to three decimals, half to even; nothing stays nothing.

    >>> percent(Decimal("99.62500001"))
    Decimal('99.625')
    """
    return None if value is None else value.quantize(Decimal("0.001"), rounding=ROUND_HALF_EVEN)


def share(part: int, whole: int) -> Decimal | None:
    """A part in per cent of a whole; nothing of nothing.

    >>> share(30, 40)
    Decimal('75')
    """
    return Decimal(part) * 100 / whole if whole else None


def _sister(balance: Balance) -> dict[str, Any]:
    where: dict[str, int] = {}
    for jars in balance.jars:
        where[str(jars.account)] = where.get(str(jars.account), 0) + jars.count
    return {"lot": balance.lot, "jars_made": balance.jars_made, "where": where}


def _intake(each: Intake) -> dict[str, Any]:
    return {
        "event": each.seq,
        "bucket": each.bucket,
        "how": each.how,
        "day": each.day,
        "harvested": each.harvested,
        "g": each.mass.g,
        "as_the_bucket": each.as_bucket,
        "sources": [
            {"yard": s.yard, "hives": list(s.hives), "share_g": share.g}
            for s, share in zip(each.sources, each.shares, strict=True)
        ],
        "receipt": _receipt(each.receipt),
        "plant": each.plant,
        "moisture_percent": each.moisture,
        "because": each.because,
    }


def _receipt(came: Receive | None) -> dict[str, Any] | None:
    if came is None:
        return None
    return {
        "supplier": came.supplier,
        "their_lot": came.their_lot,
        "delivery_note": came.number,
        "harvest": came.harvest,
        "origin": [{"country": share.country, "percent": share.percent} for share in came.origin],
        "states": list(came.states),
    }


def _blend(each: Mixed) -> dict[str, Any]:
    parts = [{"bucket": bucket, "g": mass.g} for bucket, mass in each.parts]
    return {"event": each.seq, "into": each.into, "day": each.day, "parts": parts}


def _run(each: Bottled) -> dict[str, Any]:
    return {
        "event": each.seq,
        "lot": each.lot,
        "day": each.day,
        "bucket": each.bucket,
        "taken_g": each.taken.g,
        "jars": [_filled(f) for f in each.jars],
        "broken": [_filled(f) for f in each.broken],
        "samples": [_filled(f) for f in each.samples],
        "lost_g": each.lost.g,
        "unexplained_g": each.unexplained.g,
        "because": each.because,
    }


def _filled(filled: Any) -> dict[str, Any]:
    return {"size": filled.size, "declares": filled.declares.text, "count": filled.count, "fill_g": filled.fill.g}


def _went(each: Went) -> dict[str, Any]:
    return {
        "event": each.seq,
        "day": each.day,
        "how": each.how,
        "lot": each.lot,
        "size": each.size,
        "count": each.count,
        "g": each.mass.g,
        "where": str(each.where),
        "to": each.to,
        "customer": each.customer,
        "address": list(each.address),
        "place": each.place,
        "number": each.number,
        "because": each.because,
    }


def _heritage(each: Heritage) -> dict[str, Any]:
    """Shares exact, as a fraction, and in per cent to six decimals; own honey counts for no country here."""
    return {
        "lot": each.lot,
        "strands": [
            {
                "event": strand.seq,
                "bucket": strand.bucket,
                "supplier": getattr(strand.came, "supplier", None),
                "share": str(strand.share),
                "share_percent": shown(strand.share, 6),
            }
            for strand in each.strands
        ],
        "bought_in_by_country": {
            country: shown(share, 6) for country, share in each.countries(None).items() if country is not None
        },
        "bears": list(each.bears),
    }


def _balance(each: Balance) -> dict[str, Any]:
    return {
        "lot": each.lot,
        "in_g": each.came_in.g,
        "from_hives_g": each.from_hives.g,
        "from_suppliers_g": each.from_suppliers.g,
        "from_lots": [{"lot": lot, "g": mass.g} for lot, mass in each.from_lots],
        "to_lots": [{"lot": lot, "g": mass.g} for lot, mass in each.to_lots],
        "in_bucket_g": each.in_bucket.g,
        "in_jars_g": each.in_jars.g,
        "lost_g": each.lost.g,
        "unexplained_g": each.unexplained.g,
        "in_bulk_g": {str(where): mass.g for where, mass in each.bulk},
        "accounted_percent": percent(each.accounted_percent),
        "out_percent": percent(each.percent_of(each.passed_on + each.in_jars)),
        "still_there_percent": percent(each.percent_of(each.in_bucket)),
        "lost_percent": percent(each.percent_of(each.lost)),
        "unexplained_percent": percent(each.percent_of(each.unexplained)),
        "jars_made": each.jars_made,
        "jars_relabelled": each.jars_relabelled,
        "jars_opened": each.jars_opened,
        "jars_surplus": each.jars_surplus,
        "jars_unaccounted": each.jars_unaccounted,
    }
