"""``labelkit batch``."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING, Any

import click

from labelkit.cli._options import (
    DAY,
    JAR_LIMIT,
    LIMIT,
    MASS,
    PERCENT,
    TEMPERATURE,
    because_option,
    by_size,
    once_option,
    paper_language,
)
from labelkit.cli._runner import Answer, CommandContext, answering
from labelkit.cli._show import table

if TYPE_CHECKING:
    from labelkit.season.batch import LineBooked, SheetEntry
    from labelkit.trace.booked import Booked

_STATE = click.Choice(["whole", "damaged"])
_WORDS = ("room", "kit", "start", "end", "cleaned", "strainer_before", "strainer_after")


@click.command()
@click.argument("lots", nargs=-1, metavar="[BUCKET-OR-LOT]...")
@click.option("--scale", "weight", type=MASS, help="The known weight you put on the scale.")
@click.option("--reads", "shown", type=MASS, help="What the scale showed for it.")
@click.option("--ice", type=TEMPERATURE, help="What the thermometer showed in melting ice.")
@click.option("--boiling", type=TEMPERATURE, help="What it showed in boiling water.")
@click.option("--boils-at", type=TEMPERATURE, help="Where water boils at your height; 100 C unless given.")
@click.option("--refractometer", type=PERCENT, help="Water in percent the refractometer showed for its reference.")
@click.option("--reference", type=PERCENT, help="What it should show; olive oil, 27.0, unless given.")
@click.option("--instrument", metavar="NAME", default="", help="Which refractometer, if you have several.")
@click.option("--hands", is_flag=True, help="Hands washed, clean clothes.")
@click.option("--room", metavar="WORDS", help="What the room was cleaned with.")
@click.option("--kit", metavar="WORDS", help="What the equipment was cleaned with.")
@click.option("--jars-looked-at", "looked_at", type=LIMIT, help="Empty jars and lids looked at.")
@click.option("--jars-rejected", "rejected", type=LIMIT, help="Of these, set aside.")
@click.option("--strainer-before", type=_STATE, help="The strainer before filling.")
@click.option("--start", metavar="TIME", help="When filling began.")
@click.option("--honey", type=TEMPERATURE, help="Temperature of the honey.")
@click.option("--air", type=TEMPERATURE, help="Temperature of the room.")
@click.option("--broken", type=JAR_LIMIT, multiple=True, help="Jars that broke; repeat for each size.")
@click.option("--beside", type=JAR_LIMIT, multiple=True, help="Jars beside them that you threw away.")
@click.option("--strainer-after", type=_STATE, help="The strainer after filling.")
@click.option("--end", metavar="TIME", help="When filling ended.")
@click.option("--cleaned", metavar="WORDS", help="What was cleaned afterwards, with what.")
@click.option("--sample-until", "until", type=DAY, help="Until which day a sample is kept.")
@click.option("--signed", is_flag=True, help="You sign the sheet, under the name the record has of you.")
@click.option("--out", metavar="FILE.pdf", help="Also print the sheet, with blanks for what is not filled in.")
@paper_language
@because_option
@once_option
@answering
def command(
    context: CommandContext,
    lots: tuple[str, ...],
    out: str | None,
    language: str | None,
    because: str,
    once: str | None,
    **said: Any,
) -> Answer:
    """Fill in, show or print the batch sheet of a run.

    Fill in as much of it as you like, before filling, while filling and afterwards. Name the bucket or the lot;
    without one it is for every run of the day. A refractometer that was off puts later readings right. Broken jars go
    into the balance of the run.

    \b
    Example:  labelkit batch --scale "500 g" --reads "500.1 g" --ice 0.4 --refractometer 27.2
              labelkit batch B1 --start 18:05 --broken "one pound=1" --beside "one pound=4"
              labelkit batch --out batch-sheet.pdf
    """
    from labelkit.cli._files import write_whole
    from labelkit.season.batch import batch, batch_sheet
    from labelkit.season.batch_paper import batch_sheet_pdf
    from labelkit.season.papers import paper_size, season_words
    from labelkit.season.settings import season_of

    entries = list(_entries(said, because))
    done: tuple[LineBooked, ...] = ()
    if entries:
        with context.work(once) as work:
            done = batch(work, lots, entries, context.day, context.reader)
    with context.reading() as state:
        sheet, reader = batch_sheet(state, context.day, lots), context.reader
    if out:
        season = season_of(context)
        words, locale = season_words(season, language, reader)
        events = [each.event for each in sheet]
        write_whole(out, batch_sheet_pdf(context.day, lots, events, paper_size(season), words, locale))
    document = {
        "events": [each.event for each in done],
        "day": context.day,
        "sheet": [_row(each) for each in sheet],
        "file": out,
    }
    return Answer(document, _text(done, sheet, out, reader))


def _entries(said: dict[str, Any], because: str) -> Iterator[SheetEntry]:
    """The lines that were given, in the order of the sheet."""
    from labelkit.run.batch_sheet import BREAKAGE, LINES, SAMPLE, SCALE
    from labelkit.season.batch import SheetEntry

    broken, beside = by_size(said["broken"], "--broken"), by_size(said["beside"], "--beside")
    found: dict[str, SheetEntry] = {}
    if said["weight"] is not None or said["shown"] is not None:
        found[SCALE] = SheetEntry(SCALE, read=_grams(said["shown"]), against=_grams(said["weight"]), because=because)
    for line, against in (("ice", None), ("boiling", said["boils_at"]), ("honey", None), ("air", None)):
        if said[line] is not None:
            found[line] = SheetEntry(line, read=said[line], against=against, because=because)
    if said["refractometer"] is not None:
        found["refractometer"] = SheetEntry(
            "refractometer", "", said["refractometer"], said["reference"], said["instrument"], because=because
        )
    for line in _WORDS:
        if said[line]:
            found[line.replace("_", "-")] = SheetEntry(line.replace("_", "-"), said[line])
    found |= {line: SheetEntry(line) for line in ("hands", "signed") if said[line]}
    if said["looked_at"] is not None or said["rejected"] is not None:
        found["jars"] = SheetEntry("jars", looked_at=said["looked_at"], rejected=said["rejected"])
    if broken or beside:
        found[BREAKAGE] = SheetEntry(BREAKAGE, broken=_breakages(broken, beside))
    if said["until"] is not None:
        found[SAMPLE] = SheetEntry(SAMPLE, until=said["until"])
    return (found[line] for line in LINES if line in found)


def _breakages(broken: dict[str, int], beside: dict[str, int]) -> tuple[Any, ...]:
    from labelkit.run.batch_sheet import Breakage

    sizes = dict.fromkeys((*broken, *beside))
    return tuple(Breakage(size, broken.get(size, 0), beside.get(size, 0)) for size in sizes)


def _grams(mass: Any) -> Any:
    return None if mass is None else mass.g


def _row(each: Booked) -> dict[str, Any]:
    from labelkit.measures.locales import DEFAULT_LOCALE

    line = each.event
    return {
        "event": each.seq,
        "when": line.when,
        "line": line.line,
        "lots": list(line.lots),
        "says": line.says(DEFAULT_LOCALE),
        "read": line.read,
        "against": line.against,
        "offset": line.offset,
        "tolerance": line.tolerance,
        "off": line.is_off,
        "by": each.who,
    }


def _text(done: tuple[LineBooked, ...], sheet: tuple[Booked, ...], out: str | None, locale: str) -> str:
    from labelkit.cli._ways import command_of
    from labelkit.run.batch_sheet import LINES

    rows = [
        (each.event.when, LINES[each.event.line][1], each.event.says(locale), ", ".join(each.event.lots), str(each.seq))
        for each in sheet
    ]
    text = [table(("", "line", "entry", "of", "event"), rows, right=[4])] if rows else ["Nothing is on the sheet yet."]
    for each in done:
        if each.line.asks_for_a_look:
            text += ["", f"Look at this: {LINES[each.line.line][1]}, {each.line.says(locale)}."]
        text += [f"  {command_of(way)}" for way in each.ways]
    return "\n".join([*text, *([f"Written: {out}"] if out else [])])
