"""Hang-up: how much honey stays on the wall of an emptied bucket, learnt from one's own runs or estimated.

It is said beside the plan and taken off only where it is wished (``hang_up``): a plan fills what the scale says there is.
The estimate is a draining film on a pail's wall (:func:`labelkit.honey.settling.hang_up`); the shape of the pail, 25 °C
and half an hour of draining are common practice, no source.
"""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import dataclass
from decimal import Decimal
from typing import TYPE_CHECKING

from labelkit.errors import Refused
from labelkit.errors.sentence import Sentence
from labelkit.honey.settling import hang_up
from labelkit.honey.volume import volume_of
from labelkit.measures import NOTHING, Mass, show_both, total
from labelkit.run.jar_room import USUAL_MOISTURE

if TYPE_CHECKING:
    from labelkit.lots.bucket import Bucket
    from labelkit.plan import JarPlan
    from labelkit.record.reading import Reading

WARM, DRAINED = Decimal(25), Decimal(30)  # °C, minutes
_HIGH_TO_WIDE = Decimal("1.24")  # of a usual pail
_PI = Decimal("3.14159265")
# A run that left more than this share of its bucket did not empty it, and teaches nothing of its wall.
_EMPTIED = Decimal("0.02")
_ENOUGH, _LAST = 2, 8


@dataclass(frozen=True, slots=True)
class HangUp:
    """What stays in a bucket that is filled from until it is empty; ``runs`` of one's own it was learnt from, or none."""

    mass: Mass
    runs: int = 0

    @property
    def source(self) -> Sentence:
        """Where the figure is from."""
        if self.runs:
            return Sentence("learnt from {n} of your own runs", n=self.runs)
        words = "estimated for {warm} °C and {minutes} minutes of draining: common practice, no source"
        return Sentence(words, warm=WARM, minutes=DRAINED)


def hang_ups(state: Reading, names: Collection[str]) -> dict[str, HangUp]:
    """What stays in each of these buckets; nothing of one that cannot be estimated."""
    learnt = _learnt(state)
    found = {}
    for bucket in state.buckets(full=True):
        if bucket.id not in names:
            continue
        mass = learnt.mass if learnt else _estimated(bucket)
        if mass:
            found[bucket.id] = HangUp(mass, learnt.runs if learnt else 0)
    return found


def hang_up_words(plan: JarPlan, known: Mapping[str, HangUp], locale: str) -> list[Sentence]:
    """The buckets of which a plan leaves less than will stay on their walls, and how to plan for it."""
    said = []
    for bucket in plan.buckets:
        clings = known.get(bucket.id)
        if clings and any(bucket.jars.values()) and NOTHING <= bucket.left < clings.mass:
            said.append(
                Sentence(
                    "About {clings} will stay on the wall of {bucket} ({source}), and the plan leaves {left}: its last jar may "
                    "stay short. To plan for it, give the weight as hang-up.",
                    clings=show_both(clings.mass, locale),
                    bucket=bucket.id,
                    source=clings.source,
                    left=show_both(bucket.left, locale),
                )
            )
    return said


def _learnt(state: Reading) -> HangUp | None:
    runs = [booked.event for booked in state.events(("run",)) if booked.stands and booked.event.left_was_weighed]
    emptied = [run for run in runs if run.left <= (run.taken + run.left).times(_EMPTIED)][-_LAST:]
    if len(emptied) < _ENOUGH:
        return None
    # What is weighed back and what went missing both never reached a jar; more in jars than there was is no hang-up.
    kept = [run.left + run.lost + max(run.unexplained, NOTHING) for run in emptied]
    return HangUp(Mass(total(kept).mg // len(kept)), len(emptied))


def _estimated(bucket: Bucket) -> Mass:
    try:
        moisture = bucket.moisture or USUAL_MOISTURE
        honey_m3 = volume_of(bucket.holds, moisture) / 1_000_000
        width = (honey_m3 * 4 / (_PI * _HIGH_TO_WIDE)) ** (Decimal(1) / 3)
        film = hang_up(width * _HIGH_TO_WIDE, width, moisture, WARM, DRAINED)
    except Refused:
        return NOTHING
    return Mass.of_grams((film * 1000).quantize(Decimal(1)))
