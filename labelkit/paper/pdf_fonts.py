"""The faces as reportlab knows them."""

from __future__ import annotations

from io import BytesIO

from labelkit.paper.fonts import Face

_names: dict[str, str] = {}


def registered(which: Face):
    """The reportlab font of a face.

    reportlab files an embedded font under its PostScript name and draws the first for the second when two files share
    one; so a name that is taken by other bytes gets the first digits of the file's fingerprint added.
    """
    from reportlab.pdfbase import pdfmetrics
    from reportlab.pdfbase.ttfonts import TTFont

    mark = which.fingerprint
    registered = f"labelkit-{mark[:16]}"
    try:
        return pdfmetrics.getFont(registered)
    except KeyError:
        font = TTFont(registered, BytesIO(which.data))
        name = font.face.name.decode() if isinstance(font.face.name, bytes) else font.face.name
        if _names.setdefault(name, mark) != mark:
            font.face.name = (f"{name}-{mark[:8]}").encode()
        pdfmetrics.registerFont(font)
        return font
