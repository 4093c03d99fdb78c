"""Sheets: where the labels lie on the paper.

A sheet is geometry and nothing else: a page, so many labels across and down, their size, the first one's place, the
gaps. The catalogue is data (``templates/sheets``); a sheet of the user's own is the same few lines, measured with a
ruler. Rolls are sheets with one label that fills the page: ``roll-102x76``.
"""

from __future__ import annotations

import re
from collections.abc import Collection, Iterator
from dataclasses import dataclass, replace
from decimal import Decimal
from functools import lru_cache

from labelkit.errors.labels import RulerUnlikely, SheetImpossible, SheetUnclear, SheetUnknown, SheetUsedUp
from labelkit.labels.outline import RING, Outline
from labelkit.measures import Length
from labelkit.measures.locales import DEFAULT_LOCALE
from labelkit.measures.toml import read_toml
from labelkit.paper.document_style import PAGES
from labelkit.paper.fonts import Box
from labelkit.shipped import template_text

SHAPES = ("rectangle", "round", "oval")
_ROLL = re.compile(r"roll-(\d{2,3})(?:x(\d{2,3}))?")
_KEYS = {"name", "page", "across", "down", "shape", "label", "first", "gap", "corner", "hole", "use"}


@dataclass(frozen=True, slots=True)
class Sheet:
    """A sheet of labels; lengths in whole micrometres, ``left`` and ``top`` from the paper's edges to the first label."""

    name: str
    page: str
    page_wide: int
    page_high: int
    wide: int
    high: int
    across: int = 1
    down: int = 1
    left: int = 0
    top: int = 0
    gap_x: int = 0
    gap_y: int = 0
    shape: str = "rectangle"
    corner: int = 0
    use: str = ""
    hole: int = 0  # its diameter, and how far its middle lies below the upper edge
    hole_down: int = 0

    @property
    def outline(self) -> Outline:
        """The edge of one label, and the hole in it."""
        return Outline(self.wide, self.high, self.shape, self.corner, self.hole, self.hole_down)

    @property
    def count(self) -> int:
        """Labels on one sheet."""
        return self.across * self.down

    @property
    def continuous(self) -> bool:
        """Whether it is a roll without lengths of its own, cut where a label ends."""
        return self.page == "roll" and not self.high

    @property
    def right(self) -> int:
        """What is left of the paper to the right of the last column."""
        return self.page_wide - self.left - self.across * self.wide - (self.across - 1) * self.gap_x

    @property
    def bottom(self) -> int:
        """What is left of the paper below the last row."""
        return self.page_high - self.top - self.down * self.high - (self.down - 1) * self.gap_y

    def place(self, number: int) -> Box:
        """Where label ``number`` lies, counted from 1 along the rows from the top left; y upwards.

        >>> sheet("letter-3x10-67x25").place(1)
        Box(left=4762, bottom=241300, right=71437, top=266700)
        """
        row, column = divmod(number - 1, self.across)
        left = self.left + column * (self.wide + self.gap_x)
        top = self.page_high - self.top - row * (self.high + self.gap_y)
        return Box(left, top - self.high, left + self.wide, top)

    def bleed(self, number: int, wanted: int) -> Box:
        """How far colour of label ``number`` may run over its edge, as a box seen from its lower left corner: as far as
        wanted where there is bare paper, half the gap towards a neighbour, never off the paper.

        >>> sheet("letter-2x5-102x51").bleed(1, 2000)
        Box(left=-2000, bottom=0, right=103600, top=52800)
        """
        row, column = divmod(number - 1, self.across)
        left = self.gap_x // 2 if column else self.left
        right = self.gap_x // 2 if column < self.across - 1 else self.right
        above = self.gap_y // 2 if row else self.top
        below = self.gap_y // 2 if row < self.down - 1 else self.bottom
        left, right, above, below = (max(0, min(wanted, free)) for free in (left, right, above, below))
        return Box(-left, -below, self.wide + right, self.high + above)

    @property
    def butted(self) -> bool:
        """Whether labels lie edge to edge, so that one cut parts two of them."""
        return (self.across > 1 and not self.gap_x) or (self.down > 1 and not self.gap_y)


@dataclass(frozen=True, slots=True)
class Printer:
    """What the ruler page showed of one printer: how far it is off, and how much it stretches.

    ``nudge_x`` moves right and ``nudge_y`` up, in micrometres; the scales are paper over ruler, 1 for a true printer.
    """

    dpi: int = 600
    nudge_x: int = 0
    nudge_y: int = 0
    scale_x: Decimal = Decimal(1)
    scale_y: Decimal = Decimal(1)

    def corner(self, x: int, y: int) -> tuple[int, int]:
        """Where to draw so that it prints at (x, y)."""
        return int(x * self.scale_x) + self.nudge_x, int(y * self.scale_y) + self.nudge_y


