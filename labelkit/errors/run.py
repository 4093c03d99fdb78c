"""Refusals of the run room: a bottling run that cannot have happened."""

from __future__ import annotations

from labelkit.errors import AskedAbout, Refused


class RunTakesTooMuch(AskedAbout):
    """More honey in jars and left over than the bucket held, beyond what the scale and a usual share explain."""

    field = "left"

    def __init__(self, bucket: str, holds: str, filled: str, left: str | None, more: str) -> None:
        and_left = f" and {left} is said to be left in it" if left else ""
        super().__init__(
            what=f"Bucket {bucket} holds {holds} by the record, but {filled} is said to have been filled{and_left}: {more} too much.",
            why="Honey from nowhere breaks the trace and the mass balance. Nothing was booked.",
            do="Count the jars again, weigh what is left again, or enter the honey that was added first (drain, blend). If it is right as it "
            "stands, say why (--because WORDS): the run is booked and marked for good.",
        )


class RestHeavierThanBucket(Refused):
    """More left in the bucket after a run than was in it before."""

    field = "left"

    def __init__(self, bucket: str, holds: str, left: str) -> None:
        super().__init__(
            what=f"Bucket {bucket} held {holds} before the run by the record, but {left} is said to be left in it.",
            why="Filling jars makes a bucket lighter; honey that was added without a word has no hives to trace it to.",
            do="Weigh it again without its lid and tare, or enter the honey that was added first (drain, blend).",
        )


class MostIsMissing(AskedAbout):
    """Most of what left the bucket is in no jar and in no named loss."""

    field = "left"

    def __init__(self, bucket: str, taken: str, missing: str, left: str) -> None:
        super().__init__(
            what=f"Bucket {bucket}: {taken} left it, and {missing} of that is in no jar and in no named loss.",
            why=f"A slip in what is left ({left}) looks like that, and the plan would lose the honey. Nothing was booked.",
            do="Weigh what is left again, and look at its decimal mark and unit. Name what was lost (--lost). If it is right "
            "as it stands, say why (--because WORDS): the run is booked and marked for good.",
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
