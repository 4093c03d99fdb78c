"""Authority: one file for whoever has the right to ask, of all honey, of some lots, or of a year."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from labelkit.errors.record import NothingInYear
from labelkit.record.lookup import find_lot
from labelkit.sale.goods import Made
from labelkit.trace.follow import Start, follow
from labelkit.trace.sheet import sheet

if TYPE_CHECKING:
    from labelkit.measures.period import Period
    from labelkit.record.reading import Reading


@dataclass(frozen=True, slots=True)
class AuthorityFile:
    """The file's text (RFC 4180) and the jar lots it is about."""

    text: str
    lots: tuple[str, ...]

    @property
    def lines(self) -> int:
        """How many lines it has under its headings."""
        return self.text.count("\r\n") - 1


def authority(state: Reading, lots: Sequence[str] = (), period: Period | None = None) -> AuthorityFile:
    """What came in, what was made of it, and where every jar went.

    Of a year: the lots that anything moved in it, from their harvest to its last evening, so that no chain begins or
    ends in the middle. Raises :class:`~labelkit.errors.record.LotUnknown` and
    :class:`~labelkit.errors.record.NothingInYear`.
    """
    then = state.as_of(period.last if period else None)
    named = _named(then, lots, period)
    if period and not named:
        raise NothingInYear(str(period))
    whole = not lots and period is None
    trace = follow(
        Start("lot", "all" if whole else " ".join(named), named), then.events() if whole else then.story(named)
    )
    settings = then.settings()
    return AuthorityFile(
        sheet(trace, settings.get("maker", {}), next(iter(settings.get("market", ())), "")), trace.lots
    )


def _named(state: Reading, lots: Sequence[str], period: Period | None) -> tuple[str, ...]:
    """The lots it begins at; goods that are not honey are no food and stay out."""
    asked = {lot for text in lots for lot in find_lot(state, text).lots}
    if asked and period is None:
        return tuple(sorted(asked))
    story = tuple(state.story(asked) if asked else state.events())
    goods = {each.event.lot for each in story if each.kind == Made.kind}
    moved = {m.lot for each in story if period is None or each.day in period for m in each.movements()}
    return tuple(sorted((moved & asked if asked else moved) - goods))
