"""What a person says beside a step: ``--clock-is-right``, and why it belongs into a closed year."""

from __future__ import annotations

from collections.abc import Callable

import click

# In the meta of an invocation, which all its contexts share.
SAID = "labelkit.clock_is_right"
LATE = "labelkit.late"


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


def late_option(function: Callable) -> Callable:
    """``--because WORDS`` of a command that asks about nothing else than a closed year."""
    return click.option(
        "--because",
        default="",
        metavar="WORDS",
        expose_value=False,
        callback=lambda context, _, words: context.meta.update({LATE: words}),
        help="Why it belongs into a year that was closed; kept in the record.",
    )(function)
