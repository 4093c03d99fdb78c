"""Refusals of the record: a file that is not ours, a damaged one, an event that cannot be, a guard that held."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from labelkit.errors import AskedAbout, RecordRefused, Refused, Way
from labelkit.errors.sentence import Figure, Sentence, written


class RecordMissing(RecordRefused):
    """No record where one was named, or where the season's is looked for; ``others`` lie in the same folder."""

    def __init__(self, where: str, others: Sequence[str] = ()) -> None:
        named = " and ".join(filter(None, (", ".join(others[:-1]), *others[-1:])))
        super().__init__(
            what=Sentence("There is no record at {where}. The folder holds: {named}.", where=where, named=named)
            if named
            else Sentence("There is no record at {where}.", where=where),
            why="A trace needs the right record. You would miss a record started in the wrong place.",
            do=Sentence(
                "Name the one you mean: --record {other}. To start a new season: labelkit --record {where} start --market us",
                other=others[0],
                where=where,
            )
            if others
            else Sentence(
                "Check the name after --record. To start a new season: labelkit --record {where} start --market us",
                where=where,
            ),
        )


class RecordFolderMissing(RecordRefused):
    """A record named in a folder that does not exist."""

    def __init__(self, where: str, folder: str) -> None:
        super().__init__(
            what=Sentence(
                "labelkit cannot make the record {where}: there is no folder {folder}.", where=where, folder=folder
            ),
            why="A record made in the wrong place would be missing when you need it.",
            do="Make the folder first, or correct the name after --record.",
        )


class RecordsBesideEachOther(RecordRefused):
    """Several records in the folder a command looks in, and none of them named."""

    def __init__(self, folder: str, names: Sequence[str]) -> None:
        super().__init__(
            what=Sentence(
                "The folder {folder} holds {n} records: {names}.", folder=folder, n=len(names), names=", ".join(names)
            ),
            why="A step saved in the wrong season cannot be moved to the other.",
            do=Sentence("Name the one you mean: labelkit --record {first} today", first=names[0]),
        )


class CopyFolderMissing(RecordRefused):
    """A copy to a folder that does not exist."""

    def __init__(self, folder: str) -> None:
        super().__init__(
            what=Sentence("labelkit cannot make a copy in {folder}: there is no such folder.", folder=folder),
            why="If the stick is not plugged in, you would have no copy. Nothing was copied.",
            do="Plug in the stick or make the folder first, or correct the name after --to.",
        )


class RecordInTheWay(RecordRefused):
    """A file where a new record or copy was to be written."""

    def __init__(self, where: str) -> None:
        super().__init__(
            what=Sentence("{where} already exists.", where=where),
            why="labelkit never overwrites a record, a copy or another file of yours. Nothing was changed.",
            do="Give another name, or move that file away yourself.",
        )


class NotARecord(RecordRefused):
    """A file or database that labelkit did not make."""

    def __init__(self, where: str, found: str) -> None:
        super().__init__(
            what=Sentence("{where} is not a labelkit record: {found}.", where=where, found=found),
            why="labelkit never writes to a file of another program. Nothing was changed.",
            do="Check the name after --record. If this was your record, restore the last copy: labelkit record restore COPY",
        )


class RecordTruncated(RecordRefused):
    """A record file that is shorter than it says it is."""

    def __init__(self, where: str, has: Figure, should: Figure) -> None:
        super().__init__(
            what=Sentence("{where} is cut short: it has {has} of {should} bytes.", where=where, has=has, should=should),
            why="Events are missing at its end, so you cannot rely on any trace. Nothing was changed.",
            do="Keep the file as it is and restore the last copy: labelkit record restore COPY",
        )


class RecordDamaged(RecordRefused):
    """A record the database engine or the chain of hashes finds damaged."""

    ways = (Way("record restore"),)

    def __init__(self, where: str, detail: str) -> None:
        super().__init__(
            what=Sentence("The record {where} is damaged: {detail}.", where=where, detail=detail),
            why="A trace through a damaged record could miss jars. Nothing was changed.",
            do="To see where: labelkit record verify. Keep the file, and restore the last copy: labelkit record restore COPY",
        )


