"""Words that stay on one line: a date, a number with its unit, per cent with its country, a postcode with its town.

A line that ends on "30." or begins with "g" is read wrongly. What belongs together is told by the form of the words
alone, so that it holds in every language labelkit prints. Typographic custom (non-breaking spaces of the ISO 31-0 and
CLDR kind); our own list, no single source.
"""

from __future__ import annotations

import re
from functools import lru_cache

#: Longer than this nothing is held together: it would find room on no label.
LONGEST = 30
_DOT = "·"
_YEAR = re.compile(r"[(]?(?:19|20)\d\d[.,;)]?")
_NUMBER = re.compile(r"[(~≈]?\d[\d./-]*(?:,\d+)?")
_PERCENT = re.compile(r"[(]?(?:\d[\d.,]*)?\s?%")
#: "of" between day, month and year in Spanish, Portuguese, Catalan; "г." and "р." behind a Cyrillic year.
_OF = {"de", "del", "d’", "do"}
_YEAR_WORD = {"г.", "р.", "р", "г", "roku", "r."}
_CODE = re.compile(r"[A-Z]{2,3}[.,;)]?")
_POSTCODE = re.compile(
    r"(?:[A-Z]{1,2}-?)?\d{4,6}(?:-\d{3,4})?|\d{2,3}-\d{3}|[A-Z]{1,2}\d[A-Z\d]?|\d[A-Z]{2}|[A-Z]\d[A-Z]|\d[A-Z]\d"
)


@lru_cache(maxsize=8192)
def kept_together(text: str) -> tuple[str, ...]:
    """The text in the parts a line may break between, in order; each with single blanks inside.

    >>> kept_together("Mindestens haltbar bis 30. Juni 2028")
    ('Mindestens', 'haltbar', 'bis', '30. Juni 2028')
    >>> kept_together("Net Wt 16 oz (1 lb) 453 g")
    ('Net', 'Wt', '16 oz', '(1 lb)', '453 g')
    >>> kept_together("New Zealand 42 %, Hungary 36 %")
    ('New Zealand 42 %,', 'Hungary 36 %')
    >>> kept_together("12 Sample Lane · Pretend Hollow, VA 00000")
    ('12 Sample', 'Lane', '·', 'Pretend Hollow, VA 00000')
    """
    segments = text.split(_DOT)
    parts: list[str] = []
    for place, segment in enumerate(segments):
        parts += [_DOT] if place else []
        # Of an address the line with the postcode is one thing.
        whole = len(segments) > 1 and any(map(_POSTCODE.fullmatch, segment.split())) and len(segment.strip()) <= LONGEST
        parts += [" ".join(segment.split())] if whole else _parts(segment) if segment.strip() else []
    return tuple(parts)


def _parts(text: str) -> list[str]:
    """Of a list with percentages each country with its own; else word by word."""
    items = text.split(", ")
    if len(items) > 1 and all(_PERCENT.search(item) and len(item) < LONGEST for item in items):
        return [*(f"{item.strip()}," for item in items[:-1]), items[-1].strip()]
    words = text.split()
    parts: list[str] = []
    for place, word in enumerate(words):
        joined = f"{parts[-1]} {word}" if place else word
        if place and len(joined) <= LONGEST and _belongs(words[:place], word, words[place + 1 :]):
            parts[-1] = joined
        else:
            parts.append(word)
    return parts


def _belongs(held: list[str], word: str, after: list[str]) -> bool:
    """Whether a word stays with the one before it."""
    before, following = held[-1], after[0] if after else ""
    if _YEAR.fullmatch(word):
        # 30, 2028 · Ende 2028 · de 2028
        return True
    if before.endswith((";", ",")):
        return bool(_CODE.fullmatch(word))
    if _YEAR.fullmatch(before):
        return word in _YEAR_WORD or bool(_CODE.fullmatch(word) and _NUMBER.fullmatch(following))
    if _NUMBER.fullmatch(before):
        # A number and what it counts: 16 oz, 30. June, 12 months, 12345 Nirgendhain.
        return True
    if before in _OF or word in _OF:
        return bool(_YEAR.fullmatch(following)) or any(map(_NUMBER.fullmatch, held[-2:-1]))
    if _NUMBER.fullmatch(word.rstrip(",")) and (not after or _PERCENT.match(following) or _YEAR.fullmatch(following)):
        # Anger 3 · Spain 60 % · June 30, 2028
        return True
    if _NUMBER.fullmatch(word) and _CODE.fullmatch(before) and any(map(_YEAR.fullmatch, held[-2:-1])):
        # 2028 JN 30
        return True
    return bool(_PERCENT.match(word) and before[:1].isupper()) or _ends_a_place(before, word)


def _ends_a_place(before: str, word: str) -> bool:
    """A country or region code, or a postcode, behind the name of a place."""
    if _CODE.fullmatch(word) and not before.isupper():
        return True
    return bool(_POSTCODE.fullmatch(word.rstrip(".,;)"))) and before[:1].isupper()
