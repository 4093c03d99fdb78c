"""The outline of one label, and how much room there is across it at any height."""

from __future__ import annotations

from dataclasses import dataclass
from math import isqrt

from labelkit.paper.fonts import Box
from labelkit.paper.marks import Path, ellipse, rectangle

#: The ring round a hole that stays plain, and the air between it and words. Micrometres; our own eye, no source.
RING, AIR = 2_000, 1_500


@dataclass(frozen=True, slots=True)
class Outline:
    """The shape of one label in micrometres; its lower left corner is the origin.

    A tag has a round ``hole`` of that diameter in its middle, so far down from the upper edge.
    """

    wide: int
    high: int
    shape: str = "rectangle"
    corner: int = 0
    hole: int = 0
    hole_down: int = 0

    @property
    def hole_box(self) -> Box:
        """The square round the hole."""
        half, middle = self.hole // 2, self.high - self.hole_down
        return Box(self.wide // 2 - half, middle - half, self.wide // 2 + half, middle + half)

    @property
    def top_kept(self) -> int:
        """How far from the upper edge words begin at the earliest: under the hole and the ring round it.

        >>> Outline(51_000, 89_000).top_kept, Outline(51_000, 89_000, hole=5_000, hole_down=7_500).top_kept
        (0, 13500)
        """
        return self.high - self.hole_box.bottom + RING + AIR if self.hole else 0

    @property
    def box(self) -> Box:
        return Box(0, 0, self.wide, self.high)

    @property
    def lean(self) -> bool:
        """Whether the label is so much wider than high that it wants two columns."""
        return self.shape == "rectangle" and self.wide >= 1.55 * self.high

    def path(self, grown: int = 0, sideways: int | None = None) -> Path:
        """The outline, grown (or with a negative number shrunk) by so much on every side."""
        across = grown if sideways is None else sideways
        box = Box(-across, -grown, self.wide + across, self.high + grown)
        if self.shape == "rectangle":
            return rectangle(box, max(0, self.corner + min(grown, across)) if self.corner else 0)
        return ellipse(box)

    def span(self, low: int, high: int, inset: int) -> tuple[int, int] | None:
        """The left and right limit for something between two heights, ``inset`` away from the edge; None where none.

        >>> Outline(50_000, 50_000, "round").span(24_000, 26_000, 0)
        (21, 49979)
        >>> Outline(60_000, 30_000).span(2_000, 5_000, 2_000)
        (2000, 58000)
        """
        if low < inset or high > self.high - inset or low > high:
            return None
        if self.shape == "rectangle":
            return self._rectangle_span(low, high, inset)
        rx, ry = self.wide // 2 - inset, self.high // 2 - inset
        away = max(abs(2 * low - self.high), abs(2 * high - self.high)) // 2 + 1
        if away >= ry:
            return None
        half = rx * isqrt(ry * ry - away * away) // ry
        return self.wide // 2 - half, self.wide - (self.wide // 2 - half)

    def _rectangle_span(self, low: int, high: int, inset: int) -> tuple[int, int]:
        """Round corners take room only where the inset is smaller than they are."""
        r = max(0, self.corner - inset)
        into = max(0, r - (low - inset), r - (self.high - inset - high))
        pull = r - isqrt(r * r - into * into) if into else 0
        return inset + pull, self.wide - inset - pull

    def holds(self, box: Box, inset: int = 0) -> bool:
        """Whether a box lies within, at least ``inset`` from the edge all round."""
        span = self.span(box.bottom, box.top, inset)
        return span is not None and span[0] <= box.left and box.right <= span[1]


@dataclass(frozen=True, slots=True)
class Zone:
    """A part of a label that one group of things may use."""

    outline: Outline
    box: Box
    inset: int

    def span(self, low: int, high: int) -> tuple[int, int] | None:
        """The room across between two heights, within the zone and the label."""
        if low < self.box.bottom or high > self.box.top:
            return None
        outer = self.outline.span(low, high, self.inset)
        if outer is None:
            return None
        left, right = max(outer[0], self.box.left), min(outer[1], self.box.right)
        return (left, right) if left < right else None
