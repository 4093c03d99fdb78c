"""The title: maker, name and lines, as large as their room allows.

A name in two languages stands in two columns where the label is wide enough for that, one above the other where it is
not; either way both are set in the same face at the same size.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache
from itertools import accumulate, zip_longest

from labelkit.labels.content import LabelContent
from labelkit.labels.design import Design, Type
from labelkit.labels.heights import least_size
from labelkit.labels.layout.filled_title import filled_title
from labelkit.labels.logo import Logo
from labelkit.labels.ornaments import Room
from labelkit.labels.outline import Zone
from labelkit.paper.fonts import Box, face_for
from labelkit.paper.kept_together import kept_together
from labelkit.paper.line_breaking import Line, broken, even_lines
from labelkit.paper.marks import Mark, Text

SMALLEST_NAME = 3000
STEP = 0.98


@dataclass(frozen=True)
class Title:
    """A title as placed: its marks, and the size its name came out at."""

    marks: tuple[Mark, ...]
    size: int
    box: Box


#: A title in columns is taken unless one above the other its name comes out this much larger, in hundredths.
LARGER_STACKED = 150
GUTTER = 2400
EVEN = Room.even(0)
#: A word parts only where the name would come out under so many hundredths of its least size. Our own eye, no source.
WHOLE_FROM = 115
#: Capitals that are set apart first close up to this, in thousandths of their size, before they shrink.
LEAST_TRACKING = 40
#: What of the height to spare stands above the name rather than below it, in hundredths.
RAISED = 18


@dataclass(frozen=True, slots=True)
class _Item:
    """One row of the stack: a line for each column (None: a gap in it), or a logo (no lines).

    ``gap`` is the room above, ``above`` and ``below`` the ink on either side of the baseline.
    """

    role: str
    lines: tuple[Line | None, ...]
    gap: int
    above: int
    below: int


def set_title(
    content: LabelContent, design: Design, zone: Zone, most: int, beside: int = 0, room: Room = EVEN
) -> Title | None:
    """The title with the largest name that fits the zone; None when even the smallest does not.

    Sizes are tried in steps down from ``most``; for each, the name in one, two, three, four lines. No word parts while
    the name can shrink. ``room`` says what the ornament wants of it. ``beside`` is the height of the largest capitals it stands with: those of the name are half as high at least (FDA, A Food Labeling
    Guide, on the size of the statement of identity under 21 CFR 101.3(d), second-hand).
    """
    least = max(SMALLEST_NAME, _least(content, design, beside))
    if design.fills and (filled := filled_title(content, design, zone, least)):
        return Title(filled.marks, filled.size, replace(zone.box, bottom=filled.bottom))
    languages = len(content.the("name").all)
    found = None
    for parting in (False, True):
        setting = _Setting(content, design, zone, room, parting)
        stacked = _largest(setting, (least, most), columns=1)
        if languages > 1 and zone.outline.shape == "rectangle":
            columns = _largest(setting, (least, most), columns=languages)
            if columns and not (stacked and stacked.size * 100 > columns.size * LARGER_STACKED):
                stacked = columns
        found = _better(found, stacked)
        if found is not None and found.size * 100 >= least * WHOLE_FROM:
            return found
    return found


def _better(one: Title | None, other: Title | None) -> Title | None:
    return other if one is None or (other is not None and other.size > one.size) else one


@dataclass(frozen=True)
class _Setting:
    """What a title is set from; ``parting`` lets one long word part at a hyphen, and the maker's line."""

    content: LabelContent
    design: Design
    zone: Zone
    room: Room
    parting: bool

    @property
    def makers(self) -> tuple[str, ...]:
        """The maker in each language: as many lines as it takes at least."""
        maker = self.content.of("maker")
        return maker.all if maker else ()


