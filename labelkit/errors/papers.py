"""Refusals of the papers that run out: registration, insurance, certificates, permits."""

from __future__ import annotations

from labelkit.errors import AskedAbout, Refused


class PaperUnknown(Refused):
    """A paper that was never noted."""

    field = "name"

    def __init__(self, name: str, known: str) -> None:
        super().__init__(
            what=f"No paper “{name}” is kept.",
            why="Only what was noted can be renewed, printed or retired.",
            do=f"Kept are: {known or 'none yet'}. Use one of these names.",
        )


class NoPapers(Refused):
    """A folder of papers where none is kept."""

    def __init__(self) -> None:
        super().__init__(
            what="No paper is kept yet, so there is no folder to print.",
            why="An empty folder would look as if nothing were needed.",
            do="Note registration, insurance, scale certificate and permits first, each with its last day.",
        )


class PaperNeedsKind(Refused):
    """A new paper without a name or a kind."""

    field = "kind"

    def __init__(self, name: str, kinds: str) -> None:
        super().__init__(
            what=f"“{name}” is a new paper, and its name or its kind is missing.",
            why="A market manager looks for the insurance or the permit, not for a number. Nothing was saved.",
            do=f"Give it a name and say what it is: {kinds}.",
        )


class PaperRunOut(AskedAbout):
    """A paper whose last day is over when it is noted: mostly a mistyped year."""

    field = "until"

    def __init__(self, name: str, until: str, day: str) -> None:
        super().__init__(
            what=f"“{name}” would have run out on {until}; it is {day}.",
            why="A year mistyped would hide that a paper is valid, or that it is not. Nothing was saved.",
            do="Correct the last day, or keep it as it is with a reason.",
        )


class PaperFileRefused(Refused):
    """A file of a paper that could not be printed later."""

    field = "file"

    def __init__(self, name: str, why: str) -> None:
        super().__init__(
            what=f"{name} cannot be kept: {why}.",
            why="It is to be printed for a market manager when it is needed. Nothing was saved.",
            do="Save it again as PDF without a password, or take a picture of it (PNG or JPEG).",
        )
