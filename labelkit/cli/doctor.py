"""``labelkit doctor``."""

from __future__ import annotations

import click

from labelkit.cli._runner import Answer, CommandContext, answering


@click.command()
@answering
def command(context: CommandContext) -> Answer:
    """Check this installation, the record and its copies.

    One screen to read out over the phone: what is installed, fonts, printing true to size, the record, its copies, the
    clock. Nothing is booked. Exit code 1 where something is bad, 3 where the record is damaged.

    Example:  labelkit --record season.labelkit doctor
    """
    from labelkit.season.doctor import BAD, GOOD, examine

    found = examine(context)
    lines = [f"{n:>2} {one.state:<4}  {one.name:<8}  {one.found}" for n, one in enumerate(found.checks, start=1)]
    to_do = [f"{n}. {one.do}" for n, one in enumerate(found.checks, start=1) if one.state != GOOD]
    end = "\n".join(to_do) if to_do else "All is well."
    document = {"machine": found.machine, "state": found.worst, "checks": found.checks}
    code = 3 if found.damaged else 1 if found.worst == BAD else 0
    return Answer(document, "\n".join((found.machine, "", *lines, "", end)), code)
