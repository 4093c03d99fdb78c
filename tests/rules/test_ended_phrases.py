"""What was law once and is no longer: every phrase and name of a pack's history is caught by its own words after its end."""

from __future__ import annotations

from datetime import date

import pytest

from labelkit.rules import market, shelf
from labelkit.rules.blocks import Value
from labelkit.rules.catalogue import own
from labelkit.rules.wording import words

TODAY = date(2026, 11, 28)


def ended(name, column):
    """Every text of a value of this name that a pack held to a day and holds no longer on it."""
    for head in shelf.markets():
        values = [law for law in own(market(head.id, TODAY)) if isinstance(law, Value) and law.name == name]
        for law in values:
            if law.until is None:
                continue
            still = {row[column] for other in values if other.in_force(law.until) for row in other.value}
            for row in law.value:
                if row[column] not in still:
                    yield pytest.param(head.id, law.until, row[column], id=f"{head.id} {law.until}: {row[column]}")


@pytest.mark.parametrize(("code", "end", "phrase"), list(ended("phrases for a blend", "text")))
@pytest.mark.parametrize("when", ["on the day it ended", "today"])
def test_a_phrase_for_a_blend_that_is_law_no_longer_is_caught(code, end, phrase, when):
    """Directive (EU) 2024/1438 and the national rules before it: an ended phrase hides the countries of harvest."""
    found = words(phrase, market(code, end if when == "on the day it ended" else TODAY))
    caught = [finding for finding in found if finding.rule.endswith(("claim.blend_phrase", "claim.ec_phrase"))]
    assert caught and all(finding.level in ("stop", "ask") for finding in caught), [f.rule for f in found]


@pytest.mark.parametrize(("code", "end", "name"), list(ended("reserved product names", "name")))
def test_a_reserved_name_that_was_struck_out_is_caught(code, end, name):
    """Filtered honey left Annex I of Directive 2001/110/EC on 14 June 2026."""
    found = words(name, market(code, end))
    assert [f for f in found if f.level == "stop"], (name, [f.rule for f in found])


def test_there_is_a_history_to_hold():
    assert len(list(ended("phrases for a blend", "text"))) >= 27
    assert len(list(ended("reserved product names", "name"))) >= 7
