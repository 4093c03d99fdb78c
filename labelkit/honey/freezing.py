"""How long comb must be frozen against wax moths.

Source: COLOSS BEEBOOK, volume II, wax moth, 5.8.1, after Charrière and Imdorf 1999 (read in excerpts of its page). The times count from
when the comb is cold through.
"""

from __future__ import annotations

from decimal import Decimal

from labelkit.errors.honey import FreezerTooWarm
from labelkit.honey.source import SECOND_HAND, Source
from labelkit.measures.locales import show_number
from labelkit.measures.rounding import plain
from labelkit.measures.wording import ENGLISH, Wording

SOURCE = Source("COLOSS BEEBOOK II, wax moth, 5.8.1, after Charrière and Imdorf 1999", SECOND_HAND)
# (°C or colder, hours); at 0 °C the source says more than 24 hours.
TIMES = (
    (Decimal(-15), Decimal(2)),
    (Decimal(-12), Decimal(3)),
    (Decimal(-7), Decimal("4.5")),
    (Decimal(0), Decimal(24)),
)


def rule_text(locale: str, words: Wording = ENGLISH) -> str:
    """The whole rule in two sentences, with its source.

    >>> rule_text("en_US")[:103]
    'Freeze comb against wax moths before it is wrapped: 2 h at -15 °C or colder, 3 h at -12 °C, 4.5 h at -7'
    """
    shown = [(show_number(cold, locale), show_number(hours, locale)) for cold, hours in TIMES]
    steps = [words("{hours} h at {cold} °C or colder", hours=hours, cold=cold) for cold, hours in shown[:1]]
    steps += [words("{hours} h at {cold} °C", hours=hours, cold=cold) for cold, hours in shown[1:-1]]
    warmest, longest = shown[-1]
    return words(
        "Freeze comb against wax moths before it is wrapped: {steps}, or more than {longest} h at {warmest} °C, counted from "
        "when it is cold through. Source: {source} ({sure}).",
        steps=", ".join(steps),
        longest=longest,
        warmest=warmest,
        source=SOURCE.title,
        sure=words(SOURCE.sure),
    )


def freezing_hours(temperature: Decimal) -> Decimal:
    """Hours at a temperature (°C) that kill every stage of the wax moth: those of the next warmer row, never fewer.

    Raises :class:`~labelkit.errors.honey.FreezerTooWarm` above 0 °C.

    >>> [str(freezing_hours(Decimal(cold))) for cold in (-18, -15, -14, -12, -7, -5, 0)]
    ['2', '2', '3', '3', '4.5', '24', '24']
    """
    for coldest, hours in TIMES:
        if temperature <= coldest:
            return hours
    raise FreezerTooWarm(plain(temperature))
