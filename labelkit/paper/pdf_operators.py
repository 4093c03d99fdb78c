"""Page operators: how a mark is written in the language of a PDF page. No library is needed for that."""

from __future__ import annotations

from collections.abc import Callable
from math import cos, sin

from labelkit.paper.marks import BarcodeMark, Colour, MatrixMark, Path, Text

POINTS_PER_UM = 72 / 25_400
#: From this tracking on, in thousandths of the size, readers of PDF take a gap for a blank (poppler from a tenth of the em).
WIDE = 40


def text_operators(mark: Text, sign_of: Callable[[str], tuple[str, str]], ink: str) -> str:
    """The operators of one line; ``sign_of`` gives a letter's font part and escaped code, ``ink`` sets its colour."""
    # Tracking is a state of the text and no move between letters, and the line says what it reads: whoever copies it takes
    # a move, and some readers any wide gap, for a blank.
    face, size = mark.face, points(mark.size)
    run, part_open, last = "", "", len(mark.text) - 1
    for place, sign in enumerate(mark.text):
        part, code = sign_of(sign)
        if part != part_open:
            run += f"{')] TJ ' if run else ''}{part} {size} Tf [("
            part_open = part
        run += code
        if place < last:
            shift = face.kern(sign, mark.text[place + 1]) * 1000 / face.units
            if shift:
                run += f") {number_of(-shift)} ("
    spread, closed = (f"{points(mark.tracking)} Tc ", " 0 Tc") if mark.tracking else ("", "")
    start = f"1 0 0 1 {points(mark.x)} {points(mark.y)} Tm"
    drawn = f"BT {ink} {spread}{start} {run})] TJ{closed} ET" if run else ""
    return said_as(mark.text, drawn) if drawn and mark.tracking * 1000 >= WIDE * mark.size else drawn


def said_as(text: str, drawn: str) -> str:
    """Operators that are copied as this text, whatever they draw (ISO 32000-1, 14.9.4)."""
    said = ("\ufeff" + text).encode("utf-16-be").hex().upper()
    return f"/Span <</ActualText <{said}>>> BDC {drawn} EMC"


def arc_operators(mark: Text, sign_of: Callable[[str], tuple[str, str]], ink: str) -> str:
    """The operators of a line on an arc, letter by letter; whoever copies it gets the line."""
    size, run = points(mark.size), ""
    for sign, x, y, turn in mark.turned():
        part, code = sign_of(sign)
        along, across = number_of(cos(turn)), number_of(sin(turn))
        matrix = f"{along} {across} {number_of(-sin(turn))} {along} {points(round(x))} {points(round(y))} Tm"
        run += f"{part} {size} Tf {matrix} ({code}) Tj "
    return said_as(mark.text, f"BT {ink} {run}ET")


def symbol_operators(mark: BarcodeMark | MatrixMark) -> str:
    """Bars or dark modules as rectangles, each a whole number of dots wide."""
    dot = 72 / mark.module.dpi
    return " ".join(" ".join([*(number_of(side * dot) for side in one), "re"]) for one in mark.rectangles())


def number_of(value: float) -> str:
    """A number as PDF writes it: at most four decimals (a thirtieth of a micrometre), no trailing noughts."""
    return f"{value:.4f}".rstrip("0").rstrip(".") or "0"


def points(um: int) -> str:
    return number_of(um * POINTS_PER_UM)


def _paint(colour: Colour, grey: str, rgb: str) -> str:
    if colour[0] == colour[1] == colour[2]:
        return f"{number_of(colour[0] / 255)} {grey}"
    return f"{' '.join(number_of(part / 255) for part in colour)} {rgb}"


def fill_of(colour: Colour) -> str:
    return _paint(colour, "g", "rg")


def stroke_of(colour: Colour) -> str:
    return _paint(colour, "G", "RG")


def cmyk(colour: Colour) -> tuple[float, float, float, float]:
    """Cyan, magenta, yellow and black of a colour, each of one: what is grey in it is black alone, so that no more than
    three inks lie over each other. Plain arithmetic without a profile: how it comes out hangs on paper and press.

    >>> cmyk((255, 255, 255)), cmyk((0, 0, 0)), cmyk((255, 0, 0))
    ((0.0, 0.0, 0.0, 0.0), (0.0, 0.0, 0.0, 1.0), (0.0, 1.0, 1.0, 0.0))
    """
    most = max(colour)
    if most == 0:
        return 0.0, 0.0, 0.0, 1.0
    red, green, blue = ((most - part) / most for part in colour)
    return red, green, blue, (255 - most) / 255


def cmyk_fill_of(colour: Colour) -> str:
    return f"{' '.join(map(number_of, cmyk(colour)))} k"


def cmyk_stroke_of(colour: Colour) -> str:
    return f"{' '.join(map(number_of, cmyk(colour)))} K"


def outline_of(path: Path) -> str:
    letters = {"M": "m", "L": "l", "C": "c", "Z": "h"}
    return " ".join(" ".join([*(points(v) for v in step[1:]), letters[step[0]]]) for step in path)
