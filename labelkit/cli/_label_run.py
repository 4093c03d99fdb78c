"""One run of ``labelkit labels``: from what was asked to files, a booking, and an answer."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, fields, replace
from pathlib import Path
from typing import TYPE_CHECKING

from labelkit.cli._labels import Choice, Drawn
from labelkit.cli._other_labels import OTHER
from labelkit.cli._runner import Answer, CommandContext
from labelkit.errors.cli import UsageUnclear

if TYPE_CHECKING:
    from labelkit.cli._many_lots import LotRun
    from labelkit.rules.label import Label

HELP = "labelkit labels --help"


@dataclass(frozen=True)
class Asked:
    """Everything the command was told, as it was typed."""

    kinds: tuple[str, ...]
    sheets: dict[str, str]
    skip: frozenset[int]
    label_file: str | None
    markets: tuple[str, ...]
    lot: str
    lots: str | None
    every_lot: bool
    size: str | None
    spoiled: int
    buckets: tuple[str, ...]
    per_case: int | None
    price: str | None
    currency: str | None
    sheet_file: str | None
    design: str
    count: int | None
    start_at: int
    printer: str | None
    dpi: int | None
    nudge_right: str
    nudge_up: str
    scale_across: str
    scale_up: str
    link: str | None
    squares: str
    number: str | None
    own_till: str | None
    digital_link: bool
    jar_diameter: str | None
    logo: str | None
    font: str | None
    colours: tuple[str, ...]
    cut_lines: bool
    out: str
    picture: str | None
    once: str | None

    def choice(self, kind: str) -> Choice:
        """How one kind is to be printed; its till number checked or made."""
        from labelkit.cli._codes import till_number

        held = {field.name: getattr(self, field.name) for field in fields(Choice) if hasattr(self, field.name)}
        number = self.number if kind == "case" else till_number(self.number, self.own_till)
        if kind == "case" and self.own_till:
            raise UsageUnclear(
                "A number of your own till stands on jars, not on a case; the case's lot is its code.", HELP
            )
        return Choice(**{**held, "kind": kind, "sheet": self.sheets.get(kind, ""), "number": number})

    def file(self, name: str, kind: str) -> str:
        """Where a kind goes: as named, or of a set each in a file of its own."""
        if len(self.kinds) == 1:
            return name
        where = Path(name)
        return str(where.with_name(f"{where.stem}-{kind}{where.suffix}"))


def kinds_of(typed: Sequence[str]) -> tuple[str, ...]:
    """The kinds asked for, from words and lists of words; a set is of one jar's labels only.

    >>> kinds_of(("front,back", "lid"))
    ('front', 'back', 'lid')
    """
    from labelkit.labels.layout.kinds import OF_A_JAR

    found = tuple(dict.fromkeys(one.strip().casefold() for text in typed for one in text.split(",") if one.strip()))
    for one in found:
        if one not in (*OF_A_JAR, *OTHER):
            raise UsageUnclear(
                f"“{one}” is no kind of label; a jar has {', '.join(OF_A_JAR)}, and by themselves there are {', '.join(OTHER)}.",
                HELP,
            )
    apart = [one for one in found if one in OTHER]
    if not found or (apart and len(found) > 1):
        raise UsageUnclear(
            f"A {apart[0]} is printed by itself, not in a set with others." if apart else "No kind of label is named.",
            HELP,
        )
    return found


def print_asked(context: CommandContext, asked: Asked) -> Answer:
    """Do what was asked. Nothing is written or booked before all of it is known to be right."""
    if asked.kinds[0] in OTHER:
        return _print_other(context, asked)
    for given, option in ((asked.buckets, "--bucket"), (asked.per_case, "--per-case"), (asked.price, "--price")):
        if given:
            raise UsageUnclear(f"{option} does not go with a {asked.kinds[0]} label.", HELP)
    if len(asked.kinds) > 1 and (asked.start_at != 1 or asked.skip or asked.spoiled):
        raise UsageUnclear(
            "A part-used sheet and spoiled labels are of one kind; print that kind by itself and the others after it.",
            HELP,
        )
    label = _label(context, asked)
    return _print_lots(context, asked, label) if asked.lots or asked.every_lot else _print_set(context, asked, label)


def _label(context: CommandContext, asked: Asked) -> Label:
    from labelkit.cli._files import read_text
    from labelkit.cli._label_words import label_of_record
    from labelkit.reading.label_file import read_label

    if not asked.label_file and not asked.size:
        raise UsageUnclear(
            "Name the label file with --label or a jar size of the record with --size; --list shows sheets and designs.",
            HELP,
        )
    if asked.label_file:
        label = read_label(read_text(asked.label_file), asked.label_file, asked.markets)
    else:
        label = label_of_record(context, asked.size, asked.markets)
    return replace(label, lot=asked.lot or label.lot)


def _print_set(context: CommandContext, asked: Asked, label: Label) -> Answer:
    from labelkit.cli._label_answer import told
    from labelkit.cli._label_set import check_set
    from labelkit.cli._labels import draw, printed_event

    choices = [asked.choice(kind) for kind in asked.kinds]
    drawn = [draw(context, label, asked.size, choice) for choice in choices]
    checked = check_set(context, drawn, asked.size, choices[0])
    if drawn[0].filled:
        _keep(
            context,
            asked,
            drawn,
            [
                printed_event(context, one, asked.size, choice, asked.spoiled)
                for one, choice in zip(drawn, choices, strict=True)
            ],
        )
    else:
        _write(asked, drawn)
    return told(asked, drawn, checked)


def _print_lots(context: CommandContext, asked: Asked, label: Label) -> Answer:
    from labelkit.cli._label_answer import told
    from labelkit.cli._label_set import check_set
    from labelkit.cli._labels import printed_event
    from labelkit.cli._many_lots import draw_lots, events_of, lots_of_size, read_lots

    if asked.lots and asked.every_lot:
        raise UsageUnclear("--lots names some and --every-lot means all; give one of them.", HELP)
    if asked.every_lot and not asked.size:
        raise UsageUnclear("--every-lot looks into the record: name the jars with --size.", HELP)
    if asked.lot or asked.spoiled:
        raise UsageUnclear("With many lots --lot and --spoiled have no meaning; print a single lot for them.", HELP)
    bottled = None
    if asked.size:
        label, lots, bottled = lots_of_size(context, label, asked.size, asked.lots, asked.count)
    else:
        lots = read_lots(asked.lots, asked.count or 1)
    choices = [asked.choice(kind) for kind in asked.kinds]
    runs: list[LotRun] = [draw_lots(context, label, lots, choice, bottled) for choice in choices]
    drawn = [run.drawn for run in runs]
    checked = check_set(context, drawn, asked.size, choices[0], [lot for lot, _ in lots])
    if asked.size:
        _keep(
            context,
            asked,
            drawn,
            [
                event
                for run, choice in zip(runs, choices, strict=True)
                for event in events_of(printed_event(context, run.drawn, asked.size, choice), run)
            ],
        )
    else:
        _write(asked, drawn)
    return told(asked, drawn, checked, lots)


def _keep(context: CommandContext, asked: Asked, drawn: Sequence[Drawn], events) -> None:
    from labelkit.cli._labels import book_prints

    book_prints(context, events, asked.once, lambda: _write(asked, drawn))


def _write(asked: Asked, drawn: Sequence[Drawn]) -> None:
    for kind, one in zip(asked.kinds, drawn, strict=True):
        _write_one(asked, kind, one.printed.pdf)


def _write_one(asked: Asked, kind: str, pdf: bytes) -> None:
    from labelkit.cli._files import write_whole
    from labelkit.labels.design import design
    from labelkit.labels.printing import preview_png

    write_whole(asked.file(asked.out, kind), pdf)
    if asked.picture:
        write_whole(asked.file(asked.picture, kind), preview_png(pdf, 1, 120, design(asked.design).paper))


def _print_other(context: CommandContext, asked: Asked) -> Answer:
    from labelkit.cli._label_answer import told_other
    from labelkit.cli._labels import free_on, look_of
    from labelkit.cli._other_labels import cards, cases, tags
    from labelkit.cli._paper import paper_of, printer_of
    from labelkit.labels.printing import print_sheet

    kind = asked.kinds[0]
    _fits_kind(asked, kind)
    choice = asked.choice(kind)
    if kind == "tag":
        wanted = tags(context, asked.buckets, asked.count)
    elif kind == "case":
        lots = [lot.strip() for lot in asked.lot.split(",") if lot.strip()]
        wanted = cases(context, replace(_label(context, asked), lot=""), asked.size, lots, asked.per_case, choice)
    else:
        label = _label(context, asked) if asked.label_file else None
        wanted = cards(context, label, asked.size, asked.price, asked.currency, asked.count)
    paper = paper_of(context, choice, wanted.markets)
    contents = [(content, count or free_on(paper, choice)) for content, count in wanted.contents]
    printed = print_sheet(
        contents,
        paper,
        look_of(choice),
        start_at=choice.start_at,
        skip=choice.skip,
        printer=printer_of(context, choice),
        cut_lines=choice.cut_lines,
    )
    _write_one(asked, kind, printed.pdf)
    return told_other(asked, printed, paper, wanted, [count for _, count in contents])


def _fits_kind(asked: Asked, kind: str) -> None:
    """Refuse options that mean nothing for a tag, a case label or a card, rather than pass them over."""
    only = {"tag": ("buckets",), "case": ("per_case", "number", "lot"), "card": ("price", "currency")}
    given = {
        "--bucket": asked.buckets and "buckets",
        "--per-case": asked.per_case and "per_case",
        "--price": asked.price and "price",
        "--currency": asked.currency and "currency",
        "--lot": asked.lot and "lot",
        "--number": asked.number and "number",
        "--link": asked.link and "link",
        "--lots": asked.lots and "lots",
        "--digital-link": asked.digital_link and "digital_link",
        "--own-till": asked.own_till and "own_till",
        "--every-lot": asked.every_lot and "every_lot",
        "--jar-diameter": asked.jar_diameter and "jar_diameter",
        "--spoiled": asked.spoiled and "spoiled",
        "--once": asked.once and "once",
        "--logo": asked.logo and "logo",
    }
    for option, name in given.items():
        if name and name not in only[kind]:
            why = "; nothing of it is booked" if option in ("--once", "--spoiled") else ""
            raise UsageUnclear(f"{option} does not go with a {kind}{why}.", HELP)
