"""The one place where rule files are opened and read into law.

A file is read whole or refused: TOML first, then every block against :mod:`labelkit.rules.blocks`. Numbers with a
point are read as exact decimals, so that 18.6 is 18.6.
"""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from decimal import Decimal
from functools import lru_cache
from pathlib import Path
from typing import Any

from labelkit.errors.rules import PackUnreadable

RULES = Path(__file__).parent
PACKS = RULES / "packs"
SOURCES = "sources.toml"


def read_toml(path: Path) -> dict[str, Any]:
    """One TOML file with exact decimals; a fault is refused with the file's name."""
    try:
        return tomllib.loads(path.read_text(encoding="utf-8"), parse_float=Decimal)
    except (tomllib.TOMLDecodeError, UnicodeDecodeError) as fault:
        raise PackUnreadable(short(path), str(fault)) from None


def read_sources(packs: Path) -> str:
    """The text of the file of sources of a folder of packs; empty when it has none."""
    path = packs / SOURCES
    return path.read_text(encoding="utf-8") if path.exists() else ""


def pack_texts(folder: Path) -> Mapping[str, str]:
    """The text of every file of one pack, by its name."""
    return {path.name: path.read_text(encoding="utf-8") for path in sorted(folder.glob("*.toml"))}


def short(path: Path) -> str:
    """A rule file as messages name it: its folder and its name.

    >>> short(PACKS / "us" / "letter_height.toml")
    'us/letter_height.toml'
    """
    return f"{path.parent.name}/{path.name}"


@lru_cache(maxsize=512)
def file_names(folder: Path) -> Mapping[str, tuple[str, ...]]:
    """The files of one pack by topic; ``claims.fr.toml`` is the French part of the topic ``claims``."""
    found: dict[str, list[str]] = {}
    for path in sorted(folder.glob("*.toml")):
        found.setdefault(path.name.split(".")[0], []).append(path.name)
    return {topic: tuple(names) for topic, names in found.items()}


@lru_cache
def folders(packs: Path) -> tuple[str, ...]:
    """The ids of the packs in a folder of packs."""
    return tuple(sorted(path.parent.name for path in packs.glob("*/pack.toml")))
