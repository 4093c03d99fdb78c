"""Refusals of the record: a file that is not ours, a damaged one, an event that cannot be, a guard that held."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from labelkit.errors import AskedAbout, RecordRefused, Refused, Way
from labelkit.errors.sentence import Figure, Sentence, written


class RecordMissing(RecordRefused):
    """No record where one was named, or where the season's is looked for; ``others`` lie in the same folder."""

    def __init__(self, where: str, others: Sequence[str] = ()) -> None:
        named = " and ".join(filter(None, (", ".join(others[:-1]), *others[-1:])))
        begin = f"a new season is begun with: labelkit --record {where} start --market …"
        super().__init__(
            what=f"There is no record at {where}{named and f'; the folder holds {named}'}.",
            why="Everything that can be traced stands in the record; one begun in a mistyped place would be missed later.",
            do=f"{f'Say which one you mean (--record {others[0]})' if others else 'Check the name after --record'}; {begin}",
        )


class RecordFolderMissing(RecordRefused):
    """A record named in a folder that does not exist."""

    def __init__(self, where: str, folder: str) -> None:
        super().__init__(
            what=f"The record {where} cannot be made: there is no folder {folder}.",
            why="A record made in a mistyped place would be missed later, just when it is needed.",
            do="Make the folder first, or correct the name after --record.",
        )


class RecordsBesideEachOther(RecordRefused):
    """Several records in the folder a command looks in, and none of them named."""

    def __init__(self, folder: str, names: Sequence[str]) -> None:
        super().__init__(
            what=f"The folder {folder} holds {len(names)} records: {', '.join(names)}.",
            why="What is booked into the wrong season cannot be moved to the other.",
            do=f"Say which one you mean: labelkit --record {names[0]} …",
        )


class CopyFolderMissing(RecordRefused):
    """A copy to a folder that does not exist."""

    def __init__(self, folder: str) -> None:
        super().__init__(
            what=f"No copy can be made in {folder}: there is no such folder.",
            why="A stick that is not plugged in would leave you without the copy you think you have. Nothing was copied.",
            do="Plug in the stick or make the folder first, or correct the name after --to.",
        )


class RecordInTheWay(RecordRefused):
    """A file where a new record or copy was to be written."""

    def __init__(self, where: str) -> None:
        super().__init__(
            what=f"{where} already exists.",
            why="labelkit never writes over a record, a copy of one, or any other file of yours; nothing was changed.",
            do="Give another name, or move that file away yourself.",
        )


class NotARecord(RecordRefused):
    """A file or database that labelkit did not make."""

    def __init__(self, where: str, found: str) -> None:
        super().__init__(
            what=f"{where} is not a labelkit record: {found}.",
            why="labelkit never writes into a file of another program; nothing was changed.",
            do="Check the name after --record. If this was your record, bring back the last copy: labelkit record restore …",
        )


class RecordTruncated(RecordRefused):
    """A record file that is shorter than it says it is."""

    def __init__(self, where: str, has: int, should: int) -> None:
        super().__init__(
            what=f"{where} was cut short: it has {has:,} bytes of {should:,}.",
            why="Events are missing from its end, so no trace from it can be trusted; nothing was changed.",
            do="Keep the file as it is and bring back the last copy: labelkit record restore …",
        )


class RecordDamaged(RecordRefused):
    """A record the database engine or the chain of hashes finds damaged."""

    def __init__(self, where: str, detail: str) -> None:
        super().__init__(
            what=f"The record {where} is damaged: {detail}.",
            why="A trace through a damaged record could miss jars; nothing was changed.",
            do="Run labelkit record verify to see where, keep the file, and bring back the last copy: labelkit record restore …",
        )


class RecordNotWritable(RecordRefused):
    """A record, or its folder, that this user may not write."""

    def __init__(self, where: str, reason: str) -> None:
        super().__init__(
            what=f"The record {where} cannot be written: {reason}.",
            why="An event counts only once it is safely on disk; nothing was booked.",
            do="Work as the user the record belongs to, put it on a disk that can be written, or change its permissions.",
        )


class RecordNewer(RecordRefused):
    """A record of a later labelkit."""

    def __init__(self, where: str, theirs: str, ours: str) -> None:
        super().__init__(
            what=f"The record {where} was written by a newer labelkit (its form is {theirs}, this labelkit knows up to {ours}).",
            why="An older program could misread what the newer one wrote; nothing was changed.",
            do="Update labelkit on this machine: pip install --upgrade labelkit.",
        )


