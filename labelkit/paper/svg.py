"""Marks as an SVG document: what goes onto paper, on a screen. The one writer of pictures in SVG.

Lengths are micrometres, as marks have them; y runs upwards in marks and downwards in SVG. Letters are text in the same
typefaces where the reader has them, and in the nearest of the system's where not.
"""

from __future__ import annotations

from base64 import b64encode
from collections.abc import Callable, Iterable, Mapping
from html import escape
from typing import Any

from labelkit.paper.fonts import Face
from labelkit.paper.marks import BarcodeMark, Clipped, Colour, Mark, MatrixMark, Path, Picture, Shape, Text
from labelkit.paper.outlines import outlined

PIXEL = 25_400 / 96  # micrometres (CSS Values 3, 5.2: an inch has 96 pixels)
_SANS = "'Source Sans 3', 'Source Sans Pro', 'Segoe UI', 'Helvetica Neue', Arial, sans-serif"
FAMILIES = {
    "serif": "'Source Serif 4', 'Source Serif Pro', Georgia, serif",
    "elegant": "Spectral, Georgia, serif",
    "narrow": "'Fira Sans Condensed', 'Arial Narrow', sans-serif",
    "plump": "'Lilita One', sans-serif",
    "full": "'DM Serif Display', Georgia, serif",
    "tall": "Anton, 'Arial Narrow', sans-serif",
    "block": "'Archivo Black', 'Arial Black', sans-serif",
}
#: Weights as CSS counts them.
WEIGHTS = {"Light": 300, "Medium": 500, "Semibold": 600, "SemiBold": 600, "Bold": 700, "ExtraBold": 800, "Black": 900}


def svg(
    marks: Iterable[Mark],
    wide: int,
    high: int,
    title: str,
    *,
    about: str = "",
    night: Mapping[Colour, Colour] | None = None,
    pixel: float = PIXEL,
    over: int | None = None,
) -> str:
    """The marks on a page of that size; ``pixel`` is the length that one pixel of the screen shows.

    ``night`` says which colours become which others where the reader's screen is dark. ``over``
    makes a picture to be printed: its size in millimetres, and so many micrometres more on every side.

    >>> from labelkit.paper.marks import rectangle
    >>> from labelkit.paper.fonts import Box
    >>> print(svg([Shape(rectangle(Box(0, 0, 1000, 2000)), fill=(255, 0, 0))], 3000, 4000, "A bar", pixel=100))
    <svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 3000 4000" width="30" height="40" role="img">
    <title>A bar</title>
    <path d="M0 4000L1000 4000L1000 2000L0 2000Z" fill="#ff0000"/>
    </svg>
    <BLANKLINE>
    """
    size = f'viewBox="0 0 {wide} {high}" width="{round(wide / pixel)}" height="{round(high / pixel)}"'
    if over is not None:
        across, up = wide + 2 * over, high + 2 * over
        size = f'viewBox="{-over} {-over} {across} {up}" width="{across / 1000:g}mm" height="{up / 1000:g}mm"'
    lines = [f'<svg xmlns="http://www.w3.org/2000/svg" {size} role="img">', f"<title>{escape(title)}</title>"]
    if about:
        lines.append(f"<desc>{escape(about)}</desc>")
    if night:
        rules = [
            f'[{part}="{_hex(day)}"]{{{part}:{_hex(dark)}}}'
            for day, dark in night.items()
            for part in ("fill", "stroke")
        ]
        lines.append(f"<style>@media (prefers-color-scheme: dark){{{''.join(rules)}}}</style>")
    page = _Page(high)
    lines += [page.element(mark) for mark in marks]
    return "\n".join([*lines, "</svg>", ""])


