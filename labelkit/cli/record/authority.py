"""``labelkit record authority``."""

from __future__ import annotations

from typing import TYPE_CHECKING

import click

from labelkit.cli._options import year_option
from labelkit.cli._runner import Answer, CommandContext, answering

if TYPE_CHECKING:
    from labelkit.measures.period import Period


@click.command()
@click.option("--to", "file", metavar="FILE", required=True, help="The file to write.")
@click.option("--lot", "lots", multiple=True, metavar="LOT", help="Only these lots and buckets (may be repeated).")
@year_option
@answering
def command(context: CommandContext, file: str, lots: tuple[str, ...], period: Period | None) -> Answer:
    """Export one file for a food authority.

    Plain text: what came in, what was made of it, where every jar went.

    In the US records are due within 24 hours of an official request (21 CFR 1.361); Canada asks for one plain-text
    file that common programs can read (SFCR section 91). Check your local rules.

    \b
    Example:  labelkit record authority --to for-the-inspector.csv
              labelkit record authority --year 2026 --to for-the-inspector-2026.csv
    """
    from labelkit.cli._files import write_whole
    from labelkit.season.authority import authority

    with context.reading() as state:
        found = authority(state, lots, period)
    written = write_whole(file, found.text, private=True)
    told = f"{written}: {found.lines} lines."
    return Answer({"file": str(written), "lines": found.lines, "lots": list(found.lots)}, told)
