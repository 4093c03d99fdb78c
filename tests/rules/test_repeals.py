"""What was law until a day is law until that day, and not after it.

SFCR s. 275 (words such as “Creamed” on graded honey) was repealed on 21 June 2022 by SOR/2022-144 s. 40; the honey
standard of the Food and Drug Regulations by SOR/2024-244 s. 114.
"""

from __future__ import annotations

from datetime import date

import pytest

from labelkit.rules import market


@pytest.mark.parametrize(("day", "due"), [(date(2022, 6, 20), True), (date(2022, 6, 21), False)])
def test_the_canadian_words_for_how_honey_was_prepared_were_due_until_their_repeal(day, due):
    rules = {duty.rule for duty in market("ca", day).duties()}
    assert ("ca.name.style" in rules) is due


@pytest.mark.parametrize(("day", "clause"), [(date(2024, 12, 17), "B.18.026"), (date(2024, 12, 18), "grade No. 3")])
def test_the_canadian_moisture_limit_is_cited_from_the_text_of_its_day(day, clause):
    limit = market("ca", day).value("highest moisture", honey="honey")
    assert limit.value == 20 and clause in limit.cite.clause


@pytest.mark.parametrize(("day", "due"), [(date(2015, 8, 27), True), (date(2015, 8, 28), False)])
def test_missouri_dropped_its_sentence_for_honey_in_2015(day, due):
    rules = {duty.rule for duty in market("us-mo", day).duties()}
    assert ("us-mo.statements.old_placard" in rules) is due
