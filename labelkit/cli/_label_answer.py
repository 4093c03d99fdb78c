"""What ``labelkit labels`` answers: the table of heights, what is still unsaid, what must be fixed, and where the files are."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from decimal import Decimal
from pathlib import Path
from typing import TYPE_CHECKING, Any

from labelkit.cli._codes import code_notes
from labelkit.cli._runner import Answer
from labelkit.cli._show import table
from labelkit.errors.sentence import Sentence
from labelkit.errors.sentence import written as as_read
from labelkit.measures.locales import show_number
from labelkit.season.ink_use import ink_use

if TYPE_CHECKING:
    from labelkit.labels.layout.placed import Placed, Row
    from labelkit.labels.printing import SheetPrint
    from labelkit.labels.sheets import Sheet
    from labelkit.season.label import Drawn, DrawnLabels

HUNDRED = "Print at 100 %, never “fit to page”."


def file_of(name: str, kind: str, kinds: Sequence[str]) -> str:
    """Where a kind goes: as named, or of a set each in a file of its own.

    >>> file_of("labels.pdf", "back", ["front", "back"]), file_of("labels.pdf", "front", ["front"])
    ('labels-back.pdf', 'labels.pdf')
    """
    where = Path(name)
    return name if len(kinds) == 1 else str(where.with_name(f"{where.stem}-{kind}{where.suffix}"))


def art_files(out: str, one: Drawn, kinds: Sequence[str]) -> list[str]:
    """Where the artwork of each lot goes: as named, or with its lot where there is more than one."""
    lots, name = [lot for lot, _ in one.printed.files], Path(file_of(out, one.paper.kind, kinds))
    return [str(name)] if len(lots) == 1 else [str(name.with_name(f"{name.stem}-{lot}{name.suffix}")) for lot in lots]


def _files(drawn: DrawnLabels, out: str, kinds: Sequence[str]) -> list[dict[str, Any]]:
    """Each file that was written, and what is in it."""
    found: list[dict[str, Any]] = []
    for one in drawn.drawn:
        about = {"pages": one.printed.pages, "labels": one.printed.labels, "sheet": one.paper.sheet.name}
        if (art := drawn.asked.art) is None:
            found.append({"kind": one.paper.kind, "file": file_of(out, one.paper.kind, kinds), **about})
            continue
        outline = one.printed.placed[0].outline
        size = {"trim_mm": [_mm(outline.wide), _mm(outline.high)], "shape": outline.shape, "bleed_mm": _mm(art.bleed)}
        for name, (lot, _) in zip(art_files(out, one, kinds), one.printed.files, strict=True):
            found.append({"kind": one.paper.kind, "file": name, "lot": lot, **about, "pages": 1, "labels": 1, **size})
    return found


def _mm(um: int) -> Decimal:
    return Decimal(um) / 1000


def answer_of(drawn: DrawnLabels, asked: Mapping[str, Any], locale: str, *, many: bool) -> Answer:
    """The answer for labels of jars; where they were not printed, it says so and why."""
    written = asked["proof"] or not drawn.stopped
    kinds = [one.paper.kind for one in drawn.drawn]
    files = _files(drawn, asked["out"], kinds)
    rows = [row for one in drawn.drawn for row in one.printed.rows]
    ink = [ink_use(one, drawn.asked.look) for one in drawn.drawn] if drawn.asked.art is None else []
    said = [*_notes(drawn), *drawn.set.notes, *(one.says for one in ink)]
    words = drawn.asked.words
    if words and words.newer:
        said.append(
            f"Printed again as the jars are labelled. Your words differ since in: {', '.join(words.newer)}. To print those: "
            '--new-words --because "WORDS".'
        )
    if drawn.asked.bucket:
        said.append(
            f"These jars are not filled yet. Fill them from {drawn.asked.bucket} on the day of this command: on another day "
            f"their code is not {drawn.lots[0][0]}. Labels left over are thrown away."
        )
    said += [f"Must be fixed: {text}" for text in drawn.stops]
    if drawn.set.wanted != drawn.set.kinds:
        said.append(f"To print them together: --kind {','.join(drawn.set.wanted)}")
    asks = sum(finding.level == "ask" for finding in drawn.findings)
    if asks:
        said.append(
            Sentence.plural(
                "The law leaves {n} question open for this label; “labelkit check” asks it.",
                "The law leaves {n} questions open for this label; “labelkit check” asks them.",
                asks,
            )
        )
    unsure = sorted({row.clause for row in rows if row.sure and row.sure != "seen"})
    if unsure:
        said.append(f"Not read at the source, so to be checked: {'; '.join(unsure)}.")
    if not written:
        said.append(
            "Nothing was printed or booked. Correct the label, or print a proof of it with --proof. If it must be printed "
            'as it is, say why: --because "WORDS".'
        )
    elif drawn.stops and not asked["proof"]:
        said.append("Printed all the same, as you said why; the findings stay with these jars.")
    elif asked["proof"]:
        said.append("This is a proof: it is marked as one on the paper and was not booked.")
    if drawn.asked.art is None:
        said.append(HUNDRED)
    elif drawn.asked.art.in_cmyk:
        meant = drawn.asked.art.condition
        said.append(
            "Colours are CMYK, reckoned from the design without a profile, grey as black alone; pictures stay as they are. "
            + (f"The file names {meant} as its printing condition. " if meant else "")
            + "It does not claim to be PDF/X: no checker was at hand. Ask the print shop for a proof, and measure the net weight on it."
        )
    else:
        said.append(
            "Colours are sRGB, black and greys are black alone; the print shop turns the rest into its inks. Ask it for a "
            "proof, and measure the net weight on it."
        )
    said.append("Check your local rules before you sell.")
    lots = drawn.lots if many else ()
    document: dict[str, Any] = {
        "file": files[0]["file"] if written else None,
        "pages": sum(one["pages"] for one in files),
        "labels": sum(one["labels"] for one in files),
        "sheet": files[0]["sheet"],
        "files": files if written else [],
        "proof": asked["proof"],
        "lots": [{"lot": lot, "labels": count} for lot, count in lots],
        "heights": rows,
        "artwork": [
            _on_artwork(one.paper.kind, one.printed.placed[0]) for one in drawn.drawn if one.printed.placed[0].on
        ],
        "ink": [{"kind": one.kind, "percent": one.percent, "with_less": one.less} for one in ink],
        "moved": list(dict.fromkeys(role for one in drawn.drawn for role in one.printed.moved)),
        "set": drawn.set,
        "product": words.product if words else "",
        "notes": said,
        "findings": list(drawn.findings),
    }
    of_lots = f" for {len(lots)} lot{'s' * (len(lots) != 1)}" if lots else ""
    parts = []
    for one in drawn.drawn:
        heads = [_head(file, of_lots, locale, written) for file in files if file["kind"] == one.paper.kind]
        parts.append(("\n".join(heads), one.printed.rows))
    return Answer(document, _text(parts, said, locale), 1 if drawn.stops else 0)


def _on_artwork(kind: str, placed: Placed) -> dict[str, Any]:
    """How the words stand on the maker's artwork."""
    on = placed.on
    assert on is not None
    return {
        "kind": kind,
        "file": on.name,
        "contrast": on.contrast,
        "stands_out_least": on.of,
        "over_mm": [_mm(side) for side in on.over],
        "dots_per_inch": on.dots,
        "boxes": [
            {
                "left_mm": _mm(box.left),
                "top_mm": _mm(placed.outline.high - box.top),
                "width_mm": _mm(box.width),
                "height_mm": _mm(box.height),
            }
            for box in on.boxes
        ],
    }


