"""``labelkit stall settle``."""

from __future__ import annotations

import sys
from typing import TYPE_CHECKING, Any

import click

from labelkit.cli._files import read_text
from labelkit.cli._runner import Answer, CommandContext, answering
from labelkit.cli._sale import read_picture
from labelkit.cli._season import pairs
from labelkit.cli._show import table
from labelkit.cli._stall import loaded_day
from labelkit.errors.cli import UsageUnclear
from labelkit.errors.sale import DayAlreadySettled, DayFileUnclear, LotNotNamed
from labelkit.season.settings import settings_of

if TYPE_CHECKING:
    from labelkit.sale.settlement import Count, Item, Loaded, Till
    from labelkit.sale.stall_events import StallDay

HELP = "labelkit stall settle --help"
PICTURES = (".png", ".jpg", ".jpeg", ".webp")
WAYS = ("sold", "given", "tasted", "broken", "back")


@click.command()
@click.argument("file", required=False, metavar="[DAY.json]")
@click.option("--place", metavar="NAME", help="The market; the one loaded for today unless given.")
@click.option(
    "--sold",
    metavar="SIZE=COUNT",
    multiple=True,
    help="Jars sold, from the tally; SIZE@LOT=COUNT where two lots were taken.",
)
@click.option("--given", metavar="SIZE=COUNT", multiple=True, help="Given away.")
@click.option("--tasted", metavar="SIZE=COUNT", multiple=True, help="Opened to taste.")
@click.option("--broken", metavar="SIZE=COUNT", multiple=True, help="Broken.")
@click.option("--back", metavar="SIZE=COUNT", multiple=True, help="Brought back, if you counted.")
@click.option("--cash", metavar="AMOUNT", help="Cash in the box in the evening, the float included.")
@click.option("--cards", metavar="AMOUNT", help="Paid by card.")
@click.option("--off", metavar="AMOUNT", help="Let off on prices, all together.")
@click.option("--fee", metavar="AMOUNT", help="What the stall cost.")
@answering
def command(context: CommandContext, file: str | None, place: str | None, **said: Any) -> Answer:
    """Close a market day: every jar is somewhere, and the money fits or the difference is shown.

    Reads the file the market page gave back, a photograph of its code, its text pasted in (-), or what you ticked on
    the tally sheet. The same day read twice changes nothing.

    \b
    Example:  labelkit stall settle stall-2026-07-25-mill-square-market.json
              labelkit stall settle photo-of-the-code.jpg
              labelkit stall settle --sold "one pound=18" --tasted "half pound=1" --back "one pound=6" --cash 296
    """
    from labelkit.sale.day_file import read_day_file
    from labelkit.sale.settlement import settle

    with context.work() as work:
        if file:
            if any(said.values()):
                raise UsageUnclear("A day's file says everything itself; leave the counts and amounts out.", HELP)
            day = read_day_file(_text_of(file), file)
            load, counted, till = loaded_day(work, context, key=day.key), day.counted, day.till
        else:
            load = loaded_day(work, context, place)
            counted, till = _counted(load, said), _till(said, settings_of(work).currency, context)
        event = settle(load, counted, till)
        before = next((b for b in work.events(("unload",)) if b.stands and b.event.key == event.key), None)
        if before is not None and before.event != event:
            raise DayAlreadySettled(event.key, before.seq)
        if before is None:
            work.add(event)
            work.commit()
    return _answer(event, before.seq if before else None, context.locale)


def _text_of(file: str) -> str:
    """The day's text: pasted in, of a text file, or of the code on a photograph."""
    if file == "-":
        # Bad bytes become signs the check figure does not fit.
        return sys.stdin.buffer.read().decode("utf-8", "replace")
    if not file.lower().endswith(PICTURES):
        return read_text(file)
    from labelkit.barcodes.matrix import read_codes

    codes = read_codes(read_picture(file))
    if len(codes) != 1:
        raise DayFileUnclear(file, f"{len(codes) or 'no'} codes can be read on the picture, and it takes one")
    return codes[0]


def _counted(load: Loaded, said: dict[str, Any]) -> dict[Item, Count]:
    from dataclasses import replace

    from labelkit.sale.settlement import Count

    found: dict[Item, Count] = {}
    for way in WAYS:
        for name, text in pairs(said[way], f"--{way}", "one pound=12"):
            if not text.isdigit():
                raise UsageUnclear(f"“{text}” is not a count of {name} jars; give a whole number.", HELP)
            item = _item(load, name)
            had = found.get(item, Count())
            found[item] = replace(had, **{way: (getattr(had, way) or 0) + int(text)})
    return found


def _item(load: Loaded, name: str) -> Item:
    size, _, lot = name.partition("@")
    if lot:
        return lot.strip(), size.strip()
    lots = [line.lot for line in load.lines if line.size == name]
    if len(lots) > 1:
        raise LotNotNamed(", ".join(f"{name}@{one}" for one in lots))
    return (lots[0] if lots else "?", name)


def _till(said: dict[str, Any], currency: str, context: CommandContext) -> Till:
    from labelkit.measures import Money
    from labelkit.sale.settlement import Till

    def amount(key: str) -> Money | None:
        return Money.read(said[key], currency, context.locale) if said[key] else None

    return Till(amount("cash"), amount("cards"), amount("off"), None, amount("fee"))


def _answer(event: StallDay, before: int | None, locale: str) -> Answer:
    from labelkit.sale.settlement import balance_of

    ends = {
        "sold": event.lines,
        "given": event.given,
        "tasted": event.tasted,
        "broken": event.broken,
        "back": event.back,
        "missing": event.missing,
    }
    items = dict.fromkeys((line.size, line.lot) for lines in ends.values() for line in lines)

    def count(way: str, item: tuple[str, str]) -> int:
        return sum(line.count for line in ends[way] if (line.size, line.lot) == item)

    rows = [(*item, *(str(count(way, item)) for way in ends)) for item in items]
    money = balance_of(event)
    text = [f"{event.place}, {event.day}", "", table(("size", "lot", *ends), rows, right=range(2, 8)), ""]
    text.append(
        f"Expected {money.expected.show(locale)}: {money.list_price.show(locale)} by the price cards"
        + (f", {money.rebates.show(locale)} let off" if money.rebates.minor else "")
        + (f", {money.rounding.show(locale)} from rounding cash" if money.rounding.minor else "")
        + "."
    )
    if money.found is None:
        text.append("The cash was not counted, so nothing says whether the money fits.")
    else:
        verdict = "It fits." if not money.difference.minor else f"Difference: {money.difference.show(locale)}."
        text.append(f"Found    {money.found.show(locale)}, the float set aside. {verdict}")
    missing = sum(line.count for line in event.missing)
    text.append(
        f"{missing} jars are missing; they stand under unexplained." if missing else "Every jar is accounted for."
    )
    text.append(f"This day was settled before (event {before}); nothing was changed." if before else "Booked.")
    document = {
        "key": event.key,
        "booked": before is None,
        "settled_before": before,
        "jars": [{"size": s, "lot": lot, **{way: count(way, (s, lot)) for way in ends}} for s, lot in items],
        "expected": money.expected.amount,
        "found": money.found and money.found.amount,
        "difference": money.difference and money.difference.amount,
        "missing_jars": missing,
    }
    return Answer(document, "\n".join(text))
