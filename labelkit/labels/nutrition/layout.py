"""Placing a nutrition label: the panel in the middle of it, and the table of type sizes asked and placed."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from decimal import Decimal

from labelkit.errors.labels import PanelNotReckoned
from labelkit.labels.content import TYPE_SIZE, LabelContent
from labelkit.labels.design import Design
from labelkit.labels.layout.placed import Placed, Row, mm
from labelkit.labels.nutrition.choose import CALLED, Chosen, choose
from labelkit.labels.nutrition.panel import Nutrition
from labelkit.labels.nutrition.pen import um
from labelkit.labels.outline import Outline
from labelkit.paper.fonts import Box
from labelkit.paper.marks import Mark, Shape, Text
from labelkit.rules.figures.nutrition_displays import LINEAR, VERTICAL

#: From the label's edge to the panel's box: what a cutter may take. Common practice, no source.
EDGE = 1500
#: The largest rectangle in an ellipse is as wide and as high as the ellipse over the root of two.
INSCRIBED = 707


def place_nutrition(
    content: LabelContent, outline: Outline, design: Design, *, dpi: int = 600, bleed: tuple[int, int] = (0, 0)
) -> Placed:
    """Place a nutrition label. Raises :class:`~labelkit.errors.labels.PanelTooLarge`.

    The panel is black on white whatever the design (21 CFR 101.9(d)(1)(i)); only what is round it keeps the design's
    ground.
    """
    if content.nutrition is None:
        raise PanelNotReckoned(content.kind)
    room = room_in(outline)
    chosen = choose(content.nutrition.on(area(outline)), room.width, room.height)
    x = room.left + (room.width - chosen.laid.wide) // 2
    y = room.bottom + (room.height - chosen.laid.high) // 2
    bx, by = bleed
    ground = (Shape(outline.path(by, bx), fill=design.ground, behind=True, role="ground"),) if design.ground else ()
    marks = (*ground, *chosen.laid.at(x, y))
    notes = (*content.nutrition.notes, *notes_of(content.nutrition, chosen))
    return Placed(replace(content, words=()), design.name, outline, marks, tuple(rows_of(chosen, marks)), (), notes)


def area(outline: Outline) -> Decimal:
    """Square millimetres of the label; of a round one no more than its inscribed rectangle, to be on the safe side."""
    room = outline.box if outline.shape == "rectangle" else room_in(outline)
    return Decimal(room.width) * room.height / 1_000_000


def room_in(outline: Outline) -> Box:
    """The rectangle of a label that a panel may use."""
    wide, high = outline.wide - 2 * EDGE, outline.high - 2 * EDGE
    if outline.shape != "rectangle":
        wide, high = wide * INSCRIBED // 1000, high * INSCRIBED // 1000
    left, bottom = (outline.wide - wide) // 2, (outline.high - high) // 2
    return Box(left, bottom, left + wide, bottom + high)


def rows_of(chosen: Chosen, marks: tuple[Mark, ...]) -> Iterator[Row]:
    """The least type size asked of each part and the smallest placed, read off the marks."""
    sizes = chosen.sizes
    head, nutrients, notes = sizes.laws[:3]
    heading = max(sizes.calories, sizes.servings, sizes.serving, sizes.nutrients)
    asked = {
        "facts_heading": ("panel’s heading", heading if chosen.display.name == VERTICAL else None, head),
        "facts_servings": ("servings in the jar", sizes.servings, head),
        "facts_serving": ("serving size", sizes.serving, head),
        "facts_calories": ("the word Calories", sizes.calories, head),
        "facts_number": ("calories", sizes.number, head),
        "facts_nutrient": ("nutrients", sizes.nutrients, nutrients),
        "facts_column": ("headings of columns", sizes.notes, notes),
        "facts_note": ("footnotes of the panel", sizes.notes, notes),
    }
    for role, (item, least, law) in asked.items():
        lines = [mark for mark in marks if isinstance(mark, Text) and mark.role == role]
        if not lines or least is None:
            continue
        smallest = min(lines, key=lambda line: line.size)
        required = um(least)
        yield Row(
            item,
            smallest.text,
            mm(required),
            mm(smallest.size),
            TYPE_SIZE,
            "nutrition panel",
            str(law.cite),
            law.sure,
            smallest.size >= required,
        )


def notes_of(nutrition: Nutrition, chosen: Chosen) -> Iterator[str]:
    """What the user is to be told of the panel that was taken."""
    whole = "simplified" if chosen.form.simplified else "whole"
    yield f"The panel is {whole} and {CALLED[chosen.display.name]} ({chosen.display.because})."
    if chosen.display.after:
        before = " or the ".join(CALLED[name] for name in chosen.display.after)
        yield f"The law looks at the whole package: if another label of the jar has room for the {before} panel, print it there instead."
    if chosen.display.name == LINEAR and nutrition.panel.dagger:
        yield "In a running text the added sugars are named, though single-ingredient honey need not; a bare percentage would hang on the total sugars."
    if nutrition.panel.dagger and not chosen.form.dagger:
        yield "There was no room for the footnote on the sugars of pure honey; it is voluntary."
    if nutrition.panel.dual_column:
        if chosen.said.dual:
            yield "For a jar of this weight a second column for the whole jar is due; it is there."
        else:
            yield "For a jar of this weight a second column for the whole jar is due, but not on a package small enough for this display."