class RecordNotWritable(RecordRefused):
    """A record, or its folder, that this user may not write."""

    def __init__(self, where: str, reason: str) -> None:
        super().__init__(
            what=Sentence("labelkit cannot write the record {where}: {reason}.", where=where, reason=reason),
            why="An event counts only when it is safely on disk. Nothing was saved.",
            do="Work as the owner of the record, put it on a disk you can write to, or change its permissions.",
        )


class RecordNewer(RecordRefused):
    """A record of a later labelkit."""

    def __init__(self, where: str, theirs: str, ours: str) -> None:
        super().__init__(
            what=Sentence(
                "A newer labelkit wrote the record {where} (format {theirs}). This labelkit reads formats up to {ours}.",
                where=where,
                theirs=theirs,
                ours=ours,
            ),
            why="An older program could misread what the newer one wrote. Nothing was changed.",
            do="Update labelkit on this machine: pip install --upgrade labelkit",
        )


class RecordOlder(RecordRefused):
    """A record of an earlier form that cannot be brought up to date here."""

    def __init__(self, where: str, theirs: str, ours: str) -> None:
        super().__init__(
            what=Sentence(
                "The record {where} has the older format {theirs}. This labelkit reads format {ours}.",
                where=where,
                theirs=theirs,
                ours=ours,
            ),
            why="labelkit updates a record when it opens it, but this one is read-only.",
            do="Copy the file to a folder you can write to, and open the copy.",
        )


class RecordBusy(RecordRefused):
    """Another station holds the record too long."""

    def __init__(self, where: str, seconds: int) -> None:
        super().__init__(
            what=Sentence(
                "Another station used the record {where} for more than {seconds} seconds.",
                where=where,
                seconds=seconds,
            ),
            why="Stations take turns, so that two cannot fill the same honey. Nothing was saved.",
            do="Try again in a moment. If this repeats, look for another labelkit that is still running.",
        )


class DiskFull(RecordRefused):
    """No room left to write."""

    def __init__(self, where: str) -> None:
        super().__init__(
            what=Sentence("The disk of {where} is full.", where=where),
            why="An event counts only when it is safely on disk. This step was not saved. All earlier ones are.",
            do="Free some space, then run the command again.",
        )


class DiskError(RecordRefused):
    """A disk that did not do what was asked of it."""

    def __init__(self, where: str, detail: str) -> None:
        super().__init__(
            what=Sentence("The disk of {where} returned an error: {detail}.", where=where, detail=detail),
            why="An event counts only when it is safely on disk. This step was not saved. All earlier ones are.",
            do="Check whether the disk is full, over its quota or unplugged. If not, it may be failing: copy the record to another disk (labelkit record copy --to FOLDER), then run the command again.",
        )


class WriteNotConfirmed(RecordRefused):
    """A disk that took what was written, and would not say that it is safe."""

    def __init__(self, where: str) -> None:
        super().__init__(
            what=Sentence("The disk that holds {where} did not confirm the last write.", where=where),
            why="The step does not count as saved. After a power failure it could still be there, complete. All earlier ones are saved.",
            do="The disk may be failing. Copy the record to another disk (labelkit record copy --to FOLDER). Look at “labelkit record events” before you repeat the step. With the same --once key you can repeat it safely.",
        )


class ServerUnreachable(RecordRefused):
    """A database server that does not answer."""

    def __init__(self, where: str, reason: str) -> None:
        super().__init__(
            what=Sentence("The record server {where} does not answer: {reason}.", where=where, reason=reason),
            why="Nothing was saved and nothing was changed.",
            do="Check that the server runs, and that the address, name and password after --record are right.",
        )


class DriverMissing(RecordRefused):
    """PostgreSQL asked for, its driver not installed."""

    def __init__(self, where: str) -> None:
        super().__init__(
            what=Sentence("{where} is a PostgreSQL address, but its driver is not installed.", where=where),
            why="A single station needs only a file, so the driver is not installed by default.",
            do="Install it (pip install 'labelkit[postgres]'), then run the command again.",
        )


