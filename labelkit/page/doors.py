"""Where each verb is on the page, and what the button that leads there says; the command line words the same as commands."""

from __future__ import annotations

from urllib.parse import urlencode

from labelkit.errors import Way
from labelkit.page.language import later

# A verb: its address, the word on the button, and the name the address gives what it is about.
_DOORS = {
    "bottle": ("/bottle", later("Bottle it"), "bucket"),
    "bucket dry": ("/bucket/dry", later("Dry it"), "bucket"),
    "bucket moisture": ("/bucket/moisture", later("Measure it"), "bucket"),
    "bucket weigh-again": ("/bucket/weigh-again", later("Weigh it"), "bucket"),
    "call": ("/recall/run", later("Call them"), "name"),
    "correct": ("/correct", later("Correct it"), "event"),
    "customer": ("/trace", later("Keep the number"), "customer"),
    "drain": ("/drain", later("Add it"), "bucket"),
    "hold": ("/trace", later("Hold it"), "code"),
    "label-words": ("/words", later("Correct it"), ""),
    "labels": ("/labels", later("Print them"), "lot"),
    "papers": ("/papers", later("Renew it"), "name"),
    "price": ("/prices", later("Name them"), ""),
    "record copy": ("/copies", later("Copy it"), ""),
    "record restore": ("/copies", later("Bring back a copy"), ""),
    "recall": ("/trace", later("Trace it"), "code"),
    "remind": ("/owed", later("Remind them"), "customer"),
    "release": ("/trace", later("Release it"), "code"),
    "stall file": ("/stall", later("To the market day"), "day"),
    "stall settle": ("/stall", later("Settle it"), "day"),
    "trace": ("/trace", later("Trace it"), "code"),
    "weigh jars": ("/filling/weigh", later("Weigh them again"), "lot"),
}


def door(way: Way) -> tuple[str, str]:
    """The address and the word of a way; nothing where the page has none.

    >>> door(Way("labels", "L26201AXN=one pound"))
    ('/labels?lot=L26201AXN&size=one+pound', 'Print them')
    """
    path, word, name = _DOORS.get(way.verb, ("", "", ""))
    if not name:
        return path, word
    lot, _, size = way.about.partition("=")
    about = {name: lot, "size": size} if size else {name: way.about.partition(", ")[0]}
    return f"{path}?{urlencode(about)}", word