def _largest(given: _Setting, sizes: tuple[int, int], columns: int) -> Title | None:
    (least, most), low, high = sizes, 0, 0
    size = most
    while size >= least:
        high += 1
        size = int(size * STEP)
    best = None
    # Whether a size fits is as good as monotone, so the largest that does is found by halving.
    while low <= high:
        middle = (low + high) // 2
        size = max(least, int(most * STEP**middle))
        found = next(filter(None, (_place(stack, given, size) for stack in _stacks(given, size, columns))), None)
        if found is not None:
            best, high = found, middle - 1
        else:
            low = middle + 1
    return best


def _least(content: LabelContent, design: Design, beside: int) -> int:
    words, held = content.the("name"), design.type["name"]
    faces = [(face_for(held.face, text), text) for text in map(held.cased, words.all)]
    return max(
        max(least_size(face, text, words.height, 0), -(-beside * face.units // (2 * face.extent("H", face.units)[1])))
        for face, text in faces
    )


def _stacks(given: _Setting, size: int, columns: int) -> Iterator[list[_Item]]:
    # High up on a round label the chord is short, and how short is not known before the lines are stacked.
    zone, held = given.zone, given.design.type["name"]
    limits = (100,) if zone.outline.shape == "rectangle" else (100, 90, 80, 70, 60, 50)
    for count in (1, 2, 3, 4):
        name_lines = _name_lines(given, count)
        if name_lines is None:
            continue
        room = _share(zone.box.width, columns, size)
        widest = max(
            face_for(held.face, line).width(line, size, size * held.tracking // 1000)
            for lines in name_lines
            for line in lines
        )
        if widest <= room:
            for limit in limits:
                stack = _stack(given, size, name_lines, columns, room * limit // 100)
                # The maker's line stays whole as the name's words do.
                if given.parting or sum(item.role == "maker" for item in stack) <= max(1, len(given.makers)):
                    yield stack


def _share(wide: int, columns: int, size: int) -> int:
    """The width of one of so many columns, when the name is so large."""
    return (wide - _gutter(size) * (columns - 1)) // columns


def _gutter(size: int) -> int:
    return max(GUTTER, size)


def _rows(texts: Sequence[Sequence], columns: int) -> list[tuple]:
    """Lines of each language as rows: side by side, or one language after the other."""
    if columns == 1:
        return [(line,) for lines in texts for line in lines]
    return list(zip_longest(*texts))


def _name_lines(given: _Setting, count: int) -> list[tuple[str, ...]] | None:
    """The name in so many lines for each of its languages; one of fewer words takes fewer."""
    content, held = given.content, given.design.type["name"]
    names, found = content.the("name").all, []
    for place, text in enumerate(names):
        cased = held.cased(text)
        lines = even_lines(cased, face_for(held.face, cased), count)
        if lines is None and count == 2 and given.parting:
            lines = broken(cased, content.lang_of(place))
        if lines is None and len(names) > 1:
            lines = even_lines(cased, face_for(held.face, cased), len(kept_together(cased)))
        if lines is None:
            return None
        found.append(lines)
    lonely = any(len(line) <= 3 for lines in found if len(lines) > 1 for line in lines)
    return found if any(len(lines) >= count for lines in found) and not (lonely and count > 1) else None


def _stack(given: _Setting, size: int, name_lines, columns: int, limit: int) -> list[_Item]:
    content, design, zone = given.content, given.design, given.zone
    items: list[_Item] = []
    whole = zone.box.width * limit // _share(zone.box.width, columns, size)
    if content.logo is not None:
        items.append(_Item("logo", (), 0, _logo_high(content.logo, size, whole), 0))
    maker = content.of("maker")
    if maker and not _on_arc(given):
        small = _between(size * 30 // 100, 2400, 4200)
        gap = size * 30 // 100 if items else 0
        items += _lined("maker", maker.all, design.type["maker"], small, whole, maker.height, gap)
    held, below = design.type["name"], 0
    rows = _rows(name_lines, columns)
    first = set(accumulate(map(len, name_lines))) if columns == 1 else set()
    for place, row in enumerate(rows):
        faces = [face_for(held.face, text) if text else None for text in row]
        lines = tuple(
            Line(face, size, text, size * held.tracking // 1000) if face else None
            for face, text in zip(faces, row, strict=True)
        )
        above = max(max(line.face.extent("H", size)[1], line.ink.top) for line in lines if line)
        gap = given.room.head + size * 32 // 100 if items else 0
        if place:
            apart = size * 20 // 100 if place in first else 0
            gap = max(apart + size * design.leading // 100 - above, below + size * 5 // 100)
        items.append(_Item("name", lines, gap, above, 0))
        below = max(0, *(-line.ink.bottom for line in lines if line))
    small = _between(size * 38 // 100, 2000, 4600)
    for texts in _said_lines(content):
        gap = max(size * 30 // 100, below + size * 14 // 100)
        beside = columns if len(texts) == columns else 1
        items += _lined("line", texts, design.type["line"], small, limit if beside > 1 else whole, None, gap, beside)
        below = 0
    # The last line's own descender is the only one the stack has to make room for at its foot.
    last = items[-1]
    return [*items[:-1], replace(last, below=max(last.below, below))]


def _said_lines(content: LabelContent) -> list[tuple[str, ...]]:
    """The free lines, short ones joined by a dot; a line in several languages in all of them."""
    found: list[tuple[str, ...]] = []
    for words in content.every("line"):
        if found and len(words.all) == len(found[-1]) == 1 and len(found[-1][0]) + len(words.text) <= 34:
            found[-1] = (f"{found[-1][0]} · {words.text}",)
        else:
            found.append(words.all)
    return found


def _lined(
    role: str, texts: tuple[str, ...], held: Type, size: int, limit: int, height, gap: int, columns: int = 1
) -> tuple[_Item, ...]:
    """Lines of one thing in all its languages, all of one size; they shrink, close up, and break into two or three to
    keep within their width."""
    cased = tuple(held.cased(text) for text in texts)
    faces = tuple(face_for(held.face, text) for text in cased)
    return _fitted(role, cased, faces, held, size, limit, height, gap, columns)


@lru_cache(maxsize=4096)
def _fitted(role, cased, faces, held: Type, size: int, limit: int, height, gap: int, columns: int) -> tuple[_Item, ...]:
    # By the faces themselves, not by their names: a user's font may come anew under the same one.
    least = max(least_size(face, text, height, 1700) for face, text in zip(faces, cased, strict=True))
    for count in (1, 2, 3):
        if all(len(kept_together(text)) < count for text in cased) and count > 1:
            break
        # What may not part (a number from its unit, a short word from its neighbour) stays in one line.
        lines = [
            even_lines(text, face, min(count, len(kept_together(text)))) or (text,)
            for face, text in zip(faces, cased, strict=True)
        ]

        def widest(size: int, tracking: int, lines=lines) -> int:
            return max(
                face.width(line, size, size * tracking // 1000)
                for face, those in zip(faces, lines, strict=True)
                for line in those
            )

        fitting, tracking = max(size, least), held.tracking
        while tracking > LEAST_TRACKING and widest(fitting, tracking) > limit:
            tracking = max(LEAST_TRACKING, tracking - 15)
        while fitting > least and widest(fitting, tracking) > limit:
            fitting = max(least, fitting * 96 // 100)
        if widest(fitting, tracking) > limit:
            tracking = 0
        if widest(fitting, tracking) <= limit:
            break
    top = max(face.extent("H" if held.capitals else "d", fitting)[1] for face in faces)
    items = []
    made = [
        [Line(face, fitting, one, fitting * tracking // 1000) for one in those]
        for face, those in zip(faces, lines, strict=True)
    ]
    for place, set_row in enumerate(_rows(made, columns)):
        inks = [line.ink for line in set_row if line]
        between = fitting * 34 // 100 if place else gap
        items.append(
            _Item(role, set_row, between, max(top, *(ink.top for ink in inks)), max(0, *(-ink.bottom for ink in inks)))
        )
    return tuple(items)


def _between(value: int, low: int, high: int) -> int:
    return max(low, min(high, value))


#: A line on an arc runs over so many degrees at the most, and is set of so many hundredths of the label.
WIDEST_ARC, ARC_SIZE = 112, 6


def _on_arc(given: _Setting) -> Text | None:
    """The maker's line along the upper rim of a round label; None where it is too long, or a logo stands there."""
    maker, outline, held = given.content.of("maker"), given.zone.outline, given.design.type["maker"]
    if not (maker and given.room.arc and outline.wide == outline.high) or maker.also or given.content.logo:
        return None
    text = held.cased(maker.text)
    face, radius = face_for(held.face, text), outline.wide // 2 - given.room.arc
    least = least_size(face, text, maker.height, 1700)
    size, tracking = max(least, min(3_600, outline.wide * ARC_SIZE // 100)), held.tracking
    while face.width(text, size, size * tracking // 1000) > radius * WIDEST_ARC * 22 // 1260:
        if tracking > LEAST_TRACKING:
            tracking -= 15
        elif size > least:
            size = max(least, size * 96 // 100)
        else:
            return None
    middle = outline.wide // 2
    return Text(face, size, text, middle, middle, held.colour, size * tracking // 1000, "maker", arc=radius)


def _place(stack: list[_Item], given: _Setting, size: int) -> Title | None:
    content, design, zone = given.content, given.design, given.zone
    arc = _on_arc(given)
    highest = min(zone.box.top, arc.box.bottom) if arc else zone.box.top
    spare = highest - zone.box.bottom - sum(item.gap + item.above + item.below for item in stack)
    if spare < 0:
        return None
    # The maker keeps the top; below the name the ornament takes what is left. On a round label all stands in the middle.
    down, raised = min(spare * RAISED // 100, size // 3), False
    top = highest
    if zone.outline.shape != "rectangle":
        top, down = highest - spare * (30 if arc else 62) // 100, 0
    # What stands in one column is kept together, so that a reader of the file reads one language after the other.
    columns: dict[int, list[Mark]] = {0: [arc]} if arc else {}
    y = top
    for item in stack:
        if item.role == "name" and not raised:
            y, raised = y - down, True
        y -= item.gap + item.above
        if item.role == "logo":
            columns.setdefault(0, []).extend(_logo(content, design, zone, y, item.above))
        for place, line in enumerate(item.lines):
            mark = _line_at(line, item, place, design, zone, y, size) if line else None
            if line and mark is None:
                return None
            if mark:
                columns.setdefault(place, []).append(mark)
        y -= item.below
    marks = tuple(mark for place in sorted(columns) for mark in columns[place])
    return Title(marks, size, Box(zone.box.left, y, zone.box.right, top))


def _line_at(line: Line, item: _Item, place: int, design: Design, zone: Zone, y: int, size: int) -> Text | None:
    """A line on its baseline in its column; None when the column is too narrow there."""
    ink = line.ink
    span = zone.span(y + ink.bottom, y + ink.top)
    if span is None:
        return None
    share = _share(span[1] - span[0], len(item.lines), size)
    left = span[0] + place * (share + _gutter(size))
    if ink.width > share:
        return None
    x = left if _left(design, zone) else left + (share - ink.width) // 2
    held = design.type[item.role]
    return Text(line.face, line.size, line.text, x - ink.left, y, held.colour, line.tracking, item.role)


def _left(design: Design, zone: Zone) -> bool:
    """A flush left edge needs a straight one; round labels are centred whatever the design likes."""
    return design.align == "left" and zone.outline.shape == "rectangle"


def _logo_high(logo: Logo, size: int, limit: int) -> int:
    """About as high as the name is large, within 14 mm, and never wider than two thirds of its room."""
    return min(max(6_000, size * 12 // 10), 14_000, limit * 2 // 3 * logo.high // logo.wide)


def _logo(content: LabelContent, design: Design, zone: Zone, y: int, high: int) -> list[Mark]:
    logo, span = content.logo, zone.span(y, y + high)
    if logo is None or span is None:
        return []
    wide = high * logo.wide // logo.high
    if wide > span[1] - span[0]:
        return []
    left = span[0] if _left(design, zone) else (span[0] + span[1] - wide) // 2
    return logo.marks(Box(left, y, left + wide, y + high))
