"""Refusals of the trace room: a recall that cannot be begun or found."""

from __future__ import annotations

from labelkit.errors import Refused


class RecallCauseUnknown(Refused):
    """A cause of recall that is not in the list."""

    def __init__(self, cause: str, known: str) -> None:
        super().__init__(
            what=f"“{cause}” is not a cause of recall labelkit knows.",
            why="The cause decides how far a recall reaches: one lot, all from the same buckets, or all with one label.",
            do=f"Use one of: {known}; “authority” with --why for anything else.",
        )


class RecallUnknown(Refused):
    """A recall nobody began."""

    def __init__(self, name: str, known: str) -> None:
        super().__init__(
            what=f"There is no recall “{name}”.",
            why="What is told and answered is kept with its recall.",
            do=f"Use one of: {known}." if known else "Begin one first: labelkit recall begin …",
        )


class RecallTwice(Refused):
    """A recall of the same name a second time."""

    def __init__(self, name: str, day: str) -> None:
        super().__init__(
            what=f"There is already a recall “{name}”, begun on {day}.",
            why="Two recalls under one name would mix who was told of which.",
            do="Give this one another name with --name.",
        )


class NothingToRecall(Refused):
    """A recall that reaches no jar."""

    def __init__(self, what: str) -> None:
        super().__init__(
            what=f"No jar was ever filled from {what}.",
            why="A recall calls back jars; honey still in its bucket needs only a hold.",
            do="Put the bucket on hold instead: labelkit recall hold --lot …",
        )
