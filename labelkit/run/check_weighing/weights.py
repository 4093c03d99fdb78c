"""What typed weights mean in grams; slips are recognised and asked about, never used.

A list is read whole or refused. Bare numbers are read in the one unit that fits the label, and only where one unit
alone can be meant: a pound jar reads 453.6 in grams, 16.0 in ounces and 1.0 in pounds, which nobody can confuse.
"""

from __future__ import annotations

from collections.abc import Iterable
from decimal import Decimal

from labelkit.errors.filling import TareImpossible, UnitUnclear, WeightFarFromLabel, WeightsInMixedUnits, WeightUnclear
from labelkit.errors.measures import NotPositive, NumberOutOfReach, NumberUnclear, UnitUnknown, WrongKindOfUnit
from labelkit.measures import NOTHING, Mass, show_customary, show_metric
from labelkit.measures.locales import DEFAULT_LOCALE
from labelkit.measures.numerals import read_number
from labelkit.measures.rounding import plain
from labelkit.run.check_weighing.typed import SPELT, UNIT_WORD, Typed

_UNITS = {"g": "gram", "kg": "kilogram", "oz": "ounce", "lb": "pound"}
# A jar of the lot holds at least half its label; less is a slip, another jar, or an empty one. Twice tells units apart.
_LIKELY = (Decimal("0.5"), Decimal(2))
# No jar takes a quarter more than its label says; full glass jars weighed with the glass come to half as much again.
_FULLEST = Decimal("1.25")
_DO = "Correct that weight, or leave the jar out, and give the list again."


def read_weights(
    typed: Iterable[Typed], label: Mass, locale: str = DEFAULT_LOCALE, tare: Mass | None = None
) -> tuple[tuple[Mass, ...], tuple[str, ...]]:
    """The weights as masses (gross ones where a tare is given), and notes on how they were understood.

    Raises :class:`~labelkit.errors.filling.WeightsInMixedUnits`, :class:`~labelkit.errors.filling.UnitUnclear`,
    :class:`~labelkit.errors.filling.WeightUnclear` or :class:`~labelkit.errors.filling.WeightFarFromLabel`.

    >>> from labelkit.run.check_weighing.typed import of_options
    >>> read_weights(of_options(["453.6", "455"]), Mass.read("1 lb", "en_US"))[0][0].g
    Decimal('453.6')
    """
    listed = tuple(typed)
    expected = label + (tare or Mass(0))
    units = [_unit_of(entry.text) for entry in listed]
    notes: tuple[str, ...] = ()
    named = {unit for unit in units if unit}
    _refuse_mixed(listed, units)
    only = next(iter(named), None)
    if only is None and listed:
        only = _unit_that_fits(listed, expected, locale)
        notes = (
            f"The weights carry no unit; only {_UNITS[only]}s fit the label, so they were read as {_UNITS[only]}s.",
        )
    return tuple(_mass(entry, only, label, tare or NOTHING, locale) for entry in listed), notes


def read_tare(text: str, label: Mass, locale: str = DEFAULT_LOCALE) -> Mass:
    """The tare of an empty jar with lid and label. Raises :class:`~labelkit.errors.filling.TareImpossible`.

    >>> read_tare("212.7 g", Mass.read("1 lb", "en_US")).g
    Decimal('212.7')
    """
    try:
        tare = Mass.read(text, locale)
    except NotPositive:
        raise TareImpossible(text, "an empty jar weighs more than nothing") from None
    return likely_tare(tare, label, locale)


def likely_tare(tare: Mass, label: Mass, locale: str = DEFAULT_LOCALE) -> Mass:
    """The tare itself, where a jar of this label can have it. Raises :class:`~labelkit.errors.filling.TareImpossible`.

    >>> likely_tare(Mass.of_grams(212), Mass.read("1 lb", "en_US")).g
    Decimal('212')
    """
    if tare > label * 5:
        raise TareImpossible(
            show_metric(tare, locale), f"it is more than five times what the jar holds ({show_metric(label, locale)})"
        )
    return tare


def _unit_of(text: str) -> str | None:
    """The unit a typed weight names; pounds and ounces together are pounds."""
    found = [SPELT.get(unit.lower(), unit.lower()) for unit in UNIT_WORD.findall(text)]
    return "lb" if "lb" in found else found[0] if found else None


