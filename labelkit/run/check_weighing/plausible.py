"""Whether a jar of a label can weigh so much; a slip is recognised and asked about, never used."""

from __future__ import annotations

from decimal import Decimal

from labelkit.errors.filling import TareImpossible, WeightFarFromLabel
from labelkit.measures import NOTHING, Mass, show_both, show_metric

# A jar of the lot holds at least half its label; less is a slip, another jar, or an empty one.
_EMPTIEST = Decimal("0.5")
# No jar takes a quarter more than its label says; full glass jars weighed with the glass come to half as much again.
_FULLEST = Decimal("1.25")


def likely(mass: Mass, label: Mass, where: str, shown: str, locale: str, tare: Mass = NOTHING) -> Mass:
    """The weight itself, where a jar of this label can have it (gross, with a tare).

    ``where`` and ``shown`` say which weight it is and how it was given, for the refusal.

    Raises :class:`~labelkit.errors.filling.WeightFarFromLabel`, with what was probably meant.

    >>> likely(Mass.of_grams(455), Mass.of_grams(454), "weight 1", "455 g", "en_US").g
    Decimal('455')
    """
    # What counts is the honey: beside a heavy jar a net weight among gross ones would look like a jar half full.
    if not _EMPTIEST * label.mg <= (mass - tare).mg <= _FULLEST * label.mg:
        raise WeightFarFromLabel(where, shown, show_both(label + tare, locale), _guess(mass, label, tare, locale))
    return mass


def likely_tare(tare: Mass, label: Mass, locale: str) -> Mass:
    """The tare itself, where a jar of this label can have it. Raises :class:`~labelkit.errors.filling.TareImpossible`.

    >>> likely_tare(Mass.of_grams(212), Mass.of_grams(454), "en_US").g
    Decimal('212')
    """
    if tare > label * 5:
        raise TareImpossible(
            show_metric(tare, locale), f"it is more than five times what the jar holds ({show_metric(label, locale)})"
        )
    return tare


def _guess(mass: Mass, label: Mass, tare: Mass, locale: str) -> str:
    """What was probably meant: a net weight among gross ones, or a decimal mark in the wrong place."""
    expected = label + tare
    if tare and abs(mass.mg - label.mg) * 5 <= label.mg:
        return " Is that a net weight among gross ones?"
    heavy = " Is that a gross weight? Then give --tare too." if not tare and mass.mg > label.mg else ""
    for power in (1, 2, 3, -1, -2, -3):
        meant = Mass.of_grams(mass.g.scaleb(power))
        if abs(meant.mg - expected.mg) * 5 <= expected.mg:
            return f" Was {show_metric(meant, locale)} meant?"
    return heavy
