"""Printing as an event: which labels were made for which jars, so that a recall can say which wording went out."""

from __future__ import annotations

import hashlib
import json
from dataclasses import dataclass
from datetime import date
from typing import ClassVar

from labelkit.labels.content import LabelContent
from labelkit.lots.event import Event

# What differs from lot to lot is booked beside the wording, not hashed into it.
_PER_LOT = ("lot", "best_before")


def wording_version(content: LabelContent) -> str:
    """A short name for exactly these words: equal wording has the same, one changed letter another.

    Lot and date are left out, so that the same label printed for two lots has one version.

    >>> from labelkit.labels.content import front_label_content
    >>> one = front_label_content(name="Honey", statement="500 g", maker="Hazel Bank", lot="L26195AXR")
    >>> two = front_label_content(name="Honey", statement="500 g", maker="Hazel Bank", lot="L26195VK6")
    >>> wording_version(one) == wording_version(two), len(wording_version(one))
    (True, 12)
    """
    said = [[words.role, *words.all] for words in content.words if words.role not in _PER_LOT]
    text = json.dumps([content.kind, said], ensure_ascii=False, separators=(",", ":"))
    return hashlib.sha256(text.encode("utf-8")).hexdigest()[:12]


@dataclass(frozen=True, slots=True)
class Printed(Event):
    """So many labels printed for one size of one lot, in one design and wording; ``spoiled`` of them thrown away.

    ``findings`` are what had to be fixed and was let through, ``because`` why; ``best_before`` is the last day of the date.
    """

    kind: ClassVar[str] = "print"
    title: ClassVar[str] = "labels printed"
    voidable: ClassVar[bool] = True
    day: date
    lot: str
    size: str
    label: str  # front, back, wrap …
    design: str
    sheet: str
    wording: str
    said: tuple[str, ...]
    count: int
    spoiled: int = 0
    findings: tuple[str, ...] = ()
    because: str = ""
    best_before: date | None = None
    product: str = ""  # what the jars are sold as; the season's own honey unless named
    words_of: int = 0  # the earlier print whose words these are; none: those of its own time

    def describe(self, locale: str) -> str:
        """Return the event in a few words, for lists."""
        return f"{self.lot} {self.count} × {self.label} label, {self.size}"