def _refuse_mixed(listed: tuple[Typed, ...], units: list[str | None]) -> None:
    first, named = next(((n, unit) for n, unit in enumerate(units) if unit), (0, None))
    if named is None:
        return
    metric = ("g", "kg")
    for entry, unit in zip(listed, units, strict=True):
        if unit is None:
            raise WeightsInMixedUnits(listed[first].text, _UNITS[named] + "s", entry.text, "no unit")
        if unit != named and not (unit in metric and named in metric):
            raise WeightsInMixedUnits(listed[first].text, _UNITS[named] + "s", entry.text, _UNITS[unit] + "s")


def _unit_that_fits(listed: tuple[Typed, ...], expected: Mass, locale: str) -> str:
    numbers = [(entry, _number(entry, locale)) for entry in listed]
    votes: dict[str, list[Typed]] = {}
    for entry, number in numbers:
        # Units lie at least a factor of 2.2 apart, so the one that comes nearest to the label is the one meant.
        nearest = min(_UNITS, key=lambda unit: _away(Mass.read(f"{plain(number)} {unit}", DEFAULT_LOCALE), expected))
        if _likely(Mass.read(f"{plain(number)} {nearest}", DEFAULT_LOCALE), expected):
            votes.setdefault(nearest, []).append(entry)
    if not votes:
        raise UnitUnclear(listed[0].text, show_metric(expected, locale))
    best = max(votes, key=lambda unit: len(votes[unit]))
    for unit, entries in votes.items():
        if unit != best and entries:
            raise WeightsInMixedUnits(votes[best][0].text, _UNITS[best] + "s", entries[0].text, _UNITS[unit] + "s")
    return best


def _away(mass: Mass, expected: Mass) -> Decimal:
    """How many times a mass is off the expected one, up or down."""
    if not mass.mg:
        return Decimal("Infinity")
    return max(Decimal(mass.mg) / expected.mg, Decimal(expected.mg) / mass.mg)


def _number(entry: Typed, locale: str) -> Decimal:
    try:
        number = read_number(entry.text, locale)
    except (NumberUnclear, NumberOutOfReach) as refusal:
        raise WeightUnclear(entry.where, entry.text, "its digits are not one number.", refusal.do) from None
    if number <= 0:
        raise WeightUnclear(entry.where, entry.text, "a jar weighs more than nothing.", _DO)
    return number


def _mass(entry: Typed, unit: str | None, label: Mass, tare: Mass, locale: str) -> Mass:
    text = entry.text if _unit_of(entry.text) else f"{plain(_number(entry, locale))} {unit}"
    try:
        mass = Mass.read(text, locale if _unit_of(entry.text) else DEFAULT_LOCALE)
    except (NotPositive, UnitUnknown, WrongKindOfUnit, NumberUnclear, NumberOutOfReach) as refusal:
        raise WeightUnclear(entry.where, entry.text, f"{refusal.what.rstrip('.')}.", refusal.do) from None
    return likely(mass, label, entry, locale, tare)


def likely(mass: Mass, label: Mass, entry: Typed, locale: str = DEFAULT_LOCALE, tare: Mass = NOTHING) -> Mass:
    """The weight itself, where a jar of this label can have it (gross, with a tare).

    Raises :class:`~labelkit.errors.filling.WeightFarFromLabel`, with what was probably meant.

    >>> likely(Mass.of_grams(455), Mass.read("1 lb", "en_US"), Typed("455 g", "weight 1")).g
    Decimal('455')
    """
    # What counts is the honey: beside a heavy jar a net weight among gross ones would look like a jar half full.
    if not _LIKELY[0] * label.mg <= (mass - tare).mg <= _FULLEST * label.mg:
        expected = label + tare
        shown = f"{show_metric(expected, locale)} ({show_customary(expected, locale)})"
        raise WeightFarFromLabel(entry.where, entry.text, shown, _guess(mass, label, tare, locale))
    return mass


def _likely(mass: Mass, expected: Mass) -> bool:
    return _LIKELY[0] * expected.mg <= mass.mg <= _LIKELY[1] * expected.mg


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
