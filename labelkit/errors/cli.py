"""Refusals of the command line itself."""

from __future__ import annotations

from labelkit.errors import Refused
from labelkit.errors.sentence import Sentence


class UsageUnclear(Refused):
    """A command line that cannot be understood."""

    def __init__(self, message: str, help_line: str) -> None:
        super().__init__(
            what=message,
            why="labelkit runs a command only when it understands all of it. Nothing was changed.",
            do=Sentence("For the options and an example: {help_line}", help_line=help_line),
        )


class WordsUnclear(Refused):
    """Words on the command line in another encoding."""

    def __init__(self, word: str) -> None:
        super().__init__(
            what=Sentence("“{word}” on the command line is not UTF-8 text.", word=word),
            why="A name must print exactly as you typed it. Nothing was changed.",
            do="Set the terminal to UTF-8, for example LANG=C.UTF-8. Rename any file whose name is not UTF-8.",
        )


class FileUnreadable(Refused):
    """A file that is not there or cannot be read as text."""

    def __init__(self, name: str, reason: str) -> None:
        super().__init__(
            what=Sentence("{name} cannot be read: {reason}.", name=name, reason=reason),
            why="labelkit needs this file. Nothing was changed.",
            do="Check the name and the folder. Save the file as plain UTF-8 text.",
        )


class FolderInTheWay(Refused):
    """An output folder that already holds something else."""

    def __init__(self, name: str, reason: str) -> None:
        super().__init__(
            what=Sentence("{name} cannot be used as the output folder: {reason}.", name=name, reason=reason),
            why="labelkit does not overwrite files it did not make.",
            do="Choose a new folder name, or empty this folder yourself.",
        )


class OutputNotWritten(Refused):
    """The answer could not be printed: a full disk behind a redirect, a terminal that is gone."""

    def __init__(self, reason: str) -> None:
        super().__init__(
            what=Sentence("The result could not be written: {reason}.", reason=reason),
            why="The command had finished. If it recorded a step, the step is saved.",
            do="Free some disk space or send the output elsewhere. Then see whether the step was saved: labelkit record events",
        )


class InternalError(Refused):
    """A fault in labelkit itself; never shown as a traceback."""

    def __init__(self, trouble: Exception) -> None:
        super().__init__(
            what=Sentence(
                "labelkit stopped because of an internal error: {kind}: {trouble}.",
                kind=type(trouble).__name__,
                trouble=str(trouble).rstrip("."),
            ),
            why="This is a fault in labelkit, not in your season. The record keeps only complete steps.",
            do="Run the same command with LABELKIT_TRACEBACK=1 set, and report what it prints.",
        )
