"""Printing: labels onto sheets, and sheets into one file."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable, Sequence
from dataclasses import dataclass, field, replace
from itertools import islice, takewhile

from labelkit.labels.batch import AT_ONCE, BatchWriter, like, widest
from labelkit.labels.content import LabelContent
from labelkit.labels.design import Design, contrast
from labelkit.labels.design import design as design_named
from labelkit.labels.layers import Memo, Piece
from labelkit.labels.layout.kinds import place
from labelkit.labels.layout.placed import Placed, Row
from labelkit.labels.sheets import Printer, Sheet, free_places
from labelkit.labels.sheets import sheet as sheet_named
from labelkit.paper.fonts import Box, face_for
from labelkit.paper.marks import Shape, Text
from labelkit.paper.pdf import PdfWriter

#: Colour runs so far over the edge wherever there is paper for it, micrometres. Common practice is 2 to 3 mm, no source.
BLEED = 2000
#: A ground that stands out from its paper by so much shows every slip of the knife. Our own eye, no source.
DARK = 3
CUT = (150, 150, 150)
PROOF, PROOF_COLOUR = "PROOF", (232, 150, 140)


@dataclass(frozen=True)
class SheetPrint:
    """A printed file and what is to be said about it. ``rows`` is the table of heights, once for each kind of label.

    ``files`` are the lots with a file each, where each label is one by itself.
    """

    pdf: bytes
    pages: int
    labels: int
    placed: tuple[Placed, ...]
    about: tuple[str, ...] = ()
    files: tuple[tuple[str, bytes], ...] = field(default=(), repr=False)

    @property
    def rows(self) -> tuple[Row, ...]:
        return tuple(row for one in self.placed for row in one.rows)

    @property
    def notes(self) -> tuple[str, ...]:
        """What the printer of the label should know; each once."""
        return tuple(dict.fromkeys((*(note for one in self.placed for note in one.notes), *self.about)))

    @property
    def moved(self) -> tuple[str, ...]:
        """What did not fit and must stand on another label of the jar."""
        return tuple(dict.fromkeys(role for one in self.placed for role in one.moved))

    @property
    def ok(self) -> bool:
        """Whether every height and place is as the law read by labelkit asks."""
        return all(one.ok for one in self.placed)


def print_labels(
    content: LabelContent,
    lots: Sequence[tuple[str, int]],
    sheet: Sheet,
    design: Design,
    *,
    link_of: Callable[[str], str] | None = None,
    start_at: int = 1,
    skip: Collection[int] = (),
    printer: Printer | None = None,
    cut_lines: bool = False,
    proof: bool = False,
    on_progress: Callable[[int], None] | None = None,
) -> SheetPrint:
    """One label for one lot or for many, each as often as its count, on as many sheets as they need.

    Equal labels are drawn once and stamped; a run whose every label differs goes a faster way of its own.
    """
    if len(lots) == 1 or cut_lines:
        contents = [(content.for_lot(lot, link_of) if len(lots) > 1 else content, count) for lot, count in lots]
        return print_sheet(
            contents,
            sheet,
            design,
            start_at=start_at,
            skip=skip,
            printer=printer,
            cut_lines=cut_lines,
            proof=proof,
        )
    return print_lots(
        content,
        [lot for lot, count in lots for _ in range(count)],
        sheet,
        design,
        link_of=link_of,
        start_at=start_at,
        skip=skip,
        printer=printer,
        proof=proof,
        on_progress=on_progress,
    )


def print_sheet(
    contents: Iterable[LabelContent | tuple[LabelContent, int]],
    sheet: Sheet | str,
    design: Design | str,
    *,
    start_at: int = 1,
    skip: Collection[int] = (),
    printer: Printer | None = None,
    dpi: int | None = None,
    cut_lines: bool = False,
    proof: bool = False,
    title: str = "",
) -> SheetPrint:
    """Labels onto as many sheets as they need.

    ``contents`` are labels, or pairs of a label and how many of it. The first sheet may be part used: printing begins
    at place ``start_at`` and passes over the places in ``skip`` (both counted from 1 along the rows, first sheet only).
    ``printer`` holds what the ruler page showed; ``cut_lines`` draws each label's edge for cutting plain paper.
    """
    sheet = sheet_named(sheet) if isinstance(sheet, str) else sheet
    design = design_named(design) if isinstance(design, str) else design
    printer = printer or Printer(dpi=dpi or 600)
    counted = [one if isinstance(one, tuple) else (one, 1) for one in contents]
    outline = sheet.outline
    placed = [place(content, outline, design, dpi=printer.dpi, bleed=(BLEED, BLEED)) for content, _ in counted]
    placed = [as_proof(one) for one in placed] if proof else placed
    first = counted[0][0] if counted else None
    name = first.of("name") if first else None
    writer = PdfWriter(
        title or f"{name.text if name else 'Labels'}, {sheet.name}",
        author=author_of(first),
        lang=first.lang if first else "en",
        dpi=printer.dpi,
    )
    total = sum(count for _, count in counted)
    pages = _draw(
        writer,
        list(zip(placed, (count for _, count in counted), strict=True)),
        sheet,
        printer,
        total,
        start_at,
        skip,
        cut_lines,
    )
    return SheetPrint(writer.finish(), pages, total, tuple(placed), _of_the_paper(sheet, design))


def print_lots(
    content: LabelContent,
    lots: Sequence[str],
    sheet: Sheet | str,
    design: Design | str,
    *,
    link_of: Callable[[str], str] | None = None,
    start_at: int = 1,
    skip: Collection[int] = (),
    printer: Printer | None = None,
    dpi: int | None = None,
    proof: bool = False,
    title: str = "",
    on_progress: Callable[[int], None] | None = None,
) -> SheetPrint:
    """The same label for many lots, one label each; for long runs with a code of its own on every label.

    ``content`` is the label of the first lot; ``link_of`` makes the link of a lot, where the label carries one.
    ``on_progress`` is called with the number of labels drawn, now and then, for a bar of progress.
    """
    sheet = sheet_named(sheet) if isinstance(sheet, str) else sheet
    design = design_named(design) if isinstance(design, str) else design
    printer = printer or Printer(dpi=dpi or 600)
    outline = sheet.outline

    def placed_for(lot: str) -> Placed:
        placed = place(content.for_lot(lot, link_of), outline, design, dpi=printer.dpi, bleed=(BLEED, BLEED))
        return as_proof(placed) if proof else placed

    model = widest(lots)
    placed, alone, other = placed_for(model), Memo(placed_for), like(model)
    writer = PdfWriter(
        title or f"{len(lots)} labels, {sheet.name}", author=author_of(content), lang=content.lang, dpi=printer.dpi
    )
    corners = Memo(lambda number: printer.corner(sheet.place(number).left, sheet.place(number).bottom))
    seen = {corners[number]: _seen(sheet, number) for number in range(1, sheet.count + 1)}
    pen = BatchWriter(writer, placed, model, link_of, (other, placed_for(other)), seen)
    places, page_open = free_places(sheet, start_at, skip), -1
    held: list[tuple[tuple[int, int], tuple[Piece, ...]]] = []
    for start in range(0, len(lots), AT_ONCE):
        part = lots[start : start + AT_ONCE]
        for lot, ready, (page, number) in zip(part, pen.ready(part), places, strict=False):
            if page != page_open:
                pen.draw(held)
                writer.page(sheet.page_wide, sheet.page_high)
                page_open, held = page, []
            if ready is None:
                x, y = corners[number]
                writer.draw(alone[lot].marks, x, y, seen[x, y])
            else:
                held.append((corners[number], ready))
        if on_progress and len(part) == AT_ONCE:
            on_progress(start + AT_ONCE)
    pen.draw(held)
    return SheetPrint(
        writer.finish(), page_open + 1, len(lots), (placed, *alone.values()), _of_the_paper(sheet, design)
    )


def as_proof(placed: Placed) -> Placed:
    """The label with the word PROOF across it, under its words: so that no proof is stuck on a jar by mistake."""
    face = face_for("sans-Black", PROOF)
    wide, high = placed.outline.wide * 8 // 10, placed.outline.high * 4 // 10
    size = min(wide * 1000 // face.width(PROOF, 1000), high)
    x = (placed.outline.wide - face.width(PROOF, size)) // 2
    y = (placed.outline.high - face.extent("H", size)[1]) // 2
    ground = sum(1 for _ in takewhile(lambda mark: getattr(mark, "behind", not isinstance(mark, Text)), placed.marks))
    mark = Text(face, size, PROOF, x, y, PROOF_COLOUR, role="proof")
    return replace(placed, marks=(*placed.marks[:ground], mark, *placed.marks[ground:]))


def _seen(sheet: Sheet, number: int) -> Box | None:
    """What of a label is seen at a place of a sheet: less than it draws only where a neighbour or the paper's edge is near."""
    room = sheet.bleed(number, BLEED)
    return None if room == Box(-BLEED, -BLEED, sheet.wide + BLEED, sheet.high + BLEED) else room


