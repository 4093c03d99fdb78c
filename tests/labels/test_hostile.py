"""What comes from elsewhere: pictures, drawings, fonts, texts. Each is taken in whole or refused with what, why and do."""

from __future__ import annotations

import re
import struct
import zlib
from dataclasses import replace
from io import BytesIO

import pytest

from labelkit.errors.labels import (
    ContrastTooLow,
    DesignUnclear,
    GlyphsMissing,
    LabelTooSmall,
    LogoRefused,
    TextRefused,
)
from labelkit.labels.content import front_label_content
from labelkit.labels.design import NAMES, design, with_colours, with_face
from labelkit.labels.layout.kinds import place
from labelkit.labels.logo import read_logo
from labelkit.labels.printing import print_sheet
from labelkit.paper.fonts import face, own_face
from labelkit.paper.marks import Picture, Shape, Text
from tests.labels.looking import over_the_edge, overlaps, unsaid
from tests.labels.samples import label, outline


def png(wide: int, high: int) -> bytes:
    """The smallest whole PNG of so many white pixels: one bit a pixel."""
    row = b"\0" + b"\xff" * (-(-wide // 8))

    def chunk(kind: bytes, data: bytes) -> bytes:
        return struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))

    packer = zlib.compressobj(9)
    body = b"".join(packer.compress(row) for _ in range(high)) + packer.flush()
    header = struct.pack(">IIBBBBB", wide, high, 1, 0, 0, 0, 0)
    return b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", header) + chunk(b"IDAT", body) + chunk(b"IEND", b"")


def noise(kind: str) -> bytes:
    from PIL import Image

    out = BytesIO()
    Image.effect_noise((300, 200), 60).convert("RGB").save(out, kind)
    return out.getvalue()


def svg(inside: str, head: str = "viewBox='0 0 100 50'") -> bytes:
    return f"<svg xmlns='http://www.w3.org/2000/svg' xmlns:xlink='http://www.w3.org/1999/xlink' {head}>{inside}</svg>".encode()


GOOD = svg(
    "<g transform='translate(10 5) scale(2)'><path d='M0 0h20v10H0z' fill='#7a4a12'/><circle cx='30' cy='5' r='5' style='fill:rgb(0,64,0)'/></g>"
)


@pytest.mark.parametrize(
    ("data", "words"),
    [
        (svg("<script>alert(1)</script>"), "<script>"),
        (svg("<path d='M0 0h9v9z' onload='x()'/>"), "script"),
        (svg("<image xlink:href='http://example.com/a.png'/>"), "links to something outside"),
        (svg("<use href='file:///etc/hosts#a'/>"), "links to something outside"),
        (svg("<foreignObject/>"), "<foreignObject>"),
        (svg("<path d='M0 0h9v9z' fill='url(#g)'/>"), "patterns or gradients"),
        (svg("<style>*{fill:red}</style>"), "<style>"),
        (svg("<text>Honey</text>"), "<text>"),
        (b"<!DOCTYPE svg [<!ENTITY a 'aaaa'>]><svg viewBox='0 0 9 9'>&a;</svg>", "entities"),
        (b"<svg viewBox='0 0 9 9'><path", "not whole XML"),
        (b"<html/>", "neither PNG nor JPEG nor SVG"),
        (b"<?xml version='1.0'?><html/>", "outermost element is html"),
        (svg("<path d='M0 0h9v9z'/>", "viewBox='0 0 1 900'"), "not that of a logo"),
        (svg("", "viewBox='0 0 9 9'"), "nothing in it has a fill"),
        (svg("<path d='nonsense'/>"), "cannot be read"),
        (svg("<path d='M0 0h9v9z' transform='skewX(3)'/>"), "is not understood"),
        (svg("<path d='M0 0h9v9z'/>" * 2100), "more than 2000 shapes"),
        (b"GIF89a", "neither PNG nor JPEG nor SVG"),
        (b"", "neither PNG nor JPEG nor SVG"),
        (b"\xff\xd8\xff" + b"\0" * 40, "damaged"),
        (noise("JPEG")[:2000], "damaged or cut off"),
        (noise("PNG")[:5000], "damaged or cut off"),
    ],
)
def test_a_logo_that_is_not_plain_and_whole_is_refused(data, words):
    with pytest.raises(LogoRefused) as told:
        read_logo(data, "mine")
    assert words in told.value.what


