"""Setting big words on paper: the largest size that fits, lines that break between words, marks at a place."""

from __future__ import annotations

from collections.abc import Iterable

from labelkit.paper.document_style import INK, QUIET
from labelkit.paper.fonts import Face, face_for
from labelkit.paper.marks import Colour, Text

POINT = 25_400 / 72  # micrometres
MM = 1_000
SIDE = 18 * MM  # the margin of a poster


def fitted(key: str, text: str, points: float, room: int) -> tuple[Face, int]:
    """A face that has every sign of the text, and the largest size up to ``points`` at which it fits the room."""
    face = face_for(key, text)
    size = round(points * POINT)
    wide = face.width(text, size)
    return face, size if wide <= room else size * max(room, 1) // wide


def wrapped(face: Face, size: int, text: str, room: int) -> list[str]:
    """The text in lines no wider than the room, broken between words; a word wider than the room stands alone.

    >>> from labelkit.paper.fonts import face
    >>> wrapped(face("sans-Regular"), 4000, "Do not feed honey to infants", 30_000)
    ['Do not feed', 'honey to infants']
    """
    lines = [""]
    for word in text.split():
        longer = f"{lines[-1]} {word}".strip()
        if lines[-1] and face.width(longer, size) > room:
            lines.append(word)
        else:
            lines[-1] = longer
    return [line for line in lines if line]


def text_at(
    key: str, text: str, points: float, x: int, y: int, colour: Colour = INK, *, room: int, align: str = "l"
) -> Text:
    """One line on its baseline, made to fit; ``align`` says which side of it stands at ``x``: l, r or c."""
    face, size = fitted(key, text, points, room)
    wide = face.width(text, size)
    return Text(face, size, text, x - {"l": 0, "r": wide, "c": wide // 2}[align], y, colour)


def block(
    key: str,
    text: str,
    points: float,
    x: int,
    top: int,
    room: int,
    colour: Colour = INK,
    *,
    align: str = "l",
    leading: float = 1.3,
) -> tuple[list[Text], int]:
    """Lines of text from ``top`` downwards, and where the next thing may begin."""
    face = face_for(key, text)
    size = round(points * POINT)
    marks, y = [], top
    for line in wrapped(face, size, text, room):
        y -= round(size * leading)
        wide = face.width(line, size)
        marks.append(Text(face, size, line, x - {"l": 0, "r": wide, "c": wide // 2}[align], y, colour))
    return marks, y


def blocks(
    key: str, texts: Iterable[str], points: float, x: int, top: int, room: int, colour: Colour = INK
) -> tuple[list[Text], int]:
    """Several paragraphs, one below the other."""
    marks, y = [], top
    for text in texts:
        more, y = block(key, text, points, x, y, room, colour)
        marks += more
        y -= round(points * POINT * 0.4)
    return marks, y


def foot(texts: Iterable[str], wide: int, points: float = 8.5) -> list[Text]:
    """Small print that ends ten millimetres above the lower edge of the paper; empty texts are left out."""
    shown = [text for text in texts if text]
    _, low = blocks("sans-Regular", shown, points, SIDE, 0, wide - 2 * SIDE)
    return blocks("sans-Regular", shown, points, SIDE, 10 * MM - low, wide - 2 * SIDE, QUIET)[0]
