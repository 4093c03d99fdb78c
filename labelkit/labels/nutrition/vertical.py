"""The upright display (21 CFR 101.9(d)(12)) and, with a second column for the whole jar, that of (e)(6)(i)."""

from __future__ import annotations

from labelkit.labels.nutrition.pen import BLACK_FACE, BOLD, REGULAR, Laid, Pen, Sizes, boxed
from labelkit.labels.nutrition.rows import Columns, columns, least_width, set_lines
from labelkit.labels.nutrition.words import Said
from labelkit.paper.fonts import Box
from labelkit.paper.marks import BLACK, Shape, rectangle


def lay(said: Said, sizes: Sizes, family: str, wide: int) -> Laid:
    """Lay the panel out at this width, or at the least width it can be set in where that is more."""
    edge = sizes.box + sizes.margin
    pen = Pen(family, sizes, edge, edge, -edge)
    held = _columns(pen, said) if said.dual else None
    pen.right = max(wide - edge, edge + _least(pen, said, held))
    _head(pen, said)
    if held is None:
        _calories(pen, said)
    else:
        _both_calories(pen, said, held)
    set_lines(pen, said.lines, held=held)
    if said.vitamins:
        pen.rule(sizes.heavy)
        set_lines(pen, said.vitamins, first_rule=False, held=held)
    if held is not None:
        _upright_rules(pen, held)
    _foot(pen, said)
    return boxed(pen.marks, pen.right + edge, edge - pen.y, sizes)


