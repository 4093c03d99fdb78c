"""The batch sheet on paper: what was entered, and blanks for the rest. The paper is handed in, as for the run sheet."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from typing import Any

from labelkit.measures.locales import show_day
from labelkit.run.batch_sheet import AFTER, BEFORE, DURING, LINES, BatchLine

_BLANK = "_" * 14
_TICK = "☐"
_HEADS = {BEFORE: "Before filling", DURING: "While filling", AFTER: "Afterwards"}
_BLANKS = {
    "scale": f"weight {_BLANK} reads {_BLANK}",
    "ice": f"{_BLANK} (0 °C)",
    "boiling": f"{_BLANK} (100 °C at sea level)",
    "refractometer": f"should be {_BLANK} reads {_BLANK}",
    "hands": _TICK,
    "jars": f"looked at {_BLANK} rejected {_BLANK}",
    "strainer-before": f"{_TICK} whole   {_TICK} damaged",
    "strainer-after": f"{_TICK} whole   {_TICK} damaged",
    "breakage": f"size {_BLANK} broken {_BLANK} beside, thrown away {_BLANK}",
}


def draw_batch_sheet(day: date, lots: Sequence[str], lines: Sequence[BatchLine], paper: Any, locale: str) -> None:
    """Write the sheet of a day onto a paper; a line without an entry is left blank to write on."""
    paper.title("Batch sheet")
    paper.paragraph(f"{show_day(day, locale)} · {', '.join(lots) or 'every run of the day'}", "lead")
    for when, head in _HEADS.items():
        since = paper.mark()
        paper.heading(head)
        rows = [row for line, (at, _) in LINES.items() if at == when for row in _rows(line, lines, locale)]
        paper.table(rows, widths_mm=[paper.width_mm * share for share in (0.36, 0.64)])
        paper.together(since)
    paper.paragraph(
        "A jar that breaks takes the jars beside it with it: throw them away, clean up, look at the rest against the "
        "light. A damaged strainer: hold the lot and strain it again. Nothing here must be filled in.",
        "small",
    )


def _rows(line: str, lines: Sequence[BatchLine], locale: str) -> list[tuple[str, str]]:
    """The entries of one line, or its blank."""
    entered = [
        (each.says(locale) if not each.lots else f"{each.says(locale)} ({', '.join(each.lots)})")
        for each in lines
        if each.line == line
    ]
    question = LINES[line][1]
    return [(question, says) for says in entered] or [(question, _BLANKS.get(line, _BLANK * 2))]
