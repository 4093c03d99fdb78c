"""One label for many lots in one run: which lots, how many labels of each, and one file for all of them."""

from __future__ import annotations

import csv
import io
from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import TYPE_CHECKING

from labelkit.cli._runner import CommandContext

if TYPE_CHECKING:
    from datetime import date

    from labelkit.cli._labels import Choice, Drawn
    from labelkit.labels.printed import Printed
    from labelkit.rules.label import Label

MOST = 100_000


@dataclass(frozen=True)
class LotRun:
    """Labels of many lots in one file: the first lot's label as drawn, and each lot with its count."""

    drawn: Drawn
    counts: tuple[tuple[str, int], ...]


def read_lots(text: str, default: int) -> list[tuple[str, int]]:
    """Lots and counts from ``L1,L2`` as typed, or from a CSV file with a heading ``lot`` and perhaps ``count``.

    Raises :class:`~labelkit.errors.labels.LotsUnclear`.

    >>> read_lots("L26195AXR, L26201AXN", 12)
    [('L26195AXR', 12), ('L26201AXN', 12)]
    """
    from labelkit.cli._files import read_text
    from labelkit.errors.labels import LotsUnclear

    if Path(text).suffix.casefold() in (".csv", ".txt"):
        found, where = list(_rows(read_text(text), text, default)), text
    else:
        found, where = [(lot.strip(), default) for lot in text.split(",") if lot.strip()], f"“{text}”"
    if not found:
        raise LotsUnclear(where, "there is no lot in it")
    lot, times = Counter(lot for lot, _ in found).most_common(1)[0]
    if times > 1:
        raise LotsUnclear(where, f"lot {lot} stands in it {times} times")
    return found


def _rows(text: str, file: str, default: int) -> Iterator[tuple[str, int]]:
    """The rows of a CSV file; blank ones are passed over."""
    from labelkit.errors.labels import LotsUnclear

    text = text.removeprefix("\ufeff")
    head = text.partition("\n")[0]
    mark = max(",;\t", key=head.count)
    rows = csv.reader(io.StringIO(text), delimiter=mark, skipinitialspace=True)
    names = [name.strip().casefold() for name in next(rows, [])]
    if "lot" not in names:
        raise LotsUnclear(
            f"{file}, line 1", f"no heading is “lot”; there is {', '.join(filter(None, names)) or 'nothing'}"
        )
    for row in rows:
        held = dict(zip(names, (cell.strip() for cell in row), strict=False))
        if not any(held.values()):
            continue
        count = held.get("count") or ""
        if not held.get("lot") or (count and not (count.isascii() and count.isdigit() and 0 < int(count) <= MOST)):
            raise LotsUnclear(
                f"{file}, line {rows.line_num}", f"“{mark.join(row)}” is not a lot and a count above nought"
            )
        yield held["lot"], int(count or default)


def draw_lots(
    context: CommandContext, label: Label, lots: Sequence[tuple[str, int]], choice: Choice, bottled: date | None = None
) -> LotRun:
    """One label for these lots, each as often as its count, in one file; nothing is booked.

    A bar of progress tells how many are drawn. Stopped before the end, nothing is left behind.
    """
    from labelkit.cli._codes import link_maker
    from labelkit.cli._labels import Drawn, knowing_the_jar, look_of, words_of
    from labelkit.cli._paper import paper_of, printer_of
    from labelkit.errors.labels import LotsUnclear
    from labelkit.labels.printing import print_lots, print_sheet
    from labelkit.season.progress import progress

    total = sum(count for _, count in lots)
    if total > MOST:
        raise LotsUnclear(f"{len(lots)} lots", f"{total:,} labels are asked for, and {MOST:,} is the most in one file")
    first = replace(label, lot=lots[0][0])
    made = words_of(context, first, choice, bottled)
    paper, printer = paper_of(context, choice, label.markets), printer_of(context, choice)
    link_of = link_maker(choice.link, choice.digital_link, choice.number)
    with knowing_the_jar(label):
        if choice.cut_lines:
            contents = [(made.content.for_lot(lot, link_of), count) for lot, count in lots]
            printed = print_sheet(
                contents,
                paper,
                look_of(choice),
                start_at=choice.start_at,
                skip=choice.skip,
                printer=printer,
                cut_lines=True,
            )
        else:
            codes = [lot for lot, count in lots for _ in range(count)]
            with progress("Labels", total) as told:
                printed = print_lots(
                    made.content,
                    codes,
                    paper,
                    look_of(choice),
                    link_of=link_of,
                    start_at=choice.start_at,
                    skip=choice.skip,
                    printer=printer,
                    told=told,
                )
    return LotRun(Drawn(first, made, printed, paper, None), tuple(lots))


def lots_of_size(
    context: CommandContext, label: Label, size: str, asked: str | None, count: int | None
) -> tuple[Label, list[tuple[str, int]], date]:
    """Lots of a size as the record has them, every one or those asked for, each with the jars that were filled.

    With them comes the label of these jars and the first day one of the lots was bottled.

    Raises :class:`~labelkit.errors.run.JarSizeUnknown` for a lot without jars of that size, and
    :class:`~labelkit.errors.labels.LotsUnclear` where the jars of two lots declare different weights.
    """
    from labelkit.errors.labels import LotsUnclear
    from labelkit.errors.run import JarSizeUnknown
    from labelkit.lots.code import read_lot_code
    from labelkit.rules import market
    from labelkit.rules.figures import date_mark

    with context.reading() as book:
        taken = book.lot_codes_taken()
        runs = [booked.event for booked in book.events(("run",)) if booked.stands]
    filled = {run.lot: (jar, run.day) for run in runs for jar in run.jars if jar.size == size and jar.count}
    if asked is None:
        wanted = [(lot, jar.count) for lot, (jar, _) in filled.items()]
    else:
        wanted = [(read_lot_code(lot, near=taken).code, typed) for lot, typed in read_lots(asked, 0)]
    if not wanted:
        raise JarSizeUnknown(size, ", ".join(sorted({jar.size for run in runs for jar in run.jars})) or "none yet")
    for lot, _ in wanted:
        if lot not in filled:
            held = [jar.size for run in runs if run.lot == lot for jar in run.jars]
            raise JarSizeUnknown(size, ", ".join(held) or f"none, since lot {lot} is not in the record")
    weights = {filled[lot][0].declares: lot for lot, _ in wanted}
    if len(weights) > 1:
        shown = ", ".join(f"{lot} declares {declares.show(context.locale)}" for declares, lot in weights.items())
        raise LotsUnclear(f"The jars called {size}", f"{shown}; one label cannot say both, so print them apart")
    if label.best_before:
        main = market(label.markets[0], context.day)
        for lot, _ in wanted:
            date_mark.of(label.best_before, main, filled[lot][1])
    label = replace(label, declares=next(iter(weights)), net_statement=None)
    counted = [(lot, count or typed or filled[lot][0].count) for lot, typed in wanted]
    return label, counted, min(filled[lot][1] for lot, _ in wanted)


def events_of(base: Printed, run: LotRun) -> list[Printed]:
    """The prints of a run as the record keeps them: one for each lot."""
    model = run.drawn.printed.placed[0].content.lot
    return [
        replace(base, lot=lot, said=tuple(text.replace(model, lot) for text in base.said), count=count)
        for lot, count in run.counts
    ]
