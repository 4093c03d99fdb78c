"""Drawing in many threads at once gives the bytes that drawing one after another gives."""

from __future__ import annotations

import subprocess
import sys
from concurrent.futures import ThreadPoolExecutor
from io import BytesIO

import pytest

from labelkit.barcodes.dots import Module
from labelkit.barcodes.linear import code128
from labelkit.barcodes.matrix import qr
from labelkit.labels.design import NAMES
from labelkit.labels.printing import print_sheet
from labelkit.paper.document import Document
from labelkit.paper.fonts import face, own_face
from labelkit.paper.marks import BarcodeMark, MatrixMark, Text
from labelkit.paper.pdf import PdfWriter
from labelkit.paper.preview import preview_png
from tests.labels.samples import MARKETS, label
from tests.walks import WHOLE

THREADS, PRINTS = 8, 200 if WHOLE else 35
SHEET = "letter-2x5-102x51"
FACE = face("sans-Regular")
DIFFERENT = 7  # prints that differ; prime to the threads, so that each thread begins with another one


def label_file(number: int) -> bytes:
    """A page with letters, bars and squares."""
    number %= DIFFERENT
    writer = PdfWriter(f"Label {number}")
    writer.page(120_000, 60_000)
    code = code128(f"L2619{number}")
    squares = MatrixMark(qr(f"L2619{number}"), Module(4, 300), 0, 600)
    writer.draw(
        [
            Text(FACE, 4_000, f"Honey {number}", 5_000, 5_000),
            BarcodeMark(code, Module(4, 300), 100, 9_000, 8_000),
            squares,
        ]
    )
    return writer.finish()


def document(number: int) -> bytes:
    """A flowing document with letters of a label among its own."""
    number %= DIFFERENT
    paper = Document("letter", f"Prices {number}")
    paper.paragraph("Мёд · honey " * (number + 1))
    paper.drawing([Text(FACE, 4_000, f"Honey {number}", 0, 0)], 50_000, 6_000)
    return paper.bytes()


def sheet_and_picture(number: int) -> bytes:
    """Placed, printed on a sheet and drawn on the screen."""
    code = list(MARKETS)[number % len(MARKETS)]
    return preview_png(print_sheet([label(code)], SHEET, NAMES[number % DIFFERENT % len(NAMES)]).pdf, dpi=40)


def in_threads(draw, prints: int) -> list[list[bytes]]:
    with ThreadPoolExecutor(THREADS) as pool:
        runs = [pool.submit(lambda first=first: [draw(first + n) for n in range(prints)]) for first in range(THREADS)]
        return [run.result() for run in runs]


@pytest.fixture(autouse=True)
def threads_change_often():
    before = sys.getswitchinterval()
    sys.setswitchinterval(1e-4)
    yield
    sys.setswitchinterval(before)


@pytest.mark.slow
@pytest.mark.parametrize("draw", [label_file, document])
def test_eight_threads_of_two_hundred_prints_give_the_bytes_of_one_after_another(draw):
    alone = [draw(number) for number in range(DIFFERENT)]
    for first, run in enumerate(in_threads(draw, PRINTS)):
        assert [first + n for n, pdf in enumerate(run) if pdf != alone[(first + n) % DIFFERENT]] == []


@pytest.mark.slow
def test_eight_threads_may_be_the_first_that_draw_anything():
    """In a process where no font was read yet: every thread finds the same tables half read."""
    code = (
        "import sys; sys.setswitchinterval(1e-4)\n"
        "from tests.paper.test_threads import in_threads, sheet_and_picture\n"
        "runs = in_threads(sheet_and_picture, 2)\n"
        "assert all(run == [sheet_and_picture(first + n) for n in range(2)] for first, run in enumerate(runs))"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True)
    assert done.returncode == 0, done.stderr


def test_two_fonts_of_one_name_brought_by_two_people_stay_apart():
    def draw(which):
        writer = PdfWriter("Honey")
        writer.page(100_000, 30_000)
        writer.draw([Text(which, 9_000, "Honey", 5_000, 5_000)])
        return writer.finish()

    light, black = (own_face("threads.ttf", face(f"sans-{weight}").data) for weight in ("Light", "Black"))
    assert light.key != black.key and face(light.key) is light and face(black.key) is black
    alone = draw(light), draw(black)
    assert alone[0] != alone[1]
    for run in in_threads(lambda number: draw((light, black)[number % 2]), 10):
        assert run[0] in alone and run == [*run[:2]] * 5


def test_a_file_has_fonts_to_itself_until_it_is_written():
    first, second = PdfWriter("One"), PdfWriter("Two")
    for writer in (first, second):
        writer.page(50_000, 50_000)
    for writer, text in ((first, "Honey"), (second, "Miel"), (first, "comb"), (second, "rayon")):
        writer.draw([Text(face("sans-Bold"), 5_000, text, 5_000, 5_000)])
    from pypdf import PdfReader

    texts = [PdfReader(BytesIO(writer.finish())).pages[0].extract_text() for writer in (second, first)]
    assert ["rayon" in texts[0], "comb" in texts[1], "comb" in texts[0]] == [True, True, False]
