"""The acts, standards and guides the packs cite: one table of a file for each, read when a citation asks for it.

Addresses are for people who want to read the text; labelkit fetches nothing.
"""

from __future__ import annotations

import re
import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path

from labelkit.errors.rules import PackKeyMissing, PackKeyUnknown, PackUnreadable, PackValueWrong
from labelkit.rules.glossary import near
from labelkit.rules.pack import PACKS, SOURCES, read_sources

OFFICIAL, COPY, OTHER = "official text", "faithful copy", "other text of the same act"
READ_IN = (OFFICIAL, COPY, OTHER)
_MAY = ("url", "publisher", "language", "find", "read_in", "where")
_HEADER = re.compile(r"^\[([a-z0-9-]+)\]$", re.MULTILINE)


@dataclass(frozen=True, slots=True)
class Source:
    """One act, standard or guide.

    ``url`` is its official address, ``find`` how to get to the text again, ``read_in`` the kind of text that was read
    (one of ``READ_IN``, or empty when it was not recorded), and ``where`` the copy when it was not the official one.
    """

    id: str
    title: str
    url: str = ""
    publisher: str = ""
    language: str = ""
    find: str = ""
    read_in: str = ""
    where: str = ""


@lru_cache
def tables(packs: Path) -> Mapping[str, str]:
    """The text of each source's table, by its id; parsed only when a citation asks for it."""
    parts = _HEADER.split(read_sources(packs))
    ids = parts[1::2]
    for twice in {name for name in ids if ids.count(name) > 1}:
        raise PackValueWrong(SOURCES, f"[{twice}]", "the id", twice, "an id no other source has")
    return dict(zip(ids, parts[2::2], strict=True))


@lru_cache(maxsize=4096)
def source(name: str, packs: Path = PACKS) -> Source | None:
    """The source of this id; ``None`` when the file of sources has none.

    Raises a :class:`~labelkit.errors.rules.PackBroken` when its table is faulty.
    """
    text = tables(packs).get(name)
    if text is None:
        return None
    block = f"[{name}]"
    try:
        read = tomllib.loads(text)
    except tomllib.TOMLDecodeError as fault:
        raise PackUnreadable(SOURCES, f"{block}: {fault}") from None
    for key, value in read.items():
        if key not in ("title", *_MAY):
            raise PackKeyUnknown(SOURCES, block, key, near(key, ["title", *_MAY]))
        if not isinstance(value, str) or not value:
            raise PackValueWrong(SOURCES, block, key, value, "text")
    if "title" not in read:
        raise PackKeyMissing(SOURCES, block, "title")
    if read.get("read_in", OFFICIAL) not in READ_IN:
        raise PackValueWrong(SOURCES, block, "read_in", read["read_in"], f"one of {', '.join(READ_IN)}")
    return Source(name, **read)
