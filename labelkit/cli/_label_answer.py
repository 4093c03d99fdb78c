"""What ``labelkit labels`` answers: the table of heights, what is still unsaid, what must be fixed, and where the files are."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from labelkit.cli._runner import Answer
from labelkit.cli._show import table

if TYPE_CHECKING:
    from labelkit.cli._label_run import Asked
    from labelkit.cli._label_set import SetCheck
    from labelkit.cli._labels import Drawn
    from labelkit.cli._other_labels import Wanted
    from labelkit.labels.layout.placed import Row
    from labelkit.labels.printing import SheetPrint
    from labelkit.labels.sheets import Sheet

HUNDRED = "Print at 100 %, never “fit to page”."


def told(asked: Asked, drawn: Sequence[Drawn], checked: SetCheck, lots: Sequence[tuple[str, int]] = ()) -> Answer:
    """The answer for labels of jars."""
    files = [
        {
            "kind": kind,
            "file": asked.file(asked.out, kind),
            "pages": one.printed.pages,
            "labels": one.printed.labels,
            "sheet": one.paper.name,
        }
        for kind, one in zip(asked.kinds, drawn, strict=True)
    ]
    rows = [row for one in drawn for row in one.printed.rows]
    findings = _findings(drawn)
    stops = [finding for finding in findings if finding.level == "stop"]
    said = [*_notes(asked, drawn), *checked.notes]
    said += [f"Must be fixed: {text}" for text in checked.stops]
    said += [f"Must be fixed: {stop.says} {stop.do}" for stop in stops]
    asks = sum(finding.level == "ask" for finding in findings)
    if asks:
        said.append(f"The law leaves {asks} questions open for this label; “labelkit check” asks them.")
    unsure = sorted({row.clause for row in rows if row.sure and row.sure != "seen"})
    if unsure:
        said.append(f"Not read at the source, so to be checked: {'; '.join(unsure)}.")
    said.append(f"{HUNDRED} Check your local rules before you sell.")
    document = {
        "file": files[0]["file"],
        "pages": sum(one["pages"] for one in files),
        "labels": sum(one["labels"] for one in files),
        "sheet": files[0]["sheet"],
        "files": files,
        "lots": [{"lot": lot, "labels": count} for lot, count in lots],
        "heights": rows,
        "moved": list(dict.fromkeys(role for one in drawn for role in one.printed.moved)),
        "set": checked,
        "notes": said,
        "findings": findings,
    }
    of_lots = f" for {len(lots)} lot{'s' * (len(lots) != 1)}" if lots else ""
    parts = [(_head(file, of_lots), one.printed.rows) for file, one in zip(files, drawn, strict=True)]
    fine = all(one.printed.ok for one in drawn) and not stops and not checked.stops
    return Answer(document, _text(parts, said), 0 if fine else 1)


def _findings(drawn: Sequence[Drawn]) -> list:
    """What the rules find on the set; a panel of nutrition that is printed is no longer asked for."""
    best = next((one for one in drawn if one.made.content.nutrition is not None), drawn[0])
    return list(best.made.checked.findings)


def _notes(asked: Asked, drawn: Sequence[Drawn]) -> list[str]:
    from labelkit.cli._codes import code_notes

    said = [note for one in drawn for note in (*one.printed.notes, *one.made.asked.notes)]
    placed = [placed for one in drawn for placed in one.printed.placed]
    said += code_notes(drawn[0].made.content.number, placed, said)
    return list(dict.fromkeys(said))


def told_other(asked: Asked, printed: SheetPrint, paper: Sheet, wanted: Wanted, counts: Sequence[int]) -> Answer:
    """The answer for tags, case labels and cards; no print is booked for them."""
    kind = asked.kinds[0]
    about = [{**one, "labels": count} for one, count in zip(wanted.about, counts, strict=True)]
    said = [*dict.fromkeys((*printed.notes, *wanted.notes))]
    said.append(HUNDRED if kind == "tag" else f"{HUNDRED} Check your local rules before you sell.")
    file = {"kind": kind, "file": asked.out, "pages": printed.pages, "labels": printed.labels, "sheet": paper.name}
    document = {
        "file": asked.out,
        "pages": printed.pages,
        "labels": printed.labels,
        "sheet": paper.name,
        "files": [file],
        f"{kind}s": about,
        "heights": list(printed.rows),
        "notes": said,
    }
    rows = [row for row in printed.rows if row.required is not None]
    return Answer(document, _text([(_head(file, ""), rows)], said), 0 if printed.ok else 1)


def _head(one: dict, of_lots: str) -> str:
    pages = f"{one['pages']} page{'s' * (one['pages'] != 1)}"
    kind = "price card" if one["kind"] == "card" else f"{one['kind']} label" if one["kind"] != "tag" else "bucket tag"
    return (
        f"{one['labels']:,} {kind}{'s' * (one['labels'] != 1)}{of_lots} on {pages} of {one['sheet']}, in {one['file']}."
    )


def _text(parts: Sequence[tuple[str, Sequence[Row]]], said: Sequence[str]) -> str:
    """Each file with the heights on it, and below them what is to be said of all."""
    text = [part for head, rows in parts for part in (head, _heights(rows)) if part]
    return "\n\n".join((*text, "\n".join(said)))


def _heights(rows: Sequence[Row]) -> str:
    shown = [
        (
            row.item,
            f"{row.required:.2f}" if row.required is not None else "—",
            f"{row.placed:.2f}",
            row.measured,
            row.clause,
        )
        for row in rows
    ]
    return (
        table(("required", "mm", "placed", "measured on", "where it is written"), shown, right=[1, 2]) if shown else ""
    )
