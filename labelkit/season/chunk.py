"""Chunk honey: pieces of comb in jars topped up with liquid honey, poured together as exactly what the jars take."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from datetime import date
from typing import TYPE_CHECKING

from labelkit.errors.run import CombFillsTheJars
from labelkit.measures import NOTHING, Mass, show_both, total
from labelkit.season.blend import Blending, blend
from labelkit.season.unmet import against_buckets, refuse

if TYPE_CHECKING:
    from labelkit.record.work import Work
    from labelkit.run import Filled
    from labelkit.season.bottle import Bottling


def name_of(work: Work, asked: Bottling) -> str:
    """What honey and comb are called together: “B1 + S1”."""
    return " + ".join((work.call(asked.bucket), *asked.comb))


def poured_over_comb(work: Work, asked: Bottling, filled: Iterable[Filled], day: date, locale: str) -> Bottling:
    """The same run out of a blend of the comb and of the honey over it; without comb the run as it is.

    The honey is what the jars take beyond the comb, or what left its bucket where the rest was weighed back. Raises
    :class:`~labelkit.errors.run.CombFillsTheJars`, and what stands against each of the buckets.
    """
    if not asked.comb:
        return asked
    comb, jars = total(asked.comb.values()), total(each.count * each.fill for each in filled)
    sources = [work.bucket(work.fill(name)) for name in (asked.bucket, *asked.comb)]
    refuse(against_buckets(work, sources, day), asked.because)
    honey = sources[0].holds - asked.left if asked.left is not None else jars + asked.lost - comb
    if comb >= jars or honey <= NOTHING:
        raise CombFillsTheJars(show_both(comb, locale), show_both(jars, locale))
    parts: tuple[tuple[str, Mass | None], ...] = ((asked.bucket, honey), *asked.comb.items())
    together = blend(work, Blending(name_of(work, asked), parts), day, locale)
    return replace(asked, bucket=together.id, left=None if asked.left is None else NOTHING)