def _notes(drawn: DrawnLabels) -> list[str]:
    said = [note for one in drawn.drawn for note in (*one.printed.notes, *one.made.asked.notes)]
    placed = [placed for one in drawn.drawn for placed in one.printed.placed]
    said += code_notes(drawn.asked.look.number, placed, said)
    return list(dict.fromkeys(said))


def answer_of_other(
    kind: str,
    out: str,
    printed: SheetPrint,
    paper: Sheet,
    about: Sequence[Mapping[str, Any]],
    notes: Sequence[str],
    locale: str,
) -> Answer:
    """The answer for tags, case labels and cards; no print is booked for them."""
    said = [*dict.fromkeys((*printed.notes, *notes))]
    said.append(HUNDRED if kind == "tag" else f"{HUNDRED} Check your local rules before you sell.")
    file = {"kind": kind, "file": out, "pages": printed.pages, "labels": printed.labels, "sheet": paper.name}
    document = {
        "file": out,
        "pages": printed.pages,
        "labels": printed.labels,
        "sheet": paper.name,
        "files": [file],
        f"{kind}s": list(about),
        "artwork": [_on_artwork(kind, printed.placed[0])] if printed.placed[0].on else [],
        "heights": list(printed.rows),
        "notes": said,
    }
    rows = [row for row in printed.rows if row.required is not None]
    return Answer(document, _text([(_head(file, "", locale), rows)], said, locale), 0 if printed.ok else 1)


def _head(one: dict, of_lots: str, locale: str, written: bool = True) -> str:
    pages = f"{one['pages']} page{'s' * (one['pages'] != 1)}"
    kind = "price card" if one["kind"] == "card" else f"{one['kind']} label" if one["kind"] != "tag" else "bucket tag"
    where = f"in {one['file']}" if written else "not printed"
    if "trim_mm" in one:
        of_lots = f" of lot {one['lot']}" if one["lot"] else ""
        across, up, bleed = (show_number(side, locale) for side in (*one["trim_mm"], one["bleed_mm"]))
        return f"Artwork of the {kind}{of_lots}, {across} × {up} mm and {bleed} mm of bleed, {where}."
    return f"{show_number(one['labels'], locale)} {kind}{'s' * (one['labels'] != 1)}{of_lots} on {pages} of {one['sheet']}, {where}."


def _text(parts: Sequence[tuple[str, Sequence[Row]]], said: Sequence[str], locale: str) -> str:
    """Each file with the heights on it, and below them what is to be said of all."""
    text = [part for head, rows in parts for part in (head, _heights(rows, locale)) if part]
    return "\n\n".join((*text, "\n".join(as_read(each, locale) for each in said)))


def _heights(rows: Sequence[Row], locale: str) -> str:
    # The labels of pieces sold by weight are mostly alike: what is the same on several stands here once.
    shown = dict.fromkeys(
        (
            row.item,
            show_number(row.required, locale, digits=2) if row.required is not None else "—",
            show_number(row.placed, locale, digits=2),
            row.measured,
            row.clause,
        )
        for row in rows
    )
    return (
        table(("required", "mm", "placed", "measured on", "where it is written"), list(shown), right=[1, 2])
        if shown
        else ""
    )
