"""``labelkit record``: looking after the record itself."""

from __future__ import annotations

import getpass
from datetime import datetime

import click

from labelkit.cli._group import Shelf
from labelkit.cli._rim import Desk

DEFAULT = "season.labelkit"


def record_of(desk: Desk) -> str:
    """The record a command works on: the one named, or season.labelkit in this folder."""
    return desk.record or DEFAULT


def now() -> datetime:
    """The clock of this machine with its zone, read here and nowhere deeper."""
    return datetime.now().astimezone()


def person() -> str:
    """Who is at the machine, where a command does not say."""
    try:
        return getpass.getuser()
    except (OSError, KeyError):
        return "unknown"


@click.command(cls=Shelf, package="labelkit.cli.record")
def command() -> None:
    """Look after the record: verify it, seal it, copy it, hand it over.

    Example:  labelkit --record season.labelkit record verify
    """
