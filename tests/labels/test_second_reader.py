"""The finished file held to programs that are not ours: letters measured by PDFium, symbols read by ZBar, files by qpdf.

zxing-cpp draws the squares and reads all symbols elsewhere; a second decoder of another origin shares none of its
mistakes. ZBar reads no Data Matrix.
"""

from __future__ import annotations

import subprocess
from collections import Counter
from dataclasses import replace

import pypdfium2
import pytest

from labelkit.errors.labels import LabelTooSmall
from labelkit.labels.artwork import Artwork, artwork
from labelkit.labels.content import FIGURES, LETTERS, X_HEIGHT, LabelContent, Words
from labelkit.labels.design import NAMES, design
from labelkit.labels.layout.kinds import place
from labelkit.labels.layout.placed import Placed, texts_of
from labelkit.labels.printing import print_lots, print_sheet
from labelkit.labels.sheets import sheet as sheet_named
from labelkit.paper.marks import Text
from labelkit.paper.pdf import PdfWriter
from tests.labels.every_market import different, of_kind
from tests.labels.samples import LINK, LOT, MARKETS, barred, label, linked, outline
from tests.labels.test_backdrop import on
from tests.labels.test_backdrop import picture as plain_picture
from tests.labels.test_printed import first_label, picture
from tests.needs import pdftotext, qpdf, zbar
from tests.walks import WHOLE, share

#: What is measured of small letters, in the scripts labelkit prints: the o of 21 CFR 101.7(h)(2) and the letters as round
#: as it is; the x of Regulation (EU) 1169/2011, Annex IV, and the letters as flat and as high as it is.
ROUND, FLAT = set("oecοσоес"), set("xzvwχхмнпик")
#: PDFium gives boxes in single precision; that is the play of a reading, in millimetres.
PLAY = 0.005
SHAPES = ("letter-2x5-102x51", "letter-2x3-102x85", "a4-2x2-99x139", "letter-4x5-d51")
WRAPS = ("letter-1x5-203x51", "a4-1x5-200x50")


def page_of(placed: Placed) -> bytes:
    """One label on a page of its own size."""
    writer = PdfWriter("one label")
    writer.page(placed.outline.wide, placed.outline.high)
    writer.draw(placed.marks)
    return writer.finish()


def letters_in(pdf: bytes) -> list[tuple[str, float, float, float, float]]:
    """Every letter of a page as PDFium finds it: sign, and left, bottom, right and top of its ink in millimetres."""
    page = pypdfium2.PdfDocument(pdf)[0].get_textpage()
    text = page.get_text_range()
    found = []
    for number, sign in enumerate(text[: page.count_chars()]):
        if not sign.isspace():
            found.append((sign, *(side * 25.4 / 72 for side in page.get_charbox(number))))
    return found


def measured(line: Text, letters, rule: str) -> list[float]:
    """The heights on one line that the rule speaks of, in millimetres."""
    box, base = line.box, line.y / 1000
    here = [
        one
        for one in letters
        if box.left < 500 * (one[1] + one[3]) < box.right and box.bottom - 100 < 500 * (one[2] + one[4]) < box.top + 100
    ]
    if rule == FIGURES:
        return [top - bottom for sign, _, bottom, _, top in here if sign.isdigit()]
    words = [sign for sign in line.text if sign.isalpha() and sign not in "gk"]
    if rule == LETTERS and all(sign.isupper() for sign in words):
        capitals = [top - bottom for sign, _, bottom, _, top in here if sign.isupper() or sign.isdigit()]
        # The bowl of a g stands on the line; what hangs below it does not count.
        return [*capitals, *(top - base for sign, _, _, _, top in here if sign == "g")]
    low = {LETTERS: ROUND, X_HEIGHT: FLAT}.get(rule, ())
    return [top - max(bottom, base) for sign, _, bottom, _, top in here if sign in low]


def low(words: Words, placed: Placed, letters) -> list[str]:
    """The lines of required words that are lower in the file than the law asks."""
    if words.height is None:
        return []
    least, found = float(words.height.least.um) / 1000, []
    for line in texts_of(placed.marks, words.role):
        heights = measured(line, letters, words.height.measured)
        if heights and min(heights) < least - PLAY:
            found.append(f"{line.text}: {min(heights):.3f} of {least:.3f} mm")
    return found


