"""Which markets there are, what they are called, and the topic files of each, read when they are asked for."""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import lru_cache
from pathlib import Path
from typing import Any

from labelkit.errors.rules import (
    MarketUnclear,
    MarketUnknown,
    PackBroken,
    PackKeyMissing,
    PackParentUnknown,
    PackValueWrong,
)
from labelkit.rules.blocks import Head, Law, NotRead
from labelkit.rules.glossary import glossary, near
from labelkit.rules.kinds import WANTED, fits
from labelkit.rules.pack import PACKS, file_names, folders, read_toml, short
from labelkit.rules.parse import check_keys, read_topic

_HEAD = {"name": "text", "languages": "texts", "currency": "text", "office": "text"}
_HEAD_MAY = {"called": "texts", "parents": "texts", "market": "flag", "note": "text"}
_NOT_READ = {"areas": "texts", "why": "text"}

LANGUAGE_CODE = 2  # letters
_CODE = re.compile(r"[a-z0-9-]{1,40}")  # what a folder of rules may be called; anything else is no path to try


@lru_cache(maxsize=512)
def head(pack: str, packs: Path = PACKS) -> Head:
    """The head of one pack."""
    path = packs / pack / "pack.toml"
    file, read = short(path), read_toml(path)
    check_keys(file, "the file", read, ("pack",), ("not_read",))
    raw = read["pack"]
    check_keys(file, "[pack]", raw, _HEAD, _HEAD_MAY)
    for key, value in raw.items():
        _check(file, "[pack]", key, value, {**_HEAD, **_HEAD_MAY}[key])
    for parent in raw.get("parents", ()):
        if parent not in folders(packs):
            raise PackParentUnknown(file, parent)
    listed = {key: tuple(value) if isinstance(value, list) else value for key, value in raw.items()}
    return Head(
        id=pack,
        **{"called": (), "parents": ()} | listed,
        not_read=tuple(entry for block in read.get("not_read", []) for entry in _not_read(file, pack, block)),
    )


def _not_read(file: str, pack: str, raw: dict[str, Any]) -> Iterator[NotRead]:
    check_keys(file, "[[not_read]]", raw, _NOT_READ, {"do"})
    for area in raw["areas"]:
        glossary().topic(area, file)
        yield NotRead(pack, area, raw["why"], raw.get("do", ""))


def _check(file: str, block: str, key: str, value: Any, kind: str) -> None:
    if not fits(kind, value) and not (kind == "texts" and value == []):
        raise PackValueWrong(file, block, key, value, WANTED[kind])
    if value == "":
        raise PackKeyMissing(file, block, key)


def lineage(pack: str, packs: Path = PACKS) -> tuple[str, ...]:
    """The pack and all its parents, the most particular first.

    >>> lineage("us")[0]
    'us'
    """
    found: list[str] = []
    waiting = [pack]
    while waiting:
        this = waiting.pop(0)
        if this not in found:
            found.append(this)
            waiting.extend(head(this, packs).parents)
    return tuple(found)


def topics(pack: str, packs: Path = PACKS) -> tuple[str, ...]:
    """The topics a pack has a file for."""
    return tuple(topic for topic in file_names(packs / pack) if topic != "pack")


@lru_cache(maxsize=4096)
def laws(pack: str, topic: str, packs: Path = PACKS, languages: frozenset[str] | None = None) -> tuple[Law, ...]:
    """Everything one pack says on one topic; nothing when it has no file for it.

    With ``languages`` the files of other languages (``claims.fr.toml``) stay closed.
    """
    folder = packs / pack
    names = file_names(folder).get(topic, ())
    return tuple(law for name in names if _of_language(name, languages) for law in read_topic(folder / name, pack))


def _of_language(name: str, languages: frozenset[str] | None) -> bool:
    """Whether a file is of no language, or of one of these.

    >>> _of_language("claims.fr.toml", frozenset({"en"})), _of_language("claims.toml", frozenset({"en"}))
    (False, True)
    """
    last = name.removesuffix(".toml").split(".")[-1]
    return languages is None or last in languages or "." not in name.removesuffix(".toml") or len(last) != LANGUAGE_CODE


@lru_cache
def markets(packs: Path = PACKS) -> tuple[Head, ...]:
    """Every market one can sell in, by its code."""
    return tuple(found for found in (head(pack, packs) for pack in folders(packs)) if found.market)


def market_code(name: str, packs: Path = PACKS) -> str:
    """The code of a market, from its code or from what people call it.

    Raises :class:`~labelkit.errors.rules.MarketUnknown` with near names, or
    :class:`~labelkit.errors.rules.MarketUnclear` when a name fits several.

    >>> market_code("us"), market_code("United Kingdom")
    ('us', 'uk')
    """
    wanted = " ".join(name.replace("_", "-").split()).casefold()
    if wanted in folders(packs) and head(wanted, packs).market:
        return wanted
    if _CODE.fullmatch(wanted) and (packs / wanted).is_dir() and wanted not in folders(packs):
        raise PackBroken(
            f"{wanted}/pack.toml",
            "it is missing, so nobody knows what this folder of rules is for.",
            "Add a pack.toml with the name, the languages, the currency and the office to call.",
        )
    fits_ = tuple(h.id for h in markets(packs) if wanted in {called.casefold() for called in (h.name, *h.called)})
    if len(fits_) == 1:
        return fits_[0]
    if fits_:
        raise MarketUnclear(name, fits_)
    # A state of one union is not mistaken for a state of another: eu-lt is near eu-lv, never near us-ct.
    family = wanted.partition("-")[0] if _CODE.fullmatch(wanted) else ""
    related = [h for h in markets(packs) if h.id.partition("-")[0] == family] or markets(packs)
    known = {called.casefold(): h.id for h in related for called in (h.id, h.name, *h.called)}
    close = dict.fromkeys(known[word] for word in near(wanted, known))
    raise MarketUnknown(name, tuple(f"{code} ({head(code, packs).name})" for code in close))
