"""Blending and drying: conservation of mass, by mass and never by volume.

No source is needed or given beyond that: water and solids are neither made nor lost. HMF, sugars and ash blend the
same way; colour and viscosity do not, and are not predicted.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal

from labelkit.errors.honey import BlendTargetOutOfReach, DryingAddsWater
from labelkit.honey.moisture import checked
from labelkit.measures import Mass, total
from labelkit.measures.rounding import UP, plain, to_step


@dataclass(frozen=True, slots=True)
class Mixed:
    """So much honey at so much moisture (percent)."""

    mass: Mass
    moisture: Decimal


@dataclass(frozen=True, slots=True)
class Dried:
    """What drying leaves: the honey, and the water that went."""

    mass: Mass
    water: Mass


def blend(parts: Iterable[Mixed]) -> Mixed:
    """The blend of some parts.

    >>> blend([Mixed(Mass.of_grams(30000), Decimal("17.2")), Mixed(Mass.of_grams(20000), Decimal("19.4"))]).moisture
    Decimal('18.08')
    """
    parts = tuple(parts)
    mass = total(part.mass for part in parts)
    water = sum((part.mass.mg * checked(part.moisture) for part in parts), Decimal(0))
    return Mixed(mass, water / mass.mg)


def dry_honey_needed(wet: Mixed, dry_moisture: Decimal, target: Decimal) -> Mass:
    """How much drier honey brings a wet lot down to a target moisture, up to the next milligram.

    Raises :class:`~labelkit.errors.honey.BlendTargetOutOfReach` unless dry < target < wet.

    >>> dry_honey_needed(Mixed(Mass.of_grams(20000), Decimal("19.4")), Decimal("16.5"), Decimal("18.0")).g
    Decimal('18666.667')
    """
    if not checked(dry_moisture) < checked(target) < checked(wet.moisture):
        raise BlendTargetOutOfReach(plain(wet.moisture), plain(dry_moisture), plain(target))
    needed = wet.mass.mg * (wet.moisture - target) / (target - dry_moisture)
    return Mass(int(to_step(needed, Decimal(1), UP)))


def dry(honey: Mixed, target: Decimal) -> Dried:
    """What is left when honey is dried to a target moisture: its solids stay.

    Raises :class:`~labelkit.errors.honey.DryingAddsWater`.

    >>> left = dry(Mixed(Mass.read("60 lb", "en_US"), Decimal("19.5")), Decimal("18.0"))
    >>> round(left.mass.lb, 3), round(left.water.lb, 3)
    (Decimal('58.902'), Decimal('1.098'))
    """
    if not checked(target) < checked(honey.moisture):
        raise DryingAddsWater(plain(honey.moisture), plain(target))
    left = honey.mass.times((100 - honey.moisture) / (100 - target))
    return Dried(left, honey.mass - left)
