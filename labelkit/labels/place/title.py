"""The title: maker, divider, name and lines, as large as their room allows."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from labelkit.labels.content import LabelContent
from labelkit.labels.design import Design, Type
from labelkit.labels.fit import Line, broken, even_lines
from labelkit.labels.fonts import Box, Face, face_for
from labelkit.labels.heights import least_size
from labelkit.labels.logo import Logo
from labelkit.labels.marks import Mark, Text
from labelkit.labels.ornaments.dividers import DIVIDERS
from labelkit.labels.outline import Zone

SMALLEST_NAME = 3000
STEP = 0.955


@dataclass(frozen=True)
class Title:
    """A title as placed: its marks, and the size its name came out at."""

    marks: tuple[Mark, ...]
    size: int
    box: Box


@dataclass(frozen=True, slots=True)
class _Item:
    """One line of the stack, or the divider (line None): gap above, ink above and below the baseline."""

    role: str
    line: Line | None
    gap: int
    above: int
    below: int


def set_title(
    content: LabelContent, design: Design, zone: Zone, most: int, roles=("maker", "name", "line")
) -> Title | None:
    """The title with the largest name that fits the zone; None when even the smallest does not.

    Sizes are tried in steps down from ``most``; for each, the name in one, two, three, four lines.
    """
    least = max(SMALLEST_NAME, *(_least(content, design, role) for role in roles))
    low, high = 0, 0
    size = most
    while size >= least:
        high += 1
        size = int(size * STEP)
    best = None
    # Whether a size fits is as good as monotone, so the largest that does is found by halving.
    while low <= high:
        middle = (low + high) // 2
        size = max(least, int(most * STEP**middle))
        found = _at(content, design, zone, size, roles)
        if found is not None:
            best, high = found, middle - 1
        else:
            low = middle + 1
    return best


def _least(content: LabelContent, design: Design, role: str) -> int:
    words = content.of(role)
    if role != "name" or words is None:
        return 0
    held = design.type[role]
    text = held.cased(" ".join(words.all))
    return least_size(face_for(held.face, text), text, words.height, 0)


def _at(content: LabelContent, design: Design, zone: Zone, size: int, roles) -> Title | None:
    for stack in _stacks(content, design, zone, size, roles):
        placed = _place(stack, content, design, zone, size)
        if placed is not None:
            return placed
    return None


def _stacks(content: LabelContent, design: Design, zone: Zone, size: int, roles) -> Iterator[list[_Item]]:
    # High up on a round label the chord is short, and how short is not known before the lines are stacked.
    limits = (100,) if zone.outline.shape == "rectangle" else (100, 72, 52)
    for count in (1, 2, 3, 4):
        name_lines = _name_lines(content, design, count)
        if name_lines is None:
            continue
        held = design.type["name"]
        widest = max(face_for(held.face, line).width(line, size, size * held.tracking // 1000) for line in name_lines)
        if widest <= zone.box.width:
            for limit in limits:
                yield _stack(content, design, zone, size, name_lines, roles, zone.box.width * limit // 100)


def _name_lines(content: LabelContent, design: Design, count: int) -> list[str] | None:
    """The name in so many lines for each of its languages."""
    held = design.type["name"]
    lines: list[str] = []
    for text in content.of("name").all:
        cased = held.cased(text)
        found = even_lines(cased, face_for(held.face, cased), count)
        if found is None and count == 2:
            found = broken(cased, content.lang)
        if found is None:
            return None
        lines += found
    return lines


def _stack(
    content: LabelContent, design: Design, zone: Zone, size: int, name_lines: list[str], roles, limit: int
) -> list[_Item]:
    items: list[_Item] = []
    if content.logo is not None and "maker" in roles:
        items.append(_Item("logo", None, 0, _logo_high(content.logo, size, limit), 0))
    maker = content.of("maker") if "maker" in roles else None
    if maker:
        small = _between(size * 30 // 100, 1900, 4200)
        items += _lined(
            "maker", maker.text, design.type["maker"], small, limit, maker.height, size * 30 // 100 if items else 0
        )
    divider = DIVIDERS.get(design.divider)
    if divider and maker and zone.box.height > 4 * size:
        high = int(size * divider[1])
        items.append(_Item("divider", None, size * 34 // 100, high, 0))
    held, below = design.type["name"], 0
    for place, text in enumerate(name_lines):
        face = face_for(held.face, text)
        line = Line(face, size, text, size * held.tracking // 1000)
        gap = size * 26 // 100 if place else size * 40 // 100 if items else 0
        items.append(
            _Item("name", line, max(gap, below + size * 12 // 100), max(face.extent("H", size)[1], line.ink.top), 0)
        )
        below = max(0, -line.ink.bottom)
    small = _between(size * 38 // 100, 2000, 4600)
    for text in _said_lines(content) if "line" in roles else ():
        gap = max(size * 36 // 100, below + size * 14 // 100)
        items += _lined("line", text, design.type["line"], small, limit, None, gap)
        below = 0
    # The last line's own descender is the only one the stack has to make room for at its foot.
    last = items[-1]
    return [*items[:-1], replace(last, below=max(last.below, below))]


def _said_lines(content: LabelContent) -> list[str]:
    """The free lines, short ones joined by a dot, each language for itself."""
    found: list[str] = []
    for words in content.every("line"):
        for text in words.all:
            if found and len(words.all) == 1 and len(found[-1]) + len(text) <= 34:
                found[-1] = f"{found[-1]} · {text}"
            else:
                found.append(text)
    return found


def _lined(role: str, text: str, held: Type, size: int, limit: int, height, gap: int) -> list[_Item]:
    """Lines of one thing; it shrinks, closes up, and breaks into two or three to keep within its width."""
    cased = held.cased(text)
    face = face_for(held.face, cased)
    least = least_size(face, cased, height, 1700)
    for count in (1, 2, 3):
        found = even_lines(cased, face, count)
        if found is None:
            break
        lines = found
        span, signs = max((face.span(line), len(line)) for line in lines)
        fitting = max(size, least)
        tracking = held.tracking
        while fitting > least and _wide(face, span, signs, fitting, tracking) > limit:
            fitting = max(least, fitting * 96 // 100)
        if _wide(face, span, signs, fitting, tracking) > limit:
            tracking = 0
        if _wide(face, span, signs, fitting, tracking) <= limit:
            break
    top = face.extent("H" if held.capitals else "d", fitting)[1]
    items = []
    for place, one in enumerate(lines):
        line = Line(face, fitting, one, fitting * tracking // 1000)
        between = fitting * 34 // 100 if place else gap
        items.append(_Item(role, line, between, max(top, line.ink.top), max(0, -line.ink.bottom)))
    return items


def _wide(face: Face, span: int, signs: int, size: int, tracking: int) -> int:
    return -(-span * size // face.units) + size * tracking // 1000 * (signs - 1)


def _between(value: int, low: int, high: int) -> int:
    return max(low, min(high, value))


def _place(stack: list[_Item], content: LabelContent, design: Design, zone: Zone, size: int) -> Title | None:
    total = sum(item.gap + item.above + item.below for item in stack)
    spare = zone.box.height - total
    if spare < 0:
        return None
    top = zone.box.top - spare * (30 if _left(design, zone) else 46) // 100
    marks: list[Mark] = []
    y = top
    for item in stack:
        y -= item.gap + item.above
        if item.role == "logo":
            marks += _logo(content, design, zone, y, item.above)
        elif item.line is None:
            marks += _divider(design, zone, y, item.above)
        else:
            ink = item.line.ink
            span = zone.span(y + ink.bottom, y + ink.top)
            if span is None or ink.width > span[1] - span[0]:
                return None
            x = span[0] if _left(design, zone) else (span[0] + span[1] - ink.width) // 2
            held = design.type[item.role]
            marks.append(
                Text(
                    item.line.face,
                    item.line.size,
                    item.line.text,
                    x - ink.left,
                    y,
                    held.colour,
                    item.line.tracking,
                    item.role,
                )
            )
        y -= item.below
    return Title(tuple(marks), size, Box(zone.box.left, y, zone.box.right, top))


def _left(design: Design, zone: Zone) -> bool:
    """A flush left edge needs a straight one; round labels are centred whatever the design likes."""
    return design.align == "left" and zone.outline.shape == "rectangle"


def _logo_high(logo: Logo, size: int, limit: int) -> int:
    """About as high as the name is large, within 14 mm, and never wider than two thirds of its room."""
    return min(max(6_000, size * 12 // 10), 14_000, limit * 2 // 3 * logo.high // logo.wide)


def _logo(content: LabelContent, design: Design, zone: Zone, y: int, high: int) -> list[Mark]:
    logo = content.logo
    span = zone.span(y, y + high)
    wide = high * logo.wide // logo.high
    if span is None or wide > span[1] - span[0]:
        return []
    left = span[0] if _left(design, zone) else (span[0] + span[1] - wide) // 2
    return logo.marks(Box(left, y, left + wide, y + high))


def _divider(design: Design, zone: Zone, y: int, high: int) -> list[Mark]:
    draw, _ = DIVIDERS[design.divider]
    span = zone.span(y, y + high)
    if span is None:
        return []
    middle, half = (span[0] + span[1]) // 2, min(span[1] - span[0], high * 11) // 2
    left = span[0] if _left(design, zone) else middle - half
    return draw(Box(left, y, left + 2 * half, y + high), design.palette)
