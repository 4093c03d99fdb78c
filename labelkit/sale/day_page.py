"""The market day as one file for a telephone: opened without a network, it sells, gives change, and gives the day back."""

from __future__ import annotations

import re
import zlib
from collections.abc import Mapping
from typing import Any

from labelkit.measures.locales import cash_step, currency_digits, show_day, show_number
from labelkit.measures.wording import Wording
from labelkit.sale.paper_note import quality_note
from labelkit.sale.settlement import Loaded
from labelkit.sale.stall_events import day_key
from labelkit.shipped import render, template_text

#: What the day it gives back is called, whole and unchanged: see :mod:`labelkit.reading.day_file`.
FORMAT = "stall-day-1"


def day_page(load: Loaded, words: Wording, locale: str, currency: str) -> str:
    """The page for one loaded day, whole in itself: markup, style, script, data, and the drawing of its code.

    Prices are what a buyer pays. Equal loads give equal pages.
    """
    data = page_data(load, words, locale, currency)
    return render(
        "stall/day.html",
        lang=words.lang,
        place=load.place,
        day=data["shown_day"],
        words=words,
        data=data,
        note=quality_note(words),
        style=template_text("stall/day.css"),
        script=template_text("stall/day.js"),
        qr_code=template_text("stall/qrcode.js"),
    )


def page_data(load: Loaded, words: Wording, locale: str, currency: str) -> dict[str, Any]:
    """What the page knows: the jars with their prices in minor units, the change, and its words."""
    digits = currency_digits(currency)
    key = day_key(load.day, load.place)
    return {
        "format": FORMAT,
        "key": key,
        "mark": load_mark(load),
        "file": file_name(key),
        "day": load.day.isoformat(),
        "shown_day": show_day(load.day, locale, form="full"),
        "locale": locale.replace("_", "-"),
        "currency": currency,
        "digits": digits,
        "mark_sign": show_number(1, locale, digits=1)[1],
        "cash_step": int(cash_step(currency).scaleb(digits)),
        "change": load.change.minor if load.change else 0,
        "items": [
            {
                "lot": line.lot,
                "size": line.size,
                "count": line.count - load.held.get((line.lot, line.size), 0),
                "price": line.price.minor if line.price else 0,
            }
            for line in load.lines
        ],
        "words": page_words(words),
    }


def load_mark(load: Loaded) -> str:
    """A short mark of what was loaded, so that notes kept for another load of the day are not taken for this one's."""
    lines = [f"{line.lot}|{line.size}|{line.count}|{line.price.minor if line.price else ''}" for line in load.lines]
    return f"{zlib.crc32(chr(10).join(lines).encode()):08x}"


def file_name(key: str) -> str:
    """The name of the file the page saves.

    >>> file_name("2026-08-01 Mill square market")
    'stall-2026-08-01-mill-square-market.json'
    """
    return f"stall-{re.sub(r'[^0-9a-z]+', '-', key.lower()).strip('-')}.json"


def page_words(words: Wording) -> Mapping[str, str]:
    """The words the page's script says."""
    return {
        "sold": words("Sold"),
        "left": words("left"),
        "given": words("given"),
        "tasted": words("tasted"),
        "broken": words("broken"),
        "brought_back": words("brought back"),
        "cash": words("Cash"),
        "card": words("Card"),
        "done": words("Done"),
        "back_button": words("Back"),
        "undo": words("Undo"),
        "again": words("Count it again"),
        "to_pay": words("To pay"),
        "how_much": words("How much does the buyer give you?"),
        "exact": words("Exact"),
        "short": words("Still to come"),
        "change_back": words("Change"),
        "unclear": words("That is no amount."),
        "list_price": words("By the price list"),
        "other_price": words("What do you take for it?"),
        "let_off": words("Let off on prices"),
        "float": words("Cash float in the morning"),
        "should_be": words("Cash that should be in the box"),
        "difference": words("Difference"),
        "nothing_yet": words("Nothing sold yet."),
        "copied": words("Copied"),
        "copy_yourself": words("Hold the text to copy it"),
        "scan": words("Photograph or scan this code at home."),
        "code_too_long": words("Too much for one code; save the file instead."),
        "mend": words("One of the figures is no amount, or more than there was; mend the framed field."),
        "other_date": words("The telephone's date is another day. Everything here is booked for the day above."),
        "address_keeps": words(
            "This telephone keeps no notes for a file. They are kept in this tab: leave it open until the evening."
        ),
        "nothing_keeps": words("Nothing can be kept on this telephone. Use the tally sheet."),
        "damaged": words("The notes of this day were damaged and begin anew."),
    }