class _Page:
    """Marks become elements; what is cut off at a path needs a name for it."""

    def __init__(self, high: int) -> None:
        self._high, self._clips = high, 0

    def element(self, mark: Mark) -> str:
        write: dict[type, Callable[[Any], str]] = {
            Text: self._text,
            Shape: self._shape,
            BarcodeMark: self._symbol,
            MatrixMark: self._symbol,
            Picture: self._picture,
            Clipped: self._clipped,
        }
        return write[type(mark)](mark)

    def _text(self, mark: Text) -> str:
        if mark.arc:
            return self._shape(outlined(mark))
        shift = {"start": 0, "middle": mark.width // 2, "end": mark.width}[mark.anchor]
        attributes = [("x", mark.x + shift), ("y", self._high - mark.y), *_type(mark.face), ("font-size", mark.size)]
        if mark.anchor != "start":
            attributes.append(("text-anchor", mark.anchor))
        if mark.tracking:
            attributes.append(("letter-spacing", mark.tracking))
        attributes.append(("fill", _hex(mark.colour)))
        if mark.halo is not None:
            attributes += [("stroke", _hex(mark.halo)), ("stroke-width", mark.size // 4), ("stroke-linejoin", "round")]
            attributes.append(("paint-order", "stroke"))
        return _element("text", [*_class(mark.role), *attributes], escape(mark.text) + _tip(mark.says))

    def _shape(self, mark: Shape) -> str:
        fill = "none" if mark.fill is None else _hex(mark.fill)
        attributes: list[tuple[str, object]] = [("d", self._path(mark.path)), ("fill", fill)]
        if mark.opacity != 100:
            attributes.append(("fill-opacity", f"{mark.opacity / 100:g}"))
        if mark.stroke is not None:
            attributes += [("stroke", _hex(mark.stroke)), ("stroke-width", mark.width)]
            if mark.round_ends:
                attributes += [("stroke-linecap", "round"), ("stroke-linejoin", "round")]
            if mark.dash:
                attributes.append(("stroke-dasharray", " ".join(map(str, mark.dash))))
        return _element("path", [*_class(mark.role), *attributes], _tip(mark.says))

    def _symbol(self, mark: BarcodeMark | MatrixMark) -> str:
        dot = 25_400 / mark.module.dpi
        drawn = "".join(
            f"M{x * dot:.6g} {self._high - y * dot:.6g}h{wide * dot:.6g}v{-high * dot:.6g}h{-wide * dot:.6g}z"
            for x, y, wide, high in mark.rectangles()
        )
        return _element("path", [*_class(mark.role), ("d", drawn), ("fill", _hex(mark.colour))])

    def _picture(self, mark: Picture) -> str:
        sort = "png" if mark.data.startswith(b"\x89PNG") else "jpeg"
        place = [("x", mark.x), ("y", self._high - mark.y - mark.high), ("width", mark.wide), ("height", mark.high)]
        data = f"data:image/{sort};base64,{b64encode(mark.data).decode()}"
        return _element("image", [*place, ("preserveAspectRatio", "none"), ("href", data)])

    def _clipped(self, mark: Clipped) -> str:
        self._clips += 1
        name = f"clip{self._clips}"
        clip = _element("clipPath", [("id", name)], _element("path", [("d", self._path(mark.path))]))
        inner = "".join(map(self.element, mark.marks))
        return clip + _element("g", [*_class(mark.role), ("clip-path", f"url(#{name})")], inner)

    def _path(self, path: Path) -> str:
        return "".join(
            step[0] + " ".join(str(self._high - value if place % 2 else value) for place, value in enumerate(step[1:]))
            for step in path
        )


def _element(name: str, attributes: Iterable[tuple[str, object]], inner: str = "") -> str:
    head = " ".join([name, *(f'{key}="{value}"' for key, value in attributes)])
    return f"<{head}>{inner}</{name}>" if inner else f"<{head}/>"


def _class(role: str) -> list[tuple[str, object]]:
    return [("class", escape(role))] if role not in ("", "ornament") else []


def _tip(says: str) -> str:
    return f"<title>{escape(says)}</title>" if says else ""


def _type(face: Face) -> list[tuple[str, object]]:
    """Family, weight and slant of a face.

    >>> from labelkit.paper.fonts import face
    >>> _type(face("serif-Semibold"))[1:]
    [('font-weight', 600)]
    """
    family, _, style = face.key.partition("-")
    upright = style.removesuffix("alic").removesuffix("It")
    found: list[tuple[str, object]] = [("font-family", FAMILIES.get(family, _SANS))]
    if upright in WEIGHTS:
        found.append(("font-weight", WEIGHTS[upright]))
    return [*found, ("font-style", "italic")] if upright != style else found


def _hex(colour: Colour) -> str:
    return "#{:02x}{:02x}{:02x}".format(*colour)