def test_a_picture_of_20000_by_20000_pixels_is_refused_before_it_is_opened():
    with pytest.raises(LogoRefused, match="more than 50 million pixels"):
        read_logo(png(20_000, 20_000), "huge.png")


def test_a_picture_of_sixty_million_pixels_is_refused_with_its_size():
    with pytest.raises(LogoRefused, match="10,000 × 6,000 pixels"):
        read_logo(png(10_000, 6_000), "huge.png")


def test_a_file_of_many_megabytes_is_refused():
    with pytest.raises(LogoRefused, match="9 MB"):
        read_logo(b"\x89PNG" + b"\0" * 9_000_000, "huge.png")


@pytest.mark.parametrize("data", [GOOD, png(640, 320), noise("JPEG")])
def test_a_sound_logo_stands_above_the_maker_and_nothing_is_lost(data):
    content = replace(label("us"), logo=read_logo(data, "mine"))
    for look in ("press", "ridge"):
        placed = place(content, outline("letter-2x3-102x85"), design(look))
        logos = [mark for mark in placed.marks if isinstance(mark, Picture | Shape) and mark.role == "logo"]
        maker = next(mark for mark in placed.marks if getattr(mark, "role", "") == "maker")
        assert logos and min(mark.box.bottom for mark in logos) > maker.box.top
        assert not list(overlaps(placed)) and not list(over_the_edge(placed)) and not list(unsaid(content, placed))
    assert (
        print_sheet([content], "letter-2x3-102x85", "press").pdf
        == print_sheet([content], "letter-2x3-102x85", "press").pdf
    )


def test_a_drawing_keeps_its_places_and_colours():
    """By hand: translate 10 5, scale 2: the rectangle spans 10 to 50 across of 100, and 5 to 25 from the top of 50."""
    logo = read_logo(GOOD)
    (rectangle, brown), (_, green) = logo.shapes
    xs = [value for step in rectangle for value in step[1::2]]
    ys = [value for step in rectangle for value in step[2::2]]
    assert (min(xs), max(xs), min(ys), max(ys)) == (100_000, 500_000, 250_000, 450_000)
    assert (brown, green) == ((0x7A, 0x4A, 0x12), (0, 64, 0))


def test_pixels_are_written_anew_so_that_nothing_else_travels_with_them():
    from PIL import Image

    out = BytesIO()
    Image.new("RGB", (3000, 1500), "white").save(out, "JPEG", comment=b"secret place 51.5,-0.1")
    logo = read_logo(out.getvalue())
    assert b"secret" not in logo.pixels and logo.wide == 1200


@pytest.mark.parametrize("name", ["Honey 🐝", "蜂蜜", "น้ำผึ้ง"])
def test_signs_no_font_has_are_refused_by_name(name):
    content = front_label_content(name=name, statement="500 g", maker="Nowhere Bees")
    with pytest.raises(GlyphsMissing):
        place(content, outline("letter-2x3-102x85"), design("press"))


@pytest.mark.parametrize("text", ["דבש", "عسل", "Honey \u202e9", "a\u200fb", "Honey\u0007", "\ufeffHoney"])
def test_text_that_runs_the_other_way_or_hides_signs_is_refused(text):
    with pytest.raises(TextRefused):
        front_label_content(name=text, statement="500 g", maker="Nowhere Bees")


def test_a_text_longer_than_any_label_is_refused_and_120_characters_are_placed():
    with pytest.raises(TextRefused, match="401 characters"):
        front_label_content(name="x" * 401, statement="500 g", maker="Nowhere Bees")
    name = (
        "Very Late Summer Wildflower and Goldenrod Honey of the Upper and Lower Nowhere Valley, Cold Extracted in Small Lots "
        * 2
    )[:120]
    content = front_label_content(name=name, statement="500 g", maker="Nowhere Bees")
    placed = place(content, outline("letter-2x5-102x51"), design("ember"))
    assert not list(unsaid(content, placed)) and not list(overlaps(placed)) and not list(over_the_edge(placed))


