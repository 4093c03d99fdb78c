"""The one place where files that ship with labelkit are opened: templates and sample seasons.

In a checkout they stand at the top of the tree; in an installed wheel they lie beside this module. Templates are
rendered by Jinja2 with everything that could be markup escaped in ``.html`` and ``.svg``.
"""

from __future__ import annotations

from functools import lru_cache
from importlib.resources import files
from pathlib import Path
from typing import Any

_INSTALLED = Path(str(files(__package__)))
_CHECKOUT = _INSTALLED.parent.parent


def folder(name: str) -> Path:
    """The folder ``templates`` or ``sample_lots``, wherever this labelkit was installed.

    >>> folder("templates").is_dir()
    True
    """
    installed = _INSTALLED / name
    return installed if installed.is_dir() else _CHECKOUT / name


def template_text(name: str) -> str:
    """The text of a shipped template or data file, by its path below ``templates/``."""
    return (folder("templates") / name).read_text(encoding="utf-8")


def names_in(below: str, end: str) -> tuple[str, ...]:
    """The shipped files of one folder below ``templates/``, by name and without their ending.

    >>> "meadow" in names_in("labels/designs", ".toml")
    True
    """
    return tuple(sorted(path.name.removesuffix(end) for path in (folder("templates") / below).glob(f"*{end}")))


def render(name: str, /, **facts: Any) -> str:
    """Fill the template of this name; a fact the template needs and did not get is an error, never a blank."""
    return _environment().get_template(name).render(**facts)


@lru_cache(maxsize=1)
def _environment():
    from jinja2 import Environment, FileSystemLoader, StrictUndefined, select_autoescape

    return Environment(
        loader=FileSystemLoader(folder("templates")),
        autoescape=select_autoescape(["html", "svg", "xml"]),
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
        keep_trailing_newline=True,
    )
