"""``labelkit record``: looking after the record itself."""

from __future__ import annotations

import click

from labelkit.cli._rim import Desk

DEFAULT = "season.labelkit"


def record_of(desk: Desk) -> str:
    """The record a command works on: the one named, or season.labelkit in this folder."""
    return desk.record or DEFAULT


@click.group()
def command() -> None:
    """Look after the record: verify, seal, copy, restore, export, import, correct.

    Example:  labelkit --record season.labelkit record verify
    """
