"""An event in a few words, for lists."""

from __future__ import annotations

from typing import Any

from labelkit.lots.movement import Account
from labelkit.measures import show_metric
from labelkit.measures.locales import DEFAULT_LOCALE

# Events that move nothing, in their own words.
_OWN_WORDS = {
    "correct": lambda e, _: f"event {e.corrects} struck: {e.because}",
    "set": lambda e, _: f"{e.name} = {e.value}",
    "price": lambda e, locale: f"{e.size} {e.price.show(locale)}",
    "print": lambda e, _: f"{e.lot} {e.count} × {e.label} label, {e.size}",
    "check-weigh": lambda e, _: f"{e.lot} {len(e.shown)} × {e.size} weighed",
    "pay": lambda e, locale: f"{e.customer} {e.amount.show(locale)}",
    "recall": lambda e, _: f"{e.name}: {', '.join(e.lots)}: {e.why}",
    "tell": lambda e, _: f"{e.recall}: {e.customer} by {e.how}" + (f", still holds {e.has}" if e.answered else ""),
    "drill": lambda e, _: f"{e.lot}: {e.jars_found} of {e.jars_made} jars found in {e.seconds} s",
    "forget": lambda e, _: f"number {', '.join(map(str, e.numbers))}: {e.because}",
}
_SIDE_ENDS = (Account.BROKEN, Account.SAMPLE, Account.LOST, Account.UNEXPLAINED)


def event_text(event: Any, locale: str = DEFAULT_LOCALE) -> str:
    """What an event says: from its movements, or in its own words where it moves nothing.

    >>> from datetime import date
    >>> from labelkit.lots.bucket import Drain
    >>> from labelkit.measures import Mass
    >>> event_text(Drain("B1", date(2026, 7, 17), Mass.of_grams(500)))
    'B1 500 g'
    """
    if event.kind in _OWN_WORDS:
        return _OWN_WORDS[event.kind](event, locale)
    arrived = [m for m in event.movements() if m.mass.mg > 0 or m.account == Account.UNEXPLAINED]
    jars = [f"{m.lot} {m.count} × {m.size}{_ending(m.account)}" for m in arrived if m.count > 0]
    honey = [f"{m.lot} {show_metric(m.mass, locale)}{_ending(m.account)}" for m in arrived if not m.size]
    said = "; ".join((*jars, *honey)) or ", ".join(getattr(event, "lots", ()))
    whom = getattr(event, "customer", None) or getattr(event, "place", None)
    why = getattr(event, "because", None) or getattr(event, "reason", None)
    way = {"return": "from", "sell": "to", "give": "to", "deliver": "to"}.get(event.kind, "at")
    return said + (f" {way} {whom}" if whom else "") + (f": {why}" if why else "")


def _ending(account: Account) -> str:
    return f" {account}" if account in _SIDE_ENDS else ""
