"""The tabular displays (21 CFR 101.9(d)(11)(iii), (e)(6)(ii) and (j)(13)(ii)(A)(1)): what it is on the left, two columns
of nutrients beside it, vitamins below those, the footnotes in a column on the right or across the foot."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from labelkit.labels.nutrition.pen import BLACK_FACE, BOLD, REGULAR, Laid, Pen, Sizes, boxed
from labelkit.labels.nutrition.rows import Columns, columns, least_width, set_lines
from labelkit.labels.nutrition.words import Line, Said
from labelkit.paper.fonts import Box
from labelkit.paper.line_breaking import even_lines
from labelkit.paper.marks import BLACK, Shape, rectangle

DOT = "•"


@dataclass(frozen=True)
class _Plan:
    """Widths of the columns; ``foot`` is 0 where the footnotes run across below."""

    identity: int
    left: int
    right: int
    foot: int
    held: tuple[Columns | None, Columns | None]
    gap: int

    @property
    def wide(self) -> int:
        return self.identity + self.left + self.right + self.foot + self.gap * (3 if self.foot else 2)


def lay(said: Said, sizes: Sizes, family: str, wide: int, *, foot_beside: bool = False) -> Laid:
    """Lay the panel out at this width, or at the least width it can be set in where that is more."""
    edge = sizes.box + sizes.margin
    pen = Pen(family, sizes, edge, edge, -edge)
    parts = halves(said.lines)
    plan = _planned(pen, said, parts, wide - 2 * edge, foot_beside)
    pen.right = edge + plan.wide
    first = pen.column(edge, edge + plan.identity)
    _identity(first, said)
    x, lowest = edge + plan.identity + plan.gap, first.y
    middle = pen.column(x, x + plan.left + plan.gap + plan.right)
    vitamins = halves(said.vitamins) if said.dual else ((), ())
    for part, more, width, held in zip(parts, vitamins, (plan.left, plan.right), plan.held, strict=True):
        column = pen.column(x, x + width)
        _nutrients(column, said, part, more, held)
        middle.y = min(middle.y, column.y)
        x += width + plan.gap
    middle.rule(sizes.medium)
    _below(middle, said)
    lowest = min(lowest, middle.y)
    if plan.foot:
        beside = pen.column(x, x + plan.foot)
        beside.notes(said.notes)
        lowest = min(lowest, beside.y)
        _upright(pen, x - plan.gap // 2, -edge, lowest)
    pen.y = lowest
    if not plan.foot:
        pen.y -= sizes.between_others
        pen.rule(sizes.hair)
        pen.y -= sizes.between_others
        pen.notes(said.notes)
    return boxed(pen.marks, pen.right + edge, edge - pen.y, sizes)


def halves(lines: Sequence[Line]) -> tuple[tuple[Line, ...], tuple[Line, ...]]:
    """Two columns as even as can be; what is set in stays under what it is part of."""
    cuts = [place for place, line in enumerate(lines) if line.level == 0 and place] or [len(lines)]
    cut = min(cuts, key=lambda place: max(place, len(lines) - place))
    return tuple(lines[:cut]), tuple(lines[cut:])


def _planned(pen: Pen, said: Said, parts, wide: int, foot_beside: bool) -> _Plan:
    sizes = pen.sizes
    gap = sizes.nutrients
    vitamins = halves(said.vitamins) if said.dual else ((), ())
    heads = [(said.per_serving, sizes.notes), (said.per_container, sizes.notes), (said.short_percent, sizes.notes)]
    first, second = (
        columns(pen, (*part, *more), heads) if said.dual else None for part, more in zip(parts, vitamins, strict=True)
    )
    held = first, second
    head = pen.wide(said.amount, BOLD, sizes.notes) + gap + pen.wide(said.percent, BOLD, sizes.notes)
    left, right = (
        max(one.least if one else least_width(pen, part), head) for one, part in zip(held, parts, strict=True)
    )
    identity = _identity_width(pen, said)
    foot = sizes.notes * 9 if foot_beside else 0
    spare = max(0, wide - _Plan(identity, left, right, foot, held, gap).wide)
    # Half of what is left over goes to the footnotes, the rest in even parts to the columns of nutrients.
    share = spare // 4 if foot else spare * 2 // 5
    return _Plan(
        identity + (0 if foot else spare - 2 * share),
        left + share,
        right + share,
        foot + (spare - 2 * share if foot else 0),
        held,
        gap,
    )


def _heading(sizes: Sizes) -> int:
    return max(sizes.calories, sizes.servings, sizes.serving, sizes.nutrients) * 3 // 2


def _servings(pen: Pen, said: Said) -> tuple[str, ...]:
    return even_lines(said.servings, pen.face(REGULAR), 2) or (said.servings,)


def _identity_width(pen: Pen, said: Said) -> int:
    sizes = pen.sizes
    return max(
        *(pen.wide(word, BLACK_FACE, _heading(sizes)) for word in said.heading.split()),
        *(pen.wide(line, REGULAR, sizes.servings) for line in _servings(pen, said)),
        pen.wide(said.serving_label, BOLD, sizes.serving),
        pen.wide(said.serving, BOLD, sizes.serving),
        pen.wide(said.calories, BLACK_FACE, sizes.calories)
        + sizes.nutrients
        + pen.wide(said.number, BLACK_FACE, sizes.number),
        *([_both_numbers(pen, said)] if said.dual else []),
    )


def _identity(pen: Pen, said: Said) -> None:
    """Heading, servings, serving size, calories."""
    sizes, size = pen.sizes, _heading(pen.sizes)
    wide = pen.wide(said.heading, BLACK_FACE, size)
    for line in (said.heading,) if wide <= pen.width else said.heading.split():
        ink = pen.face(BLACK_FACE).ink(line, size)
        pen.y -= ink.top
        pen.put(pen.left - ink.left, pen.y, line, BLACK_FACE, size, "facts_heading")
        pen.y -= sizes.between_others * 2
    pen.rule(sizes.hair)
    pen.y -= sizes.between_others * 3 // 2
    one_line = pen.wide(said.servings, REGULAR, sizes.servings) <= pen.width
    for line in (said.servings,) if one_line else _servings(pen, said):
        pen.put(pen.left, pen.body(sizes.servings), line, REGULAR, sizes.servings, "facts_servings")
        pen.y -= sizes.between_others
    _serving(pen, said)
    pen.rule(sizes.medium)
    pen.y -= sizes.between_others * 2
    if said.dual:
        _both_calories(pen, said)
    else:
        _calories(pen, said)


def _serving(pen: Pen, said: Said) -> None:
    sizes = pen.sizes
    both = (
        pen.wide(said.serving_label, BOLD, sizes.serving)
        + sizes.nutrients
        + pen.wide(said.serving, BOLD, sizes.serving)
    )
    baseline = pen.body(sizes.serving)
    pen.put(pen.left, baseline, said.serving_label, BOLD, sizes.serving, "facts_serving")
    pen.y -= sizes.between_others
    if both > pen.width:
        pen.put(pen.left, pen.body(sizes.serving), said.serving, BOLD, sizes.serving, "facts_serving")
        pen.y -= sizes.between_others
    else:
        pen.put_right(pen.right, baseline, said.serving, BOLD, sizes.serving, "facts_serving")
    pen.y -= sizes.between_others


def _calories(pen: Pen, said: Said) -> None:
    """The word over its “per serving” on the left, the number on the right."""
    sizes = pen.sizes
    rest = said.calories_per_serving.removeprefix(said.calories).strip()
    above = pen.face(BOLD).extent("dp", sizes.notes)[1] + sizes.between_others
    word = pen.face(BLACK_FACE).ink(said.calories, sizes.calories)
    pen.y -= max(pen.face(BLACK_FACE).ink(said.number, sizes.number).top, above + word.top)
    pen.put_right(pen.right, pen.y, said.number, BLACK_FACE, sizes.number, "facts_number")
    pen.put(pen.left, pen.y, rest, BOLD, sizes.notes, "facts_column")
    pen.put(pen.left, pen.y + above, said.calories, BLACK_FACE, sizes.calories, "facts_calories")
    pen.y -= sizes.notes // 4


def _both_numbers(pen: Pen, said: Said) -> int:
    sizes = pen.sizes
    one = max(pen.wide(said.per_serving, BOLD, sizes.notes), pen.wide(said.number, BLACK_FACE, sizes.number))
    other = max(pen.wide(said.per_container, BOLD, sizes.notes), pen.wide(said.jar_number, BLACK_FACE, sizes.number))
    return one + sizes.nutrients + other


def _both_calories(pen: Pen, said: Said) -> None:
    """The word, and below it the number of a serving and that of the jar, each under its heading."""
    sizes = pen.sizes
    pen.put(pen.left, pen.body(sizes.calories), said.calories, BLACK_FACE, sizes.calories, "facts_calories")
    pen.y -= sizes.between_others
    other = max(pen.wide(said.per_container, BOLD, sizes.notes), pen.wide(said.jar_number, BLACK_FACE, sizes.number))
    baseline = pen.body(sizes.notes)
    pen.put(pen.left, baseline, said.per_serving, BOLD, sizes.notes, "facts_column")
    pen.put(pen.right - other, baseline, said.per_container, BOLD, sizes.notes, "facts_column")
    pen.y -= pen.face(BLACK_FACE).ink(said.number, sizes.number).top + sizes.between_others
    pen.put(pen.left, pen.y, said.number, BLACK_FACE, sizes.number, "facts_number")
    pen.put(pen.right - other, pen.y, said.jar_number, BLACK_FACE, sizes.number, "facts_number")
    pen.y -= sizes.notes // 4


def _nutrients(pen: Pen, said: Said, lines: Sequence[Line], more: Sequence[Line], held: Columns | None) -> None:
    """One column of nutrients; with two columns of figures its share of the vitamins (``more``) below a bar."""
    sizes = pen.sizes
    baseline = pen.body(sizes.notes)
    if held is None:
        pen.put(pen.left, baseline, said.amount, BOLD, sizes.notes, "facts_column")
        pen.put_right(pen.right, baseline, said.percent, BOLD, sizes.notes, "facts_column")
    else:
        _two_heads(pen, said, held, baseline)
    pen.y -= sizes.between_others
    pen.rule(sizes.medium)
    set_lines(pen, lines, first_rule=False, held=held)
    if more:
        pen.rule(sizes.medium)
        set_lines(pen, more, first_rule=False, held=held)


def _two_heads(pen: Pen, said: Said, held: Columns, baseline: int) -> None:
    sizes, gap = pen.sizes, pen.sizes.nutrients * 3 // 4
    middle = pen.right - held.figures
    pen.put(middle - held.figures + gap, baseline, said.per_serving, BOLD, sizes.notes, "facts_column")
    pen.put(middle + gap, baseline, said.per_container, BOLD, sizes.notes, "facts_column")
    pen.y -= sizes.between_others
    baseline = pen.body(sizes.notes)
    pen.put_right(middle - gap // 2, baseline, said.short_percent, BOLD, sizes.notes, "facts_column")
    pen.put_right(pen.right, baseline, said.short_percent, BOLD, sizes.notes, "facts_column")


def _below(pen: Pen, said: Said) -> None:
    """Vitamins in one running line, what the food is no significant source of in another."""
    sizes = pen.sizes
    pen.y -= sizes.between_others * 2
    if said.vitamins and not said.dual:
        pieces = [f"{line.name} {line.amount} {line.percent}" for line in said.vitamins]
        pen.run([f"{piece} {DOT}" for piece in pieces[:-1]] + pieces[-1:], REGULAR, sizes.nutrients, "facts_nutrient")
        pen.y -= sizes.between_others
    if said.none_of:
        pen.paragraph(said.none_of, REGULAR, sizes.nutrients, "facts_nutrient")


def _upright(pen: Pen, x: int, top: int, bottom: int) -> None:
    pen.marks.append(Shape(rectangle(Box(x, bottom, x + pen.sizes.hair, top)), fill=BLACK, behind=True, role="rule"))
