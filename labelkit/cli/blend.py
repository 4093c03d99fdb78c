"""``labelkit blend``."""

from __future__ import annotations

import click

from labelkit.cli._runner import Answer, CommandContext, answering
from labelkit.cli.weigh import as_document, listing


@click.command()
@click.option("--into", metavar="ID", required=True, help="The blend's own name.")
@click.option(
    "--part",
    "parts",
    metavar="BUCKET[=WEIGHT]",
    multiple=True,
    required=True,
    help="A bucket, or so much of it; repeat for each.",
)
@click.option("--once", metavar="KEY", help="A name for this step, so that repeating it books nothing twice.")
@answering
def command(context: CommandContext, into: str, parts: tuple[str, ...], once: str | None) -> Answer:
    """Put honey of several buckets together under a new name that keeps every parent.

    Example:  labelkit blend --into M1 --part "B1=12 kg" --part B2
    """
    from labelkit.lots.bucket import Blend, Part, check_blend
    from labelkit.measures import Mass

    with context.work(once) as work:
        taken = []
        for text in parts:
            name, _, weight = (piece.strip() for piece in text.partition("="))
            holds = work.bucket(name).holds
            taken.append(Part(name, Mass.read(weight, context.locale) if weight else holds))
        check_blend(into, tuple(taken))
        work.add(Blend(into, context.day, tuple(taken)))
        now = work.bucket(into)
        work.commit()
    hives = sum(len(source.hives) for source in now.sources)
    reach = f"A recall of this blend reaches {hives} hives in {len(now.sources)} yards." if hives else ""
    return Answer(as_document(now), f"{listing([now], context.locale)}\n\n{reach}")