class EngineTooOld(RecordRefused):
    """A SQLite too old for the safeguards of the record."""

    def __init__(self, has: str, needs: str) -> None:
        super().__init__(
            what=Sentence(
                "The SQLite in this Python is {has}. The record needs {needs} or later.", has=has, needs=needs
            ),
            why="Older versions have no strict tables, which stop a weight from being stored as text.",
            do="Install a newer Python from python.org. It includes SQLite.",
        )


class ConnectionLost(RecordRefused):
    """The server went away; nothing of the step was booked."""

    def __init__(self, where: str) -> None:
        super().__init__(
            what=Sentence("The connection to {where} was lost before the step was finished.", where=where),
            why="labelkit checked: this step was not saved. All earlier ones are.",
            do="Run the command again.",
        )


class OutcomeUnknown(RecordRefused):
    """The server went away during the commit and cannot be asked."""

    def __init__(self, where: str, key: str | None) -> None:
        super().__init__(
            what=Sentence(
                "The connection to {where} was lost while saving, and the server does not answer yet.",
                where=where,
            ),
            why="The step is saved completely or not at all, but labelkit cannot see which.",
            do=Sentence(
                "When the server answers, repeat it with the same --once {key}. A step with a key is never saved twice.",
                key=key,
            )
            if key
            else "When the server answers, look first whether the step was saved: labelkit record events. Repeat it if it was not.",
        )


class KeyReused(RecordRefused):
    """One key for two different steps."""

    def __init__(self, key: str, seq: int, day: str) -> None:
        super().__init__(
            what=Sentence(
                "The key {key} belongs to event {seq} of {day}, which has other values.",
                key=key,
                seq=seq,
                day=day,
            ),
            why="A key must always mean the same step, or repeating is not safe. Nothing was saved.",
            do="Use a new key for a new step.",
        )


class ClockBackwards(AskedAbout):
    """A clock that is behind what has been booked."""

    def __init__(self, at: str, last: str, seq: int) -> None:
        super().__init__(
            what=Sentence("The clock shows {at}, but event {seq} was saved at {last}.", at=at, seq=seq, last=last),
            why="No inspector trusts a record whose times run backwards. Nothing was saved.",
            do='Set the clock and time zone of this machine, then run the command again. If the clock is right and the earlier one was fast, add --clock-is-right. Then correct the wrong days: labelkit --clock-is-right record correct EVENT --day YYYY-MM-DD --because "the clock was fast"',
        )


class ClockFarAhead(AskedAbout):
    """A clock far ahead of what was booked last."""

    def __init__(self, at: str, last: str, seq: int) -> None:
        super().__init__(
            what=Sentence(
                "The clock shows {at}, but the last event ({seq}) was saved at {last}.", at=at, seq=seq, last=last
            ),
            why="A step saved under a fast clock gets a wrong day and lot code. Nothing was saved.",
            do="Set the clock of this machine, then run the command again. If the clock is right, add --clock-is-right.",
        )


class TimeWithoutZone(RecordRefused):
    """A record time without its zone."""

    def __init__(self, at: str) -> None:
        super().__init__(
            what=Sentence("The time {at} has no time zone.", at=at),
            why="Without a time zone, the time cannot be compared with those of other stations.",
            do="Give the time with its zone, for example 2026-07-14T18:30:00+02:00.",
        )


class EventUnkeepable(Refused):
    """An event that cannot be written down and read back the same."""

    def __init__(self, kind: str, reason: str) -> None:
        super().__init__(
            what=Sentence("This {kind} event cannot be saved: {reason}.", kind=kind, reason=reason),
            why="The record must return exactly what you entered. Nothing was saved.",
            do="Correct that value and run the command again.",
        )


class EventUnreadable(RecordRefused):
    """A stored event this labelkit cannot read."""

    def __init__(self, seq: int, kind: str, reason: str) -> None:
        super().__init__(
            what=Sentence("labelkit cannot read event {seq} ({kind}): {reason}.", seq=seq, kind=kind, reason=reason),
            why="A newer labelkit wrote it, or somebody changed it. A guess could hide jars from a recall.",
            do="Update labelkit, then run: labelkit record verify",
        )


