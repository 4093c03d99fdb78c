"""What the picture of a plan shows: a bar for each bucket and blend, its stretches, and the legend."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from labelkit.measures import Mass, show_first, total
from labelkit.measures.wording import ENGLISH, Wording
from labelkit.paper.marks import Colour
from labelkit.plan.outcome import JarPlan
from labelkit.plan.request import JarSize

# From dark to light, so that neighbours differ in print without colour as well: honey, comb, straw, then leaf.
TINTS: tuple[Colour, ...] = (
    (107, 63, 20),
    (152, 89, 15),
    (192, 127, 26),
    (219, 166, 74),
    (236, 202, 136),
    (245, 227, 189),
    (201, 211, 184),
    (147, 165, 131),
)
KEPT: Colour = (93, 124, 140)
POURED: Colour = (125, 90, 126)


@dataclass(frozen=True, slots=True)
class Part:
    """What a stretch of a bar stands for: so much honey, and words for it, the longest that fit."""

    mass: Mass
    tint: Colour
    words: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Row:
    """One bucket or blend: its name, what is said below it, what it holds and what that becomes."""

    name: str
    below: str
    holds: Mass
    parts: tuple[Part, ...]


@dataclass(frozen=True, slots=True)
class Key:
    """One entry of the legend; ``count`` is how much of it there is, where that is said."""

    tint: Colour
    name: str
    count: str = ""

    @property
    def text(self) -> str:
        return f"{self.name} {self.count}".rstrip()


def rows_of(
    plan: JarPlan, sizes: Sequence[JarSize], most: int, locale: str, filled: bool = False, words: Wording = ENGLISH
) -> tuple[list[Row], int]:
    """The first buckets, at will only those that fill jars, and the blends; and how many buckets are left out."""
    buckets = [bucket for bucket in plan.buckets if not filled or any(bucket.jars.values())]
    rows = [
        Row(
            b.id,
            show_first(b.usable, locale),
            b.usable,
            (*_jars(sizes, b.jars), *_set_aside(plan, b.id, locale, words)),
        )
        for b in buckets[:most]
    ]
    for blend in plan.blends[:most] if rows else ():
        poured = words("from {buckets}", buckets=", ".join(name for name, _ in blend.parts))
        rows.append(Row(blend.id, poured, total(m for _, m in blend.parts), tuple(_jars(sizes, blend.jars))))
    return rows, max(0, len(buckets) - most)


def _tints(sizes: Sequence[JarSize]) -> dict[str, Colour]:
    return {size.id: TINTS[n % len(TINTS)] for n, size in enumerate(sizes)}


def _jars(sizes: Sequence[JarSize], counts: Mapping[str, int]) -> list[Part]:
    """The stretches of the jars filled from one bucket or blend, in the order of the sizes."""
    tint = _tints(sizes)
    return [
        Part(size.fill * counts[size.id], tint[size.id], (f"{counts[size.id]} × {size.id}", str(counts[size.id])))
        for size in sizes
        if counts.get(size.id)
    ]


def _set_aside(plan: JarPlan, bucket: str, locale: str, words: Wording) -> list[Part]:
    """The stretches of a bucket that fill no jar of its own: honey that is kept, and the rest that goes into a blend."""
    kept = [
        Part(k.mass, KEPT, (f"{show_first(k.mass, locale)} {k.id}", k.id, words("kept")))
        for k in plan.kept
        if k.bucket == bucket
    ]
    poured = [(blend.id, mass) for blend in plan.blends for name, mass in blend.parts if name == bucket]
    return [*kept, *(Part(mass, POURED, (words("into {name}", name=name), "→")) for name, mass in poured)]


def keys_of(plan: JarPlan, sizes: Sequence[JarSize], locale: str, words: Wording = ENGLISH) -> list[Key]:
    """Every jar size filled, what is kept and what is poured over, with how much of each."""
    tint = _tints(sizes)
    keys = [
        Key(
            tint[size.id],
            size.id,
            f"{plan.jars[size.id]}{f', {size.reserve} of them not for sale' if size.reserve else ''}",
        )
        for size in sizes
        if plan.jars.get(size.id)
    ]
    if plan.kept:
        keys.append(Key(KEPT, words("kept unbottled"), show_first(total(k.mass for k in plan.kept), locale)))
    if plan.blends:
        poured = total(mass for blend in plan.blends for _, mass in blend.parts)
        keys.append(Key(POURED, words("poured into a blend"), show_first(poured, locale)))
    return keys