def _of_the_paper(sheet: Sheet, design: Design) -> tuple[str, ...]:
    """What whoever cuts the sheet should know."""
    # A bar behind the maker or the name ends within the label; what the weight or small words stand on runs over the edge.
    base = design.base if design.type["net"].on_base else None
    grounds = [colour for colour in (design.ground, base, design.side) if colour is not None]
    if not sheet.butted or all(contrast(colour, design.paper) < DARK for colour in grounds):
        return ()
    return (
        f"The labels of {sheet.name} lie edge to edge, and the ground of {design.name} is dark: a slip of the knife shows. "
        "A sheet with gaps, or the design with less ink, forgives it.",
    )


def author_of(content: LabelContent | None) -> str:
    """The maker, as the author of a file."""
    maker = content.of("maker") if content else None
    return maker.text if maker else ""


def _draw(
    writer: PdfWriter,
    work: Sequence[tuple[Placed, int]],
    sheet: Sheet,
    printer: Printer,
    total: int,
    start_at: int,
    skip: Collection[int],
    cut_lines: bool,
) -> int:
    places = islice(free_places(sheet, start_at, skip), total)
    page_open = -1
    for number, (one, count) in enumerate(work):
        for copy in range(count):
            page, place_number = next(places)
            if page != page_open:
                writer.page(sheet.page_wide, sheet.page_high)
                page_open = page
            box = sheet.place(place_number)
            x, y = printer.corner(box.left, box.bottom)
            if cut_lines:
                writer.draw([Shape(one.outline.path(), stroke=CUT, width=100, behind=True, role="cut")], x, y)
            seen = _seen(sheet, place_number)
            if count == 1:
                writer.draw(one.marks, x, y, seen)
            else:
                if copy == 0:
                    writer.define(f"label{number}", one.marks, sheet.wide, sheet.high)
                writer.stamp(f"label{number}", x, y, seen)
    if page_open < 0:
        writer.page(sheet.page_wide, sheet.page_high)
    return max(1, page_open + 1)
