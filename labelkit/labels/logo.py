"""The maker's own mark: PNG, JPEG or SVG, taken in only when it is whole, plain and of a sane size.

A picture file comes from anywhere. Pixels are opened by Pillow after their size was looked at, scaled down to what a
label can show and written anew, so that nothing but the pixels goes on. Of an SVG only shapes and their fills are read;
anything that runs, links, or draws on something outside the file is refused by name.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from io import BytesIO

from labelkit.errors.labels import LogoRefused
from labelkit.paper.fonts import Box
from labelkit.paper.marks import BLACK, Colour, Mark, Path, Picture, Shape

MOST_BYTES = 8_000_000
MOST_PIXELS = 50_000_000
#: More pixels than this show on no label: 100 mm at 300 dots an inch.
SHOWN = 1200
MOST_SHAPES = 2000
_SHAPES = {"path", "rect", "circle", "ellipse", "polygon", "polyline", "line"}
_QUIET = {"title", "desc", "metadata", "defs", "namedview"}
_NAMED = {
    "black": "#000000",
    "white": "#ffffff",
    "red": "#ff0000",
    "green": "#008000",
    "blue": "#0000ff",
    "gold": "#ffd700",
    "orange": "#ffa500",
    "brown": "#a52a2a",
    "gray": "#808080",
    "grey": "#808080",
    "yellow": "#ffff00",
    "navy": "#000080",
}


@dataclass(frozen=True)
class Logo:
    """A logo that was found sound: its proportions, and either pixels or shapes in a box of 1 000 000 units of width."""

    wide: int
    high: int
    pixels: bytes = b""
    shapes: tuple[tuple[Path, Colour], ...] = ()

    def marks(self, box: Box) -> list[Mark]:
        """The logo filling a box of its own proportions."""
        if self.pixels:
            return [Picture(self.pixels, box.left, box.bottom, box.width, box.height)]
        factor = box.width / self.wide
        return [
            Shape(
                tuple(
                    (s[0], *(round((box.left, box.bottom)[i % 2] + v * factor) for i, v in enumerate(s[1:])))
                    for s in path
                ),
                fill=fill,
                role="logo",
            )
            for path, fill in self.shapes
        ]


def read_logo(data: bytes, name: str = "the logo") -> Logo:
    """A logo out of a file's bytes. Raises :class:`~labelkit.errors.labels.LogoRefused`."""
    if len(data) > MOST_BYTES:
        raise LogoRefused(name, f"the file has {len(data) / 1e6:.0f} MB, and {MOST_BYTES / 1e6:.0f} MB is the most")
    start = data[:400].lstrip()
    if start.startswith((b"\x89PNG\r\n\x1a\n", b"\xff\xd8\xff")):
        return _pixels(data, name)
    if start.startswith((b"<?xml", b"<svg", b"<!--", b"\xef\xbb\xbf<", b"<!DOCTYPE")):
        return _svg(data, name)
    raise LogoRefused(name, "it is neither PNG nor JPEG nor SVG")


def _pixels(data: bytes, name: str) -> Logo:
    from PIL import Image, UnidentifiedImageError

    try:
        image = Image.open(BytesIO(data))
        wide, high = image.size
        if wide * high > MOST_PIXELS:
            raise LogoRefused(name, f"it has {wide:,} × {high:,} pixels, more than {MOST_PIXELS / 1e6:.0f} million")
        image.load()
    except Image.DecompressionBombError as trouble:
        raise LogoRefused(name, f"it has more than {MOST_PIXELS / 1e6:.0f} million pixels") from trouble
    except (UnidentifiedImageError, OSError, SyntaxError, ValueError) as trouble:
        raise LogoRefused(name, f"the picture is damaged or cut off ({trouble})") from trouble
    shown = image.convert("RGBA" if "A" in image.getbands() or "transparency" in image.info else "RGB")
    shown.thumbnail((SHOWN, SHOWN))
    out = BytesIO()
    shown.save(out, "PNG", optimize=True)
    return Logo(*shown.size, pixels=out.getvalue())


def _svg(data: bytes, name: str) -> Logo:
    from xml.etree import ElementTree

    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError as trouble:
        raise LogoRefused(name, "it is not UTF-8 text") from trouble
    # An entity can grow a small file into a huge one or read another; a drawing needs none.
    if re.search(r"<!(DOCTYPE|ENTITY)[^>]*\[", text) or "<!ENTITY" in text:
        raise LogoRefused(name, "it defines entities")
    try:
        root = ElementTree.fromstring(text)
    except ElementTree.ParseError as trouble:
        raise LogoRefused(name, f"it is not whole XML ({trouble})") from trouble
    if _tag(root) != "svg":
        raise LogoRefused(name, f"its outermost element is {_tag(root)}, not svg")
    left, top, wide, high = _view(root, name)
    shapes = []
    for path, fill in _walk(root, (1, 0, 0, 1, 0, 0), "#000000", name):
        shapes.append((_upright(path, left, top, wide, high), fill))
        if len(shapes) > MOST_SHAPES:
            raise LogoRefused(name, f"it has more than {MOST_SHAPES} shapes")
    if not shapes:
        raise LogoRefused(name, "nothing in it has a fill; turn lines and letters into filled paths")
    unit = 1_000_000 / wide
    scaled = tuple((tuple((s[0], *(round(v * unit) for v in s[1:])) for s in path), fill) for path, fill in shapes)
    return Logo(1_000_000, round(high * unit), shapes=scaled)


def _tag(element) -> str:
    return element.tag.rsplit("}", 1)[-1] if isinstance(element.tag, str) else "comment"


