"""Whether honey will set soon.

Sources: glucose to water under 1.7 stays liquid and over 2.1 sets fast (three pages, read; one prints 1.64); glucose
less water, over fructose, above 0.42 sets fast (a packer's technical sheet, read); fructose to glucose above 1.3 slow
and under 1.1 fast (from memory). Fastest at about 14 °C (a beekeepers' practice sheet, read).
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from labelkit.errors.honey import FigureUnlikely, FlowerUnknown
from labelkit.errors.sentence import Sentence
from labelkit.honey.moisture import checked
from labelkit.honey.source import MEMORY, PRACTICE, SECOND_HAND
from labelkit.measures.rounding import plain

FASTEST_C = Decimal(14)
# Sugars of honeys lie well inside this; outside it another figure was typed. Our own limits.
_SUGAR = (Decimal(15), Decimal(60))
SETS_NOTE = Sentence(
    "Honey sets fastest at about 14 °C (57 °F), and the liquid between the crystals is wetter than the honey was."
)
PRACTICE_NOTE = Sentence("Common practice, no source: mixed honeys, seeds and cold change it much.")
NOTES = (
    "The three indices may disagree: they were found on different honeys, and seeds, stirring and storage count as much.",
    SETS_NOTE,
)


@dataclass(frozen=True, slots=True)
class Setting:
    """How soon honey sets: stays liquid, sets slowly, sets fast or unclear; and by which index."""

    says: str
    index: str
    value: Decimal
    sure: str


def setting(glucose: Decimal, moisture: Decimal, fructose: Decimal | None = None) -> tuple[Setting, ...]:
    """What each published index says, glucose and fructose in g/100 g.

    Raises :class:`~labelkit.errors.honey.NotAMoisture` or :class:`~labelkit.errors.honey.FigureUnlikely`.

    The mean of 490 honeys of the USA (31.3 glucose, 38.2 fructose, 17.2 water) lies between the bounds:

    >>> [(row.index, row.says) for row in setting(Decimal("31.3"), Decimal("17.2"), Decimal("38.2"))][0]
    ('glucose/water', 'sets slowly')
    """
    water = checked(moisture)
    for name, share in (("glucose", glucose), ("fructose", fructose)):
        if share is not None and not _SUGAR[0] <= share <= _SUGAR[1]:
            raise FigureUnlikely(f"the {name} of a honey", plain(share), plain(_SUGAR[0]), plain(_SUGAR[1]), "g/100 g")
    ratio = glucose / water
    by_water = "stays liquid" if ratio < Decimal("1.7") else "sets fast" if ratio > Decimal("2.1") else "sets slowly"
    found = [Setting(by_water, "glucose/water", ratio, SECOND_HAND)]
    if fructose is not None:
        excess = (glucose - water) / fructose
        fast = "sets fast" if excess > Decimal("0.42") else "unclear"
        found.append(Setting(fast, "(glucose − water)/fructose", excess, SECOND_HAND))
        quotient = fructose / glucose
        slow = "sets slowly" if quotient > Decimal("1.3") else "sets fast" if quotient < Decimal("1.1") else "unclear"
        found.append(Setting(slow, "fructose/glucose", quotient, MEMORY))
    return tuple(found)


@dataclass(frozen=True, slots=True)
class FlowerSetting:
    """How soon honey of one flower sets, as the trade says."""

    flower: str
    says: str
    usually: str
    sure: str = PRACTICE

    @property
    def sentence(self) -> Sentence:
        """The forecast as a sentence."""
        if self.says == _FAST[0]:
            return Sentence("Honey of {flower} sets fast: usually within days to a few weeks.", flower=self.flower)
        if self.says == _SLOW[0]:
            return Sentence("Honey of {flower} stays liquid long: usually for a year and longer.", flower=self.flower)
        return Sentence("Honey of {flower} sets in its time: usually within one to several months.", flower=self.flower)


_FAST, _MIDDLE, _SLOW = (
    ("sets fast", "within days to a few weeks"),
    ("sets in its time", "within one to several months"),
    ("stays liquid long", "for a year and longer"),
)
# Common practice: beekeepers' pages agree on these, and no measured series stands behind them.
FLOWERS = {
    "rape": _FAST,
    "canola": _FAST,
    "mustard": _FAST,
    "dandelion": _FAST,
    "ivy": _FAST,
    "goldenrod": _FAST,
    "aster": _FAST,
    "cotton": _FAST,
    "sunflower": _FAST,
    "alfalfa": _MIDDLE,
    "clover": _MIDDLE,
    "lime": _MIDDLE,
    "linden": _MIDDLE,
    "buckwheat": _MIDDLE,
    "orange": _MIDDLE,
    "raspberry": _MIDDLE,
    "acacia": _SLOW,
    "black locust": _SLOW,
    "tupelo": _SLOW,
    "sage": _SLOW,
    "chestnut": _SLOW,
    "honeydew": _SLOW,
}


def by_flower(flower: str) -> FlowerSetting:
    """When honey of a flower usually sets. Raises :class:`~labelkit.errors.honey.FlowerUnknown`.

    >>> by_flower("Canola").usually
    'within days to a few weeks'
    """
    name = flower.strip().casefold()
    if name not in FLOWERS:
        raise FlowerUnknown(flower, ", ".join(FLOWERS))
    return FlowerSetting(name, *FLOWERS[name])
