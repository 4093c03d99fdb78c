"""What everything that prints labels shares: the label of jars the record knows, drawn onto a sheet, and booked."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Any

from labelkit.cli._runner import CommandContext
from labelkit.errors.cli import UsageUnclear
from labelkit.errors.labels import LabelTooSmall

if TYPE_CHECKING:
    from datetime import date

    from labelkit.labels.composed import Composed
    from labelkit.labels.design import Design
    from labelkit.labels.printed import Printed
    from labelkit.labels.printing import SheetPrint
    from labelkit.labels.sheets import Sheet
    from labelkit.rules.label import Label
    from labelkit.run import Filled


#: The two kinds of squares a link can stand in, as they are asked for.
SQUARES = {"qr": "QR Code", "datamatrix": "Data Matrix"}


@dataclass(frozen=True)
class Choice:
    """How labels are to be printed: which label, on which sheet, where on it, by which printer."""

    sheet: str
    design: str
    kind: str = "front"
    count: int | None = None
    start_at: int = 1
    skip: frozenset[int] = frozenset()
    dpi: int | None = None
    nudge_right: str = "0 mm"
    nudge_up: str = "0 mm"
    scale_across: str = "1"
    scale_up: str = "1"
    link: str | None = None
    squares: str = "qr"
    number: str | None = None
    cut_lines: bool = False
    sheet_file: str | None = None
    logo: str | None = None
    font: str | None = None
    colours: tuple[str, ...] = ()
    printer: str | None = None
    digital_link: bool = False
    jar_diameter: str | None = None


@dataclass(frozen=True)
class Drawn:
    """Labels as they will print; ``filled`` are the jars of the record they are for, where they are for any."""

    label: Label
    made: Composed
    printed: SheetPrint
    paper: Sheet
    filled: Filled | None


def of_record(context: CommandContext, label: Label, size: str | None) -> tuple[Label, Filled | None, date | None]:
    """With a jar size: the label of the jars the record says were filled. Without: the label as it is."""
    if not size:
        return label, None, None
    from labelkit.errors.run import JarSizeUnknown
    from labelkit.lots.code import is_lot_code, read_lot_code

    with context.reading() as state:
        code = read_lot_code(label.lot, near=() if is_lot_code(label.lot) else state.lot_codes_taken()).code
        about = state.events_about([code], ("run",))
    runs = [booked.event for booked in about if booked.stands and booked.event.lot == code]
    filled = {jar.size: jar for run in runs for jar in run.jars}
    if size not in filled:
        raise JarSizeUnknown(size, ", ".join(filled) or f"none, since lot {code} is not in the record")
    return replace(label, lot=code, declares=filled[size].declares, net_statement=None), filled[size], runs[0].day


def words_of(context: CommandContext, label: Label, choice: Choice, bottled: date | None = None) -> Composed:
    """All that one label of a jar says, its codes included, before it is placed."""
    from labelkit.cli._codes import link_maker
    from labelkit.cli._files import read_bytes
    from labelkit.labels.composed import compose
    from labelkit.labels.layout.kinds import OF_A_JAR
    from labelkit.labels.logo import read_logo
    from labelkit.measures import Length
    from labelkit.rules import market

    if choice.kind not in OF_A_JAR:
        raise UsageUnclear(
            f"“{choice.kind}” is not a label that a jar's words make; they make {', '.join(OF_A_JAR)}.",
            "labelkit labels --help",
        )
    link_of = link_maker(choice.link, choice.digital_link, choice.number)
    made = compose(
        label,
        [market(name, context.day) for name in label.markets],
        locale=context.locale,
        bottled=bottled,
        kind=choice.kind,
        link=link_of(label.lot) if link_of else None,
        number=choice.number,
    )
    own: dict[str, Any] = {"link_in": SQUARES[choice.squares]}
    if choice.logo:
        own["logo"] = read_logo(read_bytes(choice.logo), choice.logo)
    if choice.jar_diameter:
        own["diameter"] = Length.read(choice.jar_diameter, context.locale)
    return replace(made, content=replace(made.content, **own))


def draw(context: CommandContext, label: Label, size: str | None, choice: Choice) -> Drawn:
    """The labels of one size of one lot (or of a label file alone), ready to print; nothing is booked."""
    from labelkit.cli._paper import paper_of, printer_of
    from labelkit.labels.printing import print_sheet

    label, filled, bottled = of_record(context, label, size)
    made = words_of(context, label, choice, bottled)
    paper = paper_of(context, choice, label.markets)
    wanted = choice.count or (filled.count if filled else free_on(paper, choice))
    with knowing_the_jar(label):
        printed = print_sheet(
            [(made.content, wanted)],
            paper,
            look_of(choice),
            start_at=choice.start_at,
            skip=choice.skip,
            printer=printer_of(context, choice),
            cut_lines=choice.cut_lines,
        )
    return Drawn(label, made, printed, paper, filled)


@contextmanager
def knowing_the_jar(label: Label) -> Iterator[None]:
    """Where letters do not fit and the jar's size is not known, say that knowing it may make them smaller."""
    try:
        yield
    except LabelTooSmall as told:
        if not label.panel:
            told.do += (
                " Or say how large the jar is (diameter and height under [panel], or label-words --jar): until then the "
                "largest letters that may be due are taken."
            )
        raise


