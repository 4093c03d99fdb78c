"""Fitting words into room: line breaks, hyphens, sizes. Pure reckoning in micrometres, nothing is drawn.

Names are broken into the lines that come out most even; small print is filled line by line. A word breaks only where
its language's hyphenation allows (pyphen, the dictionaries of LibreOffice) or where a hyphen already stands.
"""

from __future__ import annotations

import itertools
import re
from collections.abc import Callable
from dataclasses import dataclass
from functools import lru_cache

from labelkit.paper.fonts import Box, Face
from labelkit.paper.kept_together import kept_together

SOFT = "\u00ad"
DOT = "·"
#: How much longer, in hundredths, a line may rather be than end on a small word. Our own eye, no source.
HANGING = 18
Room = Callable[[int, int], "tuple[int, int] | None"]


@dataclass(frozen=True, slots=True)
class Line:
    """One set line, not yet placed."""

    face: Face
    size: int
    text: str
    tracking: int = 0

    @property
    def width(self) -> int:
        return self.face.width(self.text, self.size, self.tracking)

    @property
    def ink(self) -> Box:
        return self.face.ink(self.text, self.size, self.tracking)


@lru_cache(maxsize=4096)
def even_lines(text: str, face: Face, count: int, lang: str = "en") -> tuple[str, ...] | None:
    """The text in so many lines, the longest as short as can be; None when it has not so many words.

    A line had rather not end on a small word, nor consist of one.

    >>> from labelkit.paper.fonts import face
    >>> even_lines("Wildflower and Linden Honey", face("serif-Bold"), 2)
    ('Wildflower', 'and Linden Honey')
    >>> even_lines("Miel de trèfle", face("serif-Bold"), 2)
    ('Miel', 'de trèfle')
    """
    words = kept_together(text)
    if len(words) < count or len(words) > 24:
        return None if count > 1 else (text.replace(SOFT, ""),)
    best: tuple[int, tuple[str, ...]] | None = None
    for cuts in itertools.combinations(range(1, len(words)), count - 1):
        ends = (0, *cuts, len(words))
        lines = tuple(" ".join(words[a:b]).replace(SOFT, "") for a, b in itertools.pairwise(ends))
        longest = max(face.span(line) for line in lines) * (100 + HANGING * sum(map(_hangs, lines[:-1]))) // 100
        if best is None or longest < best[0]:
            best = (longest, lines)
    return best[1] if best else None


def _hangs(line: str) -> bool:
    """Whether a line ends on a small word that belongs to the next one: and, of, de, und …"""
    last = line.rsplit(" ", 1)[-1]
    return len(last) <= 3 and last.isalpha() and last.islower()


def broken(text: str, lang: str) -> tuple[str, ...]:
    """A text of one long word in two parts at the hyphen nearest its middle; the text itself where there is none.

    >>> broken("Buckwheat", "en"), broken("Lindenblüten\\u00adhonig", "de")
    (('Buck-', 'wheat'), ('Lindenblüten-', 'honig'))
    """
    points = hyphen_points(text, lang)
    if not points:
        return (text.replace(SOFT, ""),)
    middle = min(points, key=lambda point: abs(2 * point - len(text)))
    head, tail = text[:middle].rstrip(SOFT), text[middle:].lstrip(SOFT)
    return (head if head.endswith(("-", "‐")) else head + "-", tail)


@lru_cache(maxsize=512)
def hyphen_points(word: str, lang: str) -> tuple[int, ...]:
    """Where a word may break: at its own or a soft hyphen, else where its language allows; never near its ends, and never
    where words are kept together or figures stand."""
    if " " in word:
        return ()
    hyphens = re.finditer(rf"(?<=[^\W\d])[-‐](?=[^\W\d])|{SOFT}", word)
    own = tuple(found.end() for found in hyphens if found.end() < len(word))
    if own:
        return own
    import pyphen

    known = pyphen.language_fallback(lang.replace("-", "_"))
    if known is None:
        return ()
    return tuple(point for point in _dictionary(known).positions(word) if 3 <= point <= len(word) - 3)


@lru_cache(maxsize=8)
def _dictionary(lang: str):
    import pyphen

    return pyphen.Pyphen(lang=lang)


def filled(
    text: str, face: Face, size: int, top: int, leading: int, room: Room, lang: str
) -> list[tuple[Line, int, int, int]] | None:
    """Small print, line by line downwards from ``top``: (line, left limit, right limit, baseline).

    ``room`` tells the limits between two heights; None when the words do not fit the room there is.
    """
    low, high = face.extent("dpgÉH", size)
    set_lines, words = [], list(kept_together(text))
    baseline = top - high
    while words:
        limits = room(baseline + low, baseline + high)
        if limits is None:
            return None
        line, words = _fill_line(words, face, size, limits[1] - limits[0], lang)
        if not line:
            return None
        line, words = _at_dot(line, words)
        set_lines.append((Line(face, size, line), *limits, baseline))
        baseline -= leading
    return set_lines


Set = tuple[Line, int, int, int]


def evened(text: str, lines: list[Set]) -> list[Set]:
    """The same number of lines, evened out so that no word is left alone on the last one."""
    if not 2 <= len(lines) <= 4 or DOT in text or any(line.text.endswith("-") for line, *_ in lines):
        return lines
    face, size = lines[0][0].face, lines[0][0].size
    even = even_lines(text, face, len(lines))
    if even is None or any(
        face.width(one, size) > right - left for one, (_, left, right, _) in zip(even, lines, strict=True)
    ):
        return lines
    return [(Line(face, size, one), left, right, base) for one, (_, left, right, base) in zip(even, lines, strict=True)]


def _at_dot(line: str, rest: list[str]) -> tuple[str, list[str]]:
    """Break at a centred dot rather than within what stands between two dots; the dot itself goes.

    >>> _at_dot("4 Pretend Lane · Pretendton, VA", ["00000"])
    ('4 Pretend Lane', ['Pretendton, VA', '00000'])
    """
    if rest and rest[0] == DOT:
        return line, rest[1:]
    if rest and line.endswith(f" {DOT}"):
        return line[: -len(DOT) - 1], rest
    if rest and f" {DOT} " in line:
        kept, _, cut = line.rpartition(f" {DOT} ")
        return kept, [*kept_together(cut), *rest]
    return line, rest


def _fill_line(words: list[str], face: Face, size: int, wide: int, lang: str) -> tuple[str, list[str]]:
    """As many words as fit; the last may be broken by a hyphen if it would not fit a line of its own."""
    line = ""
    for place, word in enumerate(words):
        longer = f"{line} {word.replace(SOFT, '')}".strip()
        if face.width(longer, size) <= wide:
            line = longer
            continue
        if not line:
            return _break_word(word, words[place + 1 :], face, size, wide, lang)
        return line, words[place:]
    return line, []


def _break_word(word, rest, face, size, wide, lang) -> tuple[str, list[str]]:
    for point in reversed(hyphen_points(word, lang)):
        head = word[:point].rstrip(SOFT)
        head = head if head.endswith(("-", "‐")) else head + "-"
        if face.width(head, size) <= wide:
            return head, [word[point:].lstrip(SOFT), *rest]
    return "", [word, *rest]
