"""The run sheet on paper. What to say and where to write is decided here; the ink is the paper's that is handed in.

``paper`` is a document with ``title``, ``paragraph``, ``heading``, ``facts``, ``table``, ``caution`` and the like, as
:class:`labelkit.paper.document.Document` has them; a room that comes after this one makes it and keeps the bytes.
"""

from __future__ import annotations

from typing import Any

from labelkit.errors.sentence import Sentence
from labelkit.measures import Mass, show_customary, show_metric
from labelkit.measures.division import Division
from labelkit.measures.locales import show_day
from labelkit.measures.wording import Wording
from labelkit.run.next_fill import odds
from labelkit.run.run_sheet import BucketSheet, FillLine, RunSheet

BOX = "☐"
_GROUP, _ROW = 5, 50
_BLANK = "_" * 12
_BETWEEN = "\u00a0\u00a0 "  # paper runs plain spaces together
_WEIGHTS_A_ROW, _MOST_BLANKS = 6, 24


def draw_run_sheet(sheet: RunSheet, paper: Any, locale: str, words: Wording, picture: Any = None) -> None:
    """Write the sheet onto a paper: cautions and counts first, then a part for each bucket.

    ``picture`` is the plan drawn as the paper takes it (marks, width, height), where there is one.
    """
    paper.title(words("Run sheet"))
    step = words("scale in steps of {step}", step=sheet.division.show(sheet.division.g, locale))
    paper.paragraph(f"{show_day(sheet.day, locale)} · {step}", "lead")
    for caution in sheet.cautions:
        paper.paragraph(f"{BOX}  {words.say(caution)}", "body")
    counts = ", ".join(f"{count} × {size}" for size, count in sheet.jars.items())
    paper.facts(
        [
            (words("Jars, lids and labels to lay out"), words("{counts} (spares included)", counts=counts)),
            (words("Scale checked with"), words("{blank}   reads {blank}", blank=_BLANK)),
            (words("Filled by"), _BLANK * 2),
        ]
    )
    if picture:
        paper.drawing(*picture)
    for bucket in sheet.buckets:
        since = paper.mark()
        _bucket(bucket, sheet.division, paper, locale, words)
        paper.together(since)


def _bucket(bucket: BucketSheet, division: Division, paper: Any, locale: str, words: Wording) -> None:
    paper.heading(words("Bucket {bucket} · lot {lot}", bucket=bucket.bucket, lot=bucket.lot))
    usable, left = (_both(mass, division, locale) for mass in (bucket.usable, Mass(abs(bucket.left.mg))))
    rest = words("{usable} to fill. About {left} should be left.", usable=usable, left=left)
    if bucket.left.mg < 0:
        rest = words(
            "{usable} to fill. The margins ask for {left} more than there is, so the last jar stays empty.",
            usable=usable,
            left=left,
        )
    paper.paragraph(f"{rest} {words('Every jar of this bucket bears {lot}.', lot=bucket.lot)}", "body")
    rows = [_row(line, locale, words) for line in bucket.lines]
    wide = paper.width_mm
    shares = (0.20, 0.11, 0.13, 0.18, 0.26, 0.12)
    paper.table(
        rows,
        head=[
            words(each)
            for each in ("Jar", "Jars, lids, labels", "Empty jar", "Fill until it reads", "Good from … to", "Weigh")
        ],
        align="lrrrrr",
        widths_mm=[wide * share for share in shares],
    )
    for line in bucket.lines:
        _line(line, paper, locale, words)
    paper.table(
        [[line.size, _BLANK, _BLANK, _BLANK] for line in bucket.lines],
        head=[
            words(each)
            for each in ("Spoiled jars", "broken with honey", "filled wrong, emptied back", "kept as samples")
        ],
        widths_mm=[wide * 0.25] * 4,
    )
    paper.facts(
        [
            (words("Weighed back afterwards"), words("{blank}   named losses {blank}", blank=_BLANK)),
            (words("Remarks"), _BLANK * 4),
        ]
    )


def _line(line: FillLine, paper: Any, locale: str, words: Wording) -> None:
    """One size: the figure to fill to once more where the eye falls, its boxes, and blanks for its check weights."""
    until = {"size": line.size, "target": line.target.show(locale)}
    fill = words("{size}: fill until it reads {target}, the empty jar tared to zero", **until)
    paper.paragraph(words("{size}: fill until it reads {target}", **until) if line.gross else fill, "subheading")
    paper.paragraph(words("A tick for each jar filled and closed."), "small")
    for row in tick_rows(line.count):
        paper.paragraph(row, "body")
    if line.chance is not None:
        by = "By your own past runs a lot of {count} passes {odds} of the time at this fill."
        paper.paragraph(words(by, count=line.count, odds=words.say(odds(line.chance, locale))), "small")
    if line.weigh:
        asked = "Check weights of {n} jars from all over the lot, as the scale shows them:"
        paper.paragraph(words(asked, n=line.weigh), "small")
        for row in blank_rows(line.weigh):
            paper.paragraph(words.say(row) if isinstance(row, Sentence) else row, "body")


def _row(line: FillLine, locale: str, words: Wording) -> tuple[str, ...]:
    tare = line.target.division.show(line.tare, locale) if line.tare is not None else words("tare to zero")
    weigh = words.count("{n} jar", "{n} jars", line.weigh) if line.weigh is not None else "–"
    band = f"{line.lowest.show(locale)} … {line.highest.show(locale)}"
    return (
        f"{line.size} ({line.declares.show(locale)})",
        f"{line.count} + {line.spare}",
        tare,
        line.target.show(locale),
        band,
        weigh,
    )


def tick_rows(count: int) -> list[str]:
    """Boxes to tick, in groups of five, fifty to a row.

    >>> tick_rows(7)
    ['☐☐☐☐☐  ☐☐   7']
    """
    rows = []
    for start in range(0, count, _ROW):
        here = min(_ROW, count - start)
        groups = [BOX * min(_GROUP, here - at) for at in range(0, here, _GROUP)]
        rows.append("  ".join(groups) + f"   {start + here}")
    return rows


def blank_rows(count: int) -> list[str]:
    r"""Blanks to write check weights on, six to a row; many are for a list of their own.

    >>> blank_rows(2), len(blank_rows(12)), blank_rows(125)[-1]
    (['____________\xa0\xa0 ____________'], 2, 'and 101 more on the back or in a list')
    """
    here = min(count, _MOST_BLANKS)
    rows = [_BETWEEN.join([_BLANK] * min(_WEIGHTS_A_ROW, here - at)) for at in range(0, here, _WEIGHTS_A_ROW)]
    return rows if here == count else [*rows, Sentence("and {n} more on the back or in a list", n=count - here)]


def _both(mass: Mass, division: Division, locale: str) -> str:
    """A mass in the units of the scale in use, the others beside."""
    both = show_metric(mass, locale), show_customary(mass, locale)
    first, second = both[::-1] if division.customary else both
    return f"{first} ({second})"
