"""A file of boxes for the words of a label on the maker's artwork, one [[box]] for each."""

from __future__ import annotations

from typing import Any

from labelkit.errors import LabelkitError
from labelkit.errors.labels import WordBoxUnfit
from labelkit.labels.backdrop.boxes import SAYS
from labelkit.labels.backdrop.picture import WordBox
from labelkit.labels.design import colour_of
from labelkit.measures import Length
from labelkit.measures.toml import read_toml

PLACE, LOOK = ("left", "top", "width", "height"), ("ground", "ink", "align")
MOST = 20


def read_word_boxes(text: str, file: str, locale: str) -> dict[str, tuple[WordBox, ...]]:
    """The boxes of each kind of label (``front`` unless a box says another).

    Lengths are text such as "60 mm"; ``left`` and ``top`` count from the edges of the label. Raises
    :class:`~labelkit.errors.labels.WordBoxUnfit`.

    >>> text = '[[box]]\\nwords = ["name"]\\nleft = "4 mm"\\ntop = "3 mm"\\nwidth = "60 mm"\\nheight = "20 mm"'
    >>> read_word_boxes(text, "boxes.toml", "en_US")["front"][0].wide
    60000
    """
    try:
        held = read_toml(text)
    except ValueError as trouble:
        raise WordBoxUnfit(file, f"it cannot be read ({trouble})") from trouble
    boxes = held.get("box")
    if set(held) != {"box"} or not isinstance(boxes, list) or not 0 < len(boxes) <= MOST:
        raise WordBoxUnfit(
            file, f"it holds {', '.join(sorted(held)) or 'nothing'}, and 1 to {MOST} [[box]] are asked for"
        )
    found: dict[str, tuple[WordBox, ...]] = {}
    for number, entry in enumerate(boxes, start=1):
        where = f"{file}, box {number}"
        if not isinstance(entry, dict):
            raise WordBoxUnfit(where, "it is no table")
        kind = str(entry.get("kind", "front"))
        found[kind] = (*found.get(kind, ()), _box(entry, where, locale))
    return found


def _box(entry: dict[str, Any], where: str, locale: str) -> WordBox:
    odd = sorted(set(entry) - {"kind", "words", *PLACE, *LOOK}) + [key for key in ("words", *PLACE) if key not in entry]
    if odd:
        raise WordBoxUnfit(where, f"unknown or missing: {', '.join(odd)}")
    words = entry["words"]
    if not isinstance(words, list) or not words or any(word not in SAYS for word in words):
        raise WordBoxUnfit(where, f"words are a list out of {', '.join(SAYS)}")
    align = entry.get("align", "")
    if align not in ("", "left", "centre"):
        raise WordBoxUnfit(where, f"“{align}” is neither left nor centre")
    left, top, wide, high = (_length(entry[key], where, key, locale) for key in PLACE)
    ground, ink = (_colour(entry[key], where) if key in entry else None for key in ("ground", "ink"))
    return WordBox(tuple(words), left, top, wide, high, ground, ink, align)


def _length(text: Any, where: str, key: str, locale: str) -> int:
    try:
        return Length.read(str(text), locale).um
    except LabelkitError as trouble:
        raise WordBoxUnfit(where, f"{key}: {trouble.what.rstrip('.')}") from trouble


def _colour(text: Any, where: str) -> tuple[int, int, int]:
    try:
        return colour_of(str(text))
    except ValueError:
        raise WordBoxUnfit(where, f"“{text}” is not a colour like #7A4A12") from None
