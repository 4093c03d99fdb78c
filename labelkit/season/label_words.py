"""Label words: what the labels of a season say, kept in the record, and the label file that means.

Two settings hold it: ``label`` (the words, and the jar of each size) and ``situation`` (the facts the rules hang on).
Both go through the one reader of label files, so that a word typed here is refused as a word in a file is.
"""

from __future__ import annotations

import json
from collections.abc import Collection, Mapping
from dataclasses import dataclass, field, replace
from datetime import date
from typing import TYPE_CHECKING, Any

from labelkit.measures import Length
from labelkit.reading.label_file import read_label, read_panel
from labelkit.record.settings import Setting
from labelkit.rules.figures.origin import known_country
from labelkit.rules.glossary import glossary
from labelkit.rules.label import Label
from labelkit.season.settings import SeasonSettings, settings_of

if TYPE_CHECKING:
    from labelkit.record.reading import Reading
    from labelkit.record.work import Work

WORDS = ("kind", "name", "floral_source", "grade", "best_before")
SHOWN_AS = "the label words in the record"


@dataclass(frozen=True, slots=True)
class LabelWords:
    """What somebody says of every label: only what is given changes, and an empty text takes a word away.

    ``lines`` replaces the other words (``None``: as they were), ``jars`` the side of each size's jar, ``volumes``
    what it holds, ``facts`` answers what rules hang on, ``unsay`` opens such questions again.
    """

    texts: Mapping[str, str] = field(default_factory=dict)
    lines: tuple[str, ...] | None = None
    jars: Mapping[str, Mapping[str, str]] = field(default_factory=dict)
    volumes: Mapping[str, str] = field(default_factory=dict)
    facts: Mapping[str, Any] = field(default_factory=dict)
    unsay: Collection[str] = ()


def keep_words(work: Work, asked: LabelWords, day: date) -> tuple[dict[str, Any], dict[str, Any]]:
    """Keep what the labels say; the words and the situation as they stand now.

    Raises what the reader of a label file refuses, where a label of any size could not be read from these words.
    """
    now = work.settings()
    if asked.texts.get("origin"):
        known_country(asked.texts["origin"])
    label = {**now.get("label", {}), **asked.texts}
    if asked.lines is not None:
        label["lines"] = [line.strip() for line in asked.lines if line.strip()]
    label["jars"] = {**label.get("jars", {}), **asked.jars}
    label["volumes"] = {**label.get("volumes", {}), **asked.volumes}
    situation = {**now.get("situation", {}), **asked.facts}
    label = {key: value for key, value in label.items() if value not in ("", [], {})}
    situation = {name: value for name, value in situation.items() if value not in ("", []) and name not in asked.unsay}
    after = {**now, "label": label, "situation": situation}
    season = settings_of(work)
    for size in season.prices if label.get("name") else ():
        read_label(label_text(season, after, size), SHOWN_AS)
    work.add_all(Setting(day, name, after[name]) for name in ("label", "situation"))
    return label, situation


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


def jar_of(settings: Mapping[str, Any], size: str) -> dict[str, Length]:
    """The straight side of the jar of a size, as the record's words have it; nothing where they do not say."""
    return read_panel(settings.get("label", {}).get("jars", {}).get(size, {}))


def label_of_record(state: Reading, size: str, markets: tuple[str, ...] = (), lot: str = "") -> Label:
    """The label of a jar size as the record's words have it. Raises what a label file's reader raises."""
    season = settings_of(state)
    label = read_label(label_text(season, state.settings(), size, lot, markets), SHOWN_AS)
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
