"""Faces: coverage, heights and kerning, against HarfBuzz (through Pillow) and the font files' own fields."""

from __future__ import annotations

from io import BytesIO

import pytest

from labelkit.errors.labels import FontRefused, GlyphsMissing
from labelkit.paper.fonts import FAMILIES, face, face_for, own_face

STYLES = [
    "serif-Regular",
    "serif-Semibold",
    "serif-Black",
    "serif-It",
    "sans-Regular",
    "sans-Bold",
    "elegant-Medium",
    "narrow-Medium",
]
WORDS = ["Wildflower Honey", "AVATAR To Yo", "Net Wt. 16 oz (1 lb) 453 g", "L’Été à Çà", "Tě Ţy Vö"]
LETTERS = "éñßøÅčřşżΩĐğ€½℮†×·–—’“”ąęłńóśźőűțșþðÆœŒ"
GREEK = "ΑΒΓΔΕΖΗΘΙΚΛΜΝΞΟΠΡΣΤΥΦΧΨΩαβγδεζηθικλμνξοπρσςτυφχψωάέήίόύώΐΰϊϋ"
CYRILLIC = "АБВГДЕЖЗИЙКЛМНОПРСТУФХЦЧШЩЪЫЬЭЮЯабвгдежзийклмнопрстуфхцчшщъыьэюяёђјљњћџєіїґўќѓ"


@pytest.mark.parametrize("key", STYLES)
@pytest.mark.parametrize("words", WORDS)
def test_set_widths_with_kerning_are_those_of_harfbuzz(key, words):
    from PIL import ImageFont, features

    if not features.check("raqm"):
        pytest.skip("this Pillow has no HarfBuzz")
    oracle = ImageFont.truetype(BytesIO(face(key).data), face(key).units, layout_engine=ImageFont.Layout.RAQM)
    plain = ["-liga", "-clig", "-calt", "-ccmp"]
    assert face(key).width(words, face(key).units) == oracle.getlength(words, features=plain)


@pytest.mark.parametrize("key", STYLES)
@pytest.mark.parametrize("signs", [LETTERS, GREEK, CYRILLIC])
def test_every_european_letter_is_printed_in_the_face_or_its_stand_in(key, signs):
    assert face_for(key, signs).covers(signs)


@pytest.mark.parametrize("key", STYLES)
def test_heights_from_outlines_agree_with_the_height_fields_of_the_file(key):
    """OpenType OS/2.sxHeight and sCapHeight, which some files give one figure for all their weights."""
    from fontTools.ttLib import TTFont

    os2 = TTFont(BytesIO(face(key).data))["OS/2"]
    if "It" not in key:
        assert abs(face(key).outline("x")[3] - os2.sxHeight) <= 20
    assert abs(face(key).outline("H")[3] - os2.sCapHeight) <= 20


@pytest.mark.parametrize("family", FAMILIES)
def test_figures_of_the_label_faces_are_lining(family):
    """Old-style figures would make a net weight lower than its capitals: 1 would be as low as x."""
    plain = face(f"{family}-Regular")
    one, x, capital = (plain.outline(sign)[3] for sign in "1xH")
    assert one > (x + capital) / 2


def test_the_ink_of_a_line_is_that_of_its_letters():
    plain = face("sans-Regular")
    box = plain.ink("xp", 10_000)
    assert (box.bottom, box.top) == (plain.outline("p")[1] * 10, plain.outline("p")[3] * 10)


def test_signs_without_a_glyph_are_refused_by_name():
    with pytest.raises(GlyphsMissing, match="1F41D"):
        face_for("serif-Black", "Honey 🐝")
    with pytest.raises(GlyphsMissing, match="05D3"):
        face_for("serif-Black", "דבש")


def test_fonts_that_would_print_otherwise_than_measured_are_refused():
    from importlib.resources import files

    cff = (files("font_source_sans_pro") / "files" / "SourceSansPro-Bold.otf").read_bytes()
    with pytest.raises(FontRefused, match="PostScript"):
        own_face("mine", cff)
    with pytest.raises(FontRefused, match="not a font file"):
        own_face("mine", b"no font at all")


def test_a_variable_font_and_one_that_may_not_be_embedded_are_refused():
    from fontTools.ttLib import TTFont, newTable

    def changed(change):
        font, out = TTFont(BytesIO(face("sans-Regular").data)), BytesIO()
        change(font)
        font.save(out)
        return out.getvalue()

    def restrict(font):
        font["OS/2"].fsType = 2

    def vary(font):
        from fontTools.ttLib.tables._f_v_a_r import Axis

        font["fvar"] = newTable("fvar")
        axis = Axis()
        axis.axisTag, axis.minValue, axis.defaultValue, axis.maxValue, axis.axisNameID = "wght", 200, 400, 900, 256
        font["fvar"].axes, font["fvar"].instances = [axis], []

    with pytest.raises(FontRefused, match="embedded"):
        own_face("mine", changed(restrict))
    with pytest.raises(FontRefused, match="variable"):
        own_face("mine", changed(vary))