def _columns(pen: Pen, said: Said) -> Columns:
    sizes = pen.sizes
    heads = [(said.per_serving, sizes.notes), (said.per_container, sizes.notes), (said.short_percent, sizes.notes)]
    heads += [(said.number, sizes.number), (said.jar_number, sizes.number)]
    found = columns(pen, (*said.lines, *said.vitamins), heads)
    return Columns(
        max(found.names, pen.wide(said.calories, BLACK_FACE, sizes.calories) + sizes.nutrients // 2), found.figures
    )


def _least(pen: Pen, said: Said, held: Columns | None) -> int:
    sizes = pen.sizes
    gap = sizes.nutrients
    needs = [
        held.least if held else least_width(pen, (*said.lines, *said.vitamins)),
        pen.wide(said.heading, BLACK_FACE, _least_heading(sizes)),
        pen.wide(said.servings, REGULAR, sizes.servings),
        pen.wide(said.serving_label, BOLD, sizes.serving) + gap + pen.wide(said.serving, BOLD, sizes.serving),
        pen.wide(said.calories, BLACK_FACE, sizes.calories) + gap + pen.wide(said.number, BLACK_FACE, sizes.number),
    ]
    return max(needs)


def _least_heading(sizes: Sizes) -> int:
    """The heading is no smaller than anything but the number of calories (21 CFR 101.9(d)(2))."""
    return max(sizes.calories, sizes.servings, sizes.serving, sizes.nutrients)


def _head(pen: Pen, said: Said) -> None:
    sizes = pen.sizes
    size = pen.size_to_fill(said.heading, BLACK_FACE)
    ink = pen.face(BLACK_FACE).ink(said.heading, size)
    pen.y -= ink.top
    pen.put(pen.left - ink.left, pen.y, said.heading, BLACK_FACE, size, "facts_heading")
    pen.y -= sizes.between_others * 2
    pen.rule(sizes.hair)
    pen.y -= sizes.between_others * 3 // 2
    pen.put(pen.left, pen.body(sizes.servings), said.servings, REGULAR, sizes.servings, "facts_servings")
    pen.y -= sizes.between_others
    baseline = pen.body(sizes.serving)
    pen.put(pen.left, baseline, said.serving_label, BOLD, sizes.serving, "facts_serving")
    pen.put_right(pen.right, baseline, said.serving, BOLD, sizes.serving, "facts_serving")
    pen.y -= sizes.between_others * 2
    pen.rule(sizes.heavy)


def _calories(pen: Pen, said: Said) -> None:
    sizes = pen.sizes
    pen.y -= sizes.between_others
    pen.put(pen.left, pen.body(sizes.notes), said.amount_per_serving, BOLD, sizes.notes, "facts_column")
    # The number may reach up beside the line above, which ends before it; the word stands under that line.
    number, word = (
        pen.face(BLACK_FACE).ink(*said_in) for said_in in ((said.number, sizes.number), (said.calories, sizes.calories))
    )
    pen.y -= max(number.top - sizes.notes // 3, word.top + sizes.notes // 16)
    pen.put(pen.left, pen.y, said.calories, BLACK_FACE, sizes.calories, "facts_calories")
    pen.put_right(pen.right, pen.y, said.number, BLACK_FACE, sizes.number, "facts_number")
    pen.y -= sizes.between_others * 5 // 2
    pen.rule(sizes.medium)
    pen.y -= sizes.between_others
    pen.put_right(pen.right, pen.body(sizes.notes), said.percent, BOLD, sizes.notes, "facts_column")
    pen.y -= sizes.between_others


def _both_calories(pen: Pen, said: Said, held: Columns) -> None:
    sizes = pen.sizes
    middle, edge = pen.right - held.figures, sizes.nutrients * 3 // 4
    pen.y -= sizes.between_others
    baseline = pen.body(sizes.notes)
    pen.put(middle - held.figures + edge, baseline, said.per_serving, BOLD, sizes.notes, "facts_column")
    pen.put(middle + edge, baseline, said.per_container, BOLD, sizes.notes, "facts_column")
    pen.y -= pen.face(BLACK_FACE).ink(said.number, sizes.number).top + sizes.between_others
    pen.put(pen.left, pen.y, said.calories, BLACK_FACE, sizes.calories, "facts_calories")
    for left, number in ((middle - held.figures, said.number), (middle, said.jar_number)):
        pen.put(left + edge, pen.y, number, BLACK_FACE, sizes.number, "facts_number")
    pen.y -= sizes.between_others * 5 // 2
    pen.rule(sizes.medium)
    pen.y -= sizes.between_others
    baseline = pen.body(sizes.notes)
    pen.put_right(middle - edge // 2, baseline, said.short_percent, BOLD, sizes.notes, "facts_column")
    pen.put_right(pen.right, baseline, said.short_percent, BOLD, sizes.notes, "facts_column")
    pen.y -= sizes.between_others


def _upright_rules(pen: Pen, held: Columns) -> None:
    """Hair lines between the columns, from the first heavy bar down to here; cut where a bar crosses them."""
    bars = sorted(
        (mark.box for mark in pen.marks if isinstance(mark, Shape) and mark.box.height >= pen.sizes.medium),
        key=lambda box: -box.top,
    )
    edges = [(upper.bottom, lower.top) for upper, lower in zip(bars, [*bars[1:], None], strict=True) if lower]
    edges.append((bars[-1].bottom, pen.y))
    for x in (
        pen.right - 2 * held.figures + pen.sizes.nutrients * 3 // 8,
        pen.right - held.figures + pen.sizes.nutrients * 3 // 8,
    ):
        for top, bottom in edges:
            box = Box(x, bottom, x + pen.sizes.hair, top)
            pen.marks.append(Shape(rectangle(box), fill=BLACK, behind=True, role="rule"))


def _foot(pen: Pen, said: Said) -> None:
    sizes = pen.sizes
    pen.rule(sizes.heavy if said.none_of and not said.vitamins else sizes.medium)
    if said.none_of:
        pen.y -= sizes.between_others
        pen.paragraph(said.none_of, REGULAR, sizes.nutrients, "facts_nutrient")
        pen.y -= sizes.between_others * 2
        pen.rule(sizes.hair)
    pen.y -= sizes.between_others * 2
    pen.notes(said.notes)
