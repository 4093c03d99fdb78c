"""Water content of honey from a refractometer.

The official road is the published table with straight lines between its rows; the formula behind the table is used
only outside its rows, and then says so. A reading is worth 0.04 % of water per 0.0001 of index, so a moisture is
reported to 0.1 % and never finer.
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from labelkit.errors.honey import NotABrix, NotAMoisture, NotARefractiveIndex, TemperatureOutOfReach
from labelkit.errors.sentence import Figure, Sentence
from labelkit.honey.interpolation import between_rows, turned
from labelkit.honey.refraction_table import honey_rows, sucrose_rows
from labelkit.honey.source import RECKONED, SEEN
from labelkit.measures.locales import show_number
from labelkit.measures.rounding import HALF_UP, plain, to_step

REFERENCE_C = Decimal(20)
# Bogdanov, Book of Honey, ch. 4: add 0.00023 per degree above 20 °C, subtract it below.
INDEX_PER_DEGREE = Decimal("0.00023")
# The span of the linear rule is not printed: common practice, no source.
RULE_HOLDS_C = (Decimal(10), Decimal(40))
# How far the formula is carried beyond the table before the reading is refused: our own limit.
FORMULA_HOLDS = (Decimal(11), Decimal(30))

# Wedmore's formula is printed everywhere as (1.73190 − log(n − 1)) / 0.002243, where "1.73190" is a logarithm in bar
# notation: bar-one plus 0.73190, that is −0.26810. Taken literally it gives 910 % of water for a good honey.
_LOGARITHM = Decimal("0.73190") - 1
_PER_PERCENT = Decimal("0.002243")


@dataclass(frozen=True, slots=True)
class Moisture:
    """A moisture as it may be reported (to 0.1 %) and as it was reckoned, and by which road."""

    percent: Decimal
    unrounded: Decimal
    method: str
    index_20c: Decimal
    sure: str = SEEN
    notes: tuple[str, ...] = ()


def by_formula(index: Decimal) -> Decimal:
    """Water in g/100 g by Wedmore's formula, for an index at 20 °C.

    Source: Bogdanov, *Book of Honey*, ch. 4 (bar notation resolved). It stays within 0.022 % of every row of the table.

    >>> round(by_formula(Decimal("1.4915")), 3)
    Decimal('18.001')
    """
    return (_LOGARITHM - (index - 1).log10()) / _PER_PERCENT


def index_at(moisture: Decimal) -> Decimal:
    """Refractive index at 20 °C for a moisture inside the table (13 to 25 %).

    >>> index_at(Decimal("18.6"))
    Decimal('1.4900')
    """
    index = between_rows(honey_rows(), checked(moisture))
    if index is None:
        raise NotAMoisture(plain(moisture), "the published table runs from 13 to 25 %")
    return index


def brix_at(moisture: Decimal) -> Decimal:
    """What honey of a moisture inside the table shows on a sucrose (Brix) scale: by way of the refractive index.

    >>> round(brix_at(Decimal("18.6")), 2)
    Decimal('79.73')
    """
    brix = between_rows(turned(sucrose_rows()), index_at(moisture))
    if brix is None:
        raise NotAMoisture(plain(moisture), "the sucrose scale labelkit holds ends before it")
    return brix


def from_index(index: Decimal, temperature: Decimal | None = None) -> Moisture:
    """Moisture from a refractive index, read at ``temperature`` °C.

    Give no temperature for an instrument that corrects it by itself. Raises
    :class:`~labelkit.errors.honey.NotARefractiveIndex` or :class:`~labelkit.errors.honey.TemperatureOutOfReach`.

    >>> from_index(Decimal("1.4915")).percent
    Decimal('18.0')
    >>> from_index(Decimal("1.4930"), Decimal(15)).unrounded
    Decimal('17.86')
    """
    _check_index(index)
    return _moisture(index, temperature, "refractive index", ())


def from_brix(brix: Decimal, temperature: Decimal | None = None) -> Moisture:
    """Moisture from a reading on a sucrose (Brix) scale: Brix to refractive index, then the honey table.

    Honey's sugars refract less than sucrose, so moisture and Brix add up to about 98.3, not 100. Raises
    :class:`~labelkit.errors.honey.NotABrix` or :class:`~labelkit.errors.honey.TemperatureOutOfReach`.

    >>> reading = from_brix(Decimal("80.0"))
    >>> reading.percent, round(reading.unrounded, 2)
    (Decimal('18.3'), Decimal('18.32'))
    """
    _check_brix(brix)
    index = between_rows(sucrose_rows(), brix)
    assert index is not None, "the table covers every Brix that passed the check"
    wrong = Figure(show_number, 100 - brix)
    notes = (
        Sentence("100 − Brix would say {wrong} %; that rule holds for sucrose, not for honey.", wrong=wrong),
        Sentence(
            "If {brix} is the “soluble solids” of a US grade sheet and not a Brix reading, the moisture is {wrong} %.",
            brix=Figure(show_number, brix),
            wrong=wrong,
        ),
    )
    return _moisture(index, temperature, "Brix (sucrose scale) through the refractive index", notes)


def checked(moisture: Decimal) -> Decimal:
    """The moisture itself, if honey can have it; otherwise a refusal that says what was probably typed.

    >>> checked(Decimal("17.6"))
    Decimal('17.6')
    """
    low, high = FORMULA_HOLDS
    if low <= moisture <= high:
        return moisture
    if 70 <= moisture <= 89:
        solids = f"{plain(moisture)} looks like solids (then the moisture is {plain(100 - moisture)} %)"
        if between_rows(sucrose_rows(), moisture) is not None:
            solids += f" or like a Brix reading (then it is about {plain(from_brix(moisture).percent)} %)"
        raise NotAMoisture(plain(moisture), solids)
    if 0 < moisture < 1:
        raise NotAMoisture(
            plain(moisture), f"it looks like a fraction (then the moisture is {plain(moisture * 100)} %)"
        )
    if Decimal("1.4") < moisture < Decimal("1.6"):
        raise NotAMoisture(plain(moisture), "it looks like a refractive index")
    raise NotAMoisture(plain(moisture), "honey lies between about 13 and 25 % water")


def _moisture(index: Decimal, temperature: Decimal | None, road: str, notes: tuple[str, ...]) -> Moisture:
    index_20c = index + _correction(temperature)
    water = between_rows(turned(honey_rows()), index_20c)
    corrected = ""
    if temperature is not None and temperature != REFERENCE_C:
        corrected = f", corrected from {plain(temperature)} °C to 20 °C"
        notes += ("Give no temperature for an instrument that corrects it by itself, or it is corrected twice.",)
    sure, rule = SEEN, "AOAC 969.38 table with interpolation"
    if water is None:
        water, rule = by_formula(index_20c), "Wedmore's formula beyond the table"
        notes += ("The published table ends at 13 and 25 % water; beyond it the figure is an estimate by formula.",)
        sure = RECKONED
        if not FORMULA_HOLDS[0] <= water <= FORMULA_HOLDS[1]:
            raise NotARefractiveIndex(plain(index), f"at 20 °C it would mean {round(water, 1)} % water")
    unrounded = to_step(water, Decimal("0.000001"), HALF_UP)
    method = f"{road}, {rule}{corrected}"
    return Moisture(to_step(water, Decimal("0.1"), HALF_UP), Decimal(plain(unrounded)), method, index_20c, sure, notes)


def _correction(temperature: Decimal | None) -> Decimal:
    if temperature is None:
        return Decimal(0)
    low, high = RULE_HOLDS_C
    if not low <= temperature <= high:
        raise TemperatureOutOfReach(plain(temperature), plain(low), plain(high), "correcting a refractometer reading")
    return (temperature - REFERENCE_C) * INDEX_PER_DEGREE


def _check_index(index: Decimal) -> None:
    if Decimal("1.44") <= index <= Decimal("1.53"):
        return
    if 13 <= index <= 25:
        raise NotARefractiveIndex(plain(index), "it looks like a moisture in percent")
    if 70 <= index <= 90:
        raise NotARefractiveIndex(plain(index), "it looks like a Brix reading; use --brix")
    for power in (1, 3, 4, 5):
        meant = index.scaleb(-power)
        if Decimal("1.44") <= meant <= Decimal("1.53"):
            raise NotARefractiveIndex(plain(index), f"the decimal mark seems to be missing; {plain(meant)}?")
    if Decimal("0.44") <= index <= Decimal("0.53"):
        raise NotARefractiveIndex(plain(index), f"the leading 1 seems to be missing; {plain(index + 1)}?")
    raise NotARefractiveIndex(plain(index), "it is far from what honey shows")


def _check_brix(brix: Decimal) -> None:
    first, last = sucrose_rows()[0][0], sucrose_rows()[-1][0]
    if first <= brix <= last:
        return
    if 11 <= brix <= 30:
        raise NotABrix(plain(brix), "it looks like a moisture in percent, typed as Brix")
    if Decimal("1.4") < brix < Decimal("1.6"):
        raise NotABrix(plain(brix), "it looks like a refractive index; use --refractive-index")
    if Decimal("0.7") <= brix <= Decimal("0.9"):
        raise NotABrix(plain(brix), f"it looks like a fraction; {plain(brix * 100)}?")
    raise NotABrix(plain(brix), f"labelkit holds the scale from {first} to {last} °Brix")
