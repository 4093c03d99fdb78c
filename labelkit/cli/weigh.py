"""``labelkit weigh``."""

from __future__ import annotations

from decimal import Decimal
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from labelkit.cli._files import read_bytes
from labelkit.cli._options import (
    DAY,
    MASS,
    PERCENT,
    SOURCE,
    VOLUME,
    because_option,
    note_option,
    once_option,
    sheet_option,
)
from labelkit.cli._runner import Answer, CommandContext, answering
from labelkit.cli._show import table
from labelkit.errors.cli import UsageUnclear
from labelkit.measures import show_both
from labelkit.reading.open_table import table_in
from labelkit.reading.tables import text_of
from labelkit.season.progress import progress

if TYPE_CHECKING:
    from collections.abc import Sequence

    from labelkit.lots.bucket import Bucket, Source


LISTED = 200  # buckets of one file


@click.command()
@click.option("--bucket", metavar="ID", help="The bucket's name, for example B1.")
@click.option("--gross", type=MASS, help="The full bucket on the scale.")
@click.option("--tare", type=MASS, help="The empty bucket with its lid.")
@click.option("--net", type=MASS, help="The honey alone, instead of gross and tare.")
@click.option("--division", type=MASS, help="The step your scale counts in, for example 20 g.")
@click.option(
    "--container", "container_ml", type=VOLUME, help="What the bucket holds, for example 5 gal; guards against slips."
)
@click.option("--harvested", type=DAY, help="The day the honey came off, if another day.")
@click.option("--yard", "yards", type=SOURCE, multiple=True, help="A yard and its hives; may be repeated.")
@click.option("--plant", metavar="NAME", default="", help="The plant source, if you know it.")
@click.option("--moisture", type=PERCENT, help="The moisture, if you measured it.")
@click.option("--from", "file", metavar="FILE", help="Many at once: a workbook (.xlsx), CSV or season file (TOML).")
@sheet_option
@note_option
@because_option
@once_option
@answering
def command(
    context: CommandContext,
    bucket: str | None,
    file: str | None,
    sheet: str,
    once: str | None,
    words: str,
    yards: tuple[Source, ...],
    **said: Any,
) -> Answer:
    """Weigh in buckets of honey.

    \b
    Example:  labelkit weigh --bucket B1 --gross "62 lb 3 oz" --tare "2 lb 7 oz"
                  --yard "Mill meadow: H1, H2" --moisture 17.6
              labelkit weigh --from buckets.xlsx --sheet "Weigh-in"
    """
    from labelkit.lots.intake import Intake
    from labelkit.season.note import note
    from labelkit.season.weigh import weigh, weigh_all, weighed

    if not (bucket or file):
        raise UsageUnclear("weigh needs --bucket ID with its weights, or --from FILE.", "labelkit weigh --help")
    asked = Intake(bucket or "", sources=tuple(filter(None, yards)), **said)
    events = read_file(file, sheet, context) if file else [weighed(asked, context.day, context.reader)]
    with context.work(once) as work:
        buckets = (
            weigh_all(work, events, context.reader, asked.because)
            if file
            else (weigh(work, asked, context.day, context.reader),)
        )
        if words:
            note(work, [each.id for each in buckets], words, context.day)
    return Answer({"buckets": [as_document(b) for b in buckets]}, listing(buckets, context.reader))


def read_file(file: str, sheet: str, context: CommandContext) -> list[Any]:
    """What a spreadsheet or a season file says, as events."""
    content = read_bytes(file)
    if Path(file).suffix.casefold() == ".toml":
        from labelkit.reading.season_file import read_season
        from labelkit.season.weigh import events_of

        return events_of(read_season(text_of(content, file), file, context.day), context.day)
    from labelkit.reading.table_file import names_buckets, read_table

    table = table_in(content, file, context.locale, sheet, names_buckets)
    with progress("Reading", content.count(b"\n")) as done:
        return list(read_table(table, context.day, context.locale, done))


def as_document(bucket: Bucket) -> dict:
    """A bucket as JSON carries it."""
    return {
        "id": bucket.id,
        "fill": bucket.fill,
        "holds_g": bucket.holds.g,
        "moisture_percent": bucket.moisture,
        "moisture_measured_for_all": bucket.moisture_is_whole,
        "harvested": bucket.harvested,
        "sources": [{"yard": source.yard, "hives": source.hives} for source in bucket.sources],
        "suppliers": bucket.suppliers,
        "plants": bucket.plants,
        "parents": [{"bucket": part.bucket, "g": part.mass.g} for part in bucket.parents],
    }


def listing(buckets: Sequence[Bucket], locale: str) -> str:
    """Buckets as a person reads them; of a long file the first ones and how many more there are."""
    from labelkit.measures.locales import show_number
    from labelkit.measures.rounding import HALF_UP, to_step

    def water(bucket: Bucket) -> str:
        if bucket.moisture is None:
            return "not measured"
        shown = show_number(to_step(bucket.moisture, Decimal("0.1"), HALF_UP), locale, digits=1) + " %"
        return shown if bucket.moisture_is_whole else f"{shown} (of a part)"

    rows = [
        (
            b.id,
            show_both(b.holds, locale),
            water(b),
            ", ".join(map(str, b.harvested)),
            "; ".join((*map(str, b.sources), *b.suppliers)) or "no yard named",
        )
        for b in buckets[:LISTED]
    ]
    more = [f"… and {len(buckets) - LISTED} more: labelkit stock"] if len(buckets) > LISTED else []
    again = [f"{b.id} is fill {b.fill} of this bucket, a lot of its own." for b in buckets if b.fill > 1]
    return "\n".join([table(("bucket", "holds", "moisture", "harvested", "from"), rows, right=[1]), *more, *again])
