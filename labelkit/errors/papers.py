"""Refusals of the papers that run out: registration, insurance, certificates, permits."""

from __future__ import annotations

from labelkit.errors import AskedAbout, Refused
from labelkit.errors.sentence import Sentence


class PaperUnknown(Refused):
    """A paper that was never noted."""

    field = "name"

    def __init__(self, name: str, known: str) -> None:
        super().__init__(
            what=Sentence("The record has no paper “{name}”.", name=name),
            why="You can renew, print or retire only a paper in the record.",
            do=Sentence("Use one of: {known}.", known=known) if known else "Record the paper first.",
        )


class NoPapers(Refused):
    """A folder of papers where none is kept."""

    def __init__(self) -> None:
        super().__init__(
            what="No paper is kept yet, so there is no folder to print.",
            why="An empty folder would look as if you needed no papers.",
            do="Record registration, insurance, scale certificate and permits first, each with its last day.",
        )


class PaperNeedsKind(Refused):
    """A new paper without a name or a kind."""

    field = "kind"

    def __init__(self, name: str, kinds: str) -> None:
        super().__init__(
            what=Sentence("“{name}” is a new paper, and its name or its kind is missing.", name=name),
            why="A market manager looks for the insurance or the permit, not for a number. Nothing was saved.",
            do=Sentence("Give it a name and say what it is: {kinds}.", kinds=kinds),
        )


class PaperRunOut(AskedAbout):
    """A paper whose last day is over when it is noted: mostly a mistyped year."""

    field = "until"

    def __init__(self, name: str, until: str, day: str) -> None:
        super().__init__(
            what=Sentence("“{name}” ran out on {until}. Today is {day}.", name=name, until=until, day=day),
            why="A wrong year would hide whether the paper is valid. Nothing was saved.",
            do="Correct the last day, or keep it as it is with a reason.",
        )


class PaperFileRefused(Refused):
    """A file of a paper that could not be printed later."""

    field = "file"

    def __init__(self, name: str, why: str) -> None:
        super().__init__(
            what=Sentence("{name} cannot be kept: {why}.", name=name, why=why),
            why="You may have to print it for a market manager. Nothing was saved.",
            do="Save it as PDF without a password, or take a picture of it (PNG or JPEG).",
        )
