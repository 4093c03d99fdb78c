"""A text cut into words and sentences, with every way its pieces can be read as one word.

The words form a lattice: from each place one or more steps lead onward. A hyphen, an apostrophe, a line end or spaced-out
letters leave two readings, the pieces and the whole, so that ``anti-bacterial``, ``antibac-`` at a line end and
``c u r e s`` are found, and ``cold-extracted`` still shows its ``cold``.
"""

from __future__ import annotations

import re
from dataclasses import dataclass

from labelkit.rules.wording.folding import COMBINING, INVISIBLE, readings

_WORD = re.compile(rf"(?:[^\W_]|[{COMBINING}{INVISIBLE}@$])+")
_BREAK = re.compile(r"[.!?;…•●▪◦|]|\n[ \t\r]*\n")
_HYPHEN = re.compile(r"[-\u2010-\u2015\u2212\ufe58\ufe63\uff0d_/][\s]*\Z")
_APOSTROPHE = re.compile(r"['’‘ʼ`´′＇]\Z")
_LINE_END = re.compile(r"[ \t]*\r?\n[ \t]*\Z")
_BETWEEN_LETTERS = re.compile(r"[ .·\-*]{1,2}\Z")
_MOST_PIECES = 4
_FEWEST_SPACED = 4
# A point after one of these is not the end of a sentence.
_SHORT = frozenset(
    [
        "no",
        "nr",
        "st",
        "dr",
        "mr",
        "mrs",
        "ms",
        "mt",
        "wt",
        "net",
        "oz",
        "lb",
        "lbs",
        "tbsp",
        "tsp",
        "approx",
        "vs",
        "ca",
        "co",
        "inc",
        "ltd",
        "reg",
        "dept",
        "pa",
        "penna",
        "agr",
        "ave",
        "rd",
        "vol",
        "min",
        "max",
        "bzw",
        "ca",
        "ggf",
        "inkl",
        "str",
        "etc",
        "usw",
        "art",
        "kat",
        "ok",
        "tel",
        "nto",
        "p",
        "pz",
        "ecc",
        "us",
        "usa",
        "uk",
        "eu",
    ]
)


@dataclass(frozen=True, slots=True)
class Step:
    """One reading of one or more pieces: where it leads, its folded forms, and the letters as written.

    ``broken`` means that the pieces stand on two lines without a hyphen: they are one word only if neither is one.
    """

    to: int
    forms: tuple[str, ...]
    written: str
    broken: bool = False


@dataclass(frozen=True, slots=True)
class Text:
    """A text ready to be searched.

    ``spans`` are the places of the words in the source, ``ends`` for each word the first word of the next sentence,
    ``steps`` the readings that begin at each word.
    """

    source: str
    spans: tuple[tuple[int, int], ...]
    ends: tuple[int, ...]
    steps: tuple[tuple[Step, ...], ...]

    def written(self, begin: int, end: int) -> str:
        """The words from one place to another, as written, on one line."""
        return " ".join(self.source[self.spans[begin][0] : self.spans[end - 1][1]].split())


def text_of(source: str) -> Text:
    """The words, sentences and readings of a text.

    >>> text = text_of("Anti-bacterial. Cures a cold.")
    >>> [[step.forms[0] for step in steps] for steps in text.steps]
    [['anti', 'antibacterial'], ['bacterial'], ['cures'], ['a'], ['cold']]
    >>> text.ends
    (2, 2, 5, 5, 5)
    """
    found = list(_WORD.finditer(source))
    words = [match[0] for match in found]
    spans = tuple(match.span() for match in found)
    gaps = [source[spans[n][1] : spans[n + 1][0]] for n in range(len(spans) - 1)]
    joins = [_join(words, gaps, n) for n in range(len(gaps))]
    breaks = [not joins[n] and _ends_sentence(words[n], gap) for n, gap in enumerate(gaps)]
    steps = tuple(_steps(words, joins, n) for n in range(len(words)))
    return Text(source, spans, _ends(breaks, len(words)), steps)


def _join(words: list[str], gaps: list[str], n: int) -> str:
    """How word ``n`` may be one with the next: "glued", "broken" at a line end, "spaced" letters, or not at all ("")."""
    gap = gaps[n]
    if _HYPHEN.match(gap) or _APOSTROPHE.match(gap) or gap == "":
        return "glued"
    if _LINE_END.match(gap):
        return "broken"
    if gap in (".", "·", "*") and (gap != "." or (len(words[n]) == 1 and len(words[n + 1]) == 1)):
        return "glued"
    if _BETWEEN_LETTERS.match(gap) and len(words[n]) == 1 and len(words[n + 1]) == 1:
        return "spaced"
    return ""


def _ends_sentence(word: str, gap: str) -> bool:
    if not _BREAK.search(gap):
        return False
    point = gap.lstrip(")]”\"'’").startswith(".") and not _BREAK.search(gap.replace(".", "", 1))
    short = word.casefold() in _SHORT or (len(word) == 1 and word.isalpha())
    # A point inside a number or a web address ends nothing, nor does one after a short form.
    return not (point and (short or not re.search(r"\s", gap)))


def _ends(breaks: list[bool], words: int) -> tuple[int, ...]:
    ends, end = [0] * words, words
    for n in range(words - 1, -1, -1):
        if n < len(breaks) and breaks[n]:
            end = n + 1
        ends[n] = end
    return tuple(ends)


def _steps(words: list[str], joins: list[str], n: int) -> tuple[Step, ...]:
    steps = [Step(n + 1, readings(words[n]), words[n])]
    whole, broken = words[n], False
    for last in range(n + 1, min(n + _MOST_PIECES, len(words))):
        if joins[last - 1] not in ("glued", "broken"):
            break
        broken = broken or joins[last - 1] == "broken"
        whole += words[last]
        steps.append(Step(last + 1, readings(whole), whole, broken))
    if n < len(joins) and joins[n] and len(words[n]) == 1:
        last = n
        while last < len(joins) and joins[last] and len(words[last + 1]) == 1 and last - n < 20:
            last += 1
        if last - n + 1 >= _FEWEST_SPACED:
            whole = "".join(words[n : last + 1])
            steps.append(Step(last + 1, readings(whole), whole))
    return tuple(steps)
