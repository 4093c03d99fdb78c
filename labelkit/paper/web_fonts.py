"""Typefaces for a browser: the letters of the page's languages alone, as WOFF2, made from the faces labels are set with.

Made when first asked for and kept as long as the program runs. The four faces of the page are 64 kB of Latin letters and
29 kB of Cyrillic ones; whole they are 1.26 MB. WOFF2: W3C Recommendation, WOFF File Format 2.0, by fontTools and Brotli.
"""

from __future__ import annotations

from functools import lru_cache
from io import BytesIO

from labelkit.paper.fonts import face

_SIGNS = "–—‑‘’‚“”„†•…‹› €←↑→↓−×℮≤≥"
#: The letters of each part, as ranges of code points; a browser asks for a part only where a page has letters of it.
PARTS = {
    "latin": (*range(0x20, 0x7F), *range(0xA0, 0x180), *map(ord, _SIGNS)),
    "cyrillic": (*range(0x400, 0x460), 0x490, 0x491, 0x2116),
}
_FEATURES = ["ccmp", "kern", "liga", "lnum", "locl", "mark", "tnum"]


@lru_cache(maxsize=16)
def web_font(key: str, part: str) -> bytes:
    """One part of a face.

    >>> web_font("sans-Regular", "latin")[:4]
    b'wOF2'
    """
    from fontTools.subset import Options, Subsetter
    from fontTools.ttLib import TTFont

    font = TTFont(BytesIO(face(key).data), lazy=True)
    cutter = Subsetter(Options(layout_features=_FEATURES, hinting=False, notdef_outline=True))
    cutter.populate(unicodes=PARTS[part])
    cutter.subset(font)
    font.flavor = "woff2"
    out = BytesIO()
    font.save(out)
    return out.getvalue()
