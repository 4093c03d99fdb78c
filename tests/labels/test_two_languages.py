"""Two languages on one label: side by side where it is wide enough, one above the other where not, always of one size.

Safe Food for Canadians Regulations s. 206(1): what the label has to say stands in English and French.
"""

from __future__ import annotations

import re
from dataclasses import replace

import pytest

from labelkit.errors.labels import LabelTooSmall
from labelkit.labels.content import front_label_content
from labelkit.labels.design import NAMES, design
from labelkit.labels.layout.flow import Paragraph, flow
from labelkit.labels.layout.kinds import place
from labelkit.labels.outline import Outline
from labelkit.paper.fonts import around, face
from labelkit.paper.marks import Text
from tests.labels.looking import crossing_the_frame, over_the_edge, overlaps, unsaid
from tests.labels.samples import label, linked, outline

NAME = ("Clover", "Miel")
CAUTION = ("Do not", "Ne pas")


def lines_of(placed, role):
    return [mark for mark in placed.marks if isinstance(mark, Text) and role in mark.role.split("+")]


def languages(placed, role, starts):
    """The lines of a role parted where the second language begins."""
    lines = lines_of(placed, role)
    first, other = (start.casefold() for start in starts)
    second = next(place for place, line in enumerate(lines) if line.text.casefold().startswith(other))
    assert lines[0].text.casefold().startswith(first) and second > 0
    return lines[:second], lines[second:]


def equal(first, second):
    """Both in letters of one size, weight and colour."""
    return len({(line.size, line.face.key, line.colour, line.tracking) for line in (*first, *second)}) == 1


def side_by_side(first, second):
    return (
        around(line.box for line in first).right < around(line.box for line in second).left
        and first[0].y == second[0].y
    )


def above(first, second):
    return around(line.box for line in first).bottom >= around(line.box for line in second).top


def sound(content, placed):
    return not [*overlaps(placed), *over_the_edge(placed), *crossing_the_frame(placed), *unsaid(content, placed)]


@pytest.mark.parametrize("look", NAMES)
def test_a_wide_front_sets_name_and_caution_in_two_columns(look):
    for content in (label("ca"), linked(label("ca"))):
        placed = place(content, outline("letter-2x3-102x85"), design(look))
        for role, starts in (("name", NAME), ("caution", CAUTION)):
            first, second = languages(placed, role, starts)
            assert side_by_side(first, second) and equal(first, second), (look, role)
        assert sound(content, placed) and placed.ok and placed.moved == ()


@pytest.mark.parametrize("look", NAMES)
def test_a_back_and_a_wrap_set_the_caution_in_two_columns(look):
    for kind, name in (("back", "a4-2x2-99x139"), ("wrap", "letter-1x5-203x51"), ("wrap", "a4-1x5-200x50")):
        content = label("ca", kind)
        placed = place(content, outline(name), design(look))
        first, second = languages(placed, "caution", CAUTION)
        assert side_by_side(first, second) and equal(first, second), (look, kind)
        assert sound(placed.content, placed) and placed.ok


@pytest.mark.parametrize("look", NAMES)
def test_a_round_and_a_narrow_label_set_one_above_the_other(look):
    for kind, where in (
        ("front", outline("letter-3x4-d64")),
        ("front", Outline(45_000, 130_000)),
        ("lid", outline("letter-3x4-d64")),
        ("back", Outline(45_000, 130_000)),
    ):
        content = label("ca", kind)
        placed = place(content, where, design(look))
        first, second = languages(placed, "name", NAME)
        assert equal(first, second), (look, kind)
        if kind != "back":
            assert above(first, second), (look, kind)
        if kind != "lid" and "caution" not in placed.moved:
            first, second = languages(placed, "caution", CAUTION)
            assert above(first, second) and equal(first, second), (look, kind)
        assert sound(placed.content, placed)