class RecordOlder(RecordRefused):
    """A record of an earlier form that cannot be brought up to date here."""

    def __init__(self, where: str, theirs: str, ours: str) -> None:
        super().__init__(
            what=f"The record {where} has the earlier form {theirs}; this labelkit reads form {ours}.",
            why="It would be brought up to date on opening, but here it may only be read.",
            do="Copy the file to a place you may write, and open the copy.",
        )


class RecordBusy(RecordRefused):
    """Another station holds the record too long."""

    def __init__(self, where: str, seconds: int) -> None:
        super().__init__(
            what=f"The record {where} was in use by another station for more than {seconds} seconds.",
            why="One after the other is what keeps two stations from filling the same honey twice; nothing was booked.",
            do="Try again in a moment; if it stays so, look for a labelkit that hangs on another screen.",
        )


class DiskFull(RecordRefused):
    """No room left to write."""

    def __init__(self, where: str) -> None:
        super().__init__(
            what=f"There is no room left on the disk for {where}.",
            why="An event counts only once it is safely on disk; this one was not booked, all earlier ones stand.",
            do="Free some space, then repeat the command.",
        )


class DiskError(RecordRefused):
    """A disk that did not do what was asked of it."""

    def __init__(self, where: str, detail: str) -> None:
        super().__init__(
            what=f"The disk under {where} does not answer as it should: {detail}.",
            why="An event counts only once it is safely on disk; nothing was booked, all earlier events stand.",
            do="See whether the disk is full, over its quota or pulled out. If it is none of these it may be failing: bring "
            "the record to another disk (labelkit record copy --to …), then repeat the command.",
        )


class WriteNotConfirmed(RecordRefused):
    """A disk that took what was written, and would not say that it is safe."""

    def __init__(self, where: str) -> None:
        super().__init__(
            what=f"The disk under {where} took what was written, but would not confirm that it is safe.",
            why="So the step does not count as booked. After a power failure now it could still be there, then whole; "
            "all earlier ones stand.",
            do="Bring the record to another disk (labelkit record copy --to …): this one may be failing. Look at labelkit "
            "record events before repeating the step; under the same --once key repeating is safe in any case.",
        )


class ServerUnreachable(RecordRefused):
    """A database server that does not answer."""

    def __init__(self, where: str, reason: str) -> None:
        super().__init__(
            what=f"The record server {where} does not answer: {reason}.",
            why="Nothing was booked, and nothing was changed.",
            do="See whether the server runs, and whether the address, name and password after --record are right.",
        )


class DriverMissing(RecordRefused):
    """PostgreSQL asked for, its driver not installed."""

    def __init__(self, where: str) -> None:
        super().__init__(
            what=f"{where} is a PostgreSQL address, and the driver for it is not installed.",
            why="A single station needs only a file, so the driver does not come along by itself.",
            do="Install it (pip install 'labelkit[postgres]'), then repeat the command.",
        )


class EngineTooOld(RecordRefused):
    """A SQLite too old for the safeguards of the record."""

    def __init__(self, has: str, needs: str) -> None:
        super().__init__(
            what=f"The SQLite in this Python is {has}; the record needs {needs} or later.",
            why="Older ones do not know strict tables, which keep a weight from being stored as a word.",
            do="Use a newer Python from python.org, which brings its own SQLite.",
        )


class ConnectionLost(RecordRefused):
    """The server went away; nothing of the step was booked."""

    def __init__(self, where: str) -> None:
        super().__init__(
            what=f"The connection to {where} was lost before the step was finished.",
            why="labelkit looked again: nothing of this step was booked, all earlier ones stand.",
            do="Repeat the command.",
        )


class OutcomeUnknown(RecordRefused):
    """The server went away during the commit and cannot be asked."""

    def __init__(self, where: str, key: str | None) -> None:
        again = (
            f"Repeat it with the same --once {key}"
            if key
            else "See labelkit record events first, then repeat it if needed"
        )
        super().__init__(
            what=f"The connection to {where} was lost at the very moment of booking, and the server cannot be asked yet.",
            why="The step is booked either whole or not at all, but from here nobody can say which.",
            do=f"{again} once the server answers; a step with a key is never booked twice.",
        )


class KeyReused(RecordRefused):
    """One key for two different steps."""

    def __init__(self, key: str, seq: int, day: str) -> None:
        super().__init__(
            what=f"The key {key} was already used for event {seq} of {day}, which says something else.",
            why="A key makes a repeated command harmless only if it always means the same step; nothing was booked.",
            do="Use a new key for a new step.",
        )


