"""``labelkit year``: the years of the record side by side, and the end of one."""

from __future__ import annotations

import click

from labelkit.cli._group import LazyGroup

ORDER = {"Years": ("compare", "close")}


@click.command(cls=LazyGroup, package="labelkit.cli.year", order=ORDER)
def command() -> None:
    """Compare years, and close one.

    One record holds all years: it is never begun anew.

    \b
    Example:  labelkit year compare
    """
