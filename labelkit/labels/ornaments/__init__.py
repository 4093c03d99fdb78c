"""Ornaments, drawn as vectors by calculation: twigs, meadows, suns, braids, hills. One file each, found by its name.

An ornament says what room it leaves to the words (``room``), and is drawn into what they left when they stand
(``draw``): it takes what is left, and says what of it found no place.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from functools import lru_cache
from importlib import import_module
from importlib.util import find_spec
from typing import Any

from labelkit.labels.design import Design
from labelkit.labels.layout.flow import INFO_ROLES
from labelkit.labels.outline import Outline
from labelkit.paper.fonts import Box, around
from labelkit.paper.marks import BarcodeMark, Mark, MatrixMark, Shape, Text

#: The labels that are panels of words, and so wear their ornament along an edge.
PANELS = ("back", "card", "tag", "case")


@dataclass(frozen=True, slots=True)
class Room:
    """What an ornament leaves to the words: micrometres from each edge.

    ``crown`` is kept over the title alone, ``head`` between the maker's line and the name, ``sill`` under the title over
    small words, ``over`` under the title over the net quantity, ``foot`` the same under small words, ``aside`` under small words in a column; ``arc`` is how far
    inside the edge of a round label the maker's line stands along it, 0 where it stands straight. On a seal ``crown`` is kept
    over the words of its middle and ``aside`` at both their sides. ``centred``
    words stand in the middle whatever the design's rule is elsewhere.
    """

    left: int
    bottom: int
    right: int
    top: int
    crown: int = 0
    head: int = 0
    sill: int = 0
    over: int = 0
    foot: int = 0
    aside: int = 0
    arc: int = 0
    centred: bool = False

    @classmethod
    def even(cls, inset: int) -> Room:
        """The same on every side."""
        return cls(inset, inset, inset, inset)


@dataclass(frozen=True)
class Scene:
    """A label whose words stand. ``edge`` is the middle between its columns, where it has two; ``middle`` are the left and
    right of the front on a wrap; ``languages`` counts those its name stands in."""

    kind: str
    design: Design
    outline: Outline
    bleed: tuple[int, int]
    words: tuple[Mark, ...]
    edge: int | None = None
    middle: tuple[int, int] | None = None
    languages: int = 1
    year: str = ""  # of the harvest, where it is told

    @property
    def tiny(self) -> bool:
        return min(self.outline.wide, self.outline.high) < 30_000

    @property
    def round(self) -> bool:
        return self.outline.shape != "rectangle"

    def lines(self, *roles: str) -> list[Text]:
        """The lines that say one of these things, from the top."""
        held = [mark for mark in self.words if isinstance(mark, Text) and set(mark.role.split("+")) & set(roles)]
        return sorted(held, key=lambda mark: -mark.box.bottom)

    def box(self, *roles: str) -> Box | None:
        """The smallest box round all that is said of these roles, and round the symbols that stand with small words."""
        held = [mark.box for mark in self.lines(*roles)]
        if held and set(INFO_ROLES) <= set(roles) and self.edge is None and self.middle is None:
            held += self.symbols
        return around(held) if held else None

    @property
    def symbols(self) -> list[Box]:
        """Bars and squares, with the room they want round them."""
        return [mark.box for mark in self.words if isinstance(mark, BarcodeMark | MatrixMark)]

    def crown(self) -> tuple[int, int]:
        """The middle of the room over the words in the middle of a label."""
        box = self.box("maker", "name") or self.outline.box
        return (box.left + box.right) // 2, (self.outline.high + box.top) // 2

    def over(self) -> Box:
        """The label with what runs over its edge."""
        across, up = self.bleed
        return Box(-across, -up, self.outline.wide + across, self.outline.high + up)


@dataclass(frozen=True)
class Drawn:
    """An ornament as drawn: marks that lie behind the words, which roles or lines stand on its base or its side, and what it
    left out."""

    marks: tuple[Shape, ...]
    on: Mapping[Any, str] = field(default_factory=dict)
    left_out: tuple[str, ...] = ()


@dataclass(frozen=True)
class Ornament:
    """An ornament's two functions."""

    room: Callable[[Outline, str], Room | None]
    draw: Callable[[Scene], Drawn | None]


@lru_cache(maxsize=32)
def ornament(name: str) -> Ornament | None:
    """The ornament of that name; None where there is none.

    >>> ornament("press") is not None, ornament("nothing like it")
    (True, None)
    """
    where = f"{__name__}.{name}"
    if not name or find_spec(where) is None:
        return None
    module = import_module(where)
    return Ornament(module.room, module.draw)