def sheet(name: str) -> Sheet:
    """A sheet of the catalogue, or a roll by its size (roll-102x76) or, if it is continuous, its
    width (roll-62). Raises :class:`~labelkit.errors.labels.SheetUnknown`.

    >>> sheet("roll-102x76").count, sheet("a4-3x7-64x38").count, sheet("roll-62").continuous
    (1, 21, True)
    """
    roll = _ROLL.fullmatch(name)
    if roll:
        wide, high = (int(mm or 0) * 1000 for mm in roll.groups())
        return Sheet(name, "roll", wide, high, wide, high, use="a roll, one label a page")
    found = sheets().get(name)
    if found is None:
        raise SheetUnknown(name, sorted(sheets()))
    return found


@lru_cache(maxsize=1)
def sheets() -> dict[str, Sheet]:
    """The catalogue, by name."""
    return {one.name: one for one in read_sheets(template_text("sheets/common.toml"), "sheets/common.toml")}


def read_sheets(text: str, file: str) -> list[Sheet]:
    """Sheets out of a TOML text: the catalogue's form, which is also the form of a user's own.

    Raises :class:`~labelkit.errors.labels.SheetUnclear` for what cannot be understood and
    :class:`~labelkit.errors.labels.SheetImpossible` for what does not fit the paper.
    """
    try:
        document = read_toml(text)
    except ValueError as trouble:
        raise SheetUnclear(file, str(trouble)) from trouble
    entries = document.get("sheet", [])
    if set(document) - {"sheet"} or not entries:
        raise SheetUnclear(file, "it holds no [[sheet]] or something besides")
    return [_sheet(entry, file) for entry in entries]


def _sheet(entry: dict, file: str) -> Sheet:
    where = f"{file}, sheet {entry.get('name', '?')}"
    odd = sorted(set(entry) - _KEYS)
    missing = sorted({"name", "page", "across", "down", "label", "first"} - set(entry))
    if odd or missing:
        raise SheetUnclear(where, f"unknown: {', '.join(odd) or 'none'}; missing: {', '.join(missing) or 'none'}")
    if entry["page"] not in PAGES or entry.get("shape", "rectangle") not in SHAPES:
        raise SheetUnclear(where, f"page is one of {', '.join(PAGES)}, shape one of {', '.join(SHAPES)}")
    wide, high = (Length.read(length, DEFAULT_LOCALE).um for length in entry["label"])
    left, top = (Length.read_signed(length, DEFAULT_LOCALE).um for length in entry["first"])
    gap_x, gap_y = (Length.read_signed(length, DEFAULT_LOCALE).um for length in entry.get("gap", ["0 mm", "0 mm"]))
    hole, down = (Length.read_signed(length, DEFAULT_LOCALE).um for length in entry.get("hole", ["0 mm", "0 mm"]))
    made = Sheet(
        entry["name"],
        entry["page"],
        *PAGES[entry["page"]],
        wide,
        high,
        entry["across"],
        entry["down"],
        left,
        top,
        gap_x,
        gap_y,
        entry.get("shape", "rectangle"),
        Length.read_signed(entry.get("corner", "0 mm"), DEFAULT_LOCALE).um,
        entry.get("use", ""),
        hole,
        down,
    )
    return must_fit(made)


def must_fit(made: Sheet) -> Sheet:
    """The same sheet, if its labels lie on the paper; otherwise it is refused with how much is wanting."""
    if made.across < 1 or made.down < 1:
        raise SheetImpossible(made.name, "it has no labels")
    if made.left < 0 or made.top < 0:
        raise SheetImpossible(made.name, "its first label begins off the paper")
    for side, spare, count in (("width", made.right, made.across), ("height", made.bottom, made.down)):
        if spare < 0:
            raise SheetImpossible(made.name, f"{count} labels overrun the paper's {side} by {-spare / 1000:.2f} mm")
    if made.shape == "round" and made.wide != made.high:
        raise SheetImpossible(made.name, "a round label is as wide as it is high; call it oval")
    if made.hole and not made.outline.holds(made.outline.hole_box.grown(RING), 0):
        raise SheetImpossible(made.name, f"its hole lies less than {RING / 1000:g} mm inside the edge")
    return made


