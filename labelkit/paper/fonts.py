"""Typefaces, and how high their printed letters really are.

The faces are static TrueType files of packages on the index, all under the SIL Open Font License. A height rule is
about ink, not about type sizes: 12 point of one face is a third higher than 12 point of another, and old-style figures
are lower than the capitals beside them. So every height here comes from the outline of the very glyph that is printed.

Glyph outlines, advances and kerning are read with fontTools; all results are whole micrometres.
"""

from __future__ import annotations

import hashlib
from collections.abc import Iterable
from dataclasses import dataclass
from functools import cached_property, lru_cache
from importlib.resources import files
from io import BytesIO
from threading import Lock

from labelkit.errors.labels import FontRefused, GlyphsMissing
from labelkit.paper.kerning import pairs_of

_SOURCE_SERIF = ("font_source_serif_pro", "SourceSerifPro-{}.ttf")
_SOURCE_SANS = ("font_source_sans_pro", "SourceSansPro-{}.ttf")
_SPECTRAL = ("fontpkg_spectral", "Spectral-{}.ttf")
_FIRA = ("fontpkg_fira_sans_condensed", "FiraSansCondensed-{}.ttf")
_PLUMP = ("fontpkg_lilita_one", "LilitaOne-{}.ttf")
_FULL = ("fontpkg_dm_serif_display", "DMSerifDisplay-{}.ttf")
_TALL = ("fontpkg_anton", "Anton-{}.ttf")
_BLOCK = ("fontpkg_archivo_black", "ArchivoBlack-{}.ttf")
FAMILIES = {
    "serif": _SOURCE_SERIF,
    "sans": _SOURCE_SANS,
    "elegant": _SPECTRAL,
    "narrow": _FIRA,
    "plump": _PLUMP,
    "full": _FULL,
    "tall": _TALL,
    "block": _BLOCK,
}

# A face may lack Greek or Cyrillic, an italic more often than an upright; then the whole line is set in the next one.
STAND_INS = {"elegant": "serif", "narrow": "sans", "serif": "sans", "sans": "serif"}
# Faces of one weight have no family to stand in for them but the nearest weight of another.
_NEAREST = {
    "plump-Regular": "sans-Black",
    "full-Regular": "serif-Bold",
    "full-Italic": "serif-SemiboldIt",
    "tall-Regular": "narrow-Black",
    "block-Regular": "sans-Black",
}
_UPRIGHT = {"It": "Regular", "SemiboldIt": "Semibold", "LightIt": "Light", "BoldIt": "Bold", "BlackIt": "Black"}
_WEIGHTS = {"SemiBold": "Semibold", "Medium": "Semibold", "ExtraBold": "Black", "Italic": "It", "MediumItalic": "It"}
#: The upright weights of each family that are shipped, the heaviest first.
_BY_WEIGHT = {
    "serif": ("Black", "Bold", "Semibold", "Regular"),
    "sans": ("Black", "Bold", "Semibold", "Regular"),
    "elegant": ("ExtraBold", "Bold", "SemiBold", "Medium", "Regular"),
    "narrow": ("Black", "ExtraBold", "Bold", "SemiBold", "Medium", "Regular"),
}


@dataclass(frozen=True)
class Box:
    """Where ink is: micrometres, y upwards."""

    left: int
    bottom: int
    right: int
    top: int

    @property
    def width(self) -> int:
        return self.right - self.left

    @property
    def height(self) -> int:
        return self.top - self.bottom

    def grown(self, by: int) -> Box:
        """The box with so much more on every side."""
        return Box(self.left - by, self.bottom - by, self.right + by, self.top + by)

    def moved(self, dx: int, dy: int) -> Box:
        return Box(self.left + dx, self.bottom + dy, self.right + dx, self.top + dy)

    def meets(self, other: Box) -> bool:
        """Whether the two share more than an edge."""
        return (
            self.left < other.right and other.left < self.right and self.bottom < other.top and other.bottom < self.top
        )

    def holds(self, other: Box) -> bool:
        return (
            self.left <= other.left
            and self.bottom <= other.bottom
            and self.right >= other.right
            and self.top >= other.top
        )


def around(boxes: Iterable[Box]) -> Box:
    """The smallest box that holds them all."""
    held = list(boxes)
    return Box(
        min(b.left for b in held), min(b.bottom for b in held), max(b.right for b in held), max(b.top for b in held)
    )


