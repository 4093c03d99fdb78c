"""Reckon: figures of handling honey in the words that command line and page share; nothing is read or booked."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal

from labelkit.errors.sentence import Figure, Sentence
from labelkit.honey.blend import Dried, Mixed, dry
from labelkit.honey.crystals import PRACTICE_NOTE, SETS_NOTE, FlowerSetting, by_flower
from labelkit.honey.freezing import SOURCE, freezing_hours
from labelkit.honey.hives import FRAMES, from_comb
from labelkit.honey.source import OWN
from labelkit.honey.yields import Expected, from_frames, from_supers, published_supers, wax_from
from labelkit.measures import Mass, show_both, total
from labelkit.measures.locales import show_number

BOXES = (*published_supers(), *FRAMES)


@dataclass(frozen=True, slots=True)
class Drying:
    """What drying takes out and leaves."""

    left: Dried
    says: Sentence
    notes: tuple[Sentence, ...] = (
        Sentence("How many hours it takes is not known: weigh the honey, or measure it, while it dries."),
        Sentence(
            "Dry with cool or warm air (at most 35 to 40 °C), stirred or in thin layers: common practice, no source."
        ),
        Sentence("Whether honey that was dried may be sold as honey differs. Check your local rules."),
    )


def drying(honey: Mass, moisture: Decimal, to: Decimal) -> Drying:
    """Water that drying takes out of honey, moistures in percent; its solids stay. Raises what :func:`dry` raises.

    A published run: 25.2 to 16.4 % takes 105.3 g off each kilogram.

    >>> drying(Mass.of_grams(1000), Decimal("25.2"), Decimal("16.4")).says
    '105.3 g (3.7 oz) of water go; 894.7 g (1 lb 15.6 oz) of honey are left.'
    """
    left = dry(Mixed(honey, moisture), to)
    water, rest = Figure(show_both, left.water), Figure(show_both, left.mass)
    return Drying(left, Sentence("{water} of water go; {left} of honey are left.", water=water, left=rest))


@dataclass(frozen=True, slots=True)
class Freezing:
    """How long comb is frozen."""

    hours: Decimal
    says: Sentence
    notes: tuple[Sentence, ...] = (
        Sentence("Counted from when the comb is cold through; thick comb takes longer to get there."),
        Sentence("Wrap it first and let it thaw wrapped, so that no water settles on it: common practice, no source."),
    )
    source: str = SOURCE.title
    sure: str = SOURCE.sure


def freezing(temperature: Decimal) -> Freezing:
    """Hours in a freezer (°C) that kill every stage of the wax moth. Raises what :func:`freezing_hours` raises.

    >>> freezing(Decimal(-18)).says, freezing(Decimal(0)).says
    ('2 hours at -18 °C.', 'More than 24 hours at 0 °C.')
    """
    hours = freezing_hours(temperature)
    shown = {"hours": Figure(show_number, hours), "temperature": Figure(show_number, temperature)}
    if hours == 24:
        return Freezing(hours, Sentence("More than {hours} hours at {temperature} °C.", **shown))
    return Freezing(hours, Sentence("{hours} hours at {temperature} °C.", **shown))


@dataclass(frozen=True, slots=True)
class Crop:
    """What full boxes and frames usually give: practice, never a figure to book."""

    low: Mass
    high: Mass
    wax: Mass
    says: Sentence
    sources: tuple[tuple[Sentence, str], ...]  # each with how sure it is


def expected_yield(boxes: Iterable[tuple[str, int]], frames: Iterable[tuple[str, int]], own: Mass | None) -> Crop:
    """Honey and wax to expect from full boxes and frames of :data:`BOXES`; ``own`` is what one frame of one's own gives.

    >>> expected_yield([("medium", 2)], [], None).says[:43]
    '31.751 kg (70 lb) to 36.287 kg (80 lb) of h'
    """
    found = [
        *(_expected(name, count, True, own) for name, count in boxes),
        *(_expected(name, count, False, own) for name, count in frames),
    ]
    low, high = total(row.low for row in found), total(row.high for row in found)
    wax = wax_from(high).high
    shown = {name: Figure(show_both, mass) for name, mass in (("low", low), ("high", high), ("wax", wax))}
    says = Sentence("{low} to {high} of honey, and up to {wax} of wax from the cappings.", **shown)
    return Crop(low, high, wax, says, tuple(dict.fromkeys((row.source, row.sure) for row in found)))


def _expected(name: str, count: int, boxes: bool, own: Mass | None) -> Expected:
    """What so many boxes or frames of a name give: by one's own average, as published, or by area of comb."""
    published = name in published_supers()
    many = count * (10 if published else FRAMES[name].in_box) if boxes else count
    if own is not None:
        each = many * own
        return Expected(each, each, Sentence("your own average, {frames} frames", frames=many), OWN)
    if published:
        return (from_supers if boxes else from_frames)(name, count)
    return from_comb(name, many)


@dataclass(frozen=True, slots=True)
class Setting:
    """When honey of a flower usually sets."""

    found: FlowerSetting
    notes: tuple[Sentence, ...] = (PRACTICE_NOTE, SETS_NOTE)


def setting(flower: str) -> Setting:
    """When honey of a flower usually sets. Raises :class:`~labelkit.errors.honey.FlowerUnknown`."""
    return Setting(by_flower(flower))
