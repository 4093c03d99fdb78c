"""Chunk honey: pieces of comb in jars topped up with liquid honey, poured together as exactly what the jars take."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING

from labelkit.errors.run import CombFillsTheJars
from labelkit.measures import NOTHING, Mass, show_both, total
from labelkit.season.blend import Blending, blend
from labelkit.season.unmet import against_buckets, refuse

if TYPE_CHECKING:
    from labelkit.record.work import Work
    from labelkit.run import Filled


@dataclass(frozen=True, slots=True)
class Chunk:
    """The comb of other buckets, by bucket, and the honey poured over it; ``left`` and ``lost`` of that honey."""

    bucket: str
    comb: Mapping[str, Mass]
    left: Mass | None = None
    lost: Mass = NOTHING
    because: str = ""

    def called(self, work: Work) -> str:
        """What honey and comb are called together: “B1 + S1”."""
        return " + ".join((work.call(self.bucket), *self.comb))


def poured_over_comb(work: Work, asked: Chunk, filled: Iterable[Filled], day: date, locale: str) -> str:
    """Blend the comb and the honey over it, as much as the jars take; the blend's name in the record.

    The honey is what the jars take beyond the comb, or what left its bucket where the rest was weighed back. Raises
    :class:`~labelkit.errors.run.CombFillsTheJars`, and what stands against each of the buckets.
    """
    comb, jars = total(asked.comb.values()), total(each.count * each.fill for each in filled)
    sources = [work.bucket(work.fill(name)) for name in (asked.bucket, *asked.comb)]
    refuse(against_buckets(work, sources, day), asked.because)
    honey = sources[0].holds - asked.left if asked.left is not None else jars + asked.lost - comb
    if comb >= jars or honey <= NOTHING:
        raise CombFillsTheJars(show_both(comb, locale), show_both(jars, locale))
    parts: tuple[tuple[str, Mass | None], ...] = ((asked.bucket, honey), *asked.comb.items())
    return blend(work, Blending(asked.called(work), parts), day, locale).id
