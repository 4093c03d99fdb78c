"""Refusals of the trace room: a recall that cannot be begun or found."""

from __future__ import annotations

from collections.abc import Iterable

from labelkit.errors import AskedAbout, Refused, Way
from labelkit.errors.sentence import Figure, Sentence, together


class RecallCauseUnknown(Refused):
    """A cause of recall that is not in the list."""

    def __init__(self, cause: str, known: str) -> None:
        super().__init__(
            what=Sentence("labelkit does not know “{cause}” as a cause of recall.", cause=cause),
            why="The cause decides the extent of a recall: one lot, all of the same buckets, or all with one label.",
            do=Sentence("Use one of: {known}. For anything else use “authority” with --why.", known=known),
        )


class RecallUnknown(Refused):
    """A recall nobody began."""

    def __init__(self, name: str, known: str) -> None:
        super().__init__(
            what=Sentence("There is no recall “{name}”.", name=name) if name else "You have not started a recall.",
            why="labelkit keeps notices and answers with their recall.",
            do=Sentence("Use one of: {known}.", known=known)
            if known
            else "Start one first: labelkit recall begin --lot LOT --cause CAUSE",
        )


class RecallTwice(Refused):
    """A recall of the same name a second time."""

    def __init__(self, name: str, day: str) -> None:
        super().__init__(
            what=Sentence("There is already a recall “{name}”, started on {day}.", name=name, day=day),
            why="Two recalls with one name would mix who was notified of which.",
            do="Give this one another name with --name.",
        )


class OpenedStayApart(Refused):
    """Jars that came back opened, released."""

    def __init__(self, lot: str, size: str, count: int) -> None:
        super().__init__(
            what=Sentence(
                "Lot {lot}, {size}: the {count} held jars came back opened.", lot=lot, size=size, count=count
            ),
            why="Nobody knows what got into an opened jar. Nothing was saved.",
            do=Sentence(
                'Discard them: labelkit sell --as discarded --lot {lot} --jar "{size}={count}" --reason "came back opened". If they were unopened, correct the return first.',
                lot=lot,
                size=size,
                count=count,
            ),
        )


class NothingToRecall(Refused):
    """A recall that reaches no jar."""

    def __init__(self, what: str) -> None:
        super().__init__(
            what=Sentence("No jar was filled from {what}, and none of it was sold or given away in bulk.", what=what),
            why="A recall brings back what you sold or gave away. Honey in its bucket needs only a hold.",
            do='Put the bucket on hold instead: labelkit recall hold --lot BUCKET --because "REASON"',
        )


class TraceStartUnclear(Refused):
    """A trace that begins nowhere, or at several things at once."""

    def __init__(self) -> None:
        super().__init__(
            what="A trace starts at one thing: a lot code or bucket, a yard or hive, a supplier, a customer or a venue.",
            why="Two starting points would mix two results.",
            do="Give one: a code, a yard, hive and harvest day, a supplier and their lot, a customer, or a venue.",
        )


class TraceOfNoYear(Refused):
    """A trace of a year from what is of one time by itself."""

    def __init__(self, start: str, year: str) -> None:
        super().__init__(
            what=Sentence("{start} and the year {year} cannot both start the trace.", start=start, year=year),
            why="A lot, bucket or day has its own time. The trace would miss some of its jars.",
            do=Sentence(
                "Leave out --year. Or start at a yard, hive, supplier, customer or venue: labelkit trace --hive NAME --year {year}",
                year=year,
            ),
        )


class RecallNotNamed(Refused):
    """Several recalls, and none of them named."""

    def __init__(self, known: str) -> None:
        super().__init__(
            what=Sentence("There is more than one recall: {known}.", known=known),
            why="labelkit keeps notices and answers with their recall.",
            do="Name the one you mean.",
        )


class CustomerHadNone(Refused):
    """An answer of somebody who never had a jar of what is called back."""

    def __init__(self, customer: str, recall: str, near: str, known: str) -> None:
        super().__init__(
            what=Sentence("{customer} had no jars of recall {recall}.", customer=customer, recall=recall),
            why="An answer under a wrong name would make the right customer look notified.",
            do=Sentence("Did you mean {near}?", near=near)
            if near
            else Sentence("Choose one of those who had jars: {known}.", known=known),
        )


class MoreThanTheyHad(Refused):
    """A customer who would still hold more jars than they ever had."""

    def __init__(self, customer: str, has: int, had: int) -> None:
        super().__init__(
            what=Sentence(
                "{customer} had {had} jars of these lots, so {has} cannot be left.", customer=customer, had=had, has=has
            ),
            why="A recall can count only jars that exist.",
            do="Ask again, and check whether other lots were counted too.",
        )


class ShareOutOfRange(Refused):
    """A share of loss below nothing or above all."""

    def __init__(self, name: str, share: str) -> None:
        super().__init__(
            what=Sentence("{share} is not a share of honey {name}. The range is 0 to 100%.", share=share, name=name),
            why="labelkit warns of missing honey from this share on.",
            do="Give a percentage of the honey weighed in, for example 2.",
        )


class LotShort(Refused):
    """Jars whose last check weighing failed."""

    def __init__(self, what: str, why: str, ways: tuple[Way, ...] = ()) -> None:
        super().__init__(
            what=what,
            why=Sentence("{why} Nothing was saved.", why=why),
            do="Top up the jars and weigh them again, relabel them to what they hold, or release the lot and say why.",
        )
        self.ways = ways


class LabelAboveHoney(Refused):
    """Jars to be relabelled to more than they hold."""

    def __init__(self, lot: str, size: str, holds: str, new: str, owed: str) -> None:
        super().__init__(
            what=Sentence(
                "Lot {lot}, {size}: the lightest jar holds {holds}, but the label of {new} says {owed}.",
                lot=lot,
                size=size,
                holds=holds,
                new=new,
                owed=owed,
            ),
            why="A label must not state more than the jar holds. Nothing was saved.",
            do="Choose a smaller size, top up the jars and weigh them again, or sort out the short ones first.",
        )
        self.field = "size"


class StandsAgainst(AskedAbout):
    """Honey or jars that should be put right before they go further, unless a person says why they may."""

    def __init__(self, found: Iterable[tuple[str, str]], ways: tuple[Way, ...] = ()) -> None:
        said = list(found)
        super().__init__(
            what=Figure(together, dict.fromkeys(what for what, _ in said)),
            why=Figure(together, (*dict.fromkeys(why for _, why in said), "Nothing was saved.")),
            do="Correct that first. If it may stay as it is, say why. The record keeps the reason.",
        )
        self.field = "because"
        self.ways = ways
