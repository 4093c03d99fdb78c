"""What typed weights mean in grams; slips are recognised and asked about, never used.

A list is read whole or refused. Bare numbers are read in the one unit that fits the label, and only where one unit
alone can be meant: a pound jar reads 453.6 in grams, 16.0 in ounces and 1.0 in pounds, which nobody can confuse.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal

from labelkit.errors.filling import TareImpossible, UnitUnclear, WeightsInMixedUnits, WeightUnclear
from labelkit.errors.measures import NotPositive, NumberOutOfReach, NumberUnclear, UnitUnknown, WrongKindOfUnit
from labelkit.measures import NOTHING, Declared, Mass, show_metric
from labelkit.measures.division import Division
from labelkit.measures.locales import DEFAULT_LOCALE
from labelkit.measures.mass import GRAMS_PER_OUNCE
from labelkit.measures.numerals import read_number
from labelkit.measures.rounding import DOWN, plain, to_step
from labelkit.reading.weight_list import SPELT, UNIT_WORD, Typed
from labelkit.run.check_weighing.plausible import likely, likely_tare

_MILLIGRAM = Decimal("0.001")
_UNITS = {"g": "gram", "kg": "kilogram", "oz": "ounce", "lb": "pound"}
# Twice the label tells units apart.
_LIKELY = (Decimal("0.5"), Decimal(2))
_DO = "Correct that weight, or leave the jar out, and give the list again."


@dataclass(frozen=True, slots=True)
class JarWeights:
    """Weights of jars, read: gross ones where there is a tare; ``notes`` say how they were understood."""

    masses: tuple[Mass, ...]
    tare: Mass | None
    notes: tuple[str, ...]
    shown_in: Division


def read_jars(typed: Iterable[Typed], label: Mass, tare: str | None, locale: str) -> JarWeights:
    """The weights of a lot's jars and the tare under them, as they were typed.

    Raises what :func:`read_weights` and :func:`read_tare` raise.
    """
    empty = read_tare(tare, label, locale) if tare is not None else None
    typed = tuple(typed)
    masses, notes = read_weights(typed, label, locale, empty)
    return JarWeights(masses, empty, notes, typed_in(typed, label + (empty or NOTHING), locale))


def read_weights(
    typed: Iterable[Typed], label: Mass, locale: str, tare: Mass | None = None
) -> tuple[tuple[Mass, ...], tuple[str, ...]]:
    """The weights as masses (gross ones where a tare is given), and notes on how they were understood.

        Raises :class:`~labelkit.errors.filling.WeightsInMixedUnits`, :class:`~labelkit.errors.filling.UnitUnclear`,
        :class:`~labelkit.errors.filling.WeightUnclear` or :class:`~labelkit.errors.filling.WeightFarFromLabel`.

    >>> from labelkit.reading.weight_list import of_options
    >>> read_weights(of_options(["453.6", "455"]), Mass.read("1 lb", "en_US"), "en_US")[0][0].g
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


def read_pieces(typed: Iterable[Typed], locale: str, tare: Mass | None = None) -> tuple[Declared, ...]:
    """The net weights of pieces that each have their own: what their labels declare, never more than the scale showed.

    Grams are cut to the whole gram and ounces to the hundredth, as labels print them. Each weight, or the heading of its
    column, names its unit; ``tare`` is taken off each.

    Raises :class:`~labelkit.errors.filling.WeightUnclear`, :class:`~labelkit.errors.filling.WeightsInMixedUnits` and
    :class:`~labelkit.errors.filling.TareImpossible`.

    >>> from labelkit.reading.weight_list import of_options
    >>> [piece.text for piece in read_pieces(of_options(["412.6 g", "0.398 kg"]), "en_US")]
    ['412 g', '398 g']
    >>> [piece.text for piece in read_pieces(of_options(["14.5 oz"]), "en_US", Mass.of_grams(0))]
    ['14.5 oz']
    """
    listed = tuple(typed)
    units = [_unit_of(entry.text) for entry in listed]
    _refuse_mixed(listed, units)
    for entry, unit in zip(listed, units, strict=True):
        if unit is None:
            raise WeightUnclear(
                entry.where, entry.text, "it names no unit.", "Write g, kg, oz or lb behind it, or over its column."
            )
    masses = [(entry, _read(entry, None, locale)) for entry in listed]
    for entry, mass in masses:
        if tare is not None and tare >= mass:
            raise TareImpossible(show_metric(tare, locale), f"{entry.where} weighs no more than that ({entry.text})")
    customary = bool({"oz", "lb"} & set(units))
    return tuple(_declared(mass - (tare or NOTHING), customary) for _, mass in masses)


def _declared(mass: Mass, customary: bool) -> Declared:
    """A weighed mass as a label declares it. What is weighed is kept down to the milligram, so one is given back."""
    if not customary:
        return Declared.read(f"{plain(to_step(mass.g, Decimal(1), DOWN))} g", DEFAULT_LOCALE)
    ounces = to_step((mass.g + _MILLIGRAM) / GRAMS_PER_OUNCE, Decimal("0.01"), DOWN)
    return Declared.read(f"{plain(ounces)} oz", DEFAULT_LOCALE)


def typed_in(typed: Iterable[Typed], expected: Mass, locale: str) -> Division:
    """The unit the weights were typed in, as finely as they were typed: to say what comes of them in it.

    >>> from labelkit.reading.weight_list import of_options
    >>> typed_in(of_options(["16.05 oz", "16 oz"]), Mass.read("1 lb", "en_US"), "en_US")
    Division(step=Decimal('0.01'), unit='oz')
    """
    listed = tuple(typed)
    units = {
        unit for entry in listed for unit in (SPELT.get(u.lower(), u.lower()) for u in UNIT_WORD.findall(entry.text))
    }
    if not units and listed:
        units = {_unit_that_fits(listed, expected, locale)}
    unit = "lb oz" if {"lb", "oz"} <= units else next(iter(units & {"oz", "lb"}), "g")
    digits = [len(found) for entry in listed for found in re.findall(r"\d[.,](\d{1,3})(?!\d)", entry.text)]
    return Division(Decimal(1).scaleb(-max(digits, default=0)) if unit != "g" else Decimal(1), unit)


def read_tare(text: str, label: Mass, locale: str) -> Mass:
    """The tare of an empty jar with lid and label. Raises :class:`~labelkit.errors.filling.TareImpossible`.

    >>> read_tare("212.7 g", Mass.read("1 lb", "en_US"), "en_US").g
    Decimal('212.7')
    """
    try:
        tare = Mass.read(text, locale)
    except NotPositive:
        raise TareImpossible(text, "an empty jar weighs more than nothing") from None
    return likely_tare(tare, label, locale)


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
    return likely(_read(entry, unit, locale), label, entry.where, entry.text, locale, tare)


def _read(entry: Typed, unit: str | None, locale: str) -> Mass:
    text = entry.text if _unit_of(entry.text) else f"{plain(_number(entry, locale))} {unit}"
    try:
        return Mass.read(text, locale if _unit_of(entry.text) else DEFAULT_LOCALE)
    except (NotPositive, UnitUnknown, WrongKindOfUnit, NumberUnclear, NumberOutOfReach) as refusal:
        raise WeightUnclear(entry.where, entry.text, f"{refusal.what.rstrip('.')}.", refusal.do) from None


def _likely(mass: Mass, expected: Mass) -> bool:
    return _LIKELY[0] * expected.mg <= mass.mg <= _LIKELY[1] * expected.mg
