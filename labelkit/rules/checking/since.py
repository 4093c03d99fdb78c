"""A jar that was labelled on an earlier day: the law of that day decides, and what changed since is told.

The sell-through rule of a change says what becomes of jars labelled before it. Where none is held, that is a question.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace
from datetime import date, timedelta

from labelkit.rules.blocks import Law, SellThrough
from labelkit.rules.findings import Finding, with_caution
from labelkit.rules.market import Market
from labelkit.rules.upkeep import Between, Change

_UNKNOWN = "Whether jars labelled before may still be sold was not read: ask."


def changed_since(
    labelled: date, then: Iterable[Finding], now: Iterable[Finding], markets: Sequence[Market]
) -> tuple[Finding, ...]:
    """What the law asks of this label on the markets' day and did not ask on the day it was labelled.

    A finding is a note while such jars may be sold, keeps its level once they may not, and is a question where no
    sell-through rule is held. Findings that rest on no change between the two days are left out.
    """
    known = {(finding.rule, finding.field, finding.says) for finding in then}
    changes = {market.code: Between(market, labelled + timedelta(days=1), market.day).changes for market in markets}
    days = {market.code: market.day for market in markets}
    new = [finding for finding in now if (finding.rule, finding.field, finding.says) not in known]
    return tuple(
        _told(finding, change, _sell_through(change, changes[finding.market]), days[finding.market])
        for finding in new
        for change in [_change(finding, changes.get(finding.market, ()))]
        if change
    )


def _change(finding: Finding, changes: Iterable[Change]) -> Change | None:
    """The change a finding rests on: that of its own rule, or the one cited in the same place."""
    began = [change for change in changes if change.after]
    mine = [change for change in began if _rule(change.law) == finding.rule]
    cited = [change for change in began if str(change.law.cite) == finding.cite]
    return next(iter([*mine, *cited]), None)


def _sell_through(change: Change, changes: Iterable[Change]) -> SellThrough | None:
    """The rule of the changed block, or that of another change by the same act on the same day."""
    same_act = (
        other.law.sell_through
        for other in changes
        if other.day == change.day and other.law.cite.source == change.law.cite.source and other.law.sell_through
    )
    return change.law.sell_through or next(same_act, None)


def _rule(law: Law) -> str:
    return getattr(law, "rule", "")


def _told(finding: Finding, change: Change, sell: SellThrough | None, today: date) -> Finding:
    level = _level(finding.level, sell, today)
    still = sell.says if sell else _UNKNOWN if finding.level != "note" else ""
    return replace(
        finding,
        level=level,
        says=f"Changed on {change.day.isoformat()}, after this jar was labelled. {finding.says}",
        do=with_caution(f"{still} For jars labelled now: {finding.do}".strip()),
    )


def _level(level: str, sell: SellThrough | None, today: date) -> str:
    if sell is None:
        return "ask" if level == "stop" else level
    may_be_sold = sell.until == "stocks run out" or (isinstance(sell.until, date) and today <= sell.until)
    return "note" if may_be_sold else level
