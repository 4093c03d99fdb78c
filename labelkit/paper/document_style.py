"""The house style of documents: price lists, run sheets, notices. Data only; the drawing is in :mod:`.document`.

One column of Source Serif and Source Sans on a quiet page: figures line up on their right, rows are told apart by
space and a hair line, and nothing is boxed in.
"""

from __future__ import annotations

from dataclasses import dataclass

#: Page sizes in micrometres.
PAGES = {"letter": (215_900, 279_400), "a4": (210_000, 297_000)}

MARGIN_MM = (20, 18, 20, 18)  # left, top, right, bottom
INK = (28, 27, 25)
QUIET = (108, 103, 96)
HAIR = (196, 190, 180)
SHADE = (247, 244, 238)
ACCENT = (138, 74, 12)
STOP = (150, 28, 20)


@dataclass(frozen=True)
class Style:
    """Type of one kind of paragraph: points, and the space round it in points."""

    face: str
    size: float
    leading: float
    before: float = 0
    after: float = 0
    colour: tuple[int, int, int] = INK


STYLES = {
    "title": Style("serif-Semibold", 21, 25, after=3),
    "lead": Style("serif-Regular", 11.5, 16, after=8, colour=QUIET),
    "heading": Style("serif-Semibold", 13.5, 17, before=12, after=4),
    "subheading": Style("sans-Bold", 9.5, 13, before=8, after=3),
    "body": Style("sans-Regular", 9.5, 13.5, after=5),
    "small": Style("sans-Regular", 7.8, 10.5, after=3, colour=QUIET),
    "cell": Style("sans-Regular", 9, 11.5),
    "strong": Style("sans-Bold", 9, 11.5),
    "head": Style("sans-Semibold", 7.8, 10, colour=QUIET),
    "caution": Style("sans-Semibold", 9.5, 13.5, before=4, after=6, colour=STOP),
    "code": Style("narrow-Medium", 9.5, 13),
}
