"""``labelkit record``: looking after the record itself."""

from __future__ import annotations

import click

from labelkit.cli._group import LazyGroup

ORDER = {
    "Check": ("verify", "seal", "limits"),
    "Look and put right": ("events", "correct", "protect-names"),
    "Customers": ("customer", "envelopes", "forget"),
    "Copies and papers": ("copy", "restore", "export", "import", "workbook", "authority", "epcis"),
    "Stations": ("roles",),
}


@click.command(cls=LazyGroup, package="labelkit.cli.record", order=ORDER)
def command() -> None:
    """Verify, copy, export or correct the record.

    Example:  labelkit --record season.labelkit record verify
    """
