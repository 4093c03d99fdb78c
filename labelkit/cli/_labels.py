"""What the label commands are told, read once: sheets, printers, looks, codes and lots become values of the season."""

from __future__ import annotations

import csv
import io
from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from contextlib import nullcontext
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, Any

from labelkit.cli._codes import till_number
from labelkit.cli._files import read_bytes, read_lines, read_text, write_whole
from labelkit.cli._runner import CommandContext
from labelkit.errors.cli import UsageUnclear
from labelkit.season.label import DPI, MOST, LabelLook, LabelPaper
from labelkit.season.lot_link import SQUARES, link_maker

if TYPE_CHECKING:
    from labelkit.labels.artwork import Artwork
    from labelkit.labels.sheets import Printer, Sheet
    from labelkit.measures import Length
    from labelkit.reading.open_table import Lines
    from labelkit.record.reading import Reading
    from labelkit.season.lot_words import LotLabel

HELP = "labelkit labels --help"
#: Labels that say nothing on a jar; each is printed by itself.
OTHER = ("tag", "case", "card")


#: What a look holds, by the names of the options.
LOOK = (
    "design",
    "ink",
    "colours",
    "logo",
    "font",
    "artwork",
    "artwork_ground",
    "artwork_boxes",
    "sheets",
    "printer",
    "link",
    "squares",
    "digital_link",
    "lot_bars",
    "cut_lines",
)


def record_of(context: CommandContext):
    """The record to read from for as long as a block lasts; nothing where there is none."""
    return context.reading() if context.has_record() else nullcontext(None)


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


def by_kind(typed: Sequence[str], usual: Sequence[str], kinds: Sequence[str], option: str) -> dict[str, str]:
    """What an option names for each kind of label; what it names for none of them is for the ``usual`` ones."""
    found = {}
    for text in typed:
        kind, equals, name = text.partition("=")
        for each in (kind.strip(),) if equals else usual:
            if each not in kinds:
                raise UsageUnclear(f"{option} {text} is for a {each}, and what is printed is {', '.join(kinds)}.", HELP)
            found[each] = (name if equals else text).strip()
    return found


def places_of(text: str) -> frozenset[int]:
    """Places of a sheet from a list of them."""
    try:
        return frozenset(int(part) for part in text.replace(",", " ").split())
    except ValueError:
        raise UsageUnclear(f"“{text}” is not a list of places like 3,7.", HELP) from None


def looked(context: CommandContext, asked: Mapping[str, Any], kinds: Sequence[str]) -> dict[str, Any]:
    """What is asked of the look: as typed, else as kept under the name of ``--look``, files read."""
    from click import get_current_context
    from click.core import ParameterSource

    from labelkit.season.kept_look import look_named

    files: dict[str, Any] = {key: (asked[key], read_bytes(asked[key])) for key in ("logo", "font") if asked[key]}
    files |= _on_artwork(context, asked)
    files["artwork"] = {
        kind: (name, read_bytes(name))
        for kind, name in by_kind(asked["artwork"], kinds[:1], kinds, "--artwork").items()
    }
    said: dict[str, Any] = {"colours": dict(asked["colours"]), **files}
    if not asked["look"]:
        return said
    with record_of(context) as state:
        held = look_named(state, asked["look"])
    source = get_current_context().get_parameter_source
    typed = {key for key in LOOK if source(key) not in (ParameterSource.DEFAULT, None)}
    kept = {key: value for key, value in held.items() if key in LOOK and key not in typed}
    given = (("sheets", asked["sheets"]), ("colours", said["colours"]), ("artwork", said["artwork"]))
    both: dict[str, Any] = {key: {**held.get(key, {}), **one} for key, one in given}
    for key in ("sheets", "artwork"):
        both[key] = {kind: name for kind, name in both[key].items() if kind in kinds}
    return said | kept | both


def _on_artwork(context: CommandContext, asked: Mapping[str, Any]) -> dict[str, Any]:
    """Where words go on artwork, and the ground laid under them, read."""
    from labelkit.labels.design import colour_of
    from labelkit.reading.word_boxes import read_word_boxes

    boxes, ground = asked["artwork_boxes"], asked["artwork_ground"]
    for value, option in ((boxes, "--artwork-boxes"), (ground, "--artwork-ground")):
        if value and not (asked["artwork"] or asked["look"]):
            raise UsageUnclear(f"{option} is of artwork: name the picture with --artwork as well.", HELP)
    if boxes and ground:
        raise UsageUnclear("--artwork-boxes brings its own grounds; leave out --artwork-ground.", HELP)
    try:
        under = colour_of(ground) if ground else None
    except ValueError:
        raise UsageUnclear(f"--artwork-ground “{ground}” is not a colour like #FFF8E7.", HELP) from None
    placed = read_word_boxes(read_text(boxes), boxes, context.locale) if boxes else {}
    return {"artwork_ground": under, "artwork_boxes": placed}


