"""Draws the pictures beside it: each design's front, one sheet of all designs and kinds, and one of all with less ink.

They are there to be looked at. When a design changes on purpose, run ``python -m tests.golden.labels.draw``, look at the
pictures, and commit them with the change.
"""

from __future__ import annotations

from dataclasses import replace
from io import BytesIO
from pathlib import Path

from labelkit.labels.design import NAMES, Design, design
from labelkit.labels.layout.kinds import place
from labelkit.labels.layout.placed import Placed
from labelkit.paper.fonts import Box, face
from labelkit.paper.marks import Shape, Text, rectangle
from labelkit.paper.pdf import PdfWriter
from labelkit.paper.preview import preview_png
from tests.labels.samples import barred, label, linked, outline
from tests.labels.test_kinds import CARD, CASE, TAG

HERE = Path(__file__).parent
MARGIN = 4_000
DESK = (226, 222, 214)


def kinds() -> list[tuple[object, str]]:
    """One of each kind with the sheet it is shown on."""
    back = replace(barred(linked(label("us", "back"))), number="9521234543213")
    return [
        (label("us"), "letter-2x5-102x51"),
        (label("us", "lid"), "letter-3x4-d64"),
        (back, "a4-2x4-99x68"),
        (replace(back, kind="wrap"), "letter-1x5-203x51"),
        (label("us", "seal"), "letter-2x10-102x25"),
        (label("us"), "letter-3x3-64x76"),
        (CARD, "a4-3x3-60x80"),
        (barred(TAG), "letter-2x3-102x85"),
        (CASE, "letter-2x3-102x85"),
    ]


def on_desk(writer: PdfWriter, placed: Placed, look: Design, x: int, y: int) -> None:
    """A label lying on the desk, on paper of its design's colour."""
    writer.draw([Shape(placed.outline.path(), fill=look.paper, behind=True)], x, y)
    writer.draw(placed.marks, x, y)


def front(name: str) -> bytes:
    """One design's front as a picture."""
    look = design(name)
    placed = place(linked(label("us")), outline("letter-2x3-102x85"), look)
    writer = PdfWriter(name)
    wide, high = placed.outline.wide + 2 * MARGIN, placed.outline.high + 2 * MARGIN
    writer.page(wide, high)
    writer.draw([Shape(rectangle(Box(0, 0, wide, high)), fill=DESK)])
    on_desk(writer, placed, look, MARGIN, MARGIN)
    return preview_png(writer.finish(), 1, 110)


def contact() -> bytes:
    """All designs, all kinds."""
    return _sheet([(design(name).title, [(design(name), kinds())]) for name in NAMES], 640_000, 62)


def inks() -> bytes:
    """All designs with less ink and with one ink: front and lid."""
    both = [(label("us"), "letter-2x5-102x51"), (label("us", "lid"), "letter-4x5-d51")]
    return _sheet(
        [(name.title(), [(design(name, ink), both) for ink in ("less", "one")]) for name in NAMES], 330_000, 72
    )


def _sheet(groups: list[tuple[str, list]], wide: int, dpi: int) -> bytes:
    """Groups of labels below each other, each under its title."""
    writer = PdfWriter("Designs")
    rows = [_row(looks, wide) for _, looks in groups]
    high = sum(tall for _, tall in rows) + MARGIN
    writer.page(wide, high)
    writer.draw([Shape(rectangle(Box(0, 0, wide, high)), fill=DESK)])
    top = high
    for (title, _), (placed, tall) in zip(groups, rows, strict=True):
        writer.draw([Text(face("serif-Semibold"), 9_000, title, MARGIN, top - 12_000, (60, 56, 50))])
        for one, look, x, y in placed:
            on_desk(writer, one, look, x, top - y - one.outline.high)
        top -= tall
    return preview_png(writer.finish(), 1, dpi)


def _row(looks: list[tuple[Design, list]], wide: int):
    placed, x, y, tall = [], MARGIN, 16_000, 0
    for look, content, sheet_name in ((look, *each) for look, labels in looks for each in labels):
        one = place(content, outline(sheet_name), look)
        if x + one.outline.wide > wide:
            x, y, tall = MARGIN, y + tall + MARGIN, 0
        placed.append((one, look, x, y))
        x, tall = x + one.outline.wide + MARGIN, max(tall, one.outline.high)
    return placed, y + tall + MARGIN


def small(png: bytes, colours: int) -> bytes:
    """The same picture in fewer colours: flat colour and black need no more."""
    from PIL import Image

    out = BytesIO()
    Image.open(BytesIO(png)).convert("RGB").quantize(
        colours, Image.Quantize.MAXCOVERAGE, dither=Image.Dither.NONE
    ).save(out, "PNG", optimize=True)
    return out.getvalue()


if __name__ == "__main__":
    for name in NAMES:
        (HERE / f"{name}.png").write_bytes(small(front(name), 256))
    (HERE / "inks.png").write_bytes(small(inks(), 128))
    (HERE / "contact.png").write_bytes(small(contact(), 256))
