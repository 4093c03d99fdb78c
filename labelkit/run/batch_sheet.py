"""The batch sheet of a run: what was checked and cleaned before, seen while filling, and left behind afterwards.

Each line of the sheet is an event of its own, so that it can be booked with wet hands, one at a time, and taken back alone.
Nothing on it must be filled in. Broken jars wait on the sheet until their run is booked, which takes them into its balance.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from typing import ClassVar

from labelkit.lots.event import Event
from labelkit.measures.division import Division
from labelkit.measures.locales import DEFAULT_LOCALE, show_day, show_number
from labelkit.measures.wording import ENGLISH, Wording

BEFORE, DURING, AFTER = "before", "during", "after"
WHOLE, DAMAGED = "whole", "damaged"
STRAINER_STATES = (WHOLE, DAMAGED)
SCALE, ICE, BOILING, REFRACTOMETER = "scale", "ice", "boiling", "refractometer"
BREAKAGE, STRAINER_BEFORE, STRAINER_AFTER = "breakage", "strainer-before", "strainer-after"
STRAINERS = (STRAINER_BEFORE, STRAINER_AFTER)
JARS, HONEY, SAMPLE = "jars", "honey", "sample"
INSTRUMENTS = (SCALE, ICE, BOILING, REFRACTOMETER)
# The lines of the sheet in their order: when each is asked, and what it says.
LINES = {
    SCALE: (BEFORE, "Scale checked with a known weight"),
    ICE: (BEFORE, "Thermometer in melting ice"),
    BOILING: (BEFORE, "Thermometer in boiling water"),
    REFRACTOMETER: (BEFORE, "Refractometer against a known reference"),
    "hands": (BEFORE, "Hands washed, clean clothes"),
    "room": (BEFORE, "Room cleaned with"),
    "kit": (BEFORE, "Equipment cleaned with"),
    JARS: (BEFORE, "Jars and lids looked at"),
    STRAINER_BEFORE: (BEFORE, "Strainer before filling"),
    "start": (DURING, "Filling began at"),
    HONEY: (DURING, "Temperature of the honey"),
    "air": (DURING, "Temperature of the room"),
    BREAKAGE: (DURING, "Glass broken"),
    STRAINER_AFTER: (DURING, "Strainer after filling"),
    "end": (DURING, "Filling ended at"),
    "cleaned": (AFTER, "Cleaned afterwards with"),
    SAMPLE: (AFTER, "Sample kept until"),
    "signed": (AFTER, "Sheet signed"),
}


@dataclass(frozen=True, slots=True)
class Breakage:
    """Jars of one size that broke, and the jars beside them that were thrown away, since a splinter may be in them."""

    size: str
    broken: int
    neighbours: int = 0

    @property
    def count(self) -> int:
        """All jars that are gone."""
        return self.broken + self.neighbours


@dataclass(frozen=True, slots=True)
class BatchLine(Event):
    """One line of a batch sheet. Without ``lots`` it is of every run of its day.

    ``read`` is what an instrument showed and ``against`` what it should have, both in ``unit`` (g, °C, % water), with the
    ``tolerance`` it was held to where one is known.
    """

    kind: ClassVar[str] = "batch"
    title: ClassVar[str] = "batch sheet"
    voidable: ClassVar[bool] = True
    ignores_holds: ClassVar[bool] = True
    day: date
    line: str
    lots: tuple[str, ...] = ()
    words: str = ""
    read: Decimal | None = None
    against: Decimal | None = None
    unit: str = ""
    tolerance: Decimal | None = None
    shown_in: str = ""  # the step of the scale that was checked; the figures of the event are grams then
    instrument: str = ""
    looked_at: int | None = None
    rejected: int | None = None
    broken: tuple[Breakage, ...] = ()
    until: date | None = None
    because: str = ""  # said by a person where the figure was asked about

    @property
    def when(self) -> str:
        """Before, during or after the run."""
        return LINES[self.line][0]

    @property
    def offset(self) -> Decimal | None:
        """How much more the instrument showed than it should."""
        return None if self.read is None or self.against is None else self.read - self.against

    @property
    def is_off(self) -> bool:
        """Whether the instrument was further off than it may be; unknown counts as no."""
        return self.offset is not None and self.tolerance is not None and abs(self.offset) > self.tolerance

    @property
    def asks_for_a_look(self) -> bool:
        """Whether it says something that must not pass: an instrument off, a damaged strainer, broken glass."""
        return self.is_off or self.words == DAMAGED or bool(self.broken)

    def says(self, locale: str, words: Wording = ENGLISH) -> str:
        """The entry without its question.

        >>> ice = BatchLine(date(2026, 7, 20), ICE, read=Decimal("0.4"), against=Decimal(0), unit="°C", tolerance=Decimal(1))
        >>> ice.says("en_US")
        '0.4 °C, should be 0 °C: +0.4 °C, may be off by 1 °C: good'
        """
        said = [*self._instrument(locale, words), *self._counts(words)]
        if self.until is not None:
            said.append(show_day(self.until, locale))
        if self.words:
            said.append(words(self.words) if self.words in STRAINER_STATES else self.words)
        return ("; ".join(said) or words("done")) + (f" ({self.because})" if self.because else "")

    def _instrument(self, locale: str, words: Wording) -> list[str]:
        scale = Division.read(self.shown_in, DEFAULT_LOCALE) if self.shown_in else None

        def shown(value: Decimal) -> str:
            return scale.show(value, locale) if scale else f"{show_number(value, locale)} {self.unit}"

        if self.read is None:
            return []
        text = shown(self.read)
        if self.offset is not None and self.against is not None:
            by = f"{'+' if self.offset > 0 else ''}{shown(self.offset)}"
            text = words("{read}, should be {against}: {by}", read=text, against=shown(self.against), by=by)
            if self.tolerance is not None:
                good = words("too much") if self.is_off else words("good")
                text += words(", may be off by {tolerance}: {good}", tolerance=shown(self.tolerance), good=good)
        return [f"{self.instrument}: {text}" if self.instrument else text]

    def _counts(self, words: Wording) -> list[str]:
        looked = [words("{n} looked at", n=self.looked_at)] if self.looked_at is not None else []
        out = [words("{n} rejected", n=self.rejected)] if self.rejected is not None else []
        glass = [
            words(
                "{size}: {n} broken, {beside} beside thrown away", size=each.size, n=each.broken, beside=each.neighbours
            )
            for each in self.broken
        ]
        return [*looked, *out, *glass]

    def describe(self, locale: str) -> str:
        """Return the event in a few words, for lists."""
        of = f"{', '.join(self.lots)}: " if self.lots else ""
        return f"{of}{LINES[self.line][1]}: {self.says(locale)}"
