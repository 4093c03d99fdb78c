"""``labelkit record authority``."""

from __future__ import annotations

import click

from labelkit.cli._runner import Answer, CommandContext, answering


@click.command()
@click.option("--to", "file", metavar="FILE", required=True, help="The file to write.")
@click.option("--lot", "lots", multiple=True, metavar="LOT", help="Only these lots and buckets (may be repeated).")
@answering
def command(context: CommandContext, file: str, lots: tuple[str, ...]) -> Answer:
    """Export one file for a food authority.

    Plain text: what came in, what was made of it, where every jar went.

    In the US records are due within 24 hours of an official request (21 CFR 1.361); Canada asks for one plain-text
    file that common programs can read (SFCR section 91). Check your local rules.

    Example:  labelkit record authority --to for-the-inspector.csv
    """
    from labelkit.cli._files import write_whole
    from labelkit.record.lookup import find_lot
    from labelkit.sale.goods import Made
    from labelkit.trace.follow import Start, follow
    from labelkit.trace.sheet import sheet

    with context.reading() as state:
        if lots:
            named = tuple(dict.fromkeys(lot for text in lots for lot in find_lot(state, text).lots))
            story = state.story(named)
        else:
            story = tuple(state.events())
            goods = {each.event.lot for each in story if each.kind == Made.kind}  # no food
            named = tuple(sorted({m.lot for each in story for m in each.movements()} - goods))
        trace = follow(Start("lot", "all" if not lots else " ".join(named), named), story)
        maker, markets = state.settings().get("maker", {}), state.settings().get("market", ())
    text = sheet(trace, maker, next(iter(markets), ""))
    written = write_whole(file, text, private=True)
    lines = text.count("\r\n") - 1
    return Answer({"file": str(written), "lines": lines, "lots": list(trace.lots)}, f"{written}: {lines} lines.")