class MassNotConserved(Refused):
    """An event whose masses do not add up to nothing."""

    def __init__(self, kind: str, lot: str, rest: str) -> None:
        super().__init__(
            what=Sentence(
                "The {kind} of lot {lot} does not balance: {rest} is unaccounted for.",
                kind=kind,
                lot=lot,
                rest=rest,
            ),
            why="Every milligram that leaves one place must arrive at another.",
            do="Name the known loss, or record it as unexplained, so that in and out are equal.",
        )


class LotTwice(Refused):
    """A lot code a second time."""

    def __init__(self, lot: str, day: str) -> None:
        super().__init__(
            what=Sentence("Lot {lot} was already bottled on {day}.", lot=lot, day=day),
            why="A recall could not tell two runs with one code apart.",
            do='Let labelkit choose the next free lot code, or void the earlier run: labelkit record correct EVENT --because "REASON"',
        )


class YearIsClosed(AskedAbout):
    """Something that would change a year that was closed."""

    def __init__(self, title: str, year: str, closed: str) -> None:
        super().__init__(
            what=Sentence(
                "This ({title}) would change {year}, which was closed on {closed}.",
                title=title,
                year=year,
                closed=closed,
            ),
            why="You made the papers of that year and carried its stock forward. They would no longer agree.",
            do="If it belongs there, say why with --because. The record and the year show it. Otherwise give another day with --day.",
        )


class YearNotOver(Refused):
    """A year that is closed before its last evening."""

    def __init__(self, year: str, last: str, today: str) -> None:
        super().__init__(
            what=Sentence("{year} ends on {last}. Today is {today}.", year=year, last=last, today=today),
            why="The papers would miss what still comes in or goes out.",
            do=Sentence("Close it on the evening of {last}, or later.", last=last),
        )


class YearClosedBefore(Refused):
    """A year of which some days are closed already."""

    def __init__(self, year: str, closed: str, seq: int) -> None:
        super().__init__(
            what=Sentence(
                "{year} has days of {closed}, which is closed (event {seq}).", year=year, closed=closed, seq=seq
            ),
            why="A day in two closed years would count twice.",
            do=Sentence(
                'To close it again, first void that event: labelkit record correct {seq} --because "REASON"', seq=seq
            ),
        )


class JarsStillAtStall(AskedAbout):
    """A year that ends with jars at a stall that was never settled."""

    def __init__(self, year: str, jars: int, last: str) -> None:
        super().__init__(
            what=Sentence(
                "On the last evening of {year}, {last}, the record has {jars} jars at a stall.",
                year=year,
                last=last,
                jars=jars,
            ),
            why="The year's income would miss the jars you sold there.",
            do="Close the stall day first: labelkit stall settle. If the jars really stayed there, say so with --because.",
        )


class NothingInYear(Refused):
    """A file of a year in which nothing moved."""

    def __init__(self, year: str) -> None:
        super().__init__(
            what=Sentence("No honey came in or went out in {year}.", year=year),
            why="An empty file looks like a year without honey.",
            do="Choose a year with events. To list them: labelkit record events",
        )


class LotUnknown(Refused):
    """Something to trace that the record does not know."""

    def __init__(self, what: str, near: str) -> None:
        super().__init__(
            what=Sentence("The record has no {what}.", what=what),
            why="A trace must start at something in the record.",
            do=Sentence("Check the spelling{near}.", near=near),
        )


class JarsTooFew(Refused):
    """More jars to go out than there are, of one lot or (``lot`` empty) of all of them."""

    def __init__(self, lot: str, size: str, short: int, where: str, held: int) -> None:
        of = Sentence("Lot {lot}", lot=lot) if lot else "All lots"
        known = {"of": of, "size": size, "short": short, "where": where, "held": held}
        super().__init__(
            what=Sentence("{of}, {size}: {short} too few {where}. {held} more are on hold.", **known)
            if held
            else Sentence("{of}, {size}: {short} too few {where}.", **known),
            why="Jars that were never filled would make the recall list wrong. Nothing was saved.",
            do='Count the shelf again, or void the wrong run or sale: labelkit record correct EVENT --because "REASON"',
        )


