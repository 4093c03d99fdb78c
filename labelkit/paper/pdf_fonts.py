"""The faces as reportlab knows them: fonts of its own for each file that is being drawn.

A reportlab font holds the subset of the file it is drawn into and reads its tables through one moving pointer, so it
must never serve two files at once. A set of fonts is lent to one file and given back with it; there are as many sets as
files were ever drawn at the same time.
"""

from __future__ import annotations

import itertools
import weakref
from copy import copy
from functools import lru_cache
from io import BytesIO

from labelkit.paper.fonts import Face

_spare: list[dict] = []  # appending to a list and popping off it are safe between threads
_serial = itertools.count()


class FileFonts:
    """The fonts of one PDF file, from its first letter to its last byte."""

    def __init__(self) -> None:
        try:
            self._held = _spare.pop()
        except IndexError:
            self._held = {}
        self._give_back = weakref.finalize(self, _spare.append, self._held)

    def font(self, face: Face):
        """The reportlab font of a face.

        The PostScript name of a font the user brought gets the first digits of its fingerprint: reportlab files embedded
        fonts by that name and draws the first for the second when two share one.
        """
        # A font the user brought may be one of ours, and is filed under another name all the same.
        key = face.fingerprint, face.brought
        if key not in self._held:
            self._held[key] = _registered(face)
        return self._held[key]

    def name(self, face: Face) -> str:
        """The name of that font, for those parts of reportlab that take names."""
        return self.font(face).fontName

    def close(self) -> None:
        """The file is written: the next one may have the fonts."""
        self._give_back()


@lru_cache(maxsize=64)
def _parsed(face: Face):
    """A face as reportlab reads it: tables nobody changes, and a pointer into the file that everybody moves."""
    from reportlab.pdfbase.ttfonts import TTFont

    return TTFont("labelkit", BytesIO(face.data))


def _registered(face: Face):
    from reportlab.pdfbase import pdfmetrics

    font = copy(_parsed(face))
    # What is not copied is shared: only the tables, of which eight copies would keep Python's collector busy.
    font.face, font.state, font.fontName = copy(font.face), weakref.WeakKeyDictionary(), f"labelkit-{next(_serial)}"
    printed = font.face.name if isinstance(font.face.name, bytes) else font.face.name.encode()
    # Registering, reportlab takes the first font of a PostScript name for all others; so it is shown none of that name.
    font.face.name = font.fontName
    pdfmetrics.registerFont(font)
    font.face.name = printed + (f"-{face.fingerprint[:8]}".encode() if face.brought else b"")
    return font