def cases(kind: str):
    """The label of each market the samples hold; in a whole run of every market of the packs."""
    contents = different(kind) if WHOLE else {of_kind(label(code), kind): [code] for code in MARKETS}
    for content, codes in contents.items():
        for look in NAMES:
            for shape in WRAPS if kind == "wrap" else SHAPES:
                yield f"{kind} {codes[0]} {look} {shape}", (content, look, shape)


@pytest.mark.parametrize(("kind", "one_in"), [("front", 30), ("back", 60), ("wrap", 60), ("lid", 60)])
def test_every_height_holds_in_the_file_as_pdfium_measures_it(kind, one_in):
    counts = Counter()
    for content, look, shape in share(cases(kind), one_in, whole=one_in // 2):
        try:
            placed = place(content, outline(shape), design(look))
        except LabelTooSmall:
            counts["too small"] += 1
            continue
        letters = letters_in(page_of(placed))
        wrong = [said for words in placed.content.words for said in low(words, placed, letters)]
        assert not wrong, (look, shape, content.market, wrong)
        counts["held"] += 1
    assert counts["held"]


def test_a_letter_under_its_height_is_seen():
    """The measuring itself: a net quantity set a tenth too small is found out."""
    placed = place(label("us"), outline(SHAPES[0]), design("press"))
    marks = tuple(
        replace(mark, size=mark.size * 9 // 10) if getattr(mark, "role", "") == "net" else mark for mark in placed.marks
    )
    small = replace(placed, marks=marks)
    assert low(placed.content.the("net"), small, letters_in(page_of(small)))


@pytest.mark.parametrize("look", ["press", "broadside"])
def test_capitals_set_apart_are_words_to_poppler_too_and_no_row_of_single_letters(look, tmp_path):
    """It takes a gap of a tenth of the size for a blank, however the gap was made."""
    file = tmp_path / "label.pdf"
    file.write_bytes(print_sheet([label("us")], "letter-2x5-102x51", design(look)).pdf)
    text = subprocess.run([pdftotext(), str(file), "-"], capture_output=True, text=True, check=True).stdout
    assert "pretend hollow apiary" in " ".join(text.casefold().split())


def read_by_zbar(pdf: bytes, sheet, tmp_path, dpi: int = 600) -> dict[str, str]:
    """Symbology and text of each symbol ZBar finds on the first label of a sheet."""
    file = tmp_path / "label.png"
    first_label(picture(pdf, dpi), sheet, dpi).save(file)
    ran = subprocess.run([zbar(), "-q", str(file)], capture_output=True, text=True, check=False)
    return dict(line.split(":", 1) for line in ran.stdout.splitlines())


@pytest.mark.exhaustive(one_in=3)
@pytest.mark.parametrize("look", NAMES)
def test_a_second_decoder_reads_every_symbol_it_knows(look, tmp_path):
    content: LabelContent = replace(barred(linked(label("us", "back"))), number="9521234543213")
    which = sheet_named("a4-2x2-99x139")
    found = read_by_zbar(print_sheet([content], which, look).pdf, which, tmp_path)
    assert found == {"EAN-13": "9521234543213", "CODE-128": LOT, "QR-Code": LINK}


def files():
    us = label("us")
    placed = place(us, outline(SHAPES[0]), design("ridge"), bleed=(3000, 3000))
    many = [f"L26195A{a}{b}" for a in "ABCDE" for b in "23456789"]
    return {
        "a sheet": lambda: print_sheet([(us, 3)], SHAPES[0], "meadow").pdf,
        "a run of codes": lambda: print_lots(replace(barred(us), lot=LOT), many, SHAPES[0], "press").pdf,
        "artwork under the words": lambda: (
            print_sheet([replace(us, artwork=on(plain_picture()))], SHAPES[0], "press").pdf
        ),
        "a print shop's file": lambda: artwork(placed, Artwork("pdf", 3000, True), 600),
    }


@pytest.mark.parametrize("what", files())
def test_a_second_program_finds_no_fault_in_the_file(what, tmp_path):
    file = tmp_path / "labels.pdf"
    file.write_bytes(files()[what]())
    ran = subprocess.run([qpdf(), "--check", str(file)], capture_output=True, text=True, check=False)
    assert ran.returncode == 0 and "No syntax or stream encoding errors found" in ran.stdout, ran.stdout + ran.stderr


def test_the_second_program_sees_a_fault(tmp_path):
    file = tmp_path / "labels.pdf"
    file.write_bytes(files()["a sheet"]().replace(b"endobj", b"endobk", 3))
    assert subprocess.run([qpdf(), "--check", str(file)], capture_output=True, check=False).returncode != 0