class ClockBackwards(AskedAbout):
    """A clock that is behind what has been booked."""

    def __init__(self, at: str, last: str, seq: int) -> None:
        super().__init__(
            what=f"The clock says {at}, but event {seq} was booked at {last}.",
            why="A record whose times run backwards convinces no inspector. Nothing was booked.",
            do="Set the clock and the time zone of this machine right, then repeat the command. If the clock is right and "
            "the earlier one ran ahead: repeat it with --clock-is-right, and correct the days that are wrong (labelkit "
            '--clock-is-right record correct EVENT --day YYYY-MM-DD --because "the clock ran ahead").',
        )


class ClockFarAhead(AskedAbout):
    """A clock far ahead of what was booked last."""

    def __init__(self, at: str, last: str, seq: int) -> None:
        super().__init__(
            what=f"The clock says {at}, and event {seq}, the last one, was booked at {last}.",
            why="A booking under a clock that runs ahead has a wrong day and lot code. Nothing was booked.",
            do="Set the clock of this machine right, then repeat the command. If nothing was booked for so long and the "
            "clock is right, repeat it with --clock-is-right.",
        )


class TimeWithoutZone(RecordRefused):
    """A record time without its zone."""

    def __init__(self, at: str) -> None:
        super().__init__(
            what=f"The time {at} has no time zone.",
            why="Without its zone a time of booking cannot be put in order with those of other stations.",
            do="Give the time with its zone, for example 2026-07-14T18:30:00+02:00.",
        )


class EventUnkeepable(Refused):
    """An event that cannot be written down and read back the same."""

    def __init__(self, kind: str, reason: str) -> None:
        super().__init__(
            what=f"This {kind} event cannot be kept: {reason}.",
            why="What is read from the record must be exactly what was put in; nothing was booked.",
            do="Correct that value and repeat the command.",
        )


class EventUnreadable(RecordRefused):
    """A stored event this labelkit cannot read."""

    def __init__(self, seq: int, kind: str, reason: str) -> None:
        super().__init__(
            what=f"Event {seq} ({kind}) cannot be read: {reason}.",
            why="It was written by a newer labelkit, or changed since; guessing could hide jars from a recall.",
            do="Update labelkit, then run labelkit record verify.",
        )


class MassNotConserved(Refused):
    """An event whose masses do not add up to nothing."""

    def __init__(self, kind: str, lot: str, rest: str) -> None:
        super().__init__(
            what=Sentence(
                "The {kind} of {lot} does not close: {rest} came from nowhere or went nowhere.",
                kind=kind,
                lot=lot,
                rest=rest,
            ),
            why="Every milligram that leaves one place arrives at another; that is what the mass balance rests on.",
            do="Name what was lost, or leave it as unexplained, so that in and out are equal.",
        )


class LotTwice(Refused):
    """A lot code a second time."""

    def __init__(self, lot: str, day: str) -> None:
        super().__init__(
            what=f"Lot {lot} was already bottled on {day}.",
            why="Two runs under one code could not be told apart in a recall.",
            do="Let labelkit give the next free lot code, or correct the earlier run: labelkit record correct …",
        )


class YearIsClosed(AskedAbout):
    """Something that would change a year that was closed."""

    def __init__(self, title: str, year: str, closed: str) -> None:
        super().__init__(
            what=f"This ({title}) would change {year}, which was closed on {closed}.",
            why="The papers of that year were made and its stock was carried forward; they would no longer agree.",
            do="If it belongs there, say why with --because: it is kept in the record, and the year shows it. Otherwise "
            "give another day with --day.",
        )


class YearNotOver(Refused):
    """A year that is closed before its last evening."""

    def __init__(self, year: str, last: str, today: str) -> None:
        super().__init__(
            what=f"{year} ends on {last}; today is {today}.",
            why="What still comes in or goes out until then would not be on the papers.",
            do=f"Close it on {last} in the evening, or later.",
        )


class YearClosedBefore(Refused):
    """A year of which some days are closed already."""

    def __init__(self, year: str, closed: str, seq: int) -> None:
        super().__init__(
            what=f"{year} has days of {closed}, which was closed before (event {seq}).",
            why="One day in two closed years would be counted twice.",
            do=f"To close it anew, take that back first: “labelkit record correct {seq} --because WORDS”.",
        )