def test_a_font_of_ones_own_sets_the_name_and_is_told_when_it_lacks_a_sign():
    from fontTools import subset
    from fontTools.ttLib import TTFont

    font = TTFont(BytesIO(face("elegant-Bold").data))
    cutter = subset.Subsetter()
    cutter.populate(text="Wildflower Honey")
    cutter.subset(font)
    out = BytesIO()
    font.save(out)
    look = with_face(design("press"), own_face("mine", out.getvalue()))
    placed = place(label("us"), outline("letter-2x3-102x85"), look)
    assert {mark.face.key for mark in placed.marks if getattr(mark, "role", "") == "name"} == {"own:mine"}
    with pytest.raises(GlyphsMissing, match="no font has the character"):
        place(label("eu"), outline("letter-2x3-102x85"), look)


def test_ones_own_colours_are_taken_while_words_still_stand_out():
    assert with_colours(design("meadow"), {"name": "#401020", "ornament": "#112233"}).palette[0] == (17, 34, 51)
    with pytest.raises(ContrastTooLow, match="the contrast of the name"):
        with_colours(design("meadow"), {"name": "#D8C9A0"})
    with pytest.raises(DesignUnclear, match="no “sky” to colour"):
        with_colours(design("meadow"), {"sky": "#112233"})
    with pytest.raises(DesignUnclear, match="not a colour"):
        with_colours(design("meadow"), {"name": "red"})


@pytest.mark.parametrize("part", ["name", "maker", "address", "origin", "storage", "lines", "caution"])
def test_whatever_part_of_a_label_runs_the_other_way_is_refused_by_name(part):
    said = {"name": "Honey", "statement": "500 g", "maker": "Nowhere Bees"}
    said[part] = ["שדה"] if part in ("address", "lines") else "شارع ٤"
    with pytest.raises(TextRefused) as told:
        front_label_content(**said)
    assert "runs from right to left" in told.value.what and "left to right" in told.value.do


@pytest.mark.parametrize("kind", ["front", "back", "lid", "seal", "wrap"])
@pytest.mark.parametrize("look", NAMES)
def test_a_name_of_120_characters_is_set_whole_or_refused_with_the_millimetres(look, kind):
    name = "Very Late Wildflower and Goldenrod Honey of the Upper and Lower Nowhere Valley, Cold Extracted in Very Small Old Lots"
    name = f"{name} xyz"[:120]
    assert len(name) == 120
    content = front_label_content(name=name, statement="500 g", maker="Nowhere Bees", lot="L26195AXR", kind=kind)
    for where in ("letter-2x5-102x51", "letter-1x5-203x51", "letter-2x10-102x25", "letter-3x4-d64", "a4-4x6-d40"):
        try:
            placed = place(content, outline(where), design(look))
        except LabelTooSmall as told:
            assert re.search(r"\d\.\d mm", told.what), (where, told.what)
            continue
        faults = [*unsaid(placed.content, placed), *overlaps(placed), *over_the_edge(placed)]
        assert not faults, (where, faults)


@pytest.mark.parametrize("look", NAMES)
def test_greek_and_cyrillic_are_set_in_every_design_and_their_capitals_and_symbols_are_right(look):
    """Greek capitals bear no accent; the symbol of the gram stays small in Cyrillic too."""
    greek = front_label_content(name="Μέλι από θυμάρι", statement="450 g", maker="Μελισσοκομείο Πουθενά", langs=("el",))
    cyrillic = front_label_content(name="Липовий мед", statement="Маса нетто 500 г", maker="Пасіка", langs=("uk",))
    for content in (greek, cyrillic):
        placed = place(content, outline("a4-2x4-99x68"), design(look))
        assert not [*overlaps(placed), *over_the_edge(placed)]
        said = " ".join(mark.text for mark in placed.marks if isinstance(mark, Text))
        assert "Ί" not in said and "Ά" not in said
        assert "500 г" in said or "450 g" in said


def test_an_emoji_anywhere_on_a_label_is_refused_by_its_number():
    content = front_label_content(name="Honey", statement="500 g", maker="Bees 🐝", lines=["🍯 raw"])
    with pytest.raises(GlyphsMissing) as told:
        place(content, outline("letter-2x3-102x85"), design("ridge"))
    assert "U+1F41D" in told.value.what and "TrueType font" in told.value.do
