"""Letters as outlines: text that needs no typeface where it is opened."""

from __future__ import annotations

from math import cos, sin

from fontTools.pens.basePen import BasePen

from labelkit.paper.fonts import Face
from labelkit.paper.marks import Path, Shape, Text


def outlined(mark: Text) -> Shape:
    """A line of text as one shape, kerned and tracked as it is printed.

    >>> from labelkit.paper.fonts import face
    >>> mark = Text(face("sans-Regular"), 3000, "Honey", 0, 0)
    >>> abs(outlined(mark).box.top - mark.box.top) <= 1
    True
    """
    face, units = mark.face, 0
    path: list[tuple] = []
    for sign, x, y, turn in mark.turned() if mark.arc else ():
        path += _turned(_contours(face, sign), x, y, mark.size / face.units, turn)
    if mark.arc:
        return Shape(tuple(path), fill=mark.colour, role=mark.role)
    for place, (sign, step) in enumerate(zip(mark.text, face.steps(mark.text), strict=True)):
        left = mark.x + units * mark.size // face.units + place * mark.tracking
        path += _placed(_contours(face, sign), left, mark.y, mark.size, face.units)
        units += step
    return Shape(tuple(path), fill=mark.colour, role=mark.role)


def _placed(contours: Path, x: int, y: int, size: int, units: int) -> Path:
    return tuple(
        (step[0], *(round(value * size / units) + (y if place % 2 else x) for place, value in enumerate(step[1:])))
        for step in contours
    )


def _turned(contours: Path, x: float, y: float, scale: float, turn: float) -> Path:
    along, across = cos(turn) * scale, sin(turn) * scale
    return tuple(
        (
            step[0],
            *(
                round(value)
                for a, b in zip(step[1::2], step[2::2], strict=True)
                for value in (x + a * along - b * across, y + a * across + b * along)
            ),
        )
        for step in contours
    )


def _contours(face: Face, sign: str) -> Path:
    pen = PathPen()
    face.trace(sign, pen)
    return tuple(pen.steps)


class PathPen(BasePen):
    """Collects a drawing as the steps of a path; quadratic curves are raised to cubic ones without loss."""

    def __init__(self) -> None:
        super().__init__()
        self.steps: list[tuple] = []

    def _moveTo(self, pt) -> None:
        self.steps.append(("M", *pt))

    def _lineTo(self, pt) -> None:
        self.steps.append(("L", *pt))

    def _curveToOne(self, pt1, pt2, pt3) -> None:
        self.steps.append(("C", *pt1, *pt2, *pt3))

    def _closePath(self) -> None:
        self.steps.append(("Z",))

    def _endPath(self) -> None:
        """An open path needs no step to end it."""
