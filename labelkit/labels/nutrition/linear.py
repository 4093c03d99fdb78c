"""The linear display for small packages that take no table (21 CFR 101.9(j)(13)(ii)(A)(2)): one text that runs on."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise

from labelkit.labels.nutrition.pen import BLACK_FACE, BOLD, REGULAR, Laid, Pen, Sizes, boxed
from labelkit.labels.nutrition.words import Line, Said


@dataclass(frozen=True, slots=True)
class Word:
    """One word in its face and size; ``close`` keeps it beside the word before."""

    text: str
    style: str
    size: int
    role: str
    close: bool = False


def lay(said: Said, sizes: Sizes, family: str, wide: int) -> Laid:
    """Lay the panel out at this width, or at that of its longest word where that is more."""
    edge = sizes.box + sizes.margin
    pen = Pen(family, sizes, edge, edge, -edge)
    groups = _groups(list(words(said, sizes)))
    longest = max(_wide(pen, group) for group in groups)
    pen.right = edge + max(wide - 2 * edge, longest)
    for line in _filled(pen, groups):
        _set(pen, line)
    pen.y -= sizes.between_others
    pen.notes(said.notes)
    return boxed(pen.marks, pen.right + edge, edge - pen.y, sizes)


def words(said: Said, sizes: Sizes) -> Iterator[Word]:
    """All words in order; what the law sets in bold is bold, and nothing else."""
    yield from _each(
        said.heading, BLACK_FACE, max(sizes.calories, sizes.servings, sizes.serving, sizes.nutrients), "facts_heading"
    )
    yield from _each(f"{said.servings},", REGULAR, sizes.servings, "facts_servings")
    yield from _each(f"{said.serving_label}: {said.serving},", BOLD, sizes.serving, "facts_serving")
    yield from _each(f"{said.amount_per_serving}:", BOLD, sizes.nutrients, "facts_nutrient")
    yield from _each(said.calories, BLACK_FACE, sizes.calories, "facts_calories")
    yield Word(said.number, BLACK_FACE, sizes.number, "facts_number", close=True)
    yield Word(",", REGULAR, sizes.nutrients, "facts_nutrient", close=True)
    lines = (*said.lines, *said.vitamins)
    for line in lines:
        last = line is lines[-1]
        yield from _nutrient(line, sizes.nutrients, "." if last else ",")
    yield from _each(said.none_of, REGULAR, sizes.nutrients, "facts_nutrient")


def _nutrient(line: Line, size: int, end: str) -> Iterator[Word]:
    """A nutrient whose percentage stands in brackets; an inset line that says "includes" is named in full.

    Where a table may leave the line of added sugars blank, a running text would hang its percentage on the sugars
    before it, so here it is named.
    """
    role = "facts_nutrient"
    yield from _each(line.name or line.whole_name, BOLD if line.strong else REGULAR, size, role)
    pieces = [line.amount] if line.amount else []
    pieces += [f"({line.percent}", "DV)"] if line.percent else []
    pieces[-1] += end
    # An amount stays beside its name and a bracket in one piece; between the two a line may end.
    yield from (Word(piece, REGULAR, size, role, close=not piece.startswith("(")) for piece in pieces)


def _each(text: str, style: str, size: int, role: str) -> Iterator[Word]:
    yield from (Word(part, style, size, role) for part in text.split())


def _groups(held: list[Word]) -> list[list[Word]]:
    """Words that must not be parted by the end of a line."""
    groups: list[list[Word]] = []
    for word in held:
        if word.close and groups:
            groups[-1].append(word)
        else:
            groups.append([word])
    return groups


def _space(pen: Pen, before: Word, word: Word) -> int:
    """The blank between two words: that of the smaller one; none before a comma."""
    return 0 if word.text == "," else min(pen.wide(" ", REGULAR, one.size) for one in (before, word))


def _wide(pen: Pen, group: list[Word]) -> int:
    total = sum(pen.wide(word.text, word.style, word.size) for word in group)
    return total + sum(_space(pen, one, other) for one, other in pairwise(group))


def _filled(pen: Pen, groups: list[list[Word]]) -> Iterator[list[Word]]:
    line: list[Word] = []
    for group in groups:
        if line and _wide(pen, [*line, *group]) > pen.width:
            yield line
            line = []
        line = [*line, *group]
    if line:
        yield line


def _set(pen: Pen, line: list[Word]) -> None:
    largest = max(word.size for word in line)
    baseline = pen.body(largest)
    x = pen.left
    for place, word in enumerate(line):
        x += _space(pen, line[place - 1], word) if place else 0
        x = pen.put(x, baseline, word.text, word.style, word.size, word.role)
    pen.y -= pen.sizes.between_others
