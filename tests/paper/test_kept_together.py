"""What stays on one line, told by the form of the words, in every language labelkit prints."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from labelkit.paper.kept_together import LONGEST, kept_together
from tests.labels.samples import MARKETS


@pytest.mark.parametrize(
    ("text", "whole"),
    [
        ("Mindestens haltbar bis 30. Juni 2028", "30. Juni 2028"),
        ("Consumir preferentemente antes del 30 de junio de 2028", "30 de junio de 2028"),
        ("Best if used by June 30, 2028", "June 30, 2028"),
        ("Best before 2028 JN 30", "2028 JN 30"),
        ("Мінімальний термін до 30 червня 2028 р.", "30 червня 2028 р."),
        ("À consommer de préférence avant fin 2028", "fin 2028"),
        ("Ukraine 42 %, New Zealand 36 %, Poland 22 %", "New Zealand 36 %"),
        ("Net Wt 16 oz (1 lb) 453 g", "453 g"),
        ("Lot L26195AXR · Am Anger 3 · 00000 Musterstadt", "00000 Musterstadt"),
        ("12 Sample Lane · Pretend Hollow, VA 00000", "Pretend Hollow, VA 00000"),
        ("2 Kiln Row · Nowhere NW0 0XX", "Nowhere NW0 0XX"),
        ("8 rang Inventé · Nulle-Part QC H0H 0H0", "Nulle-Part QC H0H 0H0"),
        ("ul. Zmyślona 4 · 00-950 Nigdzie", "00-950 Nigdzie"),
        ("Product of US", "of US"),
        ("Not suitable for infants under 12 months.", "12 months."),
    ],
)
def test_what_belongs_together_is_one_part(text, whole):
    assert any(whole in part for part in kept_together(text)), kept_together(text)


@given(
    st.lists(
        st.sampled_from(["30.", "Juni", "2028", "g", "453", "%", "Spain", "DE", "00000", "Hollow,", "·", "of", "de"]),
        min_size=1,
    )
)
def test_no_word_is_lost_and_no_part_is_too_long_for_a_label(words):
    parts = kept_together(" ".join(words))
    assert " ".join(parts).split() == words
    assert all(len(part) <= LONGEST or " " not in part for part in parts)


@pytest.mark.parametrize("code", MARKETS)
def test_no_line_of_a_label_ends_within_what_belongs_together(code):
    from labelkit.labels.design import NAMES, design
    from labelkit.labels.layout.kinds import place
    from labelkit.paper.marks import Text
    from tests.labels.samples import label, outline

    content = label(code)
    held = [part for words in content.words for text in words.all for part in kept_together(text) if " " in part]
    for look in NAMES:
        for sheet_name in ("letter-2x5-102x51", "letter-3x3-64x76", "letter-2x3-102x85"):
            placed = place(content, outline(sheet_name), design(look))
            roles = {"address", "best_before", "origin", "caution"} - set(placed.moved)
            lines = [mark.text for mark in placed.marks if isinstance(mark, Text) and roles & {*mark.role.split("+")}]
            said = [part for part in held for words in content.words if words.role in roles and part in words.text]
            assert not [part for part in said if not any(part in line for line in lines)], (look, sheet_name, lines)
