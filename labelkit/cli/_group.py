"""Click groups that say which command was meant, and one whose commands are modules imported only when they are used."""

from __future__ import annotations

import difflib
import importlib
import pkgutil

import click


class HintingGroup(click.Group):
    """A group that names the nearest commands where one is misspelt."""

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
