"""What in a mass balance should be looked into: more lost or unexplained than usual, or jars nobody can find.

No law and no standard read sets how much may be missing. The limits here are common practice, no source: jars to the last
one, and honey within two in a hundred of what came in. The producer sets others with ``labelkit record limits``.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from decimal import Decimal
from typing import Any

from labelkit.measures import Mass
from labelkit.measures.locales import show_number
from labelkit.measures.wording import ENGLISH, Wording
from labelkit.trace.balance import Balance

SETTING = "limits"
NOISE = Mass.of_grams(50)  # two steps of a bucket scale, and what clings


@dataclass(frozen=True, slots=True)
class Limits:
    """Up to how much, in per cent of what came in, nothing is said; less than ``noise`` never counts."""

    lost: Decimal = Decimal(5)  # named: filter, foam, tank
    unexplained: Decimal = Decimal(2)  # either way
    noise: Mass = NOISE


@dataclass(frozen=True, slots=True)
class Alarm:
    """A figure over its limit: of which lot, which figure, how much of what came in, and what to look for."""

    lot: str
    figure: str  # unexplained | too-much | lost | jars
    percent: Decimal | None
    limit: Decimal
    jars: int
    look_for: str

    def says(self, locale: str, words: Wording = ENGLISH) -> str:
        """The figure in words."""
        if self.percent is None:
            return words.count("{n} jar cannot be found", "{n} jars cannot be found", self.jars)
        shown, limit = show_number(abs(self.percent).quantize(Decimal("0.01")), locale), show_number(self.limit, locale)
        return words(_SAYS[self.figure], share=shown, limit=limit)


_SAYS = {
    "unexplained": "{share} % is unexplained; your limit is {limit} %",
    "lost": "{share} % was lost by name; your limit is {limit} %",
    "too-much": "{share} % more came out than in; your limit is {limit} %",
}
_LOOK_FOR = {
    "unexplained": "a run, a drain or a spill that was not booked; jars filled over their target; a bucket weighed with "
    "its lid, or a wrong tare; what still hangs in the tank. Weigh what is left.",
    "too-much": "honey poured in that was not weighed in; a wrong tare; jars filled under their target; another bucket's "
    "name. Weigh what is left.",
    "lost": "a leak at gate or filter, foam taken off, and whether what was lost was weighed or guessed.",
    "jars": "a sale, a gift or a breakage that was not booked; jars on another shelf or left at the stall. Count again.",
}


def limits_of(settings: Mapping[str, Any]) -> Limits:
    """The producer's limits, or the usual ones.

    >>> limits_of({"limits": {"unexplained": "0.5"}}).unexplained, limits_of({}).lost
    (Decimal('0.5'), Decimal('5'))
    """
    own = settings.get(SETTING, {})
    usual = Limits()
    lost, unexplained = (Decimal(own.get(name, getattr(usual, name))) for name in ("lost", "unexplained"))
    return Limits(lost=lost, unexplained=unexplained)


def look_into(
    lot: str, came_in: Mass, lost: Mass, unexplained: Mass, missing: int = 0, limits: Limits | None = None
) -> tuple[Alarm, ...]:
    """What stands out of one step's figures, all of them shares of what came in.

    >>> [a.says("en_US") for a in look_into("L26195AXR", Mass.of_grams(40000), Mass.of_grams(850), Mass.of_grams(1000))]
    ['2.5 % is unexplained; your limit is 2 %']
    """
    limits = limits or Limits()
    found = []

    def note(figure: str, mass: Mass, limit: Decimal) -> None:
        share = Decimal(mass.mg) * 100 / came_in.mg if came_in else None
        if share is not None and mass > limits.noise and share > limit:
            found.append(Alarm(lot, figure, share, limit, 0, _LOOK_FOR[figure]))

    note("unexplained", unexplained, limits.unexplained)
    note("too-much", -unexplained, limits.unexplained)
    note("lost", lost, limits.lost)
    if missing > 0:
        found.append(Alarm(lot, "jars", None, Decimal(0), missing, _LOOK_FOR["jars"]))
    return tuple(found)


def alarms(balances: Iterable[Balance], limits: Limits | None = None) -> tuple[Alarm, ...]:
    """What should be looked into, step by step."""
    return tuple(
        alarm
        for each in balances
        for alarm in look_into(
            each.lot,
            each.came_in,
            each.lost,
            each.unexplained + each.reweighed - each.missing_mass,
            each.jars_unaccounted,
            limits,
        )
    )
