"""``labelkit bucket stir``."""

from __future__ import annotations

from typing import TYPE_CHECKING

import click

from labelkit.cli._options import BUCKET_PART
from labelkit.cli._runner import Answer, CommandContext
from labelkit.cli.bucket import bucket_step, document, said

if TYPE_CHECKING:
    from labelkit.measures import Mass


@bucket_step
@click.option(
    "--seed", type=BUCKET_PART, help="Seed honey, for example S1=3 lb; all of that bucket where no weight is said."
)
def command(
    context: CommandContext, bucket: str, seed: tuple[str, Mass | None] | None, because: str, once: str | None
) -> Answer:
    """Record that the honey was stirred.

    Seed becomes part of it, and the seed's bucket one of its parents.

    Example:  labelkit bucket stir B1 --seed "S1=3 lb"
    """
    from labelkit.season.treat import Stirring, seed_share, stir

    name, mass = seed or (None, None)
    with context.work(once) as work:
        done = stir(work, Stirring(bucket, name, mass, because), context.day, context.locale)
    share = seed_share(done)
    return Answer(
        document(done) | {"seed_percent": share},
        said(done, context.locale, f"{share} % of it is seed." if share is not None else ""),
    )
