"""Where everything of the picture stands: bars in columns, ribbons between them, on a page of its own units.

Only here do floats occur, and only as places on the page.
"""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass

from labelkit.measures import Mass, show_first
from labelkit.measures.wording import Wording
from labelkit.trace.flow import LOT, PLACE, Band, Flow, Node, flow
from labelkit.trace.follow import Trace

_WIDTH, _TOP, _LEFT, _RIGHT = 1240.0, 128.0, 44.0, 210.0
_LONGEST_NAME = 26
_SHOWS = 50  # milligrams that show as a tenth of a gram
_BAR, _GAP, _LEAST, _SLOT = 16.0, 16.0, 2.5, 40.0
_FULL = 470.0  # height of the fullest column's bars


@dataclass(frozen=True, slots=True)
class Placed:
    """A node with its bar on the page."""

    node: Node
    x: float
    y: float
    height: float
    name: str
    weight: str

    @property
    def middle(self) -> float:
        """Half way down the bar."""
        return self.y + self.height / 2


@dataclass(frozen=True, slots=True)
class Ribbon:
    """A band on the page: where its upper edge begins and ends, how thick it is, and what to say when pointed at."""

    x1: float
    y1: float
    x2: float
    y2: float
    thick: float
    sort: str  # of its source, for the colour
    side: bool
    weighed: bool
    says: str

    @property
    def path(self) -> str:
        """Its outline as SVG writes it."""
        mid, low1, low2 = (self.x1 + self.x2) / 2, self.y1 + self.thick, self.y2 + self.thick
        return (
            f"M{self.x1:.1f} {self.y1:.2f}C{mid:.1f} {self.y1:.2f} {mid:.1f} {self.y2:.2f} {self.x2:.1f} {self.y2:.2f}"
            f"V{low2:.2f}C{mid:.1f} {low2:.2f} {mid:.1f} {low1:.2f} {self.x1:.1f} {low1:.2f}Z"
        )


@dataclass(frozen=True, slots=True)
class Layout:
    """The whole picture, placed."""

    nodes: tuple[Placed, ...]
    ribbons: tuple[Ribbon, ...]
    heads: tuple[tuple[float, str], ...]
    width: float
    top: float
    bottom: float
    bar: float
    shared: bool  # yards that shared a bucket unweighed
    sisters: bool


def layout(trace: Trace, locale: str, words: Wording) -> Layout:
    """Place the flow of a trace."""
    shape = _worth_drawing(flow(trace, words))
    scale = _scale(shape)
    placed = _place(shape, scale, locale)
    heads = dict.fromkeys(zip(_columns(shape), shape.columns, strict=True))
    return Layout(
        tuple(placed.values()),
        tuple(_ribbons(shape, placed, scale, locale)),
        tuple(heads),
        _WIDTH,
        _TOP,
        max((p.y + max(p.height, _SLOT - _GAP) for p in placed.values()), default=_TOP),
        _BAR,
        shared=any(not band.weighed for band in shape.bands),
        sisters=any(node.side and node.sort == LOT for node in shape.nodes),
    )


def _worth_drawing(shape: Flow) -> Flow:
    """Without the last milligrams in a bucket, which would be drawn as nothing weighing nothing."""
    side = {node.id for node in shape.nodes if node.side and node.sort == PLACE}
    bands = tuple(band for band in shape.bands if band.target not in side or band.mass.mg >= _SHOWS)
    touched = {end for band in bands for end in (band.source, band.target)}
    return Flow(tuple(node for node in shape.nodes if node.id in touched), bands, shape.columns)


def _short(name: str) -> str:
    return name if len(name) <= _LONGEST_NAME else f"{name[: _LONGEST_NAME - 1].rstrip()}…"


def _columns(shape: Flow) -> list[float]:
    count = len(shape.columns)
    step = (_WIDTH - _LEFT - _RIGHT - _BAR) / max(count - 1, 1)
    return [round(_LEFT + n * step, 1) for n in range(count)]


