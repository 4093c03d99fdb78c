"""Findings that come from a value and not from a rule of its own: the value's law, our words."""

from __future__ import annotations

from labelkit.errors import Refused
from labelkit.errors.rules import FactMissing, NoRuleInForce
from labelkit.rules.blocks import Value
from labelkit.rules.checking.case import Case
from labelkit.rules.findings import Finding, with_caution


def held(case: Case, name: str) -> Value | None:
    """The market's value of this name for this label; ``None`` when it holds none or a fact it hangs on is open."""
    try:
        return case.market.value(name, **case.facts)
    except (NoRuleInForce, FactMissing):
        return None


def about(case: Case, law: Value, level: str, field: str, found: str, *, says: str, do: str) -> Finding:
    """A finding whose figure, citation and certainty are a value's."""
    return Finding(
        rule=law.rule,
        market=case.market.code,
        level=level,
        field=field,
        found=found,
        says=says,
        do=with_caution(do),
        cite=str(law.cite),
        read_on=law.cite.read_on,
        sure=law.sure,
        read_in=law.cite.read_in,
    )


def unread(case: Case, area: str, field: str, found: str, refusal: Refused) -> Finding:
    """A question about words that nobody has read for this market, so that no print can have them."""
    return Finding(
        rule=f"{case.market.code}.not_read.{area}",
        market=case.market.code,
        level="ask",
        field=field,
        found=found,
        says=refusal.what,
        do=with_caution(f"{refusal.do} Until then labelkit cannot print this."),
        cite=f"{case.market.name}: not read",
        read_on=None,
        sure="memory",
    )
