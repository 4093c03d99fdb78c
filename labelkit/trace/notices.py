"""What is said in a recall: to customers who sell on, in their shops, and at the stall.

The words stand in ``templates/trace``; what a notice must hold follows 21 CFR 7.49 (product, size, lot; reason and
hazard; what to do; how to report back; nothing that advertises). What a template needs and the record does not hold is
left as a line to write on, and named.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from labelkit.lots.movement import Account
from labelkit.measures.locales import DEFAULT_LOCALE, show_day
from labelkit.shipped import render
from labelkit.trace.follow import Trace
from labelkit.trace.recall import ToTell, cause_of
from labelkit.trace.recall_events import Recall

BLANK = "______________________"
CHECK = "check your local rules"


@dataclass(frozen=True, slots=True)
class Product:
    """One line of what is called back."""

    lot: str
    size: str
    declares: str
    bottled: str


@dataclass(frozen=True, slots=True)
class Notice:
    """A text to send or hang up, and what must still be written in."""

    id: str
    title: str
    text: str
    missing: tuple[str, ...]


def products(trace: Trace, recall: Recall, locale: str = DEFAULT_LOCALE) -> tuple[Product, ...]:
    """What is called back, by lot and size."""
    found = {}
    for run in trace.runs:
        for filled in run.jars if run.lot in recall.lots else ():
            made = Product(run.lot, filled.size, filled.declares, show_day(run.day, locale))
            found[run.lot, filled.size] = made
    return tuple(found.values())


def notices(
    recall: Recall, trace: Trace, customers: tuple[ToTell, ...], maker: Mapping[str, Any], locale: str = DEFAULT_LOCALE
) -> tuple[Notice, ...]:
    """A letter for each customer, a notice for their shops, a sign for the stall."""
    cause = cause_of(recall.cause)
    says = {
        "maker": str(maker.get("name") or BLANK),
        "address": ", ".join(str(maker[k]) for k in ("street", "city", "region", "postcode") if maker.get(k)) or BLANK,
        "phone": str(maker.get("phone") or BLANK),
        "email": str(maker.get("email") or ""),
        "day": show_day(recall.day, locale),
        "recall": recall,
        "cause": cause,
        "products": products(trace, recall, locale),
        "places": list(
            dict.fromkeys(
                f"{went.place}, {show_day(went.day, locale)}"
                for went in trace.went
                if went.lot in recall.lots and went.where == Account.SOLD and went.place
            )
        ),
    }
    missing = tuple(word for word, key in (("your name", "maker"), ("your address", "address"), ("your phone", "phone"))
                    if says[key] == BLANK)  # fmt: skip
    drill = "EXERCISE ONLY · " if recall.drill else ""
    made = [
        Notice(f"letter-{n}", f"{drill}Letter to {each.customer}", _filled("letter", says, customer=each), missing)
        for n, each in enumerate(customers, start=1)
    ]
    made.append(Notice("shop-notice", f"{drill}Notice for shops", _filled("shop", says), missing))
    made.append(Notice("stall-sign", f"{drill}Sign for the stall", _filled("sign", says), missing))
    return tuple(made)


def _filled(which: str, says: Mapping[str, Any], **more: Any) -> str:
    text = render(f"trace/recall_{which}.txt", **says, **more)
    lines = [line.rstrip() for line in text.splitlines()]
    kept = [line for n, line in enumerate(lines) if line or (n and lines[n - 1])]
    return "\n".join(kept).strip() + "\n"


def whom_to_ask(market: str) -> str:
    """Which authority to call, kind by kind; from memory and so said."""
    country = market.partition("-")[0]
    named = {
        "us": "your state's department of agriculture or health, and the FDA recall coordinator for your state",
        "uk": "the food team of your local council, and the FSA (in Scotland FSS)",
        "eu": "the food authority of your district, which tells the national one",
        "ca": "the CFIA recall office for your area",
        "au": "your state food authority and FSANZ's recall coordinator",
        "nz": "New Zealand Food Safety (MPI)",
    }
    whom = named.get(country, "your food authority")
    return f"Call {whom} before you publish anything; their word goes before labelkit's (from memory: {CHECK})."
