"""QR Codes by the hundred: module for module those made one by one, those of a second encoder, and read by a decoder."""

from __future__ import annotations

import itertools
import random
import re

import numpy
import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from labelkit.barcodes.many import form_of, pictures
from labelkit.barcodes.masks import format_bits, level_and_mask, masks, penalties
from labelkit.barcodes.matrix import Squares, qr
from labelkit.barcodes.modules import CORRECTION, MOST, blocks, function_modules, order, words_of
from labelkit.errors.labels import MatrixCodeRefused
from tests.barcodes.test_matrix import read
from tests.walks import examples

LINKS = [f"HTTPS://EXAMPLE.COM/L/L26{day:03}{bucket}" for day in range(1, 41) for bucket in ("AXR", "T9M", "B22")]


def squares(picture: tuple[int, bytes], text: str = "") -> Squares:
    """Rows again, from columns of one bit a module."""
    wide, data = picture
    room = -(-wide // 8)
    columns = [f"{int.from_bytes(data[n * room : n * room + room], 'big'):0{8 * room}b}" for n in range(wide)]
    return Squares("QR Code", tuple(bytes(int(column[row]) for column in columns) for row in range(wide)), text)


def second(text: str, level: str, mask: int):
    segno = pytest.importorskip("segno")
    made = segno.make(text, error=level.lower(), mask=mask, boost_error=False, micro=False)
    return tuple(bytes(module in (1, True) for module in row) for row in made.matrix)


def test_every_symbol_of_a_run_is_a_second_encoders_and_reads_back():
    for link, picture in zip(LINKS, pictures(LINKS), strict=True):
        made = squares(picture)
        assert made.rows == second(link, *level_and_mask(made.rows))
        assert read(made).text == link


@settings(max_examples=examples(60), deadline=None)
@given(
    st.lists(
        st.one_of(
            st.text(st.characters(min_codepoint=32, max_codepoint=126), min_size=1, max_size=60),
            st.text("0123456789", min_size=1, max_size=150),
            st.text("ABCXYZ0123456789/:.-", min_size=1, max_size=120),
            st.text("Miel d’été, 453 g", min_size=1, max_size=30),
        ),
        max_size=6,
    ),
    st.sampled_from("LMQH"),
)
@example(["https://example.com/l/L26195AXR", "0000000001a0000000000000", "\\~", "L1"], "M")
def test_many_are_made_as_each_is_alone(texts, level):
    """Modes, version, level and mask are those zxing-cpp chooses, whatever the text."""
    assert [squares(picture).rows for picture in pictures(texts, level)] == [qr(text, level).rows for text in texts]


@pytest.mark.parametrize("level", "LMQH")
def test_every_version_of_a_jar_label_is_made(level):
    chance, seen = random.Random(level), set()
    for length in range(4, 272, 4):
        texts = ["".join(chance.choices("abcdefgh0123456789/.-XYZ", k=length))]
        for text, picture in zip(texts, pictures(texts, level), strict=True):
            seen.add((picture[0] - 17) // 4)
            assert squares(picture).rows == qr(text, level).rows
    assert {*range(2, MOST + 1)} <= seen


def test_runs_are_not_made_singly():
    assert all(form_of(link, "M").modes == ((2, 31),) for link in LINKS)
    assert form_of("https://example.com/l/L26195AXR", "M").modes[0][0] == 4
    assert form_of("Miel d’été", "M") is None
    assert form_of("a" * 270, "M") is None


def test_the_mask_is_the_cheapest_of_eight_weighed_by_hand():
    """The four features of ISO/IEC 18004, 7.8.3, reckoned module by module over a symbol under all masks."""
    for link in LINKS[:12]:
        rows = qr(link).rows
        size = len(rows)
        level, chosen = level_and_mask(rows)
        costs = []
        for mask in range(8):
            tried = second(link, level, mask)
            costs.append(cost := by_hand(tried))
            words = words_of(numpy.array([list(row) for row in tried], numpy.uint8))
            assert penalties(words, size) == cost
        assert costs.index(min(costs)) == chosen


def by_hand(rows) -> int:
    """Lines as text: runs of five and more, finders with four light modules beside them (the border is light)."""
    lines = [*rows, *(bytes(column) for column in zip(*rows, strict=True))]
    cost, size = 0, len(rows)
    for line in lines:
        said = "".join(map(str, line))
        cost += sum(len(run[0]) - 2 for run in re.finditer(r"0{5,}|1{5,}", said))
        framed = f"0000{said}0000"
        cost += 40 * sum(
            framed[at : at + 7] == "1011101" and "0000" in (framed[at - 4 : at], framed[at + 7 : at + 11])
            for at in range(4, size - 2)
        )
    for above, below in itertools.pairwise(rows):
        for n in range(size - 1):
            cost += 3 * (above[n] == above[n + 1] == below[n] == below[n + 1])
    dark = sum(map(sum, rows))
    return cost + 10 * int(abs(100 * dark / size**2 - 50) // 5)


def test_the_tables_are_those_of_a_second_encoder():
    """Table 9 of ISO/IEC 18004 as segno holds it: blocks, and codewords in them, of versions 1 to 10."""
    consts = pytest.importorskip("segno.consts")
    for place, level in enumerate(
        (consts.ERROR_LEVEL_L, consts.ERROR_LEVEL_M, consts.ERROR_LEVEL_Q, consts.ERROR_LEVEL_H)
    ):
        name = "LMQH"[place]
        for version in range(1, MOST + 1):
            lengths, mending = blocks(version, name)
            theirs = [
                (group.num_data, group.num_total - group.num_data)
                for group in consts.ECC[version][level]
                for _ in range(group.num_blocks)
            ]
            assert [(length, mending) for length in lengths] == theirs
    assert all(len(held) == MOST for pair in CORRECTION.values() for held in pair)


def test_all_masks_and_levels_name_themselves_as_in_the_table():
    """Table C.1 of ISO/IEC 18004 as segno holds it."""
    consts = pytest.importorskip("segno.consts")
    ours = [format_bits(level, mask) for level in "MLHQ" for mask in range(8)]
    assert tuple(ours) == tuple(consts.FORMAT_INFO[:32])


def test_data_modules_are_as_many_as_the_standard_gives():
    """Table 1 of ISO/IEC 18004: data capacity in modules, versions 1 to 10."""
    counted = [208, 359, 567, 807, 1079, 1383, 1568, 1936, 2336, 2768]
    assert [len(order(version)[0]) for version in range(1, MOST + 1)] == counted
    assert [int((~function_modules(version)).sum()) for version in range(1, MOST + 1)] == counted
    assert masks(21).shape == (8, 21, 21)


def test_what_no_phone_could_read_is_refused_among_many_too():
    with pytest.raises(MatrixCodeRefused):
        pictures([LINKS[0], "x" * 300])
