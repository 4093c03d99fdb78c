"""Click groups that list their commands in the order of the work, say which was meant, and load each when it is used."""

from __future__ import annotations

import difflib
import importlib
import pkgutil
from collections.abc import Iterable, Mapping

import click

SUMMARY_LENGTH = 60  # signs: a line of the list holds the name and this in a terminal of 80 columns


class HintingGroup(click.Group):
    """A group that lists its commands under headings, and names the nearest where one is misspelt.

    ``order`` has the names under each heading, in the order of the work. A command it does not name comes last, so that
    a new one can be found before it has its place.
    """

    def __init__(self, *args, order: Mapping[str, Iterable[str]] | None = None, **kwargs) -> None:
        super().__init__(*args, **kwargs)
        self.order = {heading: tuple(names) for heading, names in (order or {}).items()}

    def unplaced(self, ctx: click.Context) -> list[str]:
        """The commands that no heading names."""
        placed = {name for names in self.order.values() for name in names}
        return [name for name in self.list_commands(ctx) if name not in placed]

    def format_commands(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:
        """The list of commands as help shows it: the first line of each command's help, never cut."""
        last = "More commands" if self.order else "Commands"
        every = {**self.order, last: self.unplaced(ctx)}
        widest = max(len(name) for names in every.values() for name in names)
        for heading, names in every.items():
            rows = [(name.ljust(widest), summary(self.get_command(ctx, name))) for name in names]
            if rows:
                with formatter.section(heading):
                    formatter.write_dl(rows)

    def resolve_command(self, ctx: click.Context, args: list[str]):
        name = args[0]
        if self.get_command(ctx, name) is None:
            near = difflib.get_close_matches(name, self.list_commands(ctx), n=3)
            hint = f" Did you mean {' or '.join(near)}?" if near else ""
            ctx.fail(f"There is no command “{name}”.{hint}")
        return super().resolve_command(ctx, args)


class LazyGroup(HintingGroup):
    """Commands found by file name: ``lot_code.py`` holds ``command``, called ``lot-code``."""

    def __init__(self, *args, package: str, **kwargs) -> None:
        super().__init__(*args, **kwargs)
        self.package = package

    def list_commands(self, ctx: click.Context) -> list[str]:
        found = pkgutil.iter_modules(importlib.import_module(self.package).__path__)
        return sorted(module.name.replace("_", "-") for module in found if not module.name.startswith("_"))

    def get_command(self, ctx: click.Context, name: str) -> click.Command | None:
        if name not in self.list_commands(ctx):
            return None
        return importlib.import_module(f"{self.package}.{name.replace('-', '_')}").command


def summary(command: click.Command | None) -> str:
    """What a command does, in the first line of its help, without the full stop.

    >>> summary(click.Command("seal", help="Print the seal of the record.\\n\\nOne line that fits only this record."))
    'Print the seal of the record'
    """
    words = (command.help or "").split("\n\n")[0] if command else ""
    return " ".join(words.split()).rstrip(".")
