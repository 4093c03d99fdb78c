"""Packed files: what other readers find in them."""

from __future__ import annotations

import subprocess
from io import BytesIO
from shutil import which

import pytest

from labelkit.labels.printing import print_lots, print_sheet
from labelkit.paper.pdf_objects import packed_file, stream
from tests.labels.samples import label
from tests.labels.test_batch import LOTS


def small(pages: int) -> bytes:
    """A catalogue, its pages, each with operators of its own, and a title."""
    kids = " ".join(f"{4 + 2 * n} 0 R" for n in range(pages))
    bodies = [
        b"<</Type/Catalog/Pages 2 0 R>>",
        f"<</Type/Pages/Count {pages}/Kids[{kids}]>>".encode(),
        b"<</Title(Honey)>>",
    ]
    for n in range(pages):
        bodies += [
            f"<</Type/Page/Parent 2 0 R/MediaBox[0 0 {100 + n} 50]/Resources<<>>/Contents {5 + 2 * n} 0 R>>".encode(),
            stream(f"{n} 0 10 10 re f".encode()),
        ]
    return packed_file(bodies, 1, 3)


@pytest.mark.parametrize("pages", [1, 3, 700])
def test_every_page_and_its_operators_are_found_again(pages):
    """700 pages fill more than one object stream."""
    from pypdf import PdfReader

    reader = PdfReader(BytesIO(small(pages)), strict=True)
    assert reader.metadata.title == "Honey" and len(reader.pages) == pages
    for n in (0, pages // 2, pages - 1):
        assert reader.pages[n].mediabox.width == 100 + n
        assert reader.pages[n].get_contents().get_data() == f"{n} 0 10 10 re f".encode()


def test_a_second_reader_draws_it():
    import pypdfium2

    document = pypdfium2.PdfDocument(small(3))
    assert [round(document[n].get_width()) for n in range(3)] == [100, 101, 102]
    assert min(document[2].render(grayscale=True).to_pil().tobytes()) == 0


def test_a_third_reader_has_nothing_to_complain_of(tmp_path):
    if which("pdftoppm") is None:
        pytest.skip("poppler is not installed")
    for number, pdf in enumerate(
        (
            small(3),
            print_sheet([label("us")], "letter-2x3-102x85", "meadow").pdf,
            print_lots(label("us"), LOTS[:8], "letter-2x3-102x85", "press").pdf,
        )
    ):
        (tmp_path / f"{number}.pdf").write_bytes(pdf)
        done = subprocess.run(
            ["pdftoppm", "-r", "20", tmp_path / f"{number}.pdf", tmp_path / "page"], capture_output=True, text=True
        )
        assert (done.returncode, done.stderr) == (0, "")


def test_equal_objects_give_equal_bytes_and_others_another_mark():
    from pypdf import PdfReader

    assert small(2) == small(2)
    marks = {PdfReader(BytesIO(small(pages))).trailer["/ID"][0] for pages in (2, 3)}
    assert len(marks) == 2


def test_pages_that_are_alike_are_kept_once():
    """A hundred sheets of one lot are hardly more than one."""
    one, hundred = (print_sheet([(label("us"), 6 * n)], "letter-2x3-102x85", "press").pdf for n in (1, 100))
    assert len(hundred) - len(one) < 4000
