"""``labelkit reckon NAME``: each figure on its own."""

from __future__ import annotations

import click

from labelkit.cli._group import LazyGroup


@click.command(cls=LazyGroup, package="labelkit.cli.reckon")
def command() -> None:
    """Reckon one figure by itself: a net weight, a moisture, a tolerance.

    Example:  labelkit reckon check-digit --digits 629104150021
    """
