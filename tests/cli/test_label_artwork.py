"""Artwork for a print shop: trim and bleed, a file for each lot, the same label as on a sheet."""

from __future__ import annotations

import re
import zlib
from decimal import Decimal
from pathlib import Path
from xml.etree import ElementTree

import pypdfium2
import pytest
import zxingcpp
from PIL import Image

from labelkit.errors.labels import LabelsForNoJar
from tests.cli.labels_of import LOTS, label_file, prints, season, text_in

SHEET = "letter-2x5-102x51"
TRIM_MM, DPI = (Decimal("101.6"), Decimal("50.8")), 600  # 4 in by 2 in, as the sheet's name says


@pytest.fixture
def label(tmp_path):
    return label_file(tmp_path)


def art(labelkit, label, *more: str):
    return labelkit("labels", "--label", label, "--sheet", SHEET, "--design", "ridge", *more, "--json")


def mm(points: float) -> float:
    return points * 25.4 / 72


@pytest.mark.parametrize("marks", [(), ("--cut-lines",)])
def test_a_pdf_says_where_it_is_cut_and_how_far_its_colour_runs_over(labelkit, label, marks):
    ran = art(labelkit, label, "--art", "pdf", "--bleed", "3 mm", *marks)
    assert ran.code == 0 and ran.document["files"][0]["bleed_mm"] == "3"
    page = pypdfium2.PdfDocument("labels.pdf")[0]
    trim, bleed, media = page.get_trimbox(), page.get_bleedbox(), page.get_mediabox()
    wide, high = mm(trim[2] - trim[0]), mm(trim[3] - trim[1])
    assert (wide, high) == pytest.approx(tuple(map(float, TRIM_MM)), abs=0.002)
    assert [mm(abs(a - b)) for a, b in zip(trim, bleed, strict=True)] == pytest.approx([3] * 4, abs=0.002)
    room = 6 if marks else 0
    assert [mm(abs(a - b)) for a, b in zip(bleed, media, strict=True)] == pytest.approx([room] * 4, abs=0.03)
    assert "453 g" in text_in("labels.pdf")


def test_letters_of_an_svg_are_outlines_and_its_size_is_in_millimetres(labelkit, label):
    assert art(labelkit, label, "--art", "svg", "--bleed", "2 mm").code == 0
    root = ElementTree.parse("labels.svg").getroot()
    assert (root.get("width"), root.get("height")) == ("105.6mm", "54.8mm")
    assert not list(root.iter("{http://www.w3.org/2000/svg}text"))
    assert "Clover Honey" in root.find("{http://www.w3.org/2000/svg}desc").text


def test_a_picture_has_the_dots_asked_for_and_its_code_is_read(labelkit, label):
    more = ("--art", "png", "--dpi", "300", "--bleed", "0 mm", "--lot-bars", "datamatrix")
    assert art(labelkit, label, *more).code == 0
    with Image.open("labels.png") as picture:
        assert picture.size == tuple(round(float(side) / 25.4 * 300) for side in TRIM_MM)
        assert picture.info["dpi"] == pytest.approx((300, 300), abs=0.1)
        read = zxingcpp.read_barcodes(picture.convert("L"))
    assert [one.text for one in read] == [LOTS[0]] or len(read) == 1


def test_the_same_artwork_has_the_same_bytes(labelkit, label, tmp_path):
    art(labelkit, label, "--art", "pdf", "--out", "one.pdf")
    art(labelkit, label, "--art", "pdf", "--out", "two.pdf")
    assert (tmp_path / "one.pdf").read_bytes() == (tmp_path / "two.pdf").read_bytes()


def test_each_lot_of_a_run_is_a_file_of_its_own_and_its_jars_are_booked(labelkit):
    season(labelkit)
    ran = labelkit("labels", "--size", "one pound", "--every-lot", "--art", "pdf", "--json")
    assert [one["file"] for one in ran.document["files"]] == [f"labels-{lot}.pdf" for lot in LOTS]
    assert [lot in text_in(f"labels-{lot}.pdf") for lot in LOTS] == [True, True]
    assert [(one.lot, one.count) for one in prints()] == [(LOTS[0], 31), (LOTS[1], 14)]


@pytest.mark.parametrize(
    ("more", "says"),
    [
        (("--bleed", "3 mm"), "--art"),
        (("--art", "svg", "--out", "x.pdf"), "does not end in .svg"),
        (("--art", "pdf", "--bleed", "40 mm"), "40 mm"),
        (("--art", "pdf", "--start-at", "3"), "artwork has none"),
    ],
)
def test_what_does_not_go_together_is_refused(labelkit, label, more, says, tmp_path):
    ran = labelkit("labels", "--label", label, *more)
    assert ran.code == 2 and says in ran.err
    assert not list(tmp_path.glob("labels*"))


def test_a_sheet_more_asks_nothing_and_thirty_thousand_for_few_jars_ask(labelkit):
    season(labelkit)
    one = ("labels", "--size", "one pound", "--lot", LOTS[1], "--art", "pdf")
    assert labelkit(*one, "--count", "45").code == 0
    far = labelkit(*one, "--count", "30000", "--json")
    assert far.code == 2 and far.error["name"] == LabelsForNoJar.__name__ and len(prints()) == 1
    assert labelkit(*one, "--count", "30000", "--because", "printed for three seasons").code == 0
    assert prints()[-1].because == "printed for three seasons"


def painted(file: str) -> str:
    """The operators of a file's page, unpacked."""
    packed = re.findall(rb"stream\r?\n(.*?)endstream", Path(file).read_bytes(), re.DOTALL)
    found = [zlib.decompressobj().decompress(one) for one in packed if one[:1] == b"x"]
    (page,) = [one for one in found if b" BT " in one or b"\nBT " in one]
    return page.decode("latin-1")


def test_artwork_in_cmyk_paints_with_four_inks_alone_and_names_what_the_shop_prints_by(labelkit, label, tmp_path):
    assert art(labelkit, label, "--art", "pdf", "--cmyk", "--print-condition", "FOGRA39").code == 0
    drawn = painted("labels.pdf")
    assert re.findall(r"[\d.] k\b", drawn) and not re.findall(r"[\d.] (?:rg|RG|g|G)\b", drawn)
    kept = (tmp_path / "labels.pdf").read_bytes()
    assert b"GTS_PDFX" in kept and b"(FOGRA39)" in kept and b"GTS_PDFXVersion" not in kept


@pytest.mark.parametrize(
    "odd", [("--art", "svg", "--cmyk"), ("--art", "pdf", "--print-condition", "FOGRA39"), ("--cmyk",)]
)
def test_four_inks_are_of_a_pdf_and_a_printing_condition_is_of_four_inks(labelkit, label, tmp_path, odd):
    assert art(labelkit, label, *odd).code == 2 and not list(tmp_path.glob("labels.*"))
