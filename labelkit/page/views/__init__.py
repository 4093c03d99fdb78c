"""The views of the page, one file for each part of the season; a view is found by its file."""

from __future__ import annotations

import importlib
import pkgutil
from collections.abc import Iterator

from flask import Blueprint


def every_view() -> Iterator[Blueprint]:
    """The ``view`` of every file here."""
    for module in pkgutil.iter_modules(__path__):
        yield importlib.import_module(f"{__name__}.{module.name}").view
