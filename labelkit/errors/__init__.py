"""Every way labelkit says no.

A refusal is part of the product. It says *what* happened with the numbers in it, *why* that matters to the
producer, and what to *do* next. Each kind of refusal is one class, so that a program can tell them apart by name
and a test can show each one's text; the exit code belongs to the family:

=================  =========  ==========================================
family             exit code  meaning
=================  =========  ==========================================
``CheckFailed``    1          a check found something that must be fixed
``Refused``        2          the input was refused; nothing was changed
``RecordRefused``  3          the record is refused, damaged or not ours
=================  =========  ==========================================

This room imports nothing of ours. The classes of each room stand in the module of that room's name.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Self

from labelkit.errors.sentence import written


@dataclass(frozen=True, slots=True)
class Way:
    """A way out as data: the verb that leads there, and what it is about; command line and page word it themselves."""

    verb: str
    about: str = ""


class LabelkitError(Exception):
    """What every refusal carries: what happened, why it matters, what to do next.

    ``field`` names the value it is about, where there is one, so that the page can stand it beside the field; ``ways``
    lead out of it.
    """

    exit_code = 2
    field = ""
    ways: tuple[Way, ...] = ()
    asks = False  # whether a person's words let it through

    def __init__(self, what: str, why: str, do: str) -> None:
        super().__init__(what)
        self.what = what
        self.why = why
        self.do = do

    def in_locale(self, locale: str) -> Self:
        """The same refusal, with its figures as they are written there."""
        self.what, self.why, self.do = (written(words, locale) for words in (self.what, self.why, self.do))
        return self

    @property
    def name(self) -> str:
        """The stable name of this kind of refusal, for programs."""
        return type(self).__name__

    def as_dict(self) -> dict[str, str]:
        """The refusal as the command contract spells it."""
        return {"name": self.name, "what": self.what, "why": self.why, "do": self.do}

    def __str__(self) -> str:
        return f"{self.what}\n  Why: {self.why}\n  Do:  {self.do}"


class Refused(LabelkitError):
    """Input that is refused; nothing was changed."""

    exit_code = 2


class AskedAbout(Refused):
    """Something improbable or against the order of things, booked only where a person says why it is right."""

    asks = True


def unless_said(because: str, refusal: AskedAbout) -> None:
    """Refuse what is asked about, unless somebody's words say why; the event that is booked keeps them.

    >>> unless_said("a heavy drum, weighed twice", AskedAbout("2 t in one bucket.", "Too much.", "Say why."))
    >>> unless_said(" ", AskedAbout("2 t in one bucket.", "Too much.", "Say why."))
    Traceback (most recent call last):
    labelkit.errors.AskedAbout: 2 t in one bucket.
      Why: Too much.
      Do:  Say why.
    """
    if not because.strip():
        raise refusal


class CheckFailed(LabelkitError):
    """A check found something that must be fixed before the jar is sold."""

    exit_code = 1


class RecordRefused(LabelkitError):
    """The record is refused, damaged, or not a labelkit record."""

    exit_code = 3