def keep_typed_look(context: CommandContext, asked: Mapping[str, Any]) -> None:
    """Keep the look of a command under the name it gives, once it is known that labels can be drawn in it."""
    from labelkit.labels.design import USUAL_DESIGN
    from labelkit.season.kept_look import keep_look

    with record_of(context) as state:
        look_of(context, state, asked)
        for name in asked["sheets"].values():
            _sheet(state, name, None)
    # With the print the command booked, in one step.
    with nullcontext(context.booking[-1]) if context.booking else context.work() as work:
        keep_look(
            work,
            asked["keep_look"],
            {key: asked[key] for key in LOOK} | {"design": asked["design"] or USUAL_DESIGN},
            context.day,
        )


def artwork_of(context: CommandContext, asked: Mapping[str, Any], kinds: Sequence[str]) -> Artwork | None:
    """The artwork asked for, its bleed read; what goes with sheets alone is refused beside it."""
    from labelkit.labels.artwork import BLEED, MOST_BLEED, Artwork
    from labelkit.measures import Length

    sort = asked["art"]
    if asked["cmyk"] and sort != "pdf":
        raise UsageUnclear("--cmyk is of artwork as PDF: say --art pdf as well.", HELP)
    if asked["print_condition"] and not asked["cmyk"]:
        raise UsageUnclear("--print-condition is of colours in CMYK: say --cmyk as well.", HELP)
    if not sort:
        if asked["bleed"]:
            raise UsageUnclear("--bleed is of artwork: say --art pdf, svg or png as well.", HELP)
        return None
    if kinds[0] in OTHER:
        raise UsageUnclear(f"Artwork is of the labels of a jar, and a {kinds[0]} is none.", HELP)
    for name in ("start_at", "skip", "picture", "spoiled"):
        if asked[name] and asked[name] != 1:
            raise UsageUnclear(f"--{name.replace('_', '-')} is of a sheet, and artwork has none.", HELP)
    bleed = Length.read_signed(asked["bleed"], context.locale).um if asked["bleed"] else BLEED
    if not 0 <= bleed <= MOST_BLEED:
        raise UsageUnclear(f"A bleed is 0 to {MOST_BLEED / 1000:g} mm, and {bleed / 1000:g} mm was asked for.", HELP)
    if asked["out"] and Path(asked["out"]).suffix.casefold() != f".{sort}":
        raise UsageUnclear(f"--out {asked['out']} does not end in .{sort}, which --art {sort} writes.", HELP)
    return Artwork(sort, bleed, asked["cut_lines"], asked["cmyk"], (asked["print_condition"] or "").strip())


def label_of(
    context: CommandContext, asked: Mapping[str, Any], lots: Sequence[tuple[str, int]] | None = ()
) -> LotLabel:
    """What the label says: out of the file that was named, or out of the words kept in the record for these lots."""
    from labelkit.reading.label_file import read_label
    from labelkit.season.label import lots_with
    from labelkit.season.lot_words import LotLabel, label_of_lots

    file, size, lot, markets = asked["label_file"], asked["size"], asked["lot"], asked["markets"]
    if file:
        found = LotLabel(read_label(read_text(file), file, markets))
    elif size:
        with context.reading() as state:
            named = lots_with(state, size) if lots is None else [code for code, _ in lots] or ([lot] if lot else [])
            product, new_words = asked["product"], asked["new_words"]
            found = label_of_lots(
                state, size, named, context.day, markets=markets, product=product, new_words=new_words
            )
    else:
        raise UsageUnclear(
            "Name the label file with --label or a jar size of the record with --size; --list shows sheets and designs.",
            HELP,
        )
    return replace(found, label=replace(found.label, lot=lot or found.label.lot))


def papers_of(
    state: Reading | None,
    kinds: Sequence[str],
    sheets: Mapping[str, str],
    markets: Sequence[str],
    asked: Mapping[str, Any],
    jar: Mapping[str, Length] | None = None,
) -> tuple[LabelPaper, ...]:
    """The sheet of each kind, the usual one for the jar where none is named, and where on it to begin."""
    from labelkit.season.label_paper import usual_sheet

    return tuple(
        LabelPaper(
            kind,
            _sheet(state, sheets.get(kind, "") or usual_sheet(kind, markets, jar or {}), asked["sheet_file"]),
            asked["start_at"],
            asked["skip"],
        )
        for kind in kinds
    )


def _sheet(state: Reading | None, name: str, file: str | None) -> Sheet:
    """The chosen sheet. Raises :class:`~labelkit.errors.labels.SheetUnknown` where nobody knows it."""
    from labelkit.labels.sheets import chosen
    from labelkit.season.label_paper import sheet_named

    return chosen(name, read_text(file), file) if file else sheet_named(state, name)


