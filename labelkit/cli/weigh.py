"""``labelkit weigh``."""

from __future__ import annotations

from decimal import Decimal
from pathlib import Path
from typing import TYPE_CHECKING

import click

from labelkit.cli._files import read_text
from labelkit.cli._runner import Answer, CommandContext, answering
from labelkit.cli._show import table
from labelkit.errors.cli import UsageUnclear
from labelkit.measures import show_both

if TYPE_CHECKING:
    from labelkit.lots.bucket import Bucket


@click.command()
@click.option("--bucket", metavar="ID", help="The bucket's name, for example B1.")
@click.option("--gross", metavar="WEIGHT", help="The full bucket on the scale.")
@click.option("--tare", metavar="WEIGHT", help="The empty bucket with its lid.")
@click.option("--net", metavar="WEIGHT", help="The honey alone, instead of gross and tare.")
@click.option("--division", metavar="WEIGHT", help="The step your scale counts in, for example 20 g.")
@click.option("--container", metavar="VOLUME", help="What the bucket holds, for example 5 gal; guards against slips.")
@click.option("--harvested", metavar="DATE", help="The day the honey came off, if another day.")
@click.option(
    "--yard", "yards", metavar="'YARD: HIVE, HIVE'", multiple=True, help="A yard and its hives; may be repeated."
)
@click.option("--plant", metavar="NAME", help="The plant source, if you know it.")
@click.option("--moisture", metavar="PERCENT", help="The moisture, if you measured it.")
@click.option("--from", "file", metavar="FILE", help="Many at once: a CSV from a spreadsheet, or a season file (TOML).")
@click.option("--once", metavar="KEY", help="A name for this step, so that repeating it books nothing twice.")
@answering
def command(
    context: CommandContext,
    bucket: str | None,
    file: str | None,
    once: str | None,
    yards: tuple[str, ...],
    **typed: str | None,
) -> Answer:
    """Weigh in buckets after the honey gate.

    \b
    Example:  labelkit weigh --bucket B1 --gross "62 lb 3 oz" --tare "2 lb 7 oz"
                  --yard "Mill meadow: H1, H2" --moisture 17.6
              labelkit weigh --from buckets.csv
    """
    events = _from_file(file, context) if file else [typed_in(bucket, yards, typed, context)]
    with context.work(once, create=True) as work:
        work.add_all(events)
        weighed = {event.bucket for event in events if hasattr(event, "bucket")}
        if len(weighed) == 1:  # of one bucket only what is about it is read
            buckets = [work.bucket(name) for name in weighed if work.knows(name)]
        else:
            buckets = [b for b in work.buckets() if b.id in weighed]
        work.commit()
    return Answer({"buckets": [as_document(b) for b in buckets]}, listing(buckets, context.locale))


def typed_in(bucket: str | None, yards: tuple[str, ...], typed: dict[str, str | None], context: CommandContext):
    """The weigh-in that was typed; nothing is booked."""
    from labelkit.lots.entry import Entry, weigh_in

    if not bucket:
        raise UsageUnclear("weigh needs --bucket ID with its weights, or --from FILE.", "labelkit weigh --help")
    entry = Entry(bucket, sources=yards, **{name: value or "" for name, value in typed.items()})
    return weigh_in(entry, context.day, context.locale)


def _from_file(file: str, context: CommandContext) -> list:
    text = read_text(file)
    if Path(file).suffix.casefold() != ".toml":
        from labelkit.lots.table_file import read_table

        return list(read_table(text, file, context.day, context.locale))
    from labelkit.lots.season_file import read_season
    from labelkit.record.settings import Setting
    from labelkit.rules import market
    from labelkit.sale import PriceSet

    season = read_season(text, file, context.day)
    markets = [market(name, context.day).code for name in season.markets]
    settings = {"market": markets, "currency": season.currency, "maker": season.maker}
    events: list = [Setting(context.day, name, value) for name, value in settings.items() if value]
    for found in season.buckets:
        events += [found.weigh_in, *found.drains]
    events += [PriceSet(context.day, jar.id, jar.declares, jar.price, jar.cost) for jar in season.jars]
    return events


def as_document(bucket: Bucket) -> dict:
    """A bucket as JSON carries it."""
    return {
        "id": bucket.id,
        "holds_g": bucket.holds.g,
        "moisture_percent": bucket.moisture,
        "moisture_measured_for_all": bucket.moisture_is_whole,
        "harvested": bucket.harvested,
        "sources": [{"yard": source.yard, "hives": source.hives} for source in bucket.sources],
        "plants": bucket.plants,
        "parents": [{"bucket": part.bucket, "g": part.mass.g} for part in bucket.parents],
    }


def listing(buckets: list[Bucket], locale: str) -> str:
    """Buckets as a person reads them."""
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
            "; ".join(map(str, b.sources)) or "no yard named",
        )
        for b in buckets
    ]
    return table(("bucket", "holds", "moisture", "harvested", "from"), rows, right=[1])
