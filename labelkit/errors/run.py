"""Refusals of the run room: a bottling run that cannot have happened."""

from __future__ import annotations

from labelkit.errors import AskedAbout, Refused
from labelkit.errors.sentence import Sentence


class RunTakesTooMuch(AskedAbout):
    """More honey in jars and left over than the bucket held, beyond what the scale and a usual share explain."""

    field = "left"

    def __init__(self, bucket: str, holds: str, filled: str, left: str | None, more: str) -> None:
        super().__init__(
            what=Sentence(
                "Bucket {bucket} holds {holds}. You entered {filled} filled and {left} left: {more} too much.",
                bucket=bucket,
                holds=holds,
                filled=filled,
                left=left,
                more=more,
            )
            if left
            else Sentence(
                "Bucket {bucket} holds {holds}. You entered {filled} filled: {more} too much.",
                bucket=bucket,
                holds=holds,
                filled=filled,
                more=more,
            ),
            why="Honey from nowhere breaks the trace and the mass balance. Nothing was saved.",
            do="Count the jars and weigh the remainder again, or first enter the honey that was added (drain, blend). If it is right, say why (--because WORDS). The run stays marked for good.",
        )


class RestHeavierThanBucket(Refused):
    """More left in the bucket after a run than was in it before."""

    field = "left"

    def __init__(self, bucket: str, holds: str, left: str) -> None:
        super().__init__(
            what=Sentence(
                "Bucket {bucket} held {holds} before the run, but you entered {left} left in it.",
                bucket=bucket,
                holds=holds,
                left=left,
            ),
            why="Filling jars makes a bucket lighter. Honey added without a record cannot be traced to its hives.",
            do="Weigh it again without lid and tare, or first enter the honey that was added (drain, blend).",
        )


class MostIsMissing(AskedAbout):
    """Most of what left the bucket is in no jar and in no named loss."""

    field = "left"

    def __init__(self, bucket: str, taken: str, missing: str, left: str) -> None:
        super().__init__(
            what=Sentence(
                "Bucket {bucket}: {taken} left it, but {missing} of that is in no jar and no known loss.",
                bucket=bucket,
                taken=taken,
                missing=missing,
            ),
            why=Sentence(
                "A wrong remainder ({left}) looks like this, and the plan would lose the honey. Nothing was saved.",
                left=left,
            ),
            do="Weigh the remainder again and check its decimal mark and unit. Name the known loss (--lost). If it is right, say why (--because WORDS). The run stays marked for good.",
        )


class NothingFilled(Refused):
    """A run without a jar."""

    def __init__(self, bucket: str) -> None:
        super().__init__(
            what=Sentence("You filled no jar from bucket {bucket}.", bucket=bucket),
            why="A run without jars has no lot to print on a label.",
            do="Give the number of jars of each size, for example --jar 'one pound=57'.",
        )


class JarSizeUnknown(Refused):
    """A jar size that is not in the list."""

    def __init__(self, size: str, known: str) -> None:
        super().__init__(
            what=Sentence("There is no jar size “{size}”.", size=size),
            why="Without a declared weight the jar has no fill target and no label.",
            do=Sentence("Use one of: {known}. Or add the size to the season first.", known=known)
            if known
            else "Add a size first: labelkit price --set SIZE --declares WEIGHT --price AMOUNT",
        )


class SoldByWeight(Refused):
    """Jars counted of a size whose pieces each have a weight of their own, or the other way round."""

    field = "jars"

    def __init__(self, size: str, by_weight: bool) -> None:
        if by_weight:
            what, why = (
                Sentence("{size} is sold by weight.", size=size),
                "Each piece has its own label and its own price.",
            )
            do = Sentence('Give the weight of every piece: --pieces "{size}=weights.csv".', size=size)
        else:
            what, why = (
                Sentence("{size} is not sold by weight.", size=size),
                "All its jars declare one weight. Single weights would not be on any label.",
            )
            do = Sentence(
                'Count its jars: --jar "{size}=12". Or set a size that is sold by weight: labelkit price --set SIZE --by-weight.',
                size=size,
            )
        super().__init__(what=what, why=why, do=do)


