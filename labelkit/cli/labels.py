"""``labelkit labels``."""

from __future__ import annotations

from dataclasses import replace

import click

from labelkit.cli._rim import Answer, Desk, answering
from labelkit.cli._show import table


@click.command()
@click.option("--label", "label_file", metavar="LABEL.toml",
              help="What the label says; unless given, the words kept in the record (see label-words).")  # fmt: skip
@click.option(
    "--market", "markets", metavar="MARKET", multiple=True, help="Where it is sold; otherwise as the file says."
)
@click.option("--lot", metavar="CODE", default="", help="The lot code, if the file has none.")
@click.option(
    "--size", metavar="SIZE", help="The jar size in the record: its weight, its count, and the print is booked."
)
@click.option("--spoiled", type=click.IntRange(0), default=0, help="With --size: labels of this print thrown away.")
@click.option(
    "--sheet", metavar="SHEET", default="letter-2x5-102x51", show_default=True, help="The label sheet, or a roll."
)
@click.option("--sheet-file", metavar="FILE", help="A sheet of yours, as “labelkit sheet” wrote it.")
@click.option("--design", metavar="DESIGN", default="press", show_default=True, help="The look.")
@click.option(
    "--kind", metavar="KIND", default="front", show_default=True, help="Front, back, wrap, lid, seal, nutrition …"
)
@click.option("--count", type=click.IntRange(1, 100_000), default=None, help="How many labels; otherwise one sheet.")
@click.option("--start-at", type=int, default=1, show_default=True, help="First free place of a part-used sheet.")
@click.option("--skip", metavar="PLACES", default="", help="Places already used, like 3,7.")
@click.option(
    "--dpi", type=click.IntRange(150, 2400), default=600, show_default=True, help="Dots per inch of the printer."
)
@click.option("--nudge-right", metavar="LENGTH", default="0 mm", help="Move all labels right; a minus moves left.")
@click.option("--nudge-up", metavar="LENGTH", default="0 mm", help="Move all labels up; a minus moves down.")
@click.option("--scale-across", metavar="FACTOR", default="1", help="Stretch across, as “labelkit ruler” told you.")
@click.option("--scale-up", metavar="FACTOR", default="1", help="Stretch upwards, as “labelkit ruler” told you.")
@click.option("--link", metavar="URL", help="A link to print as a QR Code.")
@click.option("--number", metavar="DIGITS", help="The EAN or UPC number, if you have one.")
@click.option("--logo", metavar="FILE", help="Your mark above the maker: PNG, JPEG or SVG.")
@click.option("--font", metavar="FILE", help="Your own font for the name (a static .ttf).")
@click.option(
    "--colour",
    "colours",
    metavar="WHAT=#RRGGBB",
    multiple=True,
    help="Your own colour: name, maker, line, net, info, ground, ornament.",
)
@click.option("--cut-lines", is_flag=True, help="Draw the edges, for plain paper.")
@click.option("--out", metavar="FILE", default="labels.pdf", show_default=True, help="The file to print.")
@click.option("--picture", metavar="FILE", help="Also a picture of the first page (PNG).")
@click.option("--once", metavar="KEY", help="A name for this step, so that repeating it books nothing twice.")
@click.option("--list", "show_list", is_flag=True, help="Show the sheets and the designs.")
@answering
def command(desk: Desk, label_file: str | None, show_list: bool, **choice) -> Answer:
    """Print labels: as many as you need, on the sheet you have.

    \b
    Example:  labelkit labels --label one-pound.toml --sheet letter-2x5-102x51 --design meadow --count 57
              labelkit labels --label one-pound.toml --lot L26201AXN --size "one pound"
              labelkit labels --label one-pound.toml --kind nutrition --sheet letter-2x2-102x127
    """
    if show_list:
        return _list()
    if not label_file and not choice["size"]:
        from labelkit.errors.cli import UsageUnclear

        raise UsageUnclear(
            "Name the label file with --label or a jar size of the record with --size; --list shows sheets and designs.",
            "labelkit labels --help",
        )
    return _print(desk, label_file, **choice)