class LotHeld(Refused):
    """A lot on hold."""

    def __init__(self, lot: str, since: str, because: str) -> None:
        super().__init__(
            what=Sentence(
                "Lot {lot} has been on hold since {since}: {because}.", lot=lot, since=since, because=because
            ),
            why="You cannot sell, give, load or bottle what is on hold. Nothing was saved.",
            do=Sentence(
                'Take jars of another lot. If the lot is safe, release it: labelkit recall release --lot {lot} --because "REASON"',
                lot=lot,
            ),
        )


class NothingNoted(Refused):
    """A note without words, or about nothing."""

    def __init__(self) -> None:
        super().__init__(
            what="The note has no text, or names no bucket and no lot.",
            why="You find a note again by its bucket or lot.",
            do="Name a bucket or a lot code, and write the note.",
        )


class CorrectionRefused(Refused):
    """A correction that cannot be; ``instead`` are the events that stand where the one it names stood."""

    def __init__(self, seq: int, reason: str, instead: Iterable[int] = ()) -> None:
        self.ways = tuple(Way("correct", str(each)) for each in instead)
        super().__init__(
            what=Sentence("Event {seq} cannot be corrected: {reason}.", seq=seq, reason=reason),
            why="A correction voids one earlier event and gives the reason. Both stay in the record.",
            do="Correct the event that replaced it."
            if self.ways
            else "Choose an event that is not voided. To list events: labelkit record events",
        )


class DayLaterThanClock(Refused):
    """Something that would have happened after today."""

    def __init__(self, title: str, day: str, today: str) -> None:
        super().__init__(
            what=Sentence(
                "{day} is later than today, {today} by the clock. “{title}” cannot have happened yet.",
                day=day,
                today=today,
                title=title,
            ),
            why="A future day gives wrong lot codes and traces, and locks the record until then.",
            do="Give the day it happened. You can look ahead on any day. If the clock is wrong, set it first.",
        )


class DayBeforeItsHoney(Refused):
    """Something that would have happened to honey or jars before they were there."""

    def __init__(self, title: str, day: str, lot: str, first: str) -> None:
        super().__init__(
            what=Sentence(
                "“{title}” on {day} would be before lot {lot} existed, on {first}.",
                title=title,
                day=day,
                lot=lot,
                first=first,
            ),
            why="The lot code on every jar shows its day. A wrong order makes the trace false.",
            do=Sentence("Give a day from {first} on, or correct the day of {lot} first.", first=first, lot=lot),
        )


class CorrectionValueNotFor(Refused):
    """A value to correct that this kind of event does not hold."""

    def __init__(self, seq: int, title: str, name: str, has: tuple[str, ...]) -> None:
        super().__init__(
            what=Sentence("Event {seq} ({title}) has no {name} to correct.", seq=seq, title=title, name=name),
            why="A correction can only change values the event has.",
            do=Sentence("Correct one of: {has}.", has=", ".join(has))
            if has
            else "Void it without values, and record what is right.",
        )


def _listed(later: Iterable[tuple[int, str]], locale: str) -> str:
    return "; ".join(f"event {number}, {written(words, locale)}" for number, words in later)


class CorrectionDoesNotClose(Refused):
    """A correction on which later events could not stand."""

    def __init__(self, seq: int, found: str, later: tuple[tuple[int, str], ...]) -> None:
        listed = Figure(_listed, later[:5])
        more = len(later) - 5
        commands = " or ".join(f'labelkit record correct {number} --because "…"' for number, _ in later[-3:])
        super().__init__(
            what=Sentence(
                "With event {seq} corrected like this, the record does not balance: {found}", seq=seq, found=found
            ),
            why="Nothing was changed."
            if not later
            else Sentence("Later events depend on it: {listed}. Nothing was changed.", listed=listed)
            if more <= 0
            else Sentence(
                "Later events depend on it: {listed} and {more} more. Nothing was changed.", listed=listed, more=more
            ),
            do=Sentence("Correct those first, starting with the last: {commands}.", commands=commands)
            if later
            else "Check the figures again.",
        )