def test_every_statement_in_two_languages_is_of_one_size_on_every_label_it_stands_on():
    """Every sheet would do; four of the most different ones."""
    for name in ("letter-2x5-102x51", "a4-3x7-64x38", "a4-2x5-o90x50", "letter-3x3-64x76"):
        for look in NAMES:
            placed = place(label("ca"), outline(name), design(look))
            for role in ("name", "origin", "best_before", "caution"):
                assert len({line.size for line in lines_of(placed, role)}) <= 1, (name, look, role)


def test_the_net_quantity_and_the_address_stand_once():
    """SFCR s. 232: the figure and the symbol g read alike in both; FDR B.01.012(9): the address may be in one language."""
    placed = place(label("ca"), outline("letter-2x3-102x85"), design("press"))
    assert "".join(line.text for line in lines_of(placed, "net")) == "500 g"
    assert sum("Inventé" in line.text for line in lines_of(placed, "address")) == 1


def test_free_lines_and_a_maker_in_two_languages_stand_as_the_name_does():
    content = front_label_content(
        name=("Buckwheat Honey", "Miel de sarrasin"),
        statement="500 g",
        maker=("Made-up Farm", "Ferme Inventée"),
        lines=[("Dark and strong", "Foncé et corsé")],
        langs=("en", "fr"),
    )
    placed = place(content, Outline(150_000, 70_000), design("meadow"))
    first, second = languages(placed, "line", ("Dark", "Foncé"))
    assert side_by_side(first, second) and equal(first, second)
    assert {line.text.casefold() for line in lines_of(placed, "maker")} == {"made-up farm", "ferme inventée"}
    assert sound(content, placed)


def test_french_words_are_broken_as_french_and_not_as_english():
    """Against the dictionaries of LibreOffice: the French break points of a French word, read by pyphen directly."""
    import pyphen

    word = "anticonstitutionnellement"
    said = [Paragraph("storage", "Keep cool", "sans-Regular", None, (word,))]
    room = face("sans-Regular").width("anticons-", 3000)
    put = flow(said, lambda low, high: (0, room), 0, 3000, "left", ("en", "fr"), ((0, 0, 0), (0, 0, 0)))
    heads = [line.text.removesuffix("-") for line in put.marks if line.text.endswith("-")]
    ends = {lang: {head for head, _ in pyphen.Pyphen(lang=lang).iterate(word)} for lang in ("fr", "en")}
    assert heads and heads[0] in ends["fr"] - ends["en"]


def test_a_name_that_fits_neither_way_is_refused_with_the_millimetres_of_both():
    names = ("Extraordinary Wildflower Honey", "Miel extraordinaire de fleurs sauvages")
    content = front_label_content(name=names, statement="500 g", maker="Nowhere", langs=("en", "fr"))
    with pytest.raises(LabelTooSmall) as told:
        place(content, Outline(32_000, 18_000), design("press"))
    assert "mm more width for its languages side by side" in told.value.what
    assert "mm more height for one language above the other" in told.value.what
    assert "Both languages have to be of one size" in told.value.do
    wider, higher = (float(number) for number in re.findall(r"([0-9.]+) mm more", told.value.what))
    for more, where in (
        (wider, lambda more: Outline(32_000 + more, 18_000)),
        (higher, lambda more: Outline(32_000, 18_000 + more)),
    ):
        assert place(content, where(int(more * 1000)), design("press")).ok
        with pytest.raises(LabelTooSmall):
            place(content, where(int(more * 1000) - 1000), design("press"))


@pytest.mark.parametrize("pair", [("Clover Honey", "Μέλι τριφυλλιού"), ("Linden Honey", "Липовий мед")])
def test_two_scripts_share_a_label(pair):
    content = replace(front_label_content(name=pair, statement="500 g", maker="Nowhere", langs=("en", "el")), lot=None)
    for look in NAMES:
        placed = place(content, outline("a4-2x4-99x68"), design(look))
        assert sound(content, placed) and len({line.size for line in lines_of(placed, "name")}) == 1
