"""``labelkit bottle``."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable
from typing import TYPE_CHECKING, Any

import click

from labelkit.cli._options import (
    JAR_LIMIT,
    JAR_MASS,
    LEFT,
    MASS,
    TARE,
    WORDS,
    BySize,
    because_option,
    by_size,
    note_option,
    once_option,
)
from labelkit.cli._runner import Answer, CommandContext, answering
from labelkit.cli._show import table
from labelkit.measures import show_both

if TYPE_CHECKING:
    from labelkit.measures import Declared, Mass
    from labelkit.run import Run
    from labelkit.season.bottle import Bottled
    from labelkit.season.kept_plan import Beside


@click.command()
@click.option("--bucket", metavar="ID", required=True, help="The bucket that was bottled.")
@click.option("--jar", "jars", type=JAR_LIMIT, multiple=True, help="Jars filled; repeat for each size.")
@click.option(
    "--pieces",
    type=BySize(WORDS, "cut comb=weights.csv"),
    metavar="SIZE=FILE",
    multiple=True,
    help="Weights of pieces that each have their own: one on each line, or a table (.csv, .xlsx).",
)
@click.option("--piece", "each", type=BySize(WORDS, "cut comb=412 g"), multiple=True, help="One piece with its weight.")
@click.option("--tare", type=TARE, help="The pieces were weighed in their box; take this off each.")
@click.option(
    "--fill",
    "fills",
    type=JAR_MASS,
    multiple=True,
    help="What a jar of this size held on average, if you weighed some.",
)
@click.option(
    "--product",
    metavar="NAME",
    help="What the jars are sold as; otherwise what the bucket's honey is named after, where that has a price of its own.",
)
@click.option(
    "--comb",
    type=BySize(MASS, "S1=2.4 kg"),
    multiple=True,
    metavar="BUCKET=WEIGHT",
    help="Comb of another bucket that stands in the jars, the honey of --bucket poured over it.",
)
@click.option(
    "--broken",
    type=BySize(WORDS, "one pound=1"),
    metavar="SIZE=COUNT",
    multiple=True,
    help="Jars broken with honey in them; of a size by weight the weight of the piece, “comb=412 g”.",
)
@click.option("--sample", "samples", type=JAR_LIMIT, multiple=True, help="Jars kept back or opened for tests.")
@click.option("--left", type=LEFT, help="Honey left in the bucket, if you weighed it afterwards.")
@click.option("--lost", type=MASS, help="Honey lost where you can say so: strainer, tap, foam.")
@note_option
@because_option
@once_option
@answering
def command(
    context: CommandContext,
    bucket: str,
    jars: tuple[tuple[str, int], ...],
    pieces: tuple[tuple[str, str], ...],
    each: tuple[tuple[str, str], ...],
    tare: Mass | None,
    fills: tuple[tuple[str, Mass], ...],
    comb: tuple[tuple[str, Mass], ...],
    broken: tuple[tuple[str, str], ...],
    samples: tuple[tuple[str, int], ...],
    left: Mass | None,
    lost: Mass | None,
    product: str | None,
    because: str,
    words: str,
    once: str | None,
) -> Answer:
    """Record what you filled and get the lot code.

    One run fills jars from one bucket. Chunk honey is comb of one bucket in jars topped up from another: weigh the comb
    on its own and give it with --comb; the rest of each jar is honey, and the trace names both. Cut comb and whatever else is sold by weight comes as a list of weights; “labelkit
    labels” prints each piece its own label.

    \b
    Example:  labelkit bottle --bucket B1 --jar "one pound=57" --jar "half pound=3"
                  --broken "one pound=1" --left "120 g"
              labelkit bottle --bucket S1 --pieces "cut comb=weights.csv" --tare "14 g"
              labelkit bottle --bucket B1 --jar "chunk=20" --comb "S1=2.4 kg"
    """
    from labelkit.measures import NOTHING
    from labelkit.season.bottle import Bottling, bottle
    from labelkit.season.kept_plan import beside_plan
    from labelkit.season.note import note

    counted, fell = _broken(broken, context.locale)
    asked = Bottling(
        bucket,
        by_size(jars, "--jar"),
        counted,
        by_size(samples, "--sample"),
        by_size(fills, "--fill"),
        left,
        lost or NOTHING,
        because,
        _pieces(context, pieces, each, tare),
        product,
        fell,
        by_size(comb, "--comb"),
    )
    with context.work(once) as work:
        bottled = bottle(work, asked, context.day, context.reader)
        beside = beside_plan(work, bucket)
        if words:
            note(work, [bottled.lot], words, context.day)
    return Answer(as_document(bottled) | _beside(beside), shown(bottled, context.reader) + _beside_text(beside))


def _broken(pairs: Iterable[tuple[str, str]], locale: str) -> tuple[dict[str, int], dict[str, tuple[Declared, ...]]]:
    """Counts of jars, and the weights of pieces that fell; a figure with a unit is a weight."""
    from labelkit.cli._options import LIMIT
    from labelkit.reading.weight_list import of_options
    from labelkit.reading.weights import read_pieces

    counts, weights = [], defaultdict[str, list[str]](list)
    for size, text in pairs:
        if any(sign.isalpha() for sign in text):
            weights[size].append(text)
        else:
            counts.append((size, LIMIT.read(text, locale)))
    fell = {size: read_pieces(of_options(texts), locale) for size, texts in weights.items()}
    return by_size(counts, "--broken"), fell


def _pieces(
    context: CommandContext, files: Iterable[tuple[str, str]], each: Iterable[tuple[str, str]], tare: Mass | None
) -> dict[str, tuple[Declared, ...]]:
    """The weights of each size that is sold by weight, as lists and one by one."""
    from labelkit.cli._fill_words import typed_weights
    from labelkit.reading.weights import read_pieces

    named, single = by_size(files, "--pieces"), defaultdict[str, list[str]](list)
    for size, text in each:
        single[size].append(text)
    return {
        size: read_pieces(typed_weights(named.get(size), tuple(single[size]), context.locale), context.locale, tare)
        for size in dict.fromkeys((*named, *list(single)))
    }


def _beside(beside: Beside | None) -> dict[str, Any]:
    return {"planned": dict(beside.planned), "filled": dict(beside.filled)} if beside else {}


def _beside_text(beside: Beside | None) -> str:
    """What was filled beside what was planned, where a kept plan fills from the bucket."""
    if beside is None:
        return ""
    each = [
        f"{beside.filled.get(size, 0)} of {beside.planned.get(size, 0)} {size}"
        for size in {**beside.planned, **beside.filled}
    ]
    return f"\nOf the plan kept as event {beside.event}: {', '.join(each)} filled.\n"


def as_document(bottled: Bottled) -> dict[str, Any]:
    """A run as JSON carries it."""
    run = bottled.run
    return {
        "lot": run.lot,
        "event": bottled.event,
        "bucket": run.bucket,
        "bottled": run.day,
        "jars": {f.size: f.count for f in run.jars},
        "broken": {f.size: f.count for f in run.broken},
        "samples": {f.size: f.count for f in run.samples},
        "taken_g": run.taken.g,
        "left_g": run.left.g,
        "left_was_weighed": run.left_was_weighed,
        "lost_g": run.lost.g,
        "unexplained_g": run.unexplained.g,
        "unexplained_percent": round(run.unexplained_percent, 3),
        "because": run.because,
        "pieces": [
            {"size": piece.size, "declares": piece.weight.text, "price": str(piece.price.amount)}
            for piece in bottled.pieces
        ],
    }


def shown(bottled: Bottled, locale: str) -> str:
    """A run as a person reads it."""
    from labelkit.measures.locales import show_percent

    run = bottled.run
    rows = [
        (f.size, f.declares.show(locale), str(f.count), show_both(f.fill, locale), word)
        for word, kinds in (("in stock", run.jars), ("broken", run.broken), ("sample", run.samples))
        for f in kinds
    ]
    weighed = "weighed" if run.left_was_weighed else "reckoned, not weighed"
    missing = show_percent(run.unexplained_percent, locale, digits=2)
    return f"""Lot {run.lot}: bucket {run.bucket}, bottled {run.day}. Print this code on every jar of the run.