class Face:
    """One static TrueType face: outlines, advances, kerning. Sizes and results are micrometres."""

    def __init__(self, key: str, data: bytes) -> None:
        self.key = key
        self.data = data
        tables = _read(key, data)
        self.units: int = tables["head"].unitsPerEm
        self._cmap: dict[int, str] = tables.getBestCmap()
        self._advances: dict[str, tuple[int, int]] = tables["hmtx"].metrics
        # These two are decoded bit by bit while they are read, which two threads must not do at the same time.
        self._decoding = Lock()
        self._outlines = tables["glyf"]
        self._kerning = pairs_of(tables)

    def __repr__(self) -> str:
        return f"Face({self.key!r})"

    @property
    def brought(self) -> bool:
        """Whether the user brought the file."""
        return self.key.startswith(OWN)

    @cached_property
    def fingerprint(self) -> str:
        """A name for the very bytes of the file."""
        return hashlib.sha256(self.data).hexdigest()

    def covers(self, text: str) -> bool:
        """Whether every sign of the text has a glyph."""
        return not self.missing(text)

    def missing(self, text: str) -> list[str]:
        """The signs of the text that have no glyph, each once."""
        return sorted({sign for sign in text if ord(sign) not in self._cmap and sign not in " \u00a0\u00ad"})

    @lru_cache(maxsize=4096)  # noqa: B019 - faces live as long as the program
    def outline(self, sign: str) -> tuple[int, int, int, int] | None:
        """Ink of one sign in font units (left, bottom, right, top), or None for a blank."""
        name = self._cmap.get(ord(sign))
        with self._decoding:
            glyph = self._outlines[name] if name else None
        if glyph is None or glyph.numberOfContours == 0:
            return None
        return glyph.xMin, glyph.yMin, glyph.xMax, glyph.yMax

    def trace(self, sign: str, pen) -> None:
        """Draw the outline of one sign with a pen of fontTools, in font units; a blank draws nothing."""
        name = self._cmap.get(ord(sign))
        if name:
            with self._decoding:
                self._draw_glyph(name, pen)

    def _draw_glyph(self, name: str, pen) -> None:
        """A glyph, the glyphs it is put together from included."""
        from fontTools.pens.transformPen import TransformPen

        glyph = self._outlines[name]
        if not glyph.isComposite():
            glyph.draw(pen, self._outlines)
            return
        for part in glyph.components:
            part_name, matrix = part.getComponentInfo()
            self._draw_glyph(part_name, TransformPen(pen, matrix))

    def letter_width(self, sign: str) -> int:
        """How wide the ink of one letter is, in font units."""
        found = self.outline(sign)
        return found[2] - found[0] if found else 0

    @lru_cache(maxsize=4096)  # noqa: B019
    def advance(self, sign: str) -> int:
        """How far one sign moves the pen, in font units."""
        name = self._cmap.get(ord("\u0020" if sign == "\u00a0" else sign))
        return self._advances[name][0] if name else 0

    @lru_cache(maxsize=16384)  # noqa: B019
    def kern(self, left: str, right: str) -> int:
        """How much closer (negative) two neighbours stand, in font units."""
        first, second = self._cmap.get(ord(left)), self._cmap.get(ord(right))
        with self._decoding:
            return self._kerning.between(first, second) if first and second else 0

    def steps(self, text: str) -> list[int]:
        """How far each sign moves the pen, its kerning to the next one included, in font units."""
        return [
            self.advance(sign) + (self.kern(sign, text[place + 1]) if place + 1 < len(text) else 0)
            for place, sign in enumerate(text)
        ]

    def width(self, text: str, size: int, tracking: int = 0) -> int:
        """The set width; tracking stands between signs, not after the last."""
        return -(-self.span(text) * size // self.units) + tracking * max(0, len(text) - 1)

    @lru_cache(maxsize=32768)  # noqa: B019
    def span(self, text: str) -> int:
        """The set width in font units, kerning included."""
        return sum(self.steps(text))

    @lru_cache(maxsize=65536)  # noqa: B019
    def ink(self, text: str, size: int, tracking: int = 0) -> Box:
        """Where the ink of a line lies, from the start of its baseline; rounded outwards."""
        left, bottom, right, top = self._ink_units(text, tracking * self.units // size if tracking else 0)
        return Box(
            left * size // self.units,
            bottom * size // self.units,
            -(-right * size // self.units),
            -(-top * size // self.units),
        )

    @lru_cache(maxsize=65536)  # noqa: B019
    def _ink_units(self, text: str, tracking: int) -> tuple[int, int, int, int]:
        """The same in font units."""
        held, pen = [], 0
        for sign, step in zip(text, self.steps(text), strict=True):
            outline = self.outline(sign)
            if outline:
                held.append((pen + outline[0], outline[1], pen + outline[2], outline[3]))
            pen += step + tracking
        if not held:
            return 0, 0, 0, 0
        lefts, bottoms, rights, tops = zip(*held, strict=True)
        return min(lefts), min(bottoms), max(rights), max(tops)

    @lru_cache(maxsize=4096)  # noqa: B019
    def extent(self, signs: str, size: int) -> tuple[int, int]:
        """Lowest and highest ink any of the signs has; nothing where the font has none of them."""
        found = [outline for sign in signs if (outline := self.outline(sign))]
        low, high = min((o[1] for o in found), default=0), max((o[3] for o in found), default=0)
        return low * size // self.units, -(-high * size // self.units)


def _read(key: str, data: bytes):
    """The tables of a static TrueType file that may be embedded."""
    from fontTools.ttLib import TTFont, TTLibError

    try:
        tables = TTFont(BytesIO(data), lazy=True)
    except TTLibError as trouble:
        raise FontRefused(key, "it is not a font file") from trouble
    if "glyf" not in tables:
        raise FontRefused(key, "its outlines are PostScript (CFF), not TrueType")
    if "fvar" in tables:
        raise FontRefused(key, "it is a variable font, of which only the default weight would print")
    if tables["OS/2"].fsType & 0x0002:
        raise FontRefused(key, "its maker does not allow it to be embedded in documents")
    return tables


# Fonts the user brought, by their key; they live as long as the program, like the shipped ones.
_own: dict[str, Face] = {}
OWN = "own:"
_LOADING = Lock()  # threads that want the same face at the same time wait for one of them to read it


def face(key: str) -> Face:
    """A shipped face by family and style, such as ``serif-Black`` or ``narrow-Medium``.

    >>> face("sans-Bold").outline("x")[3], face("sans-Bold").units
    (496, 1000)
    """
    if key in _own:
        return _own[key]
    with _LOADING:
        return _shipped(key)


@lru_cache(maxsize=64)
def _shipped(key: str) -> Face:
    family, _, style = key.partition("-")
    package, pattern = FAMILIES[family]
    return Face(key, (files(package) / "files" / pattern.format(style)).read_bytes())


@lru_cache(maxsize=16384)
def face_for(key: str, text: str) -> Face:
    """The face of this key, or the first stand-in that has a glyph for every sign of the text.

    Raises :class:`~labelkit.errors.labels.GlyphsMissing`, which names the signs.

    >>> face_for("elegant-Medium", "Μέλι"), face_for("elegant-Medium", "Miel")
    (Face('serif-Semibold'), Face('elegant-Medium'))
    """
    if key in _own and not face(key).covers(text):
        # Whoever chose a font of their own wants to know that it lacks a sign, not find another one in its place.
        raise GlyphsMissing(text, face(key).missing(text))
    tried, wanted = set(), key
    while wanted not in tried:
        found = face(wanted)
        if found.covers(text):
            return found
        tried.add(wanted)
        family, _, style = wanted.partition("-")
        if wanted in _NEAREST:
            wanted = _NEAREST[wanted]
        elif style in _UPRIGHT:
            wanted = f"{family}-{_UPRIGHT[style]}"
        else:
            wanted = f"{STAND_INS[family]}-{_WEIGHTS.get(style, style)}"
    raise GlyphsMissing(text, face(key).missing(text))


def lighter(which: Face) -> Face:
    """The face one weight lighter in the same family; itself where there is none, or where the user brought it.

    >>> lighter(face("narrow-SemiBold")), lighter(face("sans-Regular"))
    (Face('narrow-Medium'), Face('sans-Regular'))
    """
    family, _, style = which.key.partition("-")
    weights = _BY_WEIGHT.get(family, ())
    if style not in weights[:-1]:
        return which
    return face(f"{family}-{weights[weights.index(style) + 1]}")


def screen_face(key: str, text: str) -> Face:
    """The face to measure a text for the screen with; what no face has, the screen finds elsewhere."""
    try:
        return face_for(key, text)
    except GlyphsMissing:
        return face(key)


def own_face(name: str, data: bytes) -> Face:
    """A TrueType file the user brought. Raises :class:`~labelkit.errors.labels.FontRefused`.

    Another file of the same name, of somebody else or of yesterday, gets a key of its own.
    """
    made = Face(f"{OWN}{name}", data)
    held = _own.setdefault(made.key, made)
    if held.fingerprint == made.fingerprint:
        return held
    made.key += f" ({made.fingerprint[:8]})"
    return _own.setdefault(made.key, made)