def _through(shape: Flow) -> dict[str, int]:
    """How much passes each node: the larger of what comes in and what goes out."""
    came: dict[str, int] = defaultdict(int)
    went: dict[str, int] = defaultdict(int)
    for band in shape.bands:
        went[band.source] += band.mass.mg
        came[band.target] += band.mass.mg
    return {node.id: max(came[node.id], went[node.id]) for node in shape.nodes}


def _scale(shape: Flow) -> float:
    """Points of height for a milligram."""
    through = _through(shape)
    fullest: dict[int, int] = defaultdict(int)
    for node in shape.nodes:
        fullest[node.column] += through[node.id]
    return _FULL / max([*fullest.values(), 1])


def _place(shape: Flow, scale: float, locale: str) -> dict[str, Placed]:
    """Bars in their columns, each column ordered by where its honey comes from, and centred."""
    through, columns = _through(shape), _columns(shape)
    feeds: dict[str, list[Band]] = defaultdict(list)
    for band in shape.bands:
        feeds[band.target].append(band)
    placed: dict[str, Placed] = {}
    in_columns: dict[int, list[float]] = defaultdict(list)
    for node in shape.nodes:
        in_columns[node.column].append(max(through[node.id] * scale, _LEAST, _SLOT - _GAP))
    tallest = max(map(_tall, in_columns.values()), default=0.0)
    heights = {id: max(mg * scale, _LEAST) for id, mg in through.items()}
    for column in sorted({node.column for node in shape.nodes}):
        here = [node for node in shape.nodes if node.column == column]

        def origin(node: Node, here: list[Node] = here) -> tuple[bool, float, int]:
            known = [band for band in feeds[node.id] if band.source in placed]
            mass = sum(band.mass.mg for band in known)
            at = sum(placed[band.source].middle * band.mass.mg for band in known) / mass if mass else 0.0
            return (node.side and node.sort == PLACE, at, here.index(node))

        here = sorted(here, key=origin)
        slots = [max(heights[node.id], _SLOT - _GAP) for node in here]
        y = _TOP + (tallest - _tall(slots)) / 2
        for node, slot in zip(here, slots, strict=True):
            top = y + (slot - heights[node.id]) / 2
            weight = show_first(Mass(through[node.id]), locale)
            placed[node.id] = Placed(
                node, columns[column], round(top, 2), round(heights[node.id], 2), _short(node.name), weight
            )
            y += slot + _GAP
    return placed


def _tall(slots: list[float]) -> float:
    return sum(slots) + _GAP * (len(slots) - 1)


def _ribbons(shape: Flow, placed: dict[str, Placed], scale: float, locale: str) -> list[Ribbon]:
    """The bands, stacked at both ends in the order of what they meet there, so that few cross."""
    starts = _stack(shape.bands, placed, scale, source=True)
    ends = _stack(shape.bands, placed, scale, source=False)
    drawn = []
    for band in shape.bands:
        a, b = placed[band.source], placed[band.target]
        says = f"{a.node.name} → {b.node.name}: {show_first(band.mass, locale)}"
        thick = max(band.mass.mg * scale, 1.0)
        side = a.node.side or b.node.side
        drawn.append(Ribbon(a.x + _BAR, starts[band], b.x, ends[band], thick, a.node.sort, side, band.weighed, says))
    return drawn


def _stack(bands: tuple[Band, ...], placed: dict[str, Placed], scale: float, source: bool) -> dict[Band, float]:
    at: dict[str, list[Band]] = defaultdict(list)
    for band in bands:
        at[band.source if source else band.target].append(band)
    tops: dict[Band, float] = {}
    for id, here in at.items():
        y = placed[id].y
        for band in sorted(here, key=lambda b: placed[b.target if source else b.source].middle):
            tops[band] = y
            y += band.mass.mg * scale
    return tops
