"""``labelkit record``: looking after the record itself."""

from __future__ import annotations

import click

from labelkit.cli._group import LazyGroup


@click.command(cls=LazyGroup, package="labelkit.cli.record")
def command() -> None:
    """Look after the record: verify it, seal it, copy it, hand it over.

    Example:  labelkit --record season.labelkit record verify
    """