class CombFillsTheJars(Refused):
    """Comb for chunk honey that weighs as much as the jars take, or leaves no honey to pour over it."""

    field = "comb"

    def __init__(self, comb: str, jars: str) -> None:
        super().__init__(
            what=Sentence("The comb weighs {comb}. The jars take {jars} in all.", comb=comb, jars=jars),
            why="There would be no honey over the comb, so one of the figures is wrong. Nothing was saved.",
            do="Weigh the comb alone, without its tray, and count the jars again.",
        )


class PieceFarFromOthers(AskedAbout):
    """A piece that weighs less than a quarter of the middle one of its list, or more than four times as much."""

    field = "pieces"

    def __init__(self, size: str, weight: str, middle: str) -> None:
        super().__init__(
            what=Sentence(
                "A piece of {size} weighs {weight}, but the middle one of the list weighs {middle}.",
                size=size,
                weight=weight,
                middle=middle,
            ),
            why="A wrong decimal mark looks like this, and would be on the label and in the price. Nothing was saved.",
            do="Weigh that piece again and check its decimal mark and unit. If it is right, say why (--because WORDS).",
        )


class InstrumentFarOff(AskedAbout):
    """An instrument that showed something far from what it was held against: a slip of the pen, or a broken instrument."""

    field = "read"

    def __init__(self, what: str, read: str, against: str) -> None:
        super().__init__(
            what=Sentence(
                "{what}: it showed {read}, but should show {against}.", what=what, read=read, against=against
            ),
            why="This is usually a typing error or a broken instrument. It would make later readings wrong.",
            do="Check the unit and the decimal mark, and test it again. If it is right, say why (--because WORDS).",
        )


class BreakageOfWhat(Refused):
    """Broken glass without the one bucket or lot whose jars they were."""

    field = "lots"

    def __init__(self, named: int) -> None:
        super().__init__(
            what=Sentence("Broken jars belong to one bucket or one lot, but you named {named}.", named=named or "none"),
            why="The jars leave the balance of that lot, so labelkit must know which. Nothing was saved.",
            do='Name the bucket you fill from, or the lot code: labelkit batch B1 --broken "one pound=1"',
        )


class FewerBrokenThanNoted(AskedAbout):
    """A run that says fewer broken jars than its batch sheet."""

    field = "broken"

    def __init__(self, size: str, said: int, noted: int) -> None:
        super().__init__(
            what=Sentence(
                "You gave {said} broken {size} jars, but the batch sheet has {noted} broken or discarded.",
                said=said,
                size=size,
                noted=noted,
            ),
            why="Discarded jars would count as missing honey, or stay in stock with glass in them.",
            do="Leave out the broken jars to use those of the batch sheet, or count again. If the sheet is wrong, say why (--because WORDS).",
        )


class BatchLineEmpty(Refused):
    """A line of a batch sheet that says nothing, or something it cannot say."""

    field = "words"

    def __init__(self, line: str, wants: str) -> None:
        super().__init__(
            what=Sentence("The line “{line}” of the batch sheet is empty.", line=line),
            why="An empty line looks like a check that was made. Nothing was saved.",
            do=Sentence("Give {wants}, or leave out the line.", wants=wants),
        )


class NothingInPeriod(Refused):
    """A folder for an inspector over a period without a run."""

    field = "since"

    def __init__(self, since: str, until: str) -> None:
        super().__init__(
            what=Sentence("You filled no jar from {since} to {until}.", since=since, until=until),
            why="Without a run there is no lot to trace. Nothing was written.",
            do="Choose another period, for example --from 2026-01-01 --to 2026-12-31.",
        )
