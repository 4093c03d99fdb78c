"""The batch sheet on paper: what was entered, and blanks for the rest. The paper is handed in, as for the run sheet."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from typing import Any

from labelkit.measures.locales import show_day
from labelkit.measures.wording import Wording
from labelkit.run.batch_sheet import AFTER, BEFORE, DURING, LINES, BatchLine

_BLANK = "_" * 14
_TICK = "☐"
_HEADS = {BEFORE: "Before filling", DURING: "While filling", AFTER: "Afterwards"}
_BLANKS = {
    "scale": "weight {blank} reads {blank}",
    "ice": "{blank} (0 °C)",
    "boiling": "{blank} (100 °C at sea level)",
    "refractometer": "should be {blank} reads {blank}",
    "hands": "{tick}",
    "jars": "looked at {blank} rejected {blank}",
    "strainer-before": "{tick} whole   {tick} damaged",
    "strainer-after": "{tick} whole   {tick} damaged",
    "breakage": "size {blank} broken {blank} beside, thrown away {blank}",
}
_FOOT = (
    "A jar that breaks takes the jars beside it with it: throw them away, clean up, look at the rest against the light.",
    "A damaged strainer: hold the lot and strain it again. Nothing here must be filled in.",
)


def draw_batch_sheet(
    day: date, lots: Sequence[str], lines: Sequence[BatchLine], paper: Any, locale: str, words: Wording
) -> None:
    """Write the sheet of a day onto a paper; a line without an entry is left blank to write on."""
    paper.title(words("Batch sheet"))
    paper.paragraph(f"{show_day(day, locale)} · {', '.join(lots) or words('every run of the day')}", "lead")
    for when, head in _HEADS.items():
        since = paper.mark()
        paper.heading(words(head))
        rows = [row for line, (at, _) in LINES.items() if at == when for row in _rows(line, lines, locale, words)]
        paper.table(rows, widths_mm=[paper.width_mm * share for share in (0.36, 0.64)])
        paper.together(since)
    paper.paragraph(" ".join(map(words, _FOOT)), "small")


def _rows(line: str, lines: Sequence[BatchLine], locale: str, words: Wording) -> list[tuple[str, str]]:
    """The entries of one line, or its blank."""
    entered = [
        " ".join(filter(None, (each.says(locale, words), f"({', '.join(each.lots)})" if each.lots else "")))
        for each in lines
        if each.line == line
    ]
    question, blank = words(LINES[line][1]), _BLANKS.get(line, "{blank}{blank}")
    return [(question, says) for says in entered] or [(question, words(blank).format(blank=_BLANK, tick=_TICK))]
