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


class SoldByWeight(Refused):
    """Jars counted of a size whose pieces each have a weight of their own, or the other way round."""

    field = "jars"

    def __init__(self, size: str, by_weight: bool) -> None:
        if by_weight:
            what, why = f"{size} is sold by weight.", "Each piece has its own label and its own price."
            do = f'Give the weight of every piece: --pieces "{size}=weights.csv".'
        else:
            what, why = (
                f"{size} is not sold by weight.",
                "All its jars declare one weight; single weights would not be on any label.",
            )
            do = f'Count its jars: --jar "{size}=12". Or set a size that is sold by weight: labelkit price --set SIZE --by-weight.'
        super().__init__(what=what, why=why, do=do)


class PieceFarFromOthers(AskedAbout):
    """A piece that weighs less than a quarter of the middle one of its list, or more than four times as much."""

    field = "pieces"

    def __init__(self, size: str, weight: str, middle: str) -> None:
        super().__init__(
            what=f"A piece of {size} is said to weigh {weight}; the middle one of the list weighs {middle}.",
            why="A slip of the decimal mark looks like that, and would be on its label and in its price. Nothing was saved.",
            do="Weigh that piece again and look at its decimal mark and unit. If it is right, say why (--because WORDS).",
        )


class InstrumentFarOff(AskedAbout):
    """An instrument that showed something far from what it was held against: a slip of the pen, or a broken instrument."""

    field = "read"

    def __init__(self, what: str, read: str, against: str) -> None:
        super().__init__(
            what=f"{what}: it showed {read}, and should have shown {against}.",
            why="So much is mostly a slip or a broken instrument; later readings would be put right by a wrong figure.",
            do="Look at the unit and the decimal mark, and check it again. If it is right as it stands, say why (--because WORDS).",
        )


class BreakageOfWhat(Refused):
    """Broken glass without the one bucket or lot whose jars they were."""

    field = "lots"

    def __init__(self, named: int) -> None:
        super().__init__(
            what=f"Broken jars belong to one bucket or one lot, and {named or 'none'} were named.",
            why="The jars are taken out of that lot's balance; labelkit cannot guess which. Nothing was saved.",
            do='Name the bucket you are filling from, or the lot code: labelkit batch B1 --broken "one pound=1".',
        )


class FewerBrokenThanNoted(AskedAbout):
    """A run that says fewer broken jars than its batch sheet."""

    field = "broken"

    def __init__(self, size: str, said: int, noted: int) -> None:
        super().__init__(
            what=f"{said} broken {size} jars are given, and the batch sheet has {noted} broken or thrown away beside them.",
            why="Jars that were thrown away would count as missing honey, or stay in stock with a splinter in them.",
            do="Leave the broken jars out to take those of the batch sheet, or count again. If the sheet is wrong, say why (--because WORDS).",
        )


class BatchLineEmpty(Refused):
    """A line of a batch sheet that says nothing, or something it cannot say."""

    field = "words"

    def __init__(self, line: str, wants: str) -> None:
        super().__init__(
            what=f"The line “{line}” of the batch sheet says nothing that can be kept.",
            why="An empty line on a sheet looks like a check that was made. Nothing was saved.",
            do=f"Give {wants}, or leave the line out.",
        )


class NothingInPeriod(Refused):
    """A folder for an inspector over a period without a run."""

    field = "since"

    def __init__(self, since: str, until: str) -> None:
        super().__init__(
            what=f"No jar was filled from {since} to {until}.",
            why="A folder without a run proves nothing, and there is no lot to trace. Nothing was written.",
            do="Choose another period, for example --from 2026-01-01 --to 2026-12-31.",
        )