class JarsStillAtStall(AskedAbout):
    """A year that ends with jars at a stall that was never settled."""

    def __init__(self, year: str, jars: int, last: str) -> None:
        super().__init__(
            what=f"On the last evening of {year}, {last}, {jars} jars were at a stall by the record.",
            why="Jars sold there but not settled yet are missing from the year's money.",
            do="Settle the stall day first: “labelkit stall settle”. If they really stayed there, say so with --because.",
        )


class NothingInYear(Refused):
    """A file of a year in which nothing moved."""

    def __init__(self, year: str) -> None:
        super().__init__(
            what=f"No honey came in or went out in {year}.",
            why="An empty file would look like a year without honey where another year was meant.",
            do="Name a year in which something was booked; “labelkit record events” lists them all.",
        )


class LotUnknown(Refused):
    """Something to trace that the record does not know."""

    def __init__(self, what: str, near: str) -> None:
        super().__init__(
            what=f"The record knows no {what}.",
            why="A trace must begin at something that was booked.",
            do=f"Check the spelling{near}.",
        )


class JarsTooFew(Refused):
    """More jars to go out than there are."""

    def __init__(self, lot: str, size: str, short: int, where: str, held: int) -> None:
        on_hold = f"; {held} more are on hold" if held else ""
        super().__init__(
            what=f"Lot {lot}, {size}: {short} more would go out than there are {where}{on_hold}.",
            why="Jars sold that were never filled would leave the recall list wrong; nothing was booked.",
            do="Count the shelf again; correct the run or the sale that is wrong: labelkit record correct …",
        )


class LotHeld(Refused):
    """A lot on hold."""

    def __init__(self, lot: str, since: str, because: str) -> None:
        super().__init__(
            what=f"Lot {lot} has been on hold since {since}: {because}.",
            why="What is on hold is neither sold, given, taken to a stall nor bottled until it is released; nothing was booked.",
            do=f"Take jars of another lot, or release it first if that is decided: labelkit recall release --lot {lot} …",
        )


class NothingNoted(Refused):
    """A note without words, or about nothing."""

    def __init__(self) -> None:
        super().__init__(
            what="The note has no words, or names no bucket and no lot.",
            why="A note is found again by what it is about.",
            do="Name a bucket or a lot code, and write the note.",
        )


class CorrectionRefused(Refused):
    """A correction that cannot be; ``instead`` are the events that stand where the one it names stood."""

    def __init__(self, seq: int, reason: str, instead: Iterable[int] = ()) -> None:
        self.ways = tuple(Way("correct", str(each)) for each in instead)
        super().__init__(
            what=f"Event {seq} cannot be corrected: {reason}.",
            why="A correction strikes one earlier event and says why; both stay visible for good.",
            do="Correct what stands now." if self.ways else "See labelkit record events for the numbers of the events.",
        )


class DayLaterThanClock(Refused):
    """Something that would have happened after today."""

    def __init__(self, title: str, day: str, today: str) -> None:
        super().__init__(
            what=f"{day} is later than today, {today} by the clock: “{title}” cannot have happened yet.",
            why="A day that is still to come puts a wrong date into lot codes and traces, and locks the record until then.",
            do="Give the day it happened. Looking ahead is possible on any day; if the clock is wrong, set it first.",
        )


class DayBeforeItsHoney(Refused):
    """Something that would have happened to honey or jars before they were there."""

    def __init__(self, title: str, day: str, lot: str, first: str) -> None:
        super().__init__(
            what=f"“{title}” on {day} would come before {lot} was there, on {first}.",
            why="The lot code on every jar carries its day, and a trace through a wrong order is false.",
            do=f"Give a day from {first} on, or correct the day of {lot} first.",
        )


class CorrectionValueNotFor(Refused):
    """A value to correct that this kind of event does not hold."""

    def __init__(self, seq: int, title: str, name: str, has: tuple[str, ...]) -> None:
        super().__init__(
            what=f"Event {seq} ({title}) has no {name} to correct.",
            why="A replacement says again what the event said; what it never said cannot be put right there.",
            do=f"Correct one of: {', '.join(has)}." if has else "Strike it without values, and book what is right.",
        )


def _listed(later: Iterable[tuple[int, str]], locale: str) -> str:
    return "; ".join(f"event {number}, {written(words, locale)}" for number, words in later)