def _view(root, name: str) -> tuple[float, float, float, float]:
    box = re.split(r"[\s,]+", root.get("viewBox", "").strip())
    if len(box) != 4:
        box = ["0", "0", root.get("width", ""), root.get("height", "")]
    try:
        left, top, wide, high = (float(re.sub(r"(px|pt|mm|cm|in)$", "", part)) for part in box)
    except ValueError:
        raise LogoRefused(name, "it has no viewBox and no size in numbers") from None
    if not (0 < wide < 1e6 and 0 < high < 1e6 and 1 / 20 < wide / high < 20):
        raise LogoRefused(name, f"its size of {wide:g} × {high:g} is not that of a logo")
    return left, top, wide, high


def _walk(element, matrix, fill: str, name: str) -> Iterator[tuple[Path, Colour]]:
    from fontTools.misc.transform import Transform

    for key, value in element.attrib.items():
        plain = key.rsplit("}", 1)[-1].lower()
        if plain.startswith("on"):
            raise LogoRefused(name, f"it holds a script ({plain})")
        if plain == "href" and not value.startswith("#"):
            raise LogoRefused(name, f"it links to something outside itself ({value[:40]})")
        if "url(" in value and plain != "clip-path":
            raise LogoRefused(name, "it uses patterns or gradients, which are not printed")
    kind = _tag(element)
    if kind in _QUIET or kind == "comment":
        return
    if kind not in _SHAPES | {"svg", "g", "a", "switch"}:
        raise LogoRefused(name, f"it holds the element <{kind}>")
    style = dict(part.split(":", 1) for part in element.get("style", "").replace(" ", "").split(";") if ":" in part)
    if style.get("display") == "none" or element.get("display") == "none":
        return
    fill = style.get("fill", element.get("fill", fill))
    here = Transform(*matrix).transform(Transform(*_matrix(element.get("transform", ""), name)))
    if kind in _SHAPES:
        if fill != "none" and kind != "line":
            yield _outline(element, here, name), _colour(fill, name)
        return
    for child in element:
        yield from _walk(child, here, fill, name)


def _matrix(text: str, name: str) -> tuple[float, ...]:
    from fontTools.misc.transform import Identity, Transform

    found = Identity
    for verb, values in re.findall(r"(\w+)\s*\(([^)]*)\)", text):
        try:
            numbers = [float(value) for value in re.split(r"[\s,]+", values.strip())]
            found = found.transform(_step(verb, numbers))
        except (ValueError, TypeError, KeyError):
            raise LogoRefused(name, f"the transform “{verb}({values[:30]})” is not understood") from None
    return tuple(found if isinstance(found, Transform) else Identity)


def _step(verb: str, numbers: list[float]):
    from math import radians

    from fontTools.misc.transform import Identity, Transform

    if verb == "rotate":
        turn = Identity.rotate(radians(numbers[0]))
        if len(numbers) == 3:
            return Identity.translate(*numbers[1:]).transform(turn).translate(-numbers[1], -numbers[2])
        return turn
    return {"matrix": Transform, "translate": Identity.translate, "scale": Identity.scale}[verb](*numbers)


def _outline(element, matrix, name: str) -> Path:
    from fontTools.pens.basePen import BasePen
    from fontTools.pens.transformPen import TransformPen
    from fontTools.svgLib.path.parser import parse_path
    from fontTools.svgLib.path.shapes import PathBuilder

    class Steps(BasePen):
        def __init__(self) -> None:
            super().__init__(None)
            self.steps: list[tuple] = []

        def _moveTo(self, point) -> None:
            self.steps.append(("M", *point))

        def _lineTo(self, point) -> None:
            self.steps.append(("L", *point))

        def _curveToOne(self, one, two, three) -> None:
            self.steps.append(("C", *one, *two, *three))

        def _closePath(self) -> None:
            self.steps.append(("Z",))

        def _endPath(self) -> None:
            pass

    pen, builder = Steps(), PathBuilder()
    bare = type(element)(element.tag, {key: value for key, value in element.attrib.items() if key != "transform"})
    try:
        builder.add_path_from_element(bare)
        for path in builder.paths:
            parse_path(path, TransformPen(pen, matrix))
    except Exception as trouble:
        raise LogoRefused(name, f"a <{_tag(element)}> of it cannot be read ({trouble})") from trouble
    if not pen.steps or any(abs(value) > 1e7 for step in pen.steps for value in step[1:]):
        raise LogoRefused(name, f"a <{_tag(element)}> of it has no outline or a boundless one")
    return tuple(pen.steps)


def _upright(path: Path, left: float, top: float, wide: float, high: float) -> Path:
    """SVG counts downwards from the top; labels count upwards."""
    return tuple((s[0], *(v - left if i % 2 == 0 else top + high - v for i, v in enumerate(s[1:]))) for s in path)


def _colour(text: str, name: str) -> Colour:
    text = _NAMED.get(text.lower(), text)
    if text.lower() in ("currentcolor", "inherit"):
        return BLACK
    if re.fullmatch(r"#[0-9a-fA-F]{3}", text):
        text = "#" + "".join(sign * 2 for sign in text[1:])
    if re.fullmatch(r"#[0-9a-fA-F]{6}", text):
        return int(text[1:3], 16), int(text[3:5], 16), int(text[5:7], 16)
    rgb = re.fullmatch(r"rgb\((\d+),(\d+),(\d+)\)", text.replace(" ", ""))
    if rgb and all(int(part) < 256 for part in rgb.groups()):
        return tuple(map(int, rgb.groups()))  # type: ignore[return-value]
    raise LogoRefused(name, f"the colour “{text[:30]}” is not understood; write it like #7A4A12")
