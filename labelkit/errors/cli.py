"""Refusals of the command line itself."""

from __future__ import annotations

from labelkit.errors import Refused


class UsageUnclear(Refused):
    """A command line that cannot be understood."""

    def __init__(self, message: str, help_line: str) -> None:
        super().__init__(
            what=message,
            why="labelkit does only what it has understood; nothing was changed.",
            do=f"See “{help_line}” for the options and an example.",
        )


class WordsUnclear(Refused):
    """Words on the command line in another encoding."""

    def __init__(self, word: str) -> None:
        super().__init__(
            what=f"“{word}” on the command line is not UTF-8 text.",
            why="Names and places must come out on paper as they went in; nothing was changed.",
            do="Set the terminal to UTF-8 (LANG=C.UTF-8, say), and rename a file whose name is older than that.",
        )


class FileUnreadable(Refused):
    """A file that is not there or cannot be read as text."""

    def __init__(self, name: str, reason: str) -> None:
        super().__init__(
            what=f"{name} cannot be read: {reason}.",
            why="Without the file there is nothing to reckon with; nothing was changed.",
            do="Check the name and the folder, and that the file is plain text saved as UTF-8.",
        )


class FolderInTheWay(Refused):
    """An output folder that already holds something else."""

    def __init__(self, name: str, reason: str) -> None:
        super().__init__(
            what=f"{name} cannot be used as the output folder: {reason}.",
            why="labelkit does not write over files it did not make.",
            do="Choose a new folder name, or empty that one yourself.",
        )


class OutputNotWritten(Refused):
    """The answer could not be printed: a full disk behind a redirect, a terminal that is gone."""

    def __init__(self, reason: str) -> None:
        super().__init__(
            what=f"The answer could not be written out: {reason}.",
            why="The command itself had finished; if it booked something, that stands.",
            do="Make room or send the answer elsewhere, and look with “labelkit record events” before you repeat a booking.",
        )


class InternalError(Refused):
    """A fault in labelkit itself; never shown as a traceback."""

    def __init__(self, trouble: Exception) -> None:
        super().__init__(
            what=f"labelkit met something it was not built for: {type(trouble).__name__}: {str(trouble).rstrip('.')}.",
            why="This is a fault in labelkit, not in your season. The record keeps only whole, finished steps.",
            do="Run the same command with LABELKIT_TRACEBACK=1 set and report what it prints.",
        )
