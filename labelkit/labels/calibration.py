"""The ruler page: three crosses whose distances tell how far a printer is off, and what to type to put it right."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from labelkit.errors.labels import RulerUnlikely
from labelkit.labels.sheets import Printer
from labelkit.measures import Length
from labelkit.paper.document_style import INK, PAGES, QUIET
from labelkit.paper.fonts import Box, face
from labelkit.paper.marks import Mark, Shape, Text, ellipse, line
from labelkit.paper.pdf import PdfWriter

ACROSS, UP = 150_000, 200_000
# A printer off by more than this is not off, it is fitting the page to its margins.
MOST_SCALE, MOST_SHIFT = Decimal("0.02"), 8_000


@dataclass(frozen=True, slots=True)
class Crosses:
    """Where the crosses stand: A at the lower left, B to its right, C above it; micrometres from the lower left corner."""

    a: tuple[int, int]
    b: tuple[int, int]
    c: tuple[int, int]


def crosses(page: str) -> Crosses:
    """The three crosses of a page: 150 mm apart across, 200 mm up.

    >>> crosses("a4").a
    (30000, 48500)
    """
    wide, high = PAGES[page]
    left, bottom = (wide - ACROSS) // 2, (high - UP) // 2
    return Crosses((left, bottom), (left + ACROSS, bottom), (left, bottom + UP))


def corrected(page: str, across: Length, up: Length, left: Length, bottom: Length, dpi: int = 600) -> Printer:
    """What a printer needs, from four lengths read off its ruler page: A to B, A to C, paper's edge to A, foot to A.

    Raises :class:`~labelkit.errors.labels.RulerUnlikely` for lengths no true print at 100 % can have.

    >>> mm = Length.of_mm
    >>> corrected("a4", mm("150"), mm("200"), mm("30.5"), mm("48.2")).nudge_x
    -500
    """
    held = crosses(page)
    scale_x, scale_y = Decimal(across.um) / ACROSS, Decimal(up.um) / UP
    off_x, off_y = left.um - held.a[0] * scale_x, bottom.um - held.a[1] * scale_y
    if max(abs(scale_x - 1), abs(scale_y - 1)) > MOST_SCALE:
        raise RulerUnlikely(f"A to B was read as {across.mm} mm and A to C as {up.mm} mm instead of 150 and 200")
    if max(abs(off_x), abs(off_y)) > MOST_SHIFT:
        raise RulerUnlikely(
            f"cross A was read {off_x / 1000:+.1f} mm to the side and {off_y / 1000:+.1f} mm up from its place"
        )
    return Printer(dpi, round(-off_x / scale_x), round(-off_y / scale_y), _six(1 / scale_x), _six(1 / scale_y))


def _six(value: Decimal) -> Decimal:
    return value.quantize(Decimal("0.000001")).normalize()


def ruler_page(page: str) -> bytes:
    """The page itself: crosses, rulers in millimetres along two edges, and what to do with it."""
    wide, high = PAGES[page]
    held = crosses(page)
    writer = PdfWriter(f"Ruler page, {page}")
    writer.page(wide, high)
    marks: list[Mark] = []
    for name, (x, y) in (("A", held.a), ("B", held.b), ("C", held.c)):
        marks += _cross(x, y, name)
    marks += _scale(held.a, ACROSS, along=True) + _scale(held.a, UP, along=False)
    marks += _words(held, wide, high)
    writer.draw(marks)
    return writer.finish()


def _cross(x: int, y: int, name: str) -> list[Mark]:
    arm = 5_000
    return [
        Shape(line(x - arm, y, x + arm, y), stroke=INK, width=120),
        Shape(line(x, y - arm, x, y + arm), stroke=INK, width=120),
        Shape(ellipse(Box(x - 2_500, y - 2_500, x + 2_500, y + 2_500)), stroke=INK, width=120),
        Text(face("serif-Semibold"), 7_000, name, x - 9_500, y + 3_500, INK),
    ]


def _scale(start: tuple[int, int], long: int, along: bool) -> list[Mark]:
    """A ruler of whole millimetres from cross A."""
    marks: list[Mark] = []
    for mm in range(0, long // 1000 + 1):
        tick = 4_500 if mm % 10 == 0 else 3_000 if mm % 5 == 0 else 1_800
        x, y = (start[0] + mm * 1000, start[1] - 9_000) if along else (start[0] - 9_000 - 5_000, start[1] + mm * 1000)
        path = line(x, y, x, y - tick) if along else line(x, y, x - tick, y)
        marks.append(Shape(path, stroke=QUIET, width=80))
        if mm % 10 == 0 and mm:
            small = face("sans-Regular")
            shift = small.width(str(mm), 2_600)
            place = (x - shift // 2, y - 8_000) if along else (x - 5_500 - shift, y - 900)
            marks.append(Text(small, 2_600, str(mm), *place, QUIET))
    return marks


def _words(held: Crosses, wide: int, high: int) -> list[Mark]:
    left, top = held.a[0] + 14_000, held.c[1] - 14_000
    said = [
        ("serif-Semibold", 7_000, "Ruler page"),
        (
            "sans-Regular",
            3_900,
            "Print this page at 100 %, never “fit to page”. Then take a steel ruler and read four lengths",
        ),
        ("sans-Regular", 3_900, "to a tenth of a millimetre, along the middle of the lines:"),
        ("sans-Semibold", 3_900, f"1   from cross A to cross B     should be {ACROSS / 1000:.1f} mm"),
        ("sans-Semibold", 3_900, f"2   from cross A to cross C     should be {UP / 1000:.1f} mm"),
        ("sans-Semibold", 3_900, f"3   from the paper’s left edge to cross A     should be {held.a[0] / 1000:.1f} mm"),
        ("sans-Semibold", 3_900, f"4   from the paper’s lower edge to cross A     should be {held.a[1] / 1000:.1f} mm"),
        (
            "sans-Regular",
            3_900,
            'Type them into  labelkit ruler --measured "1, 2, 3, 4"  and it answers with what to add when',
        ),
        ("sans-Regular", 3_900, "printing labels. Lay the page over a label sheet against a window to see the rest."),
    ]
    marks: list[Mark] = []
    y = top
    for key, size, text in said:
        marks.append(Text(face(key), size, text, left, y, INK))
        y -= size * (22 if key.startswith("serif") else 17) // 10
    return marks