{table(("size", "declares", "jars", "each", "now"), rows, right=[2, 3])}

Taken from the bucket  {show_both(run.taken, locale)}
Left in the bucket     {show_both(run.left, locale)} ({weighed})
Lost, by name          {show_both(run.lost, locale)}
Unexplained            {show_both(run.unexplained, locale)}, {missing} of what was taken
{marked(run)}{_by_weight(bottled, locale)}"""


def _by_weight(bottled: Bottled, locale: str) -> str:
    """What each piece costs by its weight, how to print its label, and how comb is kept free of moths."""
    from labelkit.honey.freezing import rule_text

    if not bottled.pieces:
        return ""
    counts = {f.size: f.count for f in bottled.run.jars}
    rows = [(piece.size, str(counts[piece.size]), piece.price.show(locale)) for piece in bottled.pieces]
    sizes = dict.fromkeys(piece.piece_of for piece in bottled.pieces)
    print_them = "\n".join(f'labelkit labels --size "{size}" --lot {bottled.lot}' for size in sizes)
    text = f"\n{table(('piece', 'of it', 'price each'), rows, right=[1, 2])}\n\nTo print each its label: {print_them}\n"
    # Honey that is sold by the piece is comb, whatever the record calls it.
    return f"{text}\n{rule_text(locale)}\n"


def marked(run: Run) -> str:
    """The mark of a run whose balance was asked about, for lists of figures."""
    return f"Booked all the same    {run.because}\n" if run.because else ""
