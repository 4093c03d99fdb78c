"""What everything that prints labels shares: the label of jars the record knows, drawn onto a sheet, and booked."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from labelkit.cli._rim import Desk
from labelkit.cli._season import season_book, season_step
from labelkit.errors.cli import UsageUnclear

if TYPE_CHECKING:
    from datetime import date

    from labelkit.labels.composed import Composed
    from labelkit.labels.design import Design
    from labelkit.labels.printing import SheetPrint
    from labelkit.labels.sheets import Sheet
    from labelkit.rules.label_file import Label
    from labelkit.run import Filled


@dataclass(frozen=True)
class Choice:
    """How labels are to be printed: which label, on which sheet, where on it, by which printer."""

    sheet: str
    design: str
    kind: str = "front"
    count: int | None = None
    start_at: int = 1
    skip: frozenset[int] = frozenset()
    dpi: int = 600
    nudge_right: str = "0 mm"
    nudge_up: str = "0 mm"
    scale_across: str = "1"
    scale_up: str = "1"
    link: str | None = None
    number: str | None = None
    cut_lines: bool = False
    sheet_file: str | None = None
    logo: str | None = None
    font: str | None = None
    colours: tuple[str, ...] = ()


@dataclass(frozen=True)
class Drawn:
    """Labels as they will print; ``filled`` are the jars of the record they are for, where they are for any."""

    label: Label
    made: Composed
    printed: SheetPrint
    paper: Sheet
    filled: Filled | None


def of_record(desk: Desk, label: Label, size: str | None) -> tuple[Label, Filled | None, date | None]:
    """With a jar size: the label of the jars the record says were filled. Without: the label as it is."""
    if not size:
        return label, None, None
    from labelkit.errors.run import JarSizeUnknown
    from labelkit.lots.code import read_lot_code

    with season_book(desk, to_read=True) as book:
        code = read_lot_code(label.lot, near=book.lot_codes_taken()).code
        runs = [booked.event for booked in book.events(("run",)) if booked.stands and booked.event.lot == code]
    filled = {jar.size: jar for run in runs for jar in run.jars}
    if size not in filled:
        raise JarSizeUnknown(size, ", ".join(filled) or f"none, since lot {code} is not in the record")
    return replace(label, lot=code, declares=filled[size].declares, net_statement=None), filled[size], runs[0].day


def draw(desk: Desk, label: Label, size: str | None, choice: Choice) -> Drawn:
    """The labels of one size of one lot (or of a label file alone), ready to print; nothing is booked."""
    from labelkit.cli._files import read_bytes, read_text
    from labelkit.labels.composed import compose
    from labelkit.labels.logo import read_logo
    from labelkit.labels.place.kinds import OF_A_JAR
    from labelkit.labels.printing import print_sheet
    from labelkit.labels.sheets import Printer, chosen, scale, shift
    from labelkit.labels.sheets import sheet as sheet_named
    from labelkit.rules import market

    if choice.kind not in OF_A_JAR:
        raise UsageUnclear(
            f"“{choice.kind}” is not a label that a jar's words make; they make {', '.join(OF_A_JAR)}. "
            "Price cards come from labelkit price --cards.",
            "labelkit labels --help",
        )
    label, filled, bottled = of_record(desk, label, size)
    made = compose(
        label, [market(name, desk.day) for name in label.markets], locale=desk.locale, bottled=bottled,
        kind=choice.kind, link=choice.link, number=choice.number,
    )  # fmt: skip
    if choice.logo:
        made = replace(made, content=replace(made.content, logo=read_logo(read_bytes(choice.logo), choice.logo)))
    paper = (
        chosen(choice.sheet, read_text(choice.sheet_file), choice.sheet_file)
        if choice.sheet_file
        else sheet_named(choice.sheet)
    )
    printer = Printer(
        choice.dpi, shift(choice.nudge_right, desk.locale), shift(choice.nudge_up, desk.locale),
        scale(choice.scale_across), scale(choice.scale_up),
    )  # fmt: skip
    free = max(1, paper.count - choice.start_at + 1 - len([place for place in choice.skip if place >= choice.start_at]))
    wanted = choice.count or (filled.count if filled else free)
    printed = print_sheet(
        [(made.content, wanted)], paper, look_of(choice), start_at=choice.start_at, skip=choice.skip, printer=printer,
        cut_lines=choice.cut_lines,
    )  # fmt: skip
    return Drawn(label, made, printed, paper, filled)


def look_of(choice: Choice) -> Design:
    """The design as chosen, in the user's own colours and with their own font where they gave them."""
    from labelkit.cli._files import read_bytes
    from labelkit.cli._season import pairs
    from labelkit.labels.design import design, with_colours, with_face
    from labelkit.labels.fonts import own_face

    look = design(choice.design)
    if choice.font:
        look = with_face(look, own_face(choice.font, read_bytes(choice.font)))
    if choice.colours:
        look = with_colours(look, dict(pairs(choice.colours, "--colour", "name=#5A1E0A")))
    return look


def book_print(desk: Desk, drawn: Drawn, size: str, choice: Choice, spoiled: int = 0, once: str | None = None) -> int:
    """Book that these labels were printed; the event's number. Under the key ``once`` it is booked once."""
    from labelkit.labels.printed import Printed, wording_version

    content = drawn.made.content
    said = tuple(text for words in content.words for text in words.all)
    with season_step(desk, key=once) as work:
        work.add(Printed(
            desk.day, drawn.label.lot, size, content.kind, choice.design, choice.sheet, wording_version(content), said,
            drawn.printed.labels, spoiled,
        ))  # fmt: skip
        return work.commit()[0].seq
