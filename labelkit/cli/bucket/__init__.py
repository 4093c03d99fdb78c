"""``labelkit bucket``: what happens to a bucket between weigh-in and jar."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING, Any

import click

from labelkit.cli._group import LazyGroup
from labelkit.cli._options import MASS, because_option, once_option
from labelkit.cli._runner import Answer, CommandContext, answering

if TYPE_CHECKING:
    from labelkit.season.measure import Happened


ORDER = {
    "Weight and water": ("weigh-again", "moisture", "skim", "dry"),
    "Warmth and setting": ("warm", "stir"),
    "Leaves as honey": ("sell", "give", "feed", "discard"),
}


@click.command(cls=LazyGroup, package="labelkit.cli.bucket", order=ORDER)
def command() -> None:
    """Record what happened to a bucket.

    Example:  labelkit bucket moisture B1 17.9
    """


def bucket_step(function: Callable[..., Answer]) -> click.Command:
    """A command about one bucket: its name, ``--because``, ``--once``, and an answer."""
    made = click.argument("bucket", metavar="BUCKET")(because_option(once_option(answering(function))))
    return click.command()(made)


def weight_options(function: Callable[..., Any]) -> Callable[..., Any]:
    """``--net`` or ``--gross`` and ``--tare``, and the scale's step."""
    for option in (
        click.option("--division", type=MASS, help="The step your scale counts in, for example 20 g."),
        click.option("--tare", type=MASS, help="The empty bucket with its lid."),
        click.option("--gross", type=MASS, help="The bucket on the scale."),
        click.option("--net", type=MASS, help="The honey alone, instead of gross and tare."),
    ):
        function = option(function)
    return function


def booked(
    context: CommandContext, once: str | None, verb: Callable[..., Happened[Any]], asked: Any, *caution: str
) -> Answer:
    """Book the step; what was done, what to mind, and the bucket as it stands then."""

    with context.work(once) as work:
        done = verb(work, asked, context.day, context.reader)
    return Answer(document(done), said(done, context.reader, *caution))


def document(done: Happened[Any]) -> dict[str, Any]:
    """The step and its bucket as JSON carries them."""
    from labelkit.cli.weigh import as_document
    from labelkit.measures.locales import DEFAULT_LOCALE

    return {
        "event": done.event,
        "kind": done.step.kind,
        "says": done.step.describe(DEFAULT_LOCALE),
        **as_document(done.bucket),
    }


def said(done: Happened[Any], locale: str, *more: str) -> str:
    """The same for people."""
    from labelkit.cli.weigh import listing

    lines = [f"Booked as event {done.event}: {done.step.describe(locale)}.", *filter(None, more), ""]
    return "\n".join([*lines, listing([done.bucket], locale)])