def look_of(context: CommandContext, state: Reading | None, asked: Mapping[str, Any], kind: str = "front") -> LabelLook:
    """How the labels look and what codes they bear; the till number checked or made."""
    from labelkit.measures import Length
    from labelkit.season.kept_look import dressed

    if kind == "case" and asked["own_till"]:
        raise UsageUnclear("A number of your own till stands on jars, not on a case; the case's lot is its code.", HELP)
    number = asked["number"] if kind == "case" else till_number(asked["number"], asked["own_till"])
    design, logo, artwork = dressed(asked)
    return LabelLook(
        design,
        printer_of(context, state, asked),
        number,
        link_maker(asked["link"], asked["digital_link"], number),
        SQUARES[asked["squares"]],
        asked["lot_bars"],
        logo,
        Length.read(asked["jar_diameter"], context.locale) if asked["jar_diameter"] else None,
        asked["cut_lines"],
        artwork,
    )


def printer_of(context: CommandContext, state: Reading | None, asked: Mapping[str, Any]) -> Printer:
    """The printer as kept under its name, or as its correction was typed."""
    from labelkit.labels.sheets import Printer, scale
    from labelkit.measures import Length
    from labelkit.measures.numerals import read_number
    from labelkit.season.label_paper import printer_named

    name, ways = asked["printer"], ("nudge_right", "nudge_up", "scale_across", "scale_up")
    right, up, across, upwards = typed = tuple(asked[way] for way in ways)
    if not name:
        return Printer(
            asked["dpi"] or DPI,
            Length.read_signed(right, context.locale).um,
            Length.read_signed(up, context.locale).um,
            *(scale(str(read_number(factor, context.locale, text=factor))) for factor in (across, upwards)),
        )
    if typed != ("0 mm", "0 mm", "1", "1"):
        raise UsageUnclear(
            f"--printer {name} brings its own correction; a nudge or a stretch beside it would be a second one.",
            "labelkit ruler --help",
        )
    return printer_named(state, name, asked["dpi"])


def lots_of(text: str, default: int) -> tuple[tuple[str, int], ...]:
    """Lots and counts from ``L1,L2`` as typed, or from a table (.csv, .xlsx) with a heading ``lot`` and perhaps ``count``.

    Raises :class:`~labelkit.errors.labels.LotsUnclear`.

    >>> lots_of("L26195AXR, L26201AXN", 12)
    (('L26195AXR', 12), ('L26201AXN', 12))
    """
    from labelkit.errors.labels import LotsUnclear

    if Path(text).suffix.casefold() in (".csv", ".txt", ".xlsx"):
        found, where = list(_rows(read_lines(text, "en_US"), default)), text
    else:
        found, where = [(lot.strip(), default) for lot in text.split(",") if lot.strip()], f"“{text}”"
    if not found:
        raise LotsUnclear(where, "there is no lot in it")
    lot, times = Counter(lot for lot, _ in found).most_common(1)[0]
    if times > 1:
        raise LotsUnclear(where, f"lot {lot} stands in it {times} times")
    return tuple(found)


# The two headings in the six languages of the catalogues.
_HEADINGS = dict.fromkeys(("los", "charge", "lote", "partia", "партія"), "lot")
_HEADINGS |= dict.fromkeys(("anzahl", "cantidad", "nombre", "liczba", "кількість"), "count")


def _rows(lines: Lines, default: int) -> Iterator[tuple[str, int]]:
    """The rows of a table; blank ones are passed over."""
    from labelkit.errors.labels import LotsUnclear
    from labelkit.reading.tables import place_of

    text, file, sheet = lines
    text = text.removeprefix("\ufeff")
    head = text.partition("\n")[0]
    mark = max(",;\t", key=head.count)
    rows = csv.reader(io.StringIO(text), delimiter=mark, skipinitialspace=True)
    names = [_HEADINGS.get(name.strip().casefold(), name.strip().casefold()) for name in next(rows, [])]
    if "lot" not in names:
        raise LotsUnclear(
            place_of(file, 1, sheet), f"no heading is “lot”; there is {', '.join(filter(None, names)) or 'nothing'}"
        )
    for row in rows:
        held = dict(zip(names, (cell.strip() for cell in row), strict=False))
        if not any(held.values()):
            continue
        count = held.get("count") or ""
        if not held.get("lot") or (count and not (count.isascii() and count.isdigit() and 0 < int(count) <= MOST)):
            raise LotsUnclear(
                place_of(file, rows.line_num, sheet), f"“{mark.join(row)}” is not a lot and a count above nought"
            )
        yield held["lot"], int(count or default)


def write_print(name: str, picture: str | None, pdf: bytes, look: LabelLook) -> None:
    """One file to print, and a picture of its first page where one is wished."""
    from labelkit.paper.preview import preview_png

    write_whole(name, pdf)
    if picture:
        write_whole(picture, preview_png(pdf, 1, 120, look.design.paper))
