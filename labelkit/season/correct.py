"""Put another lot code on jars, and set what losses are worth a word."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from typing import TYPE_CHECKING

from labelkit.errors.record import JarsTooFew
from labelkit.errors.sentence import Figure
from labelkit.errors.trace import LabelAboveHoney, ShareOutOfRange
from labelkit.lots.code import lot_code, read_lot_code
from labelkit.lots.movement import Account
from labelkit.measures import show_metric
from labelkit.record.lookup import find_lot
from labelkit.record.settings import Setting
from labelkit.run.weighed import as_they_stand
from labelkit.sale.events import SaleLine
from labelkit.season.known_jars import known_of
from labelkit.season.settings import settings_of
from labelkit.trace.alarms import SETTING, Limits, limits_of
from labelkit.trace.recall import lines_of
from labelkit.trace.relabel import Relabel

if TYPE_CHECKING:
    from labelkit.record.work import Work


@dataclass(frozen=True, slots=True)
class Relabelled:
    """Jars that bear another lot code now, as it was booked."""

    event: int
    relabel: Relabel

    @property
    def jars(self) -> int:
        """How many jars."""
        return sum(line.count for line in self.relabel.lines)


def relabel(
    work: Work, lot: str, jars: Mapping[str, int], reason: str, day: date, into: str | None = None, size: str = ""
) -> Relabelled:
    """Give jars in stock another lot code (the one named, else the next free one of the day), and the label of ``size``.

    Raises :class:`~labelkit.errors.record.JarsTooFew`, :class:`~labelkit.errors.run.JarSizeUnknown` and
    :class:`~labelkit.errors.trace.LabelAboveHoney` where the jars hold less than the label of ``size`` says.
    """
    if work.booked_before:
        first = work.booked_before[0]
        return Relabelled(first.seq, first.event)
    old = find_lot(work, lot).name
    new = read_lot_code(into).code if into else lot_code(day, old, work.lot_codes_taken()).code
    here = {jar.size: jar for jar in work.stock(Account.JARS, lots=(old,))}
    lines: list[SaleLine] = []
    for name, count in jars.items():
        there = here[name].count if name in here else 0
        if there < count:
            raise JarsTooFew(old, name, count - there, "in stock", 0)
        lines += lines_of(old, name, count, there, here[name].mass)
    if size:
        _fits(work, old, tuple(jars), size, day)
    event = Relabel(day, new, tuple(lines), reason, size)
    return Relabelled(work.add(event).seq, event)


def _fits(work: Work, lot: str, jars: tuple[str, ...], size: str, day: date) -> None:
    """Jars get the label of another size only where the lightest that was weighed, or what they were filled to, holds it."""
    owed, known = settings_of(work).fill(size, day), known_of(work, [lot])
    for name in jars:
        first = known.first(lot, name)
        weighed = [net for each in as_they_stand([c.event for c in known.checks.get(first, ())]) for net in each.nets]
        filled = next((jar.fill for jar in known.runs[first[0]].jars if jar.size == first[1]), owed)
        least = min(weighed, default=filled)
        if least < owed:
            raise LabelAboveHoney(lot, name, Figure(show_metric, least), size, Figure(show_metric, owed))


def set_limits(work: Work, day: date, *, unexplained: Decimal | None = None, lost: Decimal | None = None) -> Limits:
    """From which share on, in per cent of what came in, missing honey is told; what is not given stays.

    Raises :class:`~labelkit.errors.trace.ShareOutOfRange`.
    """
    wanted = {name: share for name, share in (("unexplained", unexplained), ("lost", lost)) if share is not None}
    for name, share in wanted.items():
        if not 0 <= share <= 100:
            raise ShareOutOfRange(name, str(share))
    if not work.booked_before:
        before = work.settings().get(SETTING, {})
        work.add(Setting(day, SETTING, {**before, **{name: str(share) for name, share in wanted.items()}}))
    return limits_of(work.settings())
