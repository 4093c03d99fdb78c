"""The lot in what a scanner reads: a bare code, a link with the lot in it, or GS1 element strings.

Sources: GS1 Digital Link: URI Syntax 1.2 (``/10/`` is the lot) and the GS1 General Specifications (application
identifiers 01, 10, 11, 13, 15, 17 and their lengths; FNC1 arrives as the sign 29), both as labelkit.barcodes writes them.
"""

from __future__ import annotations

import re
from urllib.parse import unquote, urlsplit

from labelkit.errors.lots import LotCodeWrong
from labelkit.lots.code import read_lot_code

_AIM = re.compile(r"^\][A-Za-z][0-9A-Za-z]")  # the symbology a scanner may put in front (ISO/IEC 15424)
_BRACKETED = re.compile(r"[(\[]10[)\]]([^(\[\x1d]{1,20})")
_STRING = re.compile(r"^\x1d?(?:01\d{14}|1[1357]\d{6})*10([^\x1d]{1,20})")
_LINKED = re.compile(r"/10/([^/?#]{1,60})")


def lot_in(text: str) -> str:
    """The lot code in what was scanned; what holds none comes back as it is.

    >>> lot_in("https://id.gs1.org/01/09521234543213/10/L26195AXR"), lot_in("https://example.com/l/L26195AXR?from=jar")
    ('L26195AXR', 'L26195AXR')
    >>> lot_in("(01)09521234543213(10)L26195AXR"), lot_in("]d2010952123454321310L26195AXR"), lot_in("B1")
    ('L26195AXR', 'L26195AXR', 'B1')
    """
    bare = _AIM.sub("", text.strip())
    if bare.lower().startswith(("http://", "https://")):
        return _of_link(bare) or text
    found = _BRACKETED.search(bare) or (_STRING.match(bare) if bare[:3].lstrip("\x1d")[:2] in ("01", "10") else None)
    return found[1].strip() if found else text


def _of_link(link: str) -> str:
    if found := _LINKED.search(link):
        return unquote(found[1])
    try:
        parts = urlsplit(link)
    except ValueError:
        return ""
    words = re.split(r"[/=&#?]", f"{parts.path}?{parts.query}#{parts.fragment}")
    return next((code for word in reversed(words) if (code := _code(unquote(word)))), "")


def _code(word: str) -> str:
    try:
        return read_lot_code(word).code
    except LotCodeWrong:
        return ""
