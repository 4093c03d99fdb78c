"""The law review of one market's own pack, as a page to print, tick and sign."""

from __future__ import annotations

from datetime import date
from typing import TYPE_CHECKING

from labelkit.rules import review, shelf
from labelkit.shipped import render

if TYPE_CHECKING:
    from labelkit.rules import Market

_KNOWN = {"seen": "Read in the text", "second-hand": "Known from a second source", "memory": "Not verified"}


def review_page(here: Market, day: date) -> str:
    """Every rule and value of the market's own pack, with its source and a place for a signature."""
    return render(
        "rules/review.html",
        name=here.name,
        code=here.code,
        day=day.isoformat(),
        rows=review.rows(here),
        parent=" and ".join(shelf.head(pack, here.shelf).name for pack in here.packs[1:]),
        not_read=here.head.not_read,
        columns=review.COLUMNS,
        known=_KNOWN,
    )