def _list() -> Answer:
    from labelkit.labels.design import designs
    from labelkit.labels.sheets import sheets

    looks = [{"name": one.name, "says": one.says, "prints": one.prints} for one in designs().values()]
    papers = [
        {"name": one.name, "page": one.page, "labels": one.count, "shape": one.shape, "use": one.use}
        for one in sheets().values()
    ]
    text = table(("design", ""), [(one["name"], one["says"]) for one in looks])
    text += "\n\n" + table(
        ("sheet", "labels", "shape", "for"),
        [(one["name"], str(one["labels"]), one["shape"], one["use"]) for one in papers],
        right=[1],
    )
    return Answer({"designs": looks, "sheets": papers}, text + "\n\nA roll is named by its label: roll-102x76.")


def _print(
    desk: Desk, label_file: str | None, *, markets: tuple[str, ...], lot: str, size: str | None, spoiled: int,
    skip: str, out: str, picture: str | None, once: str | None, **choice,
) -> Answer:  # fmt: skip
    from labelkit.cli._files import read_text, write_whole
    from labelkit.cli._label_words import label_of_record
    from labelkit.cli._labels import Choice, book_print, draw
    from labelkit.labels.design import design as design_named
    from labelkit.labels.printing import preview_png
    from labelkit.rules.label_file import read_label

    if label_file:
        label = read_label(read_text(label_file), label_file, markets)
    else:
        label = label_of_record(desk, size, markets)
    chosen = Choice(skip=_places(skip), **choice)
    drawn = draw(desk, replace(label, lot=lot or label.lot), size, chosen)
    write_whole(out, drawn.printed.pdf)
    if picture:
        write_whole(picture, preview_png(drawn.printed.pdf, 1, 120, design_named(chosen.design).paper))
    if drawn.filled:
        book_print(desk, drawn, size, chosen, spoiled, once)
    return _told(drawn.printed, out, drawn.paper, drawn.made)


def _told(printed, out: str, paper, made) -> Answer:
    rows = [
        (
            row.item,
            f"{row.required:.2f}" if row.required is not None else "—",
            f"{row.placed:.2f}",
            row.measured,
            row.clause,
        )
        for row in printed.rows
    ]
    said = [*printed.notes, *made.asked.notes]
    stops = [finding for finding in made.checked.findings if finding.level == "stop"]
    said += [f"Must be fixed: {stop.says} {stop.do}" for stop in stops]
    asks = sum(finding.level == "ask" for finding in made.checked.findings)
    if asks:
        said.append(f"The law leaves {asks} questions open for this label; “labelkit check” asks them.")
    unsure = sorted({row.clause for row in printed.rows if row.sure and row.sure != "seen"})
    if unsure:
        said.append(f"Not read at the source, so to be checked: {'; '.join(unsure)}.")
    said.append("Print at 100 %, never “fit to page”. Check your local rules before you sell.")
    document = {
        "file": out, "pages": printed.pages, "labels": printed.labels, "sheet": paper.name,
        "heights": list(printed.rows), "moved": list(printed.moved), "notes": said, "findings": list(made.checked.findings),
    }  # fmt: skip
    head = f"{printed.labels} labels on {printed.pages} page{'s' * (printed.pages != 1)} of {paper.name}, in {out}."
    text = (
        f"{head}\n\n{table(('required', 'mm', 'placed', 'measured on', 'where it is written'), rows, right=[1, 2])}\n\n"
        + "\n".join(said)
    )
    return Answer(document, text, 0 if printed.ok and not stops else 1)


def _places(text: str) -> frozenset[int]:
    from labelkit.errors.cli import UsageUnclear

    try:
        return frozenset(int(part) for part in text.replace(",", " ").split())
    except ValueError:
        raise UsageUnclear(f"“{text}” is not a list of places like 3,7.", "labelkit labels --help") from None
