"""The load list: what goes into the car, by crate, with a box to tick."""

from __future__ import annotations

from collections.abc import Mapping

from labelkit.measures.locales import show_day
from labelkit.measures.wording import Wording
from labelkit.sale.paper_note import quality_note
from labelkit.sale.stall_events import StallLoad


def load_list_pdf(
    load: StallLoad, crate: Mapping[str, int], words: Wording, locale: str, *, page: str = "letter"
) -> bytes:
    """One page: jars by size and lot, crates, the cash float, and the things a stall forgets."""
    from labelkit.paper.document import Document

    title = words("Load list")
    paper = Document(page, title, lang=words.lang)
    paper.title(title)
    paper.paragraph(f"{load.place} · {show_day(load.day, locale)}", "lead")
    wide = paper.width_mm
    rows = [
        ["☐" if _has_box() else "", line.size, line.lot, str(line.count), _crates(line.count, crate.get(line.size, 12))]
        for line in load.jars
    ]
    head = ["", words("Jar"), words("Lot"), words("Jars"), words("Crates")]
    paper.table(rows, head=head, align="lllrr", widths_mm=[wide * p for p in (0.06, 0.4, 0.26, 0.12, 0.16)])
    if load.change is not None:
        paper.facts([(words("Cash float in the morning"), load.change.show(locale))], label_mm=60)
    paper.heading(words("Not to forget"), level=2)
    paper.paragraph(
        ", ".join(
            words(thing)
            for thing in (
                "price cards",
                "sign",
                "tally sheet",
                "the market page on the telephone",
                "card machine",
                "bags",
                "cloth and water",
            )
        )
    )
    if note := quality_note(words):
        paper.paragraph(note, "small")
    return paper.bytes()


def _has_box() -> bool:
    from labelkit.paper.fonts import face

    return face("sans-Regular").covers("☐")


def _crates(count: int, holds: int) -> str:
    """Whole crates and what is over.

    >>> _crates(30, 12), _crates(24, 12)
    ('2 + 6', '2')
    """
    full, over = divmod(count, holds)
    return f"{full} + {over}" if full and over else str(full) if full else f"+ {over}"