def free_on(paper: Sheet, choice: Choice) -> int:
    """How many places of the first sheet are free."""
    used = [place for place in choice.skip if place >= choice.start_at]
    return max(1, paper.count - choice.start_at + 1 - len(used))


def look_of(choice: Choice) -> Design:
    """The design as chosen, in the user's own colours and with their own font where they gave them."""
    from labelkit.cli._files import read_bytes
    from labelkit.cli._season import pairs
    from labelkit.labels.design import design, with_colours, with_face
    from labelkit.paper.fonts import own_face

    look = design(choice.design)
    if choice.font:
        look = with_face(look, own_face(choice.font, read_bytes(choice.font)))
    if choice.colours:
        look = with_colours(look, dict(pairs(choice.colours, "--colour", "name=#5A1E0A")))
    return look


def printed_event(context: CommandContext, drawn: Drawn, size: str, choice: Choice, spoiled: int = 0) -> Printed:
    """The print as the record keeps it, with the words that stand on the paper and no others."""
    from labelkit.labels.content import Words
    from labelkit.labels.label_set import said_on
    from labelkit.labels.printed import Printed, wording_version

    content = drawn.made.content
    stands = (
        set(said_on(drawn.printed.placed[0]).words) if content.nutrition is None else {content.of("nutrition").text}
    )
    said = [
        (words.role, form)
        for words in content.words
        if (form := tuple(text for text in (*words.all, *words.instead) if text in stands))
    ]
    words = tuple(Words(role, form[0], also=form[1:]) for role, form in said)
    return Printed(
        context.day,
        drawn.label.lot,
        size,
        content.kind,
        choice.design,
        drawn.paper.name,
        wording_version(replace(content, words=words)),
        tuple(text for _, form in said for text in form),
        drawn.printed.labels,
        spoiled,
    )


def book_print(
    context: CommandContext, drawn: Drawn, size: str, choice: Choice, spoiled: int = 0, once: str | None = None
) -> int:
    """Book that these labels were printed; the event's number. Under the key ``once`` it is booked once."""
    return book_prints(context, [printed_event(context, drawn, size, choice, spoiled)], once)


def book_prints(
    context: CommandContext,
    events: Sequence[Printed],
    once: str | None = None,
    write: Callable[[], object] | None = None,
) -> int:
    """Book prints as one step, the files written by ``write`` before it is kept; the first event's number.

    What the record refuses is refused before any file is written.
    """
    write = write or (lambda: None)
    with context.work(once) as work:
        work.add_all(events)
        if work.booked_before:
            seq = work.commit()[0].seq
            write()
            return seq
        write()
        return work.commit()[0].seq
