"""``labelkit labels``."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import click

from labelkit.cli._options import WORDS, BySize, because_option, once_option
from labelkit.cli._runner import Answer, CommandContext, answering
from labelkit.cli._show import table
from labelkit.errors.cli import UsageUnclear

if TYPE_CHECKING:
    from labelkit.season.label import DrawnLabels

HELP = "labelkit labels --help"


@click.command()
@click.option(
    "--label",
    "label_file",
    metavar="LABEL.toml",
    help="What the label says; unless given, the words kept in the record (see label-words).",
)
@click.option(
    "--market", "markets", metavar="MARKET", multiple=True, help="Where it is sold; otherwise as the file says."
)
@click.option("--lot", metavar="CODE", default="", help="The lot code, if the file has none.")
@click.option(
    "--lots",
    metavar="L1,L2 or FILE",
    help="Many lots in one file: codes, or a table (.csv, .xlsx) with “lot” and perhaps “count”.",
)
@click.option("--every-lot", is_flag=True, help="With --size: every lot of the record with jars of that size.")
@click.option(
    "--size", metavar="SIZE", help="The jar size in the record: its weight, its count, and the print is booked."
)
@click.option("--spoiled", type=click.IntRange(0), default=0, help="With --size: labels of this print thrown away.")
@click.option(
    "--kind",
    "--kinds",
    "kinds",
    metavar="KIND",
    multiple=True,
    default=("front",),
    show_default=True,
    help="Front, back, wrap, lid, seal, nutrition: several make a set, like front,back. By themselves: tag (of a "
    "bucket), case, card (for the shelf).",
)
@click.option(
    "--bucket",
    "buckets",
    metavar="ID",
    multiple=True,
    help="With --kind tag: the bucket; repeat for more. With --size: labels before the jars are filled, as the kept plan has them.",
)
@click.option("--per-case", type=click.IntRange(1, 1000), help="With --kind case: how many jars a case holds.")
@click.option("--price", metavar="AMOUNT", help="With --kind card and --label: what the jar costs.")
@click.option("--currency", metavar="CODE", help="With --price: its currency; the market's own unless given.")
@click.option(
    "--sheet",
    "sheets",
    metavar="SHEET",
    multiple=True,
    help="The label sheet, a roll (roll-102x76; roll-62 is cut to length), or one you kept; for one kind of a set: lid=letter-4x5-d51. "
    "Otherwise a usual one for the kind.",
)
@click.option("--sheet-file", metavar="FILE", help="A sheet of yours, as “labelkit sheet” wrote it.")
@click.option("--design", metavar="DESIGN", help="The look; otherwise the lot's own, the product's, or press.")
@click.option(
    "--ink",
    type=click.Choice(["full", "less", "one"]),
    default="full",
    show_default=True,
    help="The design as drawn, with less ink, or in one ink alone.",
)
@click.option("--product", metavar="NAME", help="With --size: what the jars are sold as; otherwise by lot and honey.")
@click.option("--new-words", is_flag=True, help="With --size: today's words on a lot that bears others; say --because.")
@click.option(
    "--count",
    type=click.IntRange(1, 100_000),
    default=None,
    help="How many labels; otherwise as many as jars in the record, or one sheet.",
)
@click.option("--start-at", type=int, default=1, show_default=True, help="First free place of a part-used sheet.")
@click.option("--skip", metavar="PLACES", default="", help="Places already used, like 3,7.")
@click.option(
    "--printer", metavar="NAME", envvar="LABELKIT_PRINTER", help="The printer as “labelkit ruler --keep NAME” kept it."
)
@click.option(
    "--dpi",
    type=click.IntRange(150, 2400),
    default=None,
    help="Dots per inch of the printer.  [default: 600, or as kept]",
)
@click.option("--nudge-right", metavar="LENGTH", default="0 mm", help="Move all labels right; a minus moves left.")
@click.option("--nudge-up", metavar="LENGTH", default="0 mm", help="Move all labels up; a minus moves down.")
@click.option("--scale-across", metavar="FACTOR", default="1", help="Stretch across, as “labelkit ruler” told you.")
@click.option("--scale-up", metavar="FACTOR", default="1", help="Stretch upwards, as “labelkit ruler” told you.")
@click.option("--link", metavar="URL", help="A link to print as a QR Code; {lot} in it becomes the lot code.")
@click.option(
    "--squares",
    type=click.Choice(["qr", "datamatrix"]),
    default="qr",
    show_default=True,
    help="What --link or --digital-link is printed in.",
)
@click.option(
    "--lot-bars",
    type=click.Choice(["none", "code128", "datamatrix"]),
    default="none",
    show_default=True,
    help="What the lot code is printed in beside its plain letters, which are always there.",
)
@click.option("--number", metavar="DIGITS", help="The jar's EAN or UPC number from GS1; for a case also its own of 14.")
@click.option(
    "--own-till",
    metavar="ARTICLE",
    help="No GS1 number? Your own article number, as bars that work at your own till only.",
)
@click.option(
    "--digital-link",
    is_flag=True,
    help="With --number: squares that say number and lot (GS1 Digital Link); --link names your own site.",
)
@click.option(
    "--jar-diameter",
    metavar="LENGTH",
    help="How wide the jar is, if the label file does not say: bars must not bend too far round it.",
)
@click.option("--logo", metavar="FILE", help="Your mark above the maker: PNG, JPEG or SVG.")
@click.option(
    "--artwork",
    metavar="FILE",
    multiple=True,
    help="Your own artwork as ground: PNG, JPEG or the first page of a PDF; for one kind of a set: lid=FILE. The words "
    "go where they can be read.",
)
@click.option(
    "--artwork-ground", metavar="#RRGGBB", help="With --artwork: a plain ground of that colour under the words."
)
@click.option(
    "--artwork-boxes",
    metavar="FILE.toml",
    help="With --artwork: where the words go: [[box]] with words, left, top, width, height, and as wished ground, ink, align.",
)
@click.option("--font", metavar="FILE", help="Your own font for the name (a static .ttf).")
@click.option(
    "--colour",
    "colours",
    type=BySize(WORDS, "name=#5A1E0A"),
    metavar="WHAT=#RRGGBB",
    multiple=True,
    help="Your own colour: name, maker, line, net, info, ground, ornament.",
)
@click.option("--look", metavar="NAME", help="A look you kept; what is typed beside it wins.")
@click.option(
    "--keep-look",
    metavar="NAME",
    help="Keep design, colours, logo, font, sheets, printer and codes under a name, for --look.",
)
@click.option("--cut-lines", is_flag=True, help="Draw the edges, for plain paper.")
@click.option(
    "--art",
    type=click.Choice(["pdf", "svg", "png"]),
    help="For a print shop: one label of each lot as artwork, each in its own file; --cut-lines adds crop marks.",
)
@click.option("--cmyk", is_flag=True, help="With --art pdf: colours as cyan, magenta, yellow and black.")
@click.option(
    "--print-condition",
    metavar="NAME",
    help="With --cmyk: what the shop prints by, as registered with the ICC: FOGRA39, CGATS TR 006 …",
)
@click.option("--bleed", metavar="LENGTH", help="With --art: how far colour runs over the edge.  [default: 3 mm]")
@click.option(
    "--out",
    metavar="FILE",
    help="The file to print; of a set, one for each kind: labels-front.pdf …  [default: labels.pdf]",
)
@click.option("--picture", metavar="FILE", help="Also a picture of the first page (PNG).")
@click.option("--proof", is_flag=True, help="Print all the same, marked as a proof and not booked.")
@because_option
@once_option
@click.option("--list", "show_list", is_flag=True, help="Show the sheets and the designs.")
@answering
def command(
    context: CommandContext, show_list: bool, kinds: tuple[str, ...], sheets: tuple[str, ...], **asked: Any
) -> Answer:
    """Print labels, bucket tags, case labels and shelf cards.

    As many as you need, on the sheet you have. labelkit checks that they say all they must.

    What “check” stops is not printed, nor a front that has no room for a word the law asks for; --proof prints it all the
    same, marked as a proof. Labels of jars are booked when --size names the jars; tags, case labels and cards are not.

    \b
    Example:  labelkit labels --label one-pound.toml --sheet letter-2x5-102x51 --design meadow --count 57
              labelkit labels --label one-pound.toml --lot L26201AXN --size "one pound"
              labelkit labels --label one-pound.toml --kind front,back --sheet back=letter-2x3-102x85
              labelkit labels --size "one pound" --every-lot
              labelkit labels --size "one pound" --bucket B1
              labelkit labels --label one-pound.toml --artwork meadow.jpg --artwork-ground #FFF8E7
              labelkit labels --label one-pound.toml --art svg --bleed "3 mm" --out artwork.svg
              labelkit labels --design meadow --colour name=#1F3B2C --keep-look stall
              labelkit labels --size "one pound" --look stall
              labelkit labels --kind tag --bucket B1
              labelkit labels --kind case --lot L26201AXN --size "one pound" --per-case 12
    """
    if show_list:
        return _list(context)
    from labelkit.cli._labels import OTHER, artwork_of, by_kind, keep_typed_look, kinds_of, looked, places_of

    chosen = kinds_of(kinds)
    asked |= {"skip": places_of(asked["skip"]), "sheets": by_kind(sheets, chosen, chosen, "--sheet")}
    asked |= {"art": artwork_of(context, asked, chosen), "out": asked["out"] or f"labels.{asked['art'] or 'pdf'}"}
    asked |= looked(context, asked, chosen)
    if asked["keep_look"] and not (asked["label_file"] or asked["size"] or asked["buckets"]):
        keep_typed_look(context, asked)
        return Answer(
            {"look": asked["keep_look"]}, f"Kept. From now on:  labelkit labels … --look “{asked['keep_look']}”"
        )
    answer = _print_other(context, chosen[0], asked) if chosen[0] in OTHER else _print(context, chosen, asked)
    if asked["keep_look"]:
        keep_typed_look(context, asked)
    return answer


def _print_other(context: CommandContext, kind: str, asked: dict[str, Any]) -> Answer:
    from labelkit.cli._other_labels import print_other

    return print_other(context, kind, asked)


def _print(context: CommandContext, kinds: tuple[str, ...], asked: dict[str, Any]) -> Answer:
    """Draw, judge, write and book. Nothing is written or booked before all of it is known to be right."""
    from labelkit.cli._label_answer import answer_of
    from labelkit.cli._labels import label_of, look_of, papers_of, record_of
    from labelkit.season.label import LabelPrint, book_labels, draw_labels
    from labelkit.season.product_sizes import size_in_lot

    _refuse_unfit(kinds, asked)
    if asked["size"] and asked["lot"]:
        with record_of(context) as state:
            asked["size"] = size_in_lot(state, asked["size"], asked["lot"]) if state else asked["size"]
    lots = _lots(asked)
    found = label_of(context, asked, lots)
    label, asked["design"] = found.label, asked["design"] or found.design
    with record_of(context) as state:
        wanted = LabelPrint(
            label,
            papers_of(state, kinds, asked["sheets"], label.markets, asked, label.panel),
            look_of(context, state, asked),
            asked["size"],
            lots,
            asked["count"],
            asked["spoiled"],
            asked["proof"],
            asked["because"],
            asked["art"],
            found if asked["size"] and not asked["label_file"] else None,
            asked["buckets"][0] if asked["buckets"] else "",
        )
    with record_of(context) as state:
        drawn = draw_labels(state, wanted, context.day, context.locale)
    if asked["proof"] or not (wanted.size or drawn.stopped):
        write_labels(asked, drawn)
    elif not drawn.stopped:
        with context.work(asked["once"]) as work:
            # What the record refuses is refused before any file is written.
            book_labels(work, drawn, context.day)
            write_labels(asked, drawn)
    return answer_of(drawn, asked, context.locale, many=lots != ())


def _lots(asked: dict[str, Any]) -> tuple[tuple[str, int], ...] | None:
    """The lots that were named; none where the label names its own, and ``None`` for every lot of the record."""
    from labelkit.cli._labels import lots_of

    if not (asked["lots"] or asked["every_lot"]):
        return ()
    if asked["lots"] and asked["every_lot"]:
        raise UsageUnclear("--lots names some and --every-lot means all; give one of them.", HELP)
    if asked["every_lot"] and not asked["size"]:
        raise UsageUnclear("--every-lot looks into the record: name the jars with --size.", HELP)
    if asked["lot"] or asked["spoiled"]:
        raise UsageUnclear("With many lots --lot and --spoiled have no meaning; print a single lot for them.", HELP)
    if asked["every_lot"]:
        return None
    return lots_of(asked["lots"], 0 if asked["size"] else asked["count"] or 1)


def _refuse_unfit(kinds: tuple[str, ...], asked: dict[str, Any]) -> None:
    """Refuse options that mean nothing for the labels of a jar, rather than pass them over."""
    lots = asked["lot"] or asked["lots"] or asked["every_lot"]
    if asked["size"] and (len(asked["buckets"]) > 1 or (asked["buckets"] and lots)):
        raise UsageUnclear("--bucket is for jars that are not filled yet: name one bucket, and no lot.", HELP)
    apart = () if asked["size"] else (("buckets", "--bucket"),)
    for name, option in (*apart, ("per_case", "--per-case"), ("price", "--price")):
        if asked[name]:
            raise UsageUnclear(f"{option} does not go with a {kinds[0]} label.", HELP)
    if len(kinds) > 1 and (asked["start_at"] != 1 or asked["skip"] or asked["spoiled"]):
        raise UsageUnclear(
            "A part-used sheet and spoiled labels are of one kind; print that kind by itself and the others after it.",
            HELP,
        )


def write_labels(asked: dict[str, Any], drawn: DrawnLabels) -> None:
    """The files of a print: each kind in one of its own, and a picture of its first page where one is wished.

    Of artwork each label of each lot.
    """
    from labelkit.cli._files import write_whole
    from labelkit.cli._label_answer import art_files, file_of
    from labelkit.cli._labels import write_print

    kinds = [one.paper.kind for one in drawn.drawn]
    for one in drawn.drawn:
        for name, (_, art) in zip(art_files(asked["out"], one, kinds), one.printed.files, strict=True):
            write_whole(name, art)
        if asked["art"]:
            continue
        picture = asked["picture"] and file_of(asked["picture"], one.paper.kind, kinds)
        write_print(file_of(asked["out"], one.paper.kind, kinds), picture, one.printed.pdf, drawn.asked.look)


def _list(context: CommandContext) -> Answer:
    from labelkit.cli._labels import record_of
    from labelkit.labels.design import designs
    from labelkit.labels.sheets import sheets
    from labelkit.season.kept_look import LOOKS
    from labelkit.season.label_paper import kept

    looks = [{"name": one.name, "says": one.says, "prints": one.prints} for one in designs().values()]
    papers: list[dict[str, Any]] = [
        {"name": one.name, "page": one.page, "labels": one.count, "shape": one.shape, "use": one.use}
        for one in sheets().values()
    ]
    text = table(("design", ""), [(one["name"], one["says"]) for one in looks])
    text += "\n\n" + table(
        ("sheet", "labels", "shape", "for"),
        [(one["name"], str(one["labels"]), one["shape"], one["use"]) for one in papers],
        right=[1],
    )
    with record_of(context) as state:
        mine = kept(state, LOOKS)
    if mine:
        text += "\n\n" + table(
            ("look you kept", "design"), [(name, one.get("design", "")) for name, one in mine.items()]
        )
    kept_looks = [{"name": name, "design": one.get("design", "")} for name, one in mine.items()]
    return Answer(
        {"designs": looks, "sheets": papers, "looks": kept_looks},
        text + "\n\nA roll is named by its label: roll-102x76. A continuous one by its width: roll-62.",
    )
