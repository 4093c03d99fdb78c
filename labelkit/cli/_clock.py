"""``--clock-is-right``, on the program and on every command that books."""

from __future__ import annotations

from collections.abc import Callable

import click

SAID = "labelkit.clock_is_right"  # in the meta of an invocation, which all its contexts share


def clock_option(function: Callable) -> Callable:
    """``--clock-is-right``: a person's word, where the clock is far ahead of the last booking or behind it."""
    return click.option(
        "--clock-is-right",
        is_flag=True,
        expose_value=False,
        callback=_believe,
        help="Book although the clock is far from the last booking.",
    )(function)


def _believe(context: click.Context, _: click.Parameter, said: bool) -> None:
    if said:
        context.meta[SAID] = True