class CorrectionDoesNotClose(Refused):
    """A correction on which later events could not stand."""

    def __init__(self, seq: int, found: str, later: tuple[tuple[int, str], ...]) -> None:
        listed = Figure(_listed, later[:5])
        more = f" and {len(later) - 5} more" if len(later) > 5 else ""
        commands = " or ".join(f'labelkit record correct {number} --because "…"' for number, _ in later[-3:])
        super().__init__(
            what=Sentence(
                "With event {seq} corrected like that the balance does not close: {found}", seq=seq, found=found
            ),
            why=Sentence("Later events stand on it: {listed}{more}. Nothing was changed.", listed=listed, more=more)
            if later
            else "Nothing was changed.",
            do=f"Correct those first, the last one first: {commands}." if later else "Look at the figures again.",
        )


class SealUnreadable(Refused):
    """Something that is not a seal, or was mistyped."""

    def __init__(self, text: str, reason: str) -> None:
        super().__init__(
            what=f"“{text}” is not a seal: {reason}.",
            why="The last character checks the others, so that a slip of the pen is not taken for a changed record.",
            do="Read the line from the sealed sheet again, for example “1204 K7QM-2XWD-…-A3”.",
        )


class CopyFailed(RecordRefused):
    """A copy that did not come out equal."""

    def __init__(self, where: str, reason: str) -> None:
        super().__init__(
            what=f"The copy {where} is not good: {reason}.",
            why="A copy that cannot be relied on is worse than none, so it was taken away again; the record is untouched.",
            do="Try another disk, and run labelkit record verify.",
        )


class OnlyForFiles(RecordRefused):
    """Something a database server does itself."""

    def __init__(self, what: str, do: str) -> None:
        super().__init__(
            what=f"{what} works on a record in a file, and this one is on a PostgreSQL server.",
            why="The server's own tools keep copies while stations are at work.",
            do=do,
        )


class OnlyForServers(RecordRefused):
    """Something that makes sense on a database server only."""

    def __init__(self, what: str) -> None:
        super().__init__(
            what=f"{what} is for a record on a PostgreSQL server, and this one is a file.",
            why="A file is kept by the rights of its folder: whoever may write it may book into it.",
            do="Name the server's address after --record, or set the rights of the file and its folder.",
        )


class ImportRefused(RecordRefused):
    """An export that cannot be taken in whole."""

    def __init__(self, where: str, reason: str) -> None:
        super().__init__(
            what=f"{where} cannot be taken in: {reason}.",
            why="An import that is not equal to what was exported, hash for hash, would be a different record; nothing was made.",
            do="Export again from the original record, and do not edit the files.",
        )


class VersionUnwilling(RecordRefused):
    """A bring-up-to-date step that failed and was taken back."""

    def __init__(self, where: str, copy: str, reason: str) -> None:
        super().__init__(
            what=f"The record {where} could not be brought to this labelkit's form: {reason}.",
            why="The step was taken back, so the record stands as it was.",
            do=f"A verified copy lies at {copy}. Report this with the text above.",
        )


class RecordInUse(RecordRefused):
    """A record somebody has open while it is to be replaced."""

    def __init__(self, where: str) -> None:
        super().__init__(
            what=f"The record {where} is open on another station.",
            why="That station would go on booking into the file that is set aside; nothing was changed.",
            do="Close labelkit everywhere else, then repeat the command.",
        )


class RestoreRefused(RecordRefused):
    """A copy that knows less than the sound record it would replace."""

    def __init__(self, where: str, more: int, upto: int) -> None:
        super().__init__(
            what=f"The record {where} is sound and holds {more} event{'' if more == 1 else 's'} after event {upto}, where the copy ends.",
            why="Putting the copy in its place would lose them; nothing was changed.",
            do="Take a later copy. If you do want to go back, repeat with --even-if-newer; the present record is set aside, not deleted.",
        )


class NothingToSet(Refused):
    """A season that is to be begun or changed, and nothing is said of it."""

    def __init__(self) -> None:
        super().__init__(
            what="Nothing was said that could be set: no market, no currency, no name, no language.",
            why="A season begins with where the jars are sold and under whose name.",
            do="Say at least one thing, such as the market us.",
        )


class NothingToWarm(Refused):
    """A warming calendar without honey."""

    field = "buckets"

    def __init__(self) -> None:
        super().__init__(
            what="No bucket with honey in it was found to warm.",
            why="Hours and heat depend on what a bucket holds.",
            do="Weigh in the honey first: labelkit weigh --bucket B1 --net WEIGHT. Or name a bucket that holds some.",
        )
