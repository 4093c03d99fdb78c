"""The run sheet: what stands on paper beside the scale on filling day. Pure data; the paper is drawn elsewhere.

For each bucket and jar size: what the scale must show with that jar's tare, from where to where a jar is good, how
many jars and lids to lay out, how many to weigh for the test, and boxes to tick and to write in.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from labelkit.errors.filling import TareImpossible
from labelkit.errors.sentence import Figure
from labelkit.lots.code import lot_code
from labelkit.measures import NOTHING, Declared, Mass, show_metric
from labelkit.measures.division import GRAM, Division, ScaleReading
from labelkit.measures.rounding import UP, to_step
from labelkit.plan import BucketPlan, JarPlan, JarSize

# Jars and lids that turn out chipped, cracked or bent on the day: common practice, no source.
SPARE_PERCENT = Decimal(2)

CAUTIONS = (
    "Warm honey burns and holds its heat: wear gloves, keep children away, lift full buckets with two people.",
    "Do not overheat: no hotter than 40 to 45 °C, and not longer than the filling takes.",
    "Look at every jar against the light before filling: no chips, cracks, dust or moisture. Jars clean and bone dry.",
    "A jar that breaks takes its neighbours' honey with it: throw away what stood open beside it, and write it down.",
    "Glass and honey of much the same warmth: hot honey cracks cold glass.",
    "The scale is legal for trade, level, zeroed with nothing on it, and checked with a known weight before the first jar.",
    "Honey is not for infants under twelve months: see that the caution is on the label where you sell.",
)


@dataclass(frozen=True, slots=True)
class FillLine:
    """One size out of one bucket. ``target``, ``lowest`` and ``highest`` are what the scale shows."""

    size: str
    declares: Declared
    count: int
    spare: int
    net: Mass
    tare: Mass | None
    target: ScaleReading
    lowest: ScaleReading
    highest: ScaleReading
    weigh: int | None = None  # how many jars the lot test asks for, where a market is given
    chance: float | None = None  # that the lot passes at this fill, by one's own past runs, where those are known

    @property
    def gross(self) -> bool:
        """Whether the scale shows jar and honey together."""
        return self.tare is not None

    @property
    def to_lay_out(self) -> int:
        """Jars, and as many lids."""
        return self.count + self.spare


@dataclass(frozen=True, slots=True)
class BucketSheet:
    """One bucket: its lot code, what it holds for the run, what it fills, and what should be left.

    ``left`` is below zero where the margins ask for more honey than the bucket has: the last jars cannot be filled.
    """

    bucket: str
    lot: str
    usable: Mass
    lines: tuple[FillLine, ...]
    left: Mass


@dataclass(frozen=True, slots=True)
class RunSheet:
    """A day's filling. ``jars`` are jars (and lids) of each size to lay out, spares included."""

    day: date
    division: Division
    buckets: tuple[BucketSheet, ...]
    jars: dict[str, int]
    cautions: tuple[str, ...] = CAUTIONS


@dataclass(frozen=True, slots=True)
class Setting:
    """How one size is filled: the empty jar with lid and label, and how far above its fill target to aim.

    ``planned`` says that the plan has counted the margin already, so that it leaves no less in the bucket.
    """

    tare: Mass | None = None
    margin: Mass = NOTHING
    planned: bool = False


def run_sheet(
    plan: JarPlan,
    sizes: Sequence[JarSize],
    day: date,
    *,
    settings: Mapping[str, Setting] | None = None,
    division: Division = GRAM,
    lots: Mapping[str, str] | None = None,
    weigh: Callable[[Declared, int], int] | None = None,
    passes: Callable[[str, int], float | None] | None = None,
    spare_percent: Decimal = SPARE_PERCENT,
) -> RunSheet:
    """The sheet of a jar plan for one day.

    ``division`` is the step the scale counts in, ``lots`` lot codes already given (others are made from day and
    bucket), ``weigh`` tells from a declared weight and a lot's size how many jars its test asks for, ``passes`` from a
    jar size and a lot's size the chance that it passes. Every figure for the scale is rounded up to its division, so
    that no jar that reads right is short. Raises
    :class:`~labelkit.errors.filling.TareImpossible` for a tare of nothing.

    >>> from labelkit.measures import Money
    >>> pound = JarSize("one pound", "1 lb", Mass.of_grams("453.592"), Money.of("12", "USD"), Money.of("1.35", "USD"))
    >>> bucket = BucketPlan("B1", Mass.of_grams(27300), {"one pound": 60}, Mass.of_grams("27215.52"), Mass.of_grams("84.48"))
    >>> plan = JarPlan("proved", Money.of("639", "USD"), Money.of("639", "USD"), {"one pound": 60}, (bucket,))
    >>> sheet = run_sheet(plan, [pound], date(2026, 7, 14), settings={"one pound": Setting(Mass.of_grams("212.7"))})
    >>> line = sheet.buckets[0].lines[0]
    >>> sheet.buckets[0].lot, line.lowest.g, line.target.g, line.highest.g, sheet.jars
    ('L26195AXR', Decimal('667'), Decimal('667'), Decimal('669'), {'one pound': 62})
    """
    by_id = {size.id: size for size in sizes}
    settings = settings or {}
    for name, setting in settings.items():
        if setting.tare is not None and setting.tare.mg <= 0:
            raise TareImpossible(Figure(show_metric, setting.tare), f"an empty {name} jar weighs more than nothing")
    taken: set[str] = set((lots or {}).values())
    found = []
    for planned in plan.buckets:
        if not any(planned.jars.values()):
            continue
        lot = (lots or {}).get(planned.id) or lot_code(day, planned.id, taken).code
        taken.add(lot)
        found.append(_bucket(planned, lot, by_id, settings, division, (weigh, passes), spare_percent))
    jars = {
        size.id: sum(line.to_lay_out for bucket in found for line in bucket.lines if line.size == size.id)
        for size in sizes
    }
    return RunSheet(day, division, tuple(found), {size: count for size, count in jars.items() if count})


def _bucket(
    planned: BucketPlan,
    lot: str,
    sizes: Mapping[str, JarSize],
    settings: Mapping[str, Setting],
    division: Division,
    tell: tuple[Callable[[Declared, int], int] | None, Callable[[str, int], float | None] | None],
    spare_percent: Decimal,
) -> BucketSheet:
    lines = []
    weigh, passes = tell
    for name, count in planned.jars.items():
        if not count:
            continue
        size, setting = sizes[name], settings.get(name, Setting())
        tare = setting.tare or NOTHING
        lowest = division.up(size.fill + tare)
        target = division.up(size.fill + setting.margin + tare)
        # As far above the target as it is above the lowest, and never less than two divisions to work in.
        highest = target.steps_up(max(target.count - lowest.count, 2))
        lines.append(
            FillLine(
                name,
                size.declares,
                count,
                _spare(count, spare_percent),
                size.fill + setting.margin,
                setting.tare,
                target,
                lowest,
                highest,
                weigh(size.declares, count) if weigh else None,
                passes(name, count) if passes else None,
            )
        )
    unplanned = {name: setting.margin for name, setting in settings.items() if not setting.planned}
    above = sum((unplanned.get(line.size, NOTHING) * line.count for line in lines), NOTHING)
    return BucketSheet(planned.id, lot, planned.usable, tuple(lines), planned.left - above)


def _spare(count: int, percent: Decimal) -> int:
    return int(to_step(count * percent / 100, Decimal(1), UP))
