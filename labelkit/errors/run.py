"""Refusals of the run room: a bottling run that cannot have happened."""

from __future__ import annotations

from labelkit.errors import Refused


class RunTakesTooMuch(Refused):
    """More filled, or more left, than the bucket held."""

    def __init__(self, bucket: str, holds: str, filled: str, left: str | None) -> None:
        and_left = f" and {left} is said to be left in it" if left else ""
        super().__init__(
            what=f"Bucket {bucket} holds {holds} by the record, but {filled} is said to have been filled{and_left}.",
            why="Jars that hold more than the bucket did break the trace and the mass balance; nothing was booked.",
            do="Count the jars again, or enter the honey added since the weigh-in (drain, blend) first.",
        )


class NothingFilled(Refused):
    """A run without a jar."""

    def __init__(self, bucket: str) -> None:
        super().__init__(
            what=f"No jar was filled from bucket {bucket}.",
            why="A run without jars has no lot to print on a label.",
            do="Say how many jars of which size, for example --jar 'one pound=57'.",
        )


class JarSizeUnknown(Refused):
    """A jar size that is not in the list."""

    def __init__(self, size: str, known: str) -> None:
        super().__init__(
            what=f"There is no jar size “{size}”.",
            why="Without its declared weight the jar has no fill target and no label.",
            do=f"Use one of: {known}; or add the size to the season first.",
        )
