"""``labelkit blend``."""

from __future__ import annotations

from typing import TYPE_CHECKING

import click

from labelkit.cli._options import BUCKET_PART, once_option
from labelkit.cli._runner import Answer, CommandContext, answering
from labelkit.cli._said import late_option
from labelkit.cli.weigh import as_document, listing

if TYPE_CHECKING:
    from labelkit.measures import Mass


@click.command()
@click.option("--into", metavar="ID", required=True, help="The blend's own name.")
@click.option(
    "--part",
    "parts",
    type=BUCKET_PART,
    multiple=True,
    required=True,
    help="A bucket, or so much of it; repeat for each.",
)
@once_option
@late_option
@answering
def command(context: CommandContext, into: str, parts: tuple[tuple[str, Mass | None], ...], once: str | None) -> Answer:
    """Blend honey from several buckets.

    The blend gets a name of its own and keeps every parent in its trace.

    Example:  labelkit blend --into M1 --part "B1=12 kg" --part B2
    """
    from labelkit.errors.sentence import Sentence
    from labelkit.season.blend import Blending, blend

    with context.work(once) as work:
        now = blend(work, Blending(into, tuple(filter(None, parts))), context.day, context.reader)
    hives = sum(len(source.hives) for source in now.sources)
    within = Sentence.plural("{n} yard", "{n} yards", len(now.sources))
    reached: list[str] = (
        [Sentence.plural("{n} hive in {yards}", "{n} hives in {yards}", hives, yards=within)] if hives else []
    )
    reached += [f"suppliers: {', '.join(now.suppliers)}"] if now.suppliers else []
    reach = f"A recall of this blend reaches {'; '.join(reached)}." if reached else ""
    return Answer(as_document(now), f"{listing([now], context.reader)}\n\n{reach}")