def own_sheet(
    name: str,
    page: str,
    across: int,
    down: int,
    label: tuple[Length, Length],
    first: tuple[Length, Length],
    next_to: tuple[Length, Length],
    shape: str = "rectangle",
    corner: Length | None = None,
) -> Sheet:
    """A sheet measured with a ruler: ``next_to`` is from one label's left (top) edge to the next one's.

    >>> mm = Length.of_mm
    >>> own_sheet("mine", "a4", 2, 4, (mm(95), mm(60)), (mm(8), mm(20)), (mm(99), mm(64))).gap_x
    4000
    """
    gap_x = next_to[0].um - label[0].um if across > 1 else 0
    gap_y = next_to[1].um - label[1].um if down > 1 else 0
    if gap_x < 0 or gap_y < 0:
        raise SheetImpossible(name, "the step from one label to the next is less than the label itself")
    made = Sheet(
        name,
        page,
        *PAGES[page],
        label[0].um,
        label[1].um,
        across,
        down,
        first[0].um,
        first[1].um,
        gap_x,
        gap_y,
        shape,
        corner.um if corner else 0,
    )
    return must_fit(made)


def named_by_geometry(made: Sheet) -> Sheet:
    """The same sheet under the name its geometry gives it.

    >>> named_by_geometry(sheet("a4-4x6-d40")).name
    'a4-4x6-d40'
    """
    wide, high = ((um + 500) // 1000 for um in (made.wide, made.high))
    if made.hole:
        return replace(made, name=f"{made.page}-{made.across}x{made.down}-t{wide}x{high}")
    size = f"d{wide}" if made.shape == "round" else f"{'o' if made.shape == 'oval' else ''}{wide}x{high}"
    return replace(made, name=f"{made.page}-{made.across}x{made.down}-{size}")


def as_toml(made: Sheet) -> str:
    """A sheet in the catalogue's form, for a file of the user's own; exact to the micrometre.

    >>> read_sheets(as_toml(sheet("letter-4x5-d51")), "mine.toml") == [sheet("letter-4x5-d51")]
    True
    """

    def mm(*lengths: int) -> str:
        return "[" + ", ".join(f'"{um / 1000:.3f} mm"' for um in lengths) + "]"

    hole = f"hole = {mm(made.hole, made.hole_down)}\n" if made.hole else ""
    return (
        f'[[sheet]]\nname = "{made.name}"\npage = "{made.page}"\nacross = {made.across}\ndown = {made.down}\n'
        f'shape = "{made.shape}"\nlabel = {mm(made.wide, made.high)}\nfirst = {mm(made.left, made.top)}\n'
        f'gap = {mm(made.gap_x, made.gap_y)}\ncorner = "{made.corner / 1000:.3f} mm"\n{hole}use = "{made.use}"\n'
    )


def chosen(name: str, text: str, file: str) -> Sheet:
    """The sheet of that name in a user's own file, or the only one in it; else one of the catalogue."""
    held = {one.name: one for one in read_sheets(text, file)}
    if name in held:
        return held[name]
    return next(iter(held.values())) if len(held) == 1 else sheet(name)


def scale(text: str) -> Decimal:
    """A stretch as the ruler page gives it: a factor close to 1.

    >>> scale("0.9985")
    Decimal('0.9985')
    """
    if not re.fullmatch(r"[01]?[.]?\d{1,8}", text.strip()) or not Decimal("0.97") <= Decimal(text) <= Decimal("1.03"):
        raise RulerUnlikely(f"a stretch of {text} was given")
    return Decimal(text)


def free_places(which: Sheet, start_at: int = 1, skip: Collection[int] = ()) -> Iterator[tuple[int, int]]:
    """Page and place of each label to print, without end: the first sheet may be part used, the others are whole.

    >>> from itertools import islice
    >>> list(islice(free_places(sheet("a4-2x2-99x139"), start_at=3, skip={4}), 3))
    [(0, 3), (1, 1), (1, 2)]
    """
    if not 1 <= start_at <= which.count or any(not 1 <= place <= which.count for place in skip):
        raise SheetUsedUp(which.name, which.count, f"start at {start_at}, skip {sorted(skip)}")
    if all(place in skip for place in range(start_at, which.count + 1)):
        raise SheetUsedUp(which.name, which.count, f"start at {start_at}, skip {sorted(skip)}")
    yield from ((0, place) for place in range(start_at, which.count + 1) if place not in skip)
    page = 1
    while True:
        yield from ((page, place) for place in range(1, which.count + 1))
        page += 1
