"""The net quantity: which lines, how large, how wide."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache

from labelkit.labels.content import Height, LabelContent, Words
from labelkit.labels.design import Type
from labelkit.labels.heights import capitals, height_of, least_size, symbol_size, symbols_apart
from labelkit.paper.fonts import Box, Face, around, face_for, lighter
from labelkit.paper.line_breaking import Line
from labelkit.paper.marks import Colour, Text

#: Over the least size, in hundredths: with the reserve of every height, letters of 1.05 times what the law asks.
GROWN = 103


@dataclass(frozen=True, slots=True)
class NetLine:
    """One line of the net quantity in runs of one size, each with its place from the start of the line."""

    runs: tuple[tuple[int, Line], ...]

    @property
    def ink(self) -> Box:
        return around(run.ink.moved(x, 0) for x, run in self.runs)

    def marks(self, x: int, y: int, colour: Colour) -> list[Text]:
        """The line with the start of its baseline there."""
        return [
            Text(run.face, run.size, run.text, x + along, y, colour, run.tracking, "net") for along, run in self.runs
        ]


@dataclass(frozen=True, slots=True)
class Net:
    """The net quantity set in lines; ``letter`` is the height its clear space is reckoned from."""

    lines: tuple[NetLine, ...]
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
    """Settings of the net quantity, on one line first, none under its required height; ``ideal`` is its size where the
    law asks for less."""
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
    size = max(least * GROWN // 100, ideal)
    whole, *split = _splits(texts)
    split.sort(key=lambda lines: (len(lines), max(face.span(line) for line in lines)))
    for lines in (whole, *split):
        yield _set(lines, face, size, held.tracking, text, height)
    # As small as it may be, with nothing between the letters: where room is shortest.
    for lines in (whole, *split):
        yield _set(lines, face, least, 0, text, height)


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


def _set(texts: tuple[str, ...], face: Face, size: int, tracking: int, whole: str, height: Height | None) -> Net:
    # Larger than the capitals beside them, the symbols are one weight lighter, so that their strokes match.
    small = lighter(face)
    symbols = max(size, symbol_size(small, whole, height))
    lines = tuple(NetLine(tuple(_runs(text, face, size, (small, symbols), size * tracking // 1000))) for text in texts)
    letter = height_of(face, whole, size, "letters")
    inks = [line.ink for line in lines]
    high = sum(ink.top - min(0, ink.bottom) for ink in inks) + (len(lines) - 1) * letter * 45 // 100
    return Net(lines, max(ink.width for ink in inks), high, letter, face.letter_width("N") * size // face.units)


def _runs(text: str, face: Face, size: int, symbols: tuple[Face, int], tracking: int) -> Iterator[tuple[int, Line]]:
    """A line in runs: small letters that are symbols of units in a face and size of their own, where they need one."""
    if symbols[1] == size:
        yield 0, Line(face, size, text, tracking)
        return
    x = 0
    for run, is_symbol in symbols_apart(text):
        # The blank before a symbol stays in the run, so that whoever copies the line gets it.
        line = Line(*(symbols if is_symbol else (face, size)), run.lstrip(), tracking)
        x += (len(run) - len(run.lstrip())) * (face.width(" ", size) + tracking)
        if line.text:
            yield x, line
            x += line.width + tracking