class SealUnreadable(Refused):
    """Something that is not a seal, or was mistyped."""

    def __init__(self, text: str, reason: str) -> None:
        super().__init__(
            what=Sentence("“{text}” is not a seal: {reason}.", text=text, reason=reason),
            why="The last character checks the others, so that a typing error is not taken for a changed record.",
            do="Read the line from the sealed sheet again, for example “1204 K7QM-2XWD-…-A3”.",
        )


class CopyFailed(RecordRefused):
    """A copy that did not come out equal."""

    def __init__(self, where: str, reason: str) -> None:
        super().__init__(
            what=Sentence("The copy {where} is not sound: {reason}.", where=where, reason=reason),
            why="A copy you cannot rely on is worse than none, so labelkit deleted it. The record is unchanged.",
            do="Try another disk, and run: labelkit record verify",
        )


class OnlyForFiles(RecordRefused):
    """Something a database server does itself."""

    def __init__(self, what: str, do: str) -> None:
        super().__init__(
            what=Sentence("{what} needs a record in a file. This one is on a PostgreSQL server.", what=what),
            why="Use the server's own tools to copy a record while stations are at work.",
            do=do,
        )


class OnlyForServers(RecordRefused):
    """Something that makes sense on a database server only."""

    def __init__(self, what: str) -> None:
        super().__init__(
            what=Sentence("{what} needs a record on a PostgreSQL server. This one is a file.", what=what),
            why="The folder's permissions protect a file. Anybody who may write it can change the record.",
            do="Give the server's address after --record, or set the permissions of the file and its folder.",
        )


class ImportRefused(RecordRefused):
    """An export that cannot be taken in whole."""

    def __init__(self, where: str, reason: str) -> None:
        super().__init__(
            what=Sentence("labelkit cannot import {where}: {reason}.", where=where, reason=reason),
            why="An import that differs from its export would be another record. Nothing was made.",
            do="Export again from the original record, and do not edit the files.",
        )


class VersionUnwilling(RecordRefused):
    """A bring-up-to-date step that failed and was taken back."""

    def __init__(self, where: str, copy: str, reason: str) -> None:
        super().__init__(
            what=Sentence(
                "labelkit could not update the record {where} to its format: {reason}.", where=where, reason=reason
            ),
            why="labelkit reversed the step. The record is as it was before.",
            do=Sentence("A verified copy is at {copy}. Report this with the text above.", copy=copy),
        )


class RecordInUse(RecordRefused):
    """A record somebody has open while it is to be replaced."""

    def __init__(self, where: str) -> None:
        super().__init__(
            what=Sentence("The record {where} is open on another station.", where=where),
            why="The other station would go on writing to the file you set aside. Nothing was changed.",
            do="Close labelkit everywhere else, then run the command again.",
        )


class RestoreRefused(RecordRefused):
    """A copy that knows less than the sound record it would replace."""

    def __init__(self, where: str, more: int, upto: int) -> None:
        super().__init__(
            what=Sentence.plural(
                "The record {where} is sound and has {n} event after event {upto}, where the copy ends.",
                "The record {where} is sound and has {n} events after event {upto}, where the copy ends.",
                more,
                where=where,
                upto=upto,
            ),
            why="The copy would replace them. Nothing was changed.",
            do="Use a later copy. To go back anyway, add --even-if-newer. The present record is set aside, not deleted.",
        )


class NothingToSet(Refused):
    """A season that is to be begun or changed, and nothing is said of it."""

    def __init__(self) -> None:
        super().__init__(
            what="You set nothing: no market, no currency, no name, no language.",
            why="A season starts with the market and the name of the producer.",
            do="Set at least one thing, such as the market us.",
        )


class NothingToWarm(Refused):
    """A warming calendar without honey."""

    field = "buckets"

    def __init__(self) -> None:
        super().__init__(
            what="There is no bucket with honey to warm.",
            why="Time and heat depend on what a bucket holds.",
            do="Weigh in the honey first: labelkit weigh --bucket B1 --net WEIGHT. Or name a bucket that has some.",
        )
