"""Refusals of the trace room: a recall that cannot be begun or found."""

from __future__ import annotations

from collections.abc import Iterable

from labelkit.errors import AskedAbout, Refused, Way
from labelkit.errors.sentence import Figure, Sentence, together


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
            what=f"There is no recall “{name}”." if name else "No jars were called back yet.",
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


class OpenedStayApart(Refused):
    """Jars that came back opened, released."""

    def __init__(self, lot: str, size: str, count: int) -> None:
        super().__init__(
            what=f"Lot {lot}, {size}: the {count} held jars came back opened.",
            why="Nobody knows what got into an opened jar. Nothing was saved.",
            do=f'Discard them: labelkit sell --as discarded --lot {lot} --jar "{size}={count}" --reason "came back opened". '
            "If they were whole, correct the return first.",
        )


class NothingToRecall(Refused):
    """A recall that reaches no jar."""

    def __init__(self, what: str) -> None:
        super().__init__(
            what=f"No jar was ever filled from {what}, and nothing of it sold or given in bulk.",
            why="A recall calls back what went out; honey still in its bucket needs only a hold.",
            do="Put the bucket on hold instead: labelkit recall hold --lot …",
        )


class TraceStartUnclear(Refused):
    """A trace that begins nowhere, or at several things at once."""

    def __init__(self) -> None:
        super().__init__(
            what="A trace begins at one thing: a lot code or bucket, a source of honey, a supplier, a customer, or a place of sale.",
            why="Two beginnings would give two answers in one.",
            do="Name one: a code, or a yard, a hive and a harvest day, or a supplier and their lot, or a customer, or a place.",
        )


class TraceOfNoYear(Refused):
    """A trace of a year from what is of one time by itself."""

    def __init__(self, start: str, year: str) -> None:
        super().__init__(
            what=f"{start} and the year {year} cannot both say where the trace begins.",
            why="A lot, a bucket or a day is of one time by itself; a part of its jars would be left out of the trace.",
            do=f"Leave out --year, or begin at a yard, hive, supplier, customer or place: “labelkit trace --hive NAME --year {year}”.",
        )


class RecallNotNamed(Refused):
    """Several recalls, and none of them named."""

    def __init__(self, known: str) -> None:
        super().__init__(
            what=f"There is more than one recall: {known}.",
            why="What is told and answered is kept with its recall.",
            do="Say which one is meant.",
        )


class CustomerHadNone(Refused):
    """An answer of somebody who never had a jar of what is called back."""

    def __init__(self, customer: str, recall: str, near: str, known: str) -> None:
        super().__init__(
            what=f"{customer} had no jars of recall {recall}.",
            why="An answer under a wrong name would leave the right customer looking told.",
            do=f"Is {near} meant?" if near else f"Name one of those who had them: {known}.",
        )


class MoreThanTheyHad(Refused):
    """A customer who would still hold more jars than they ever had."""

    def __init__(self, customer: str, has: int, had: int) -> None:
        super().__init__(
            what=f"{customer} had {had} jars of these lots, so {has} cannot be left.",
            why="The count of a recall closes only on jars that exist.",
            do="Ask again, and look whether other lots were counted too.",
        )


class ShareOutOfRange(Refused):
    """A share of loss below nothing or above all."""

    def __init__(self, name: str, share: str) -> None:
        super().__init__(
            what=f"{share} is no share of honey {name}: it lies from 0 to 100 per cent.",
            why="From this share on missing honey is told; outside the range nothing, or everything, would be.",
            do="Give per cent of what came in, for example 2.",
        )


class LotShort(Refused):
    """Jars whose last check weighing failed."""

    def __init__(self, what: str, why: str, ways: tuple[Way, ...] = ()) -> None:
        super().__init__(
            what=what,
            why=f"{why} Nothing was saved.",
            do="Top the jars up and weigh them again, relabel them to what they hold, or release the lot and say why.",
        )
        self.ways = ways


class LabelAboveHoney(Refused):
    """Jars to be relabelled to more than they hold."""

    def __init__(self, lot: str, size: str, holds: str, new: str, owed: str) -> None:
        super().__init__(
            what=Sentence(
                "Lot {lot}, {size}: the lightest jar holds {holds}, and the label of {new} says {owed}.",
                lot=lot,
                size=size,
                holds=holds,
                new=new,
                owed=owed,
            ),
            why="A label must not say more than the jar holds. Nothing was saved.",
            do="Name a smaller size, top the jars up and weigh them again, or sort out the short ones first.",
        )
        self.field = "size"


class StandsAgainst(AskedAbout):
    """Honey or jars that should be put right before they go further, unless a person says why they may."""

    def __init__(self, found: Iterable[tuple[str, str]], ways: tuple[Way, ...] = ()) -> None:
        said = list(found)
        super().__init__(
            what=Figure(together, dict.fromkeys(what for what, _ in said)),
            why=Figure(together, (*dict.fromkeys(why for _, why in said), "Nothing was saved.")),
            do="Put it right first. If it may go as it is, say why; the record keeps your words.",
        )
        self.field = "because"
        self.ways = ways
