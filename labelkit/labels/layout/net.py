"""The net quantity: which lines, how large, how wide."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache

from labelkit.labels.content import Height, LabelContent, Words
from labelkit.labels.design import Type
from labelkit.labels.heights import capitals, height_of, least_size
from labelkit.paper.fonts import Face, face_for
from labelkit.paper.line_breaking import Line

GROWTHS = (1.6, 1.4, 1.25, 1.12, 1.0)


@dataclass(frozen=True, slots=True)
class Net:
    """The net quantity set in lines; ``letter`` is the height its clear space is reckoned from."""

    lines: tuple[Line, ...]
    wide: int
    high: int
    letter: int
    n_width: int

    def baselines(self, bottom: int) -> list[int]:
        """Baselines from the first line down, when the ink of the block begins at ``bottom``."""
        base = bottom - min(0, self.lines[-1].ink.bottom)
        found = [base]
        for upper, lower in zip(self.lines[-2::-1], self.lines[:0:-1], strict=True):
            base += lower.ink.top - min(0, upper.ink.bottom) + self.letter * 45 // 100
            found.append(base)
        return found[::-1]


def nets(content: LabelContent, held: Type, ideal: int) -> tuple[Net, ...]:
    """Settings of the net quantity, the largest and plainest first, none under its required height."""
    return _nets(content.of("net"), held, ideal)


@lru_cache(maxsize=256)
def _nets(words: Words, held: Type, ideal: int) -> tuple[Net, ...]:
    return tuple(_forms(words, held, ideal))


def _forms(words: Words, held: Type, ideal: int) -> Iterator[Net]:
    for form in (words.all, *((one,) for one in words.instead)):
        yield from _settings(tuple(map(capitals, form)) if held.capitals else form, words.height, held, ideal)


def _settings(texts: tuple[str, ...], height: Height | None, held: Type, ideal: int) -> Iterator[Net]:
    text = " ".join(texts)
    face = face_for(held.face, text)
    least = least_size(face, text, height, 2200)
    sizes = [int(least * growth) for growth in GROWTHS if least * growth <= ideal] or [least]
    whole, *split = _splits(texts)
    split.sort(key=lambda lines: (len(lines), max(face.span(line) for line in lines)))
    for size in sizes:
        yield _set(whole, face, size, held.tracking, text)
    for lines in split:
        for size in sizes:
            yield _set(lines, face, size, held.tracking, text)
    # As small as it may be, with nothing between the letters: where room is shortest.
    for lines in (whole, *split):
        yield _set(lines, face, least, 0, text)


def _splits(texts: tuple[str, ...]) -> Iterator[tuple[str, ...]]:
    """Ways to lay the statement in lines: whole, the metric part below, or the parenthesis below as well."""
    if len(texts) > 1:
        yield texts
        return
    text = texts[0]
    yield (text,)
    metric = re.search(r"\s[(]?\d[\d.,]*\s?(?:kg|g)[)]?$", text)
    if metric:
        yield (text[: metric.start()], metric.group().strip())
    bracket = text.find(" (")
    if bracket > 0 and metric and bracket < metric.start():
        yield (text[:bracket], text[bracket + 1 :])
        yield (text[:bracket], text[bracket + 1 : metric.start()], metric.group().strip())


def _set(texts: tuple[str, ...], face: Face, size: int, tracking: int, whole: str) -> Net:
    lines = tuple(Line(face, size, text, size * tracking // 1000) for text in texts)
    letter = height_of(face, whole, size, "letters")
    inks = [line.ink for line in lines]
    high = sum(ink.top - min(0, ink.bottom) for ink in inks) + (len(lines) - 1) * letter * 45 // 100
    return Net(lines, max(ink.width for ink in inks), high, letter, face.letter_width("N") * size // face.units)
