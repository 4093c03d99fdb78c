"""A label on the maker's own artwork: the words over it, where they can be read.

The words stand where the maker's boxes are. Where none were placed, the whole label is tried first, as if the artwork
were bare paper, then the largest fields that are calm. What is taken was measured behind every line; what cannot be read
is refused with the figures.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from math import isqrt

from labelkit.errors.labels import ArtworkRefused, ArtworkUnreadable, LabelTooSmall
from labelkit.labels.backdrop.boxes import in_boxes
from labelkit.labels.backdrop.fields import plates, word_boxes
from labelkit.labels.backdrop.measure import calm_fields, ground_of
from labelkit.labels.backdrop.picture import COARSE, Backdrop, Laid, WordBox, laid
from labelkit.labels.backdrop.readable import DARK, Judged, judged
from labelkit.labels.content import LabelContent
from labelkit.labels.design import Design
from labelkit.labels.layout.board import LEAST_INSET, bald
from labelkit.labels.layout.placed import OnArtwork, Placed, rows_of, texts_of
from labelkit.labels.outline import Outline
from labelkit.paper.fonts import Box
from labelkit.paper.marks import BLACK, WHITE

#: The size of the name, in thousandths of the label's side, that is large enough not to try on. Our own eye, no source.
READY = 100


def place_on_artwork(
    placer: Callable[..., Placed],
    artwork: Backdrop,
    content: LabelContent,
    outline: Outline,
    design: Design,
    *,
    dpi: int,
    bleed: tuple[int, int],
) -> Placed:
    """Place a label on artwork. Raises :class:`~labelkit.errors.labels.ArtworkUnreadable` and what its placer raises."""
    if content.kind == "nutrition":
        raise ArtworkRefused(
            artwork.name,
            "a nutrition panel stands on a plain ground of its own",
            "Use the artwork on the front, the back or the lid, and print the nutrition label without it.",
        )
    job = _Job(placer, artwork, content, outline, _bare(design), dpi, laid(artwork, outline, bleed, dpi))
    if artwork.boxes:
        found = job.boxed(artwork.boxes)
        if found.short:
            raise ArtworkUnreadable(artwork.name, found.short, "", boxed=True)
        return found.placed
    found = job.whole(bleed)
    if not found.short and artwork.ground is None:
        return found.placed
    fields = calm_fields(ground_of([job.under.mark], outline, dpi), (DARK, WHITE), LEAST_INSET)
    best = job.best(word_boxes(fields, content, outline) if artwork.ground is None else plates(artwork.ground, outline))
    if best is None:
        raise ArtworkUnreadable(artwork.name, found.short, _calm(fields), boxed=False)
    return best


@dataclass(frozen=True)
class _Job:
    """One label to be placed on artwork: how, what, on which outline, in letters of which design, and what lies under it."""

    placer: Callable[..., Placed]
    artwork: Backdrop
    content: LabelContent
    outline: Outline
    design: Design
    dpi: int
    under: Laid

    def whole(self, bleed: tuple[int, int]) -> Judged:
        """The words over the whole label, as if the artwork were bare paper."""
        placed = self.placer(self.content, self.outline, self.design, dpi=self.dpi, bleed=bleed)
        return self._judged(placed, [self.outline.box], [])

    def boxed(self, boxes: Sequence[WordBox]) -> Judged:
        """The words in boxes. Raises :class:`~labelkit.errors.labels.LabelTooSmall` where they do not fit."""
        made = in_boxes(self.placer, boxes, self.content, self.outline, self.design, self.dpi)
        placed = Placed(made.content, self.design.name, self.outline, made.marks, (), made.moved, made.notes)
        fixed = [box.on(self.outline) for box in boxes if box.ink is not None]
        return self._judged(placed, [box.on(self.outline) for box in boxes], fixed)

    def best(self, tries: Iterable[Sequence[WordBox]]) -> Placed | None:
        """The boxes in which all can be said and read with a name of a good size, else those that leave least to another
        label, with the largest name."""
        best: tuple[tuple[int, int], Placed] | None = None
        small = isqrt(self.outline.wide * self.outline.high)
        for boxes in tries:
            try:
                found = self.boxed(boxes)
            except LabelTooSmall:
                continue
            name = max((line.size for line in texts_of(found.placed.marks, "name")), default=0)
            worth = -len(found.placed.moved), name
            if not found.short and (best is None or worth > best[0]):
                best = worth, found.placed
            if best is not None and not best[0][0] and best[0][1] * 1000 >= small * READY:
                break
        return best[1] if best else None

    def _judged(self, placed: Placed, boxes: Sequence[Box], fixed: Sequence[Box]) -> Judged:
        """What was placed, on the artwork: its heights and places held to the whole label, its letters to the ground."""
        held = replace(placed.content, net_rule=self.content.net_rule)
        marks = (self.under.mark, *placed.marks)
        rows = rows_of(held, marks, self.outline, LEAST_INSET)
        found = judged(replace(placed, content=held, outline=self.outline, marks=marks, rows=rows), fixed, self.dpi)
        of, ratio = found.least
        on = OnArtwork(self.artwork.name, ratio, of, tuple(boxes), self.under.over, self.under.dots)
        return replace(found, placed=replace(found.placed, notes=(*placed.notes, *_told(self.artwork, on)), on=on))


def _bare(design: Design) -> Design:
    """The letters of a design and none of its colour or ornament; symbols get a light panel."""
    plain = replace(bald(design), ground=None)
    return replace(plain, paper=BLACK, palette=tuple(held.colour for held in design.type.values()))


def _told(artwork: Backdrop, on: OnArtwork) -> Iterator[str]:
    """What whoever prints this should know of the artwork."""
    sides, ends = on.over
    yield (
        f"{artwork.name} runs {sides / 1000:.1f} mm over the label at each side and {ends / 1000:.1f} mm at top and bottom; "
        f"of all letters on it {on.of} stands out least, by {on.contrast} to 1."
    )
    if on.dots < COARSE:
        yield f"{artwork.name} has {on.dots} dots to an inch on this label and prints coarse; 300 are usual in print."
    if artwork.sort == "pdf":
        yield f"The page of {artwork.name} is drawn as dots of the printer."
    yield "Whether words or claims stand in the artwork itself is not checked; read it as the rules read your lines."


def _calm(fields: Sequence[tuple[int, Box]]) -> str:
    if not fields:
        return " No field of 12 × 6 mm on it is even enough for letters."
    box = fields[0][1]
    return f" Its largest calm field is {box.width / 1000:.0f} × {box.height / 1000:.0f} mm, too small for the words."
