"""Everything a label says in words, as one text, each word knowing the field it stands in.

What the law itself prescribes word for word is taken out first: a state's own sentence about inspection is no claim.
"""

from __future__ import annotations

import re
from bisect import bisect_right
from collections.abc import Iterable
from dataclasses import dataclass
from functools import lru_cache

from labelkit.rules.blocks import Statement
from labelkit.rules.label import Label
from labelkit.rules.market import Market
from labelkit.rules.wording.search import Reading, read
from labelkit.rules.wording.tokens import Text, text_of


@dataclass(frozen=True, slots=True)
class Said:
    """A label's words, what the law finds in them, and where each stands."""

    text: Text
    reading: Reading
    starts: tuple[int, ...]
    fields: tuple[str, ...]

    def field_at(self, word: int) -> str:
        """The field of the label file the word (by its number) stands in."""
        return self.fields[bisect_right(self.starts, self.text.spans[word][0]) - 1]

    @property
    def means(self) -> dict[str, bool]:
        """The facts that the words on the label make true."""
        return {hit.law.means: True for hit in self.reading.hits if hit.law.means}


def said(label: Label, market: Market, prescribed: Iterable[Statement] = ()) -> Said:
    """All words of a label, read by the law of a market; ``prescribed`` are the sentences that may be due on it."""
    starts: list[int] = []
    fields: list[str] = []
    text = ""
    for field, words in _fields(label):
        # The lines of a label may run on from one to the next; other fields are sentences of their own.
        text += "\n" if field == "lines" and fields[-1] == field else "\n\n"
        starts.append(len(text))
        fields.append(field)
        text += words
    claims, found = without_statements(text, prescribed)
    ready = text_of(claims)
    reading = read(ready, market)
    if found:
        # A prescribed sentence makes no claim, but it may well be the caution or the date a rule asks for.
        elements = read(text_of("\n\n".join(found)), market).elements
        reading = Reading(reading.hits, reading.elements | elements, reading.innocent)
    return Said(ready, reading, tuple(starts), tuple(fields))


def _fields(label: Label) -> Iterable[tuple[str, str]]:
    yield "name", label.name
    if label.grade:
        yield "grade", label.grade
    for line in label.lines:
        yield "lines", line
    for name in ("yard", "flower", "place"):
        if label.story.get(name):
            yield f"story.{name}", label.story[name]
    if label.net_statement:
        yield "net_statement", label.net_statement
    if label.volume:
        yield "volume", label.volume.text
    for ingredient in label.ingredients:
        yield "ingredients", ingredient


def without_statements(text: str, statements: Iterable[Statement]) -> tuple[str, tuple[str, ...]]:
    """The text with every prescribed sentence blanked out, all other letters left in their places; and these sentences."""
    found: list[str] = []

    def blank(match: re.Match[str]) -> str:
        found.append(match[0])
        return "." + " " * (len(match[0]) - 1)

    for statement in statements:
        for wording in (*statement.text.values(), *statement.accept):
            text = pattern_of(wording).sub(blank, text)
    return text, tuple(found)


@lru_cache(maxsize=1024)
def pattern_of(words: str, *, exact: bool = False) -> re.Pattern[str]:
    """A pattern for a sentence whose spaces and line ends may fall anywhere; ``exact`` keeps capitals.

    >>> bool(pattern_of("Not For Resale").search("… not for\\nresale …"))
    True
    """
    pattern = r"\s+".join(map(re.escape, words.split()))
    # Typographic apostrophes and quotes are the printer's business.
    pattern = re.sub(r"\\?['’]", "['’]", pattern)
    return re.compile(pattern, 0 if exact else re.IGNORECASE)
