"""What the labels of a season say, kept in the record, and the label file that means.

Two settings hold it: ``label`` (the words, and the jar of each size) and ``situation`` (the facts the rules hang on).
Both go through the one reader of label files, so that a word typed here is refused as a word in a file is.
"""

from __future__ import annotations

import json
from dataclasses import replace
from typing import TYPE_CHECKING, Any

from labelkit.cli._runner import CommandContext
from labelkit.season.settings import SeasonSettings, settings_of

if TYPE_CHECKING:
    from labelkit.rules.label import Label

WORDS = ("kind", "name", "floral_source", "grade", "best_before")
SHOWN_AS = "the label words in the record"


def label_text(
    season: SeasonSettings, settings: dict[str, Any], size: str, lot: str = "", markets: tuple[str, ...] = ()
) -> str:
    """The label file of one jar size, out of the record's settings."""
    held = settings.get("label", {})
    document: dict[str, Any] = {"market": list(markets or season.markets)}
    document |= {key: held[key] for key in WORDS if held.get(key)}
    document |= {"declares": season.size(size).declares.show("en_US"), "lines": list(held.get("lines", []))}
    document |= {"ingredients": list(held["ingredients"])} if held.get("ingredients") else {"ingredients": ["honey"]}
    document |= {"lot": lot} if lot else {}
    document |= {"volume": held["volumes"][size]} if size in held.get("volumes", {}) else {}
    if held.get("origin"):
        document["origin"] = [{"country": held["origin"], "share": 100}]
    tables = {
        "maker": season.maker,
        "panel": held.get("jars", {}).get(size, {}),
        "situation": settings.get("situation", {}),
    }
    lines = [f"{key} = {toml(value)}" for key, value in document.items()]
    for name, table in tables.items():
        if table:
            lines += ["", f"[{name}]", *(f"{key} = {toml(value)}" for key, value in table.items())]
    return "\n".join(lines) + "\n"


def label_of_record(context: CommandContext, size: str, markets: tuple[str, ...] = (), lot: str = "") -> Label:
    """The label of a jar size as the record's words have it. Raises what a label file's reader raises."""
    from labelkit.reading.label_file import read_label

    with context.reading() as book:
        season, settings = settings_of(book), book.settings()
    label = read_label(label_text(season, settings, size, lot, markets), SHOWN_AS)
    return replace(label, declares=season.size(size).declares)


def toml(value: Any) -> str:
    """A value as TOML writes it; numbers kept as text in a situation come out bare.

    >>> toml(["stall", "shop"]), toml(True), toml({"country": "US"}), toml('say "hello"')
    ('["stall", "shop"]', 'true', '{"country" = "US"}', '"say \\\\"hello\\\\""')
    """
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, int):
        return str(value)
    if isinstance(value, list | tuple):
        return f"[{', '.join(map(toml, value))}]"
    if isinstance(value, dict):
        return f"{{{', '.join(f'{toml(key)} = {toml(item)}' for key, item in value.items())}}}"
    # A JSON text is a TOML text, but for the one control character JSON leaves as it is.
    return json.dumps(value, ensure_ascii=False).replace("\x7f", "\\u007f")


def fact_value(name: str, text: str) -> Any:
    """What was typed for a fact of the situation, as a label file would hold it; texts stay texts.

    Raises :class:`~labelkit.errors.label_file.LabelKeyUnknown` and its kin when the label is read.

    >>> fact_value("home_kitchen", "yes"), fact_value("sells_to", "stall, shop"), fact_value("gallons_per_year", "90")
    (True, ['stall', 'shop'], 90)
    """
    from labelkit.rules.glossary import glossary

    fact = glossary().facts.get(name)
    kind = fact.kind if fact else "text"
    bare = text.strip()
    if kind == "flag" and bare.casefold() in ("yes", "no", "true", "false"):
        return bare.casefold() in ("yes", "true")
    if kind in ("words", "texts"):
        return [part.strip() for part in bare.split(",") if part.strip()]
    if kind in ("number", "count", "percent") and bare.isdigit():
        return int(bare)
    return bare
