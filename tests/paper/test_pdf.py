"""PDF files: what a finished file says to another reader (pypdf, pypdfium2)."""

from __future__ import annotations

import subprocess
from io import BytesIO
from shutil import which

import pytest

from labelkit.labels.printing import print_lots, print_sheet
from labelkit.paper.document import Document
from labelkit.paper.fonts import Face, face
from labelkit.paper.marks import Text
from labelkit.paper.pdf import PdfWriter
from tests.labels.samples import LOT, label


def written(*marks, lang="fr"):
    writer = PdfWriter("Étiquettes", author="Hazel Bank", lang=lang)
    writer.page(100_000, 60_000)
    writer.draw(marks)
    return writer.finish()


def fonts_of(pdf: bytes) -> dict[str, bool]:
    """Every font of the file and whether it is embedded."""
    from pypdf import PdfReader

    found = {}
    for page in PdfReader(BytesIO(pdf)).pages:
        for font in page["/Resources"]["/Font"].values():
            font = font.get_object()
            found[font["/BaseFont"]] = "/FontFile2" in font.get("/FontDescriptor", {})
    return found


def darkness(pdf: bytes) -> int:
    """How much ink the first page carries."""
    import pypdfium2

    page = pypdfium2.PdfDocument(pdf)[0]
    return sum(255 - level for level in page.render(scale=4, grayscale=True).to_pil().tobytes())


def test_the_file_names_its_title_author_and_language_and_prints_at_full_size():
    from pypdf import PdfReader

    reader = PdfReader(BytesIO(written(Text(face("sans-Bold"), 5000, "Miel", 5000, 5000))))
    assert (reader.metadata.title, reader.metadata.author) == ("Étiquettes", "Hazel Bank")
    root = reader.trailer["/Root"]
    assert root["/Lang"] == "fr"
    assert root["/ViewerPreferences"]["/PrintScaling"] == "/None"


def test_every_font_is_embedded_as_a_subset():
    found = fonts_of(written(Text(face("serif-Black"), 5000, "Miel", 5000, 5000)))
    assert found and all(found.values())
    assert all(name[7:8] == "+" for name in found)


def test_documents_embed_their_fonts_too_and_print_markup_as_it_stands():
    import pypdfium2

    paper = Document("a4", "Prices", lang="en")
    paper.title("Price list")
    paper.table([["Honey <b> & comb", "12.00"], ["Μέλι · Мёд", "9.50"]], head=["Jar", "Price"], align="lr", total=True)
    paper.facts([("Lot", "L26195AXR")])
    paper.caution("Do not feed honey to infants under one year of age.")
    pdf = paper.bytes()
    assert all(fonts_of(pdf).values())
    text = pypdfium2.PdfDocument(pdf)[0].get_textpage().get_text_bounded()
    assert "Honey <b> & comb" in text and "Μέλι · Мёд" in text
    assert abs(pypdfium2.PdfDocument(pdf)[0].get_width() - 595.28) < 0.01


def test_equal_input_gives_equal_bytes():
    mark = Text(face("elegant-Medium"), 5000, "Honey", 5000, 5000)
    assert written(mark) == written(mark)


def test_letters_stand_where_they_were_measured():
    """Kerning and tracking as a second reader finds them: the last letter ends where the width says."""
    import pypdfium2

    mark = Text(face("serif-Semibold"), 10_000, "AVAWi.", 5000, 20_000, tracking=150)
    page = pypdfium2.PdfDocument(written(mark))[0].get_textpage()
    right = page.get_charbox(page.count_chars() - 1)[2] * 25_400 / 72
    assert abs(right - mark.box.right) < 40


def test_two_files_with_one_postscript_name_both_print_as_themselves():
    """reportlab alone would draw the first for the second; the ink of the two weights must differ."""
    from fontTools.ttLib import TTFont

    def renamed(key):
        font, out = TTFont(BytesIO(face(key).data)), BytesIO()
        font["name"].setName("SameName", 6, 3, 1, 0x409)
        font["name"].setName("SameName", 6, 1, 0, 0)
        font.save(out)
        return Face(f"own:{key}", out.getvalue())

    light, black = (Text(renamed(f"sans-{weight}"), 9000, "Honey", 5000, 5000) for weight in ("Light", "Black"))
    alone = darkness(written(light)), darkness(written(black))
    assert alone[1] > 1.5 * alone[0]
    below = Text(black.face, 9000, "Honey", 5000, 30_000)
    assert abs(darkness(written(light, below)) - sum(alone)) < 0.02 * sum(alone)


def test_another_reader_has_nothing_to_complain_of(tmp_path):
    if which("pdftoppm") is None:
        pytest.skip("poppler is not installed")
    for number, pdf in enumerate(
        (
            written(Text(face("sans-Bold"), 5000, "Miel", 5000, 5000)),
            print_sheet([label("us")], "letter-2x3-102x85", "meadow").pdf,
            print_lots(label("us"), [LOT, "L26195A22"], "letter-2x3-102x85", "press").pdf,
        )
    ):
        (tmp_path / f"{number}.pdf").write_bytes(pdf)
        done = subprocess.run(
            ["pdftoppm", "-r", "20", tmp_path / f"{number}.pdf", tmp_path / "page"], capture_output=True, text=True
        )
        assert (done.returncode, done.stderr) == (0, "")


def test_every_page_of_a_long_file_is_there_and_in_its_size():
    from pypdf import PdfReader

    writer = PdfWriter("Honey")
    for n in range(300):
        writer.page(100_000 + 1000 * n, 50_000)
        writer.draw([Text(face("sans-Bold"), 5000, f"page {n}", 5000, 5000)])
    pages = PdfReader(BytesIO(writer.finish()), strict=True).pages
    assert len(pages) == 300
    for n in (0, 150, 299):
        assert abs(float(pages[n].mediabox.width) - (100 + n) * 72 / 25.4) < 0.01
        assert pages[n].extract_text() == f"page {n}"
