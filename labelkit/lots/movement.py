"""Every event of the season moves honey from one place to another, and nothing is ever made or lost on the way.

Double entry for honey: each movement takes from one account and gives to another, so the masses of an event add up
to nothing. The sources are the hives and the suppliers of bought-in honey; sold, given, fed, broken, lost and unexplained
are where it ends.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from labelkit.measures import Mass


class Account(StrEnum):
    """Where honey can be."""

    HIVES = "hives"  # still on the hives, or not yet weighed: the source of own honey
    SUPPLIERS = "suppliers"  # whoever sold honey to the producer: the source of bought-in honey
    BUCKET = "bucket"  # in a bucket lot, blends included
    JARS = "jars"  # filled jars in stock
    STALL = "stall"  # jars taken to a stall, not yet sold or brought back
    HELD = "held"  # jars on hold: not to be sold or loaded
    SOLD = "sold"
    GIVEN = "given"  # gifts, samples to taste, own use, helpers' share
    SAMPLE = "sample"  # kept back or opened for tests
    BROKEN = "broken"
    DISCARDED = "discarded"  # destroyed on purpose
    FED = "fed"  # given back to bees
    WATER = "water"  # dried out of it
    REWEIGHED = "reweighed"  # what a bucket weighed less when it was weighed again (negative: more)
    LOST = "lost"  # a loss somebody can name: strainer, tap, foam
    UNEXPLAINED = "unexplained"  # what the scale says is missing and nobody can name (negative: found)


# Where honey comes from; every other account is somewhere it goes.
SOURCES = (Account.HIVES, Account.SUPPLIERS)


@dataclass(frozen=True, slots=True)
class Movement:
    """So much of a lot, and so many jars of it, arriving at an account (negative: leaving it)."""

    account: Account
    lot: str
    mass: Mass
    size: str = ""
    count: int = 0


def moved(
    source: Account, target: Account, lot: str, mass: Mass, size: str = "", count: int = 0
) -> tuple[Movement, ...]:
    """One transfer, as its two movements.

    >>> [m.mass.mg for m in moved(Account.JARS, Account.SOLD, "L26195AAC", Mass(453592), "one pound", 1)]
    [-453592, 453592]
    """
    return (Movement(source, lot, -mass, size, -count), Movement(target, lot, mass, size, count))
