"""An event in a few words, for lists."""

from __future__ import annotations

from typing import Any

from labelkit.lots.movement import Account
from labelkit.measures import show_metric
from labelkit.measures.locales import DEFAULT_LOCALE


def saying(event: Any, locale: str = DEFAULT_LOCALE) -> str:
    """What an event says, from its movements; from its own words where it moves nothing.

    >>> from datetime import date
    >>> from labelkit.lots.bucket import Drain
    >>> from labelkit.measures import Mass
    >>> saying(Drain("B1", date(2026, 7, 17), Mass.of_grams(500)))
    'B1 500 g'
    """
    if event.kind == "correct":
        return f"event {event.corrects} struck: {event.because}"
    if event.kind == "set":
        return f"{event.name} = {event.value}"
    if event.kind == "price":
        return f"{event.size} {event.price.show(locale)}"
    arrived = [m for m in event.movements() if m.mass.mg > 0 or (m.account == Account.UNEXPLAINED)]
    jars = [f"{m.lot} {m.count} × {m.size}{_ending(event, m.account)}" for m in arrived if m.count > 0]
    honey = [f"{m.lot} {show_metric(m.mass, locale)}{_ending(event, m.account)}" for m in arrived if not m.size]
    said = "; ".join((*jars, *honey)) or ", ".join(getattr(event, "lots", ()))
    whom = getattr(event, "customer", None) or getattr(event, "place", None)
    why = getattr(event, "because", None) or getattr(event, "reason", None)
    return said + (f" to {whom}" if whom else "") + (f": {why}" if why else "")


def _ending(event: Any, account: Account) -> str:
    side_ends = (Account.BROKEN, Account.SAMPLE, Account.LOST, Account.UNEXPLAINED)
    return f" {account}" if account in side_ends else ""
