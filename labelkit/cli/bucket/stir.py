"""``labelkit bucket stir``."""

from __future__ import annotations

from typing import TYPE_CHECKING

import click

from labelkit.cli._options import BUCKET_PART, JAR_COUNT, by_size
from labelkit.cli._runner import Answer, CommandContext
from labelkit.cli.bucket import bucket_step, document, said

if TYPE_CHECKING:
    from labelkit.measures import Mass


@bucket_step
@click.option(
    "--seed", type=BUCKET_PART, help="Seed honey, for example S1=3 lb; all of that bucket where no weight is said."
)
@click.option("--jar", "jars", type=JAR_COUNT, multiple=True, help="Jars that were opened, where the seed is a lot.")
def command(
    context: CommandContext,
    bucket: str,
    seed: tuple[str, Mass | None] | None,
    jars: tuple[tuple[str, int], ...],
    because: str,
    once: str | None,
) -> Answer:
    """Record that the honey was stirred.

    Seed becomes part of it, and the seed's bucket or lot one of its parents.

    \b
    Example:  labelkit bucket stir B1 --seed "S1=3 lb"
              labelkit bucket stir B1 --seed L26201AXN --jar "one pound=2"
    """
    from labelkit.season.treat import Stirring, seed_share, stir

    name, mass = seed or (None, None)
    with context.work(once) as work:
        done = stir(work, Stirring(bucket, name, mass, because, by_size(jars, "--jar")), context.day, context.reader)
    share = seed_share(done)
    return Answer(
        document(done) | {"seed_percent": share},
        said(done, context.reader, f"{share} % of it is seed." if share is not None else ""),
    )
