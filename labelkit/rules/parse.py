"""One topic file, from TOML to law; every fault refuses the file with its name and the block."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from datetime import date
from pathlib import Path
from typing import Any

from labelkit.errors.rules import (
    PackCitationWrong,
    PackDaysWrong,
    PackKeyMissing,
    PackKeyUnknown,
    PackTopicWrong,
    PackTwice,
    PackValueWrong,
)
from labelkit.rules.blocks import (
    CERTAINTIES,
    COUNTS,
    LEVELS,
    MEMORY,
    MOST_QUOTED,
    PLACES,
    SEEN,
    SHAPES,
    SOLD_UNTIL,
    STANCES,
    Cite,
    Law,
    Reviewer,
    Rule,
    SellThrough,
    Value,
    Watch,
)
from labelkit.rules.conditions import read_when
from labelkit.rules.glossary import glossary, near
from labelkit.rules.kinds import WANTED, fits
from labelkit.rules.pack import SOURCES, read_toml, short
from labelkit.rules.sources import READ_IN, source

_MUST = {"since": "day", "cite": "cite", "sure": "certainty"}
_MAY = {
    "until": "day",
    "since_is": "since_is",
    "when": "when",
    "unless": "when",
    "note": "text",
    "watch": "watch",
    "sell_through": "sell_through",
    "reviewed": "reviewed",
}
_WORDS = {
    "level": LEVELS,
    "place": PLACES,
    "stance": STANCES,
    "counts": COUNTS,
    "certainty": CERTAINTIES,
    "since_is": ("took effect", "at least"),
    "negated": ("clears", "keeps"),
}
_CITE = {
    "clause": "text",
    "quote": "text",
    "no_quote": "text",
    "read_on": "day",
    "recheck_by": "day",
    "read_in": "text",
    "where": "text",
}


def read_topic(path: Path, pack: str) -> tuple[Law, ...]:
    """All blocks of one file of the pack, in the order they stand."""
    file = short(path)
    topic = path.name.split(".")[0]
    glossary().topic(topic, file)
    read = read_toml(path)
    laws: list[Law] = []
    for kind, blocks in read.items():
        if kind not in SHAPES:
            raise PackKeyUnknown(file, "the file", kind, near(kind, SHAPES))
        if not isinstance(blocks, list):
            raise PackValueWrong(file, "the file", kind, "…", f"a list of blocks; write [[{kind}]] with two brackets")
        laws.extend(_law(path, pack, topic, kind, block) for block in blocks)
    _refuse_twice(file, laws)
    return tuple(laws)


def _law(path: Path, pack: str, topic: str, kind: str, raw: Mapping[str, Any]) -> Law:
    file, shape = short(path), SHAPES[kind]
    block = f"[[{kind}]] {raw.get('name') or raw.get('rule') or raw.get('what') or ''}".strip()
    check_keys(file, block, raw, {**_MUST, **shape.must}, {**_MAY, **shape.may})
    for key, value in raw.items():
        _check_kind(file, block, key, value, {**_MUST, **_MAY, **shape.must, **shape.may}[key])
    fields = {key: _frozen(key, value, file, block) for key, value in raw.items() if key != "cite"}
    fields["cite"] = _cite(file, block, raw["cite"], raw["sure"], path.parents[1])
    if raw.get("until") and raw["until"] <= raw["since"]:
        raise PackDaysWrong(file, block, raw["since"].isoformat(), raw["until"].isoformat())
    if kind == "value":
        _check_value(file, block, topic, raw)
        fields["raw"] = fields.pop("value")
    law: Law = shape.record(pack=pack, topic=topic, file=file, **fields)
    if isinstance(law, Rule) and not law.rule.startswith(f"{pack}."):
        raise PackValueWrong(file, block, "rule", law.rule, f"an id that begins with “{pack}.”")
    return law


def check_keys(file: str, block: str, raw: Mapping[str, Any], must: Iterable[str], may: Iterable[str]) -> None:
    """Refuse a block with an unknown or a missing key."""
    known = [*must, *may]
    for key in raw:
        if key not in known:
            raise PackKeyUnknown(file, block, key, near(key, known))
    for key in must:
        if key not in raw:
            raise PackKeyMissing(file, block, key)


def _check_kind(file: str, block: str, key: str, value: Any, kind: str) -> None:
    if kind in ("any", "when", "cite", *_TABLES):
        return
    if kind in _WORDS:
        good, wanted = value in _WORDS[kind], f"one of {', '.join(_WORDS[kind])}"
    elif kind == "element":
        glossary().element(value, file)
        return
    elif kind == "flag fact":
        good, wanted = glossary().fact(value, file).kind == "flag", "a fact that is yes or no"
    elif kind == "until":
        good = type(value) is date or value in SOLD_UNTIL
        wanted = f"a day, or one of {', '.join(SOLD_UNTIL)}"
    elif kind == "letters":
        good, wanted = fits("length", value), "a size such as “10 pt” (type) or “3 mm” (height of a letter)"
    elif kind == "by language":
        good = isinstance(value, dict) and all(isinstance(text, str) and text for text in value.values())
        wanted = "the words by language, such as en = “…”"
    else:
        good, wanted = fits(kind, value), WANTED[kind]
    if not good or value == "":
        raise PackValueWrong(file, block, key, value, wanted)


def _check_value(file: str, block: str, topic: str, raw: Mapping[str, Any]) -> None:
    entry = glossary().name(raw["name"], file)
    if entry.topic != topic:
        raise PackTopicWrong(file, entry.name, entry.topic)
    if not fits(entry.kind, raw["value"], entry.words, entry.columns):
        shown = f"{WANTED[entry.kind]}" + (f": {', '.join(entry.words)}" if entry.words else "")
        raise PackValueWrong(file, block, "value", raw["value"], shown)
    if "against_parent" in raw and "because" not in raw:
        raise PackKeyMissing(file, block, "because")


def _frozen(key: str, value: Any, file: str, block: str) -> Any:
    if key in ("when", "unless", "lost_by"):
        return read_when(value, file, block)
    if key in _TABLES:
        return _TABLES[key](file, block, value)
    if key == "value":
        return value
    return tuple(value) if isinstance(value, list) else value


def _cite(file: str, block: str, raw: Any, sure: str, packs: Path) -> Cite:
    _table(file, block, "cite", raw, {"source": "text"}, _CITE)
    found = source(raw["source"], packs)
    if found is None:
        raise PackCitationWrong(file, block, f"no source “{raw['source']}” is in {SOURCES}")
    read_in = raw.get("read_in", found.read_in) if sure == SEEN else ""
    if read_in and read_in not in READ_IN:
        raise PackValueWrong(file, f"{block} cite", "read_in", read_in, f"one of {', '.join(READ_IN)}")
    if sure != MEMORY and "read_on" not in raw:
        raise PackCitationWrong(file, block, f"it is “{sure}” but does not say on which day it was read (read_on)")
    if len(raw.get("quote", "").split()) > MOST_QUOTED:
        raise PackCitationWrong(file, block, f"its quotation has more than {MOST_QUOTED} words")
    return Cite(
        title=found.title,
        clause=raw.get("clause", ""),
        read_on=None if sure == MEMORY else raw["read_on"],
        where=raw.get("where", found.where),
        source=found,
        quote=raw.get("quote", ""),
        no_quote=raw.get("no_quote", ""),
        read_in=read_in,
        recheck_by=raw.get("recheck_by"),
    )


def _table(
    file: str, block: str, key: str, raw: Any, must: Mapping[str, str], may: Mapping[str, str]
) -> dict[str, Any]:
    """One table inside a block, its keys and their kinds held against the list."""
    where = f"{block} {key}"
    if not isinstance(raw, dict):
        raise PackValueWrong(file, block, key, raw, f"a table of {', '.join([*must, *may])}")
    check_keys(file, where, raw, must, may)
    for name, value in raw.items():
        _check_kind(file, where, name, value, {**must, **may}[name])
    return raw


def _watch(file: str, block: str, raw: Any) -> tuple[Watch, ...]:
    tables = raw if isinstance(raw, list) else [raw]
    kinds = {"what": "text", "day": "day"}
    return tuple(Watch(**_table(file, block, "watch", each, kinds, {"expected": "day"})) for each in tables)


def _sell_through(file: str, block: str, raw: Any) -> SellThrough:
    read = _table(file, block, "sell_through", raw, {"until": "until", "says": "text"}, {})
    return SellThrough(**read)


def _reviewed(file: str, block: str, raw: Any) -> Reviewer:
    return Reviewer(**_table(file, block, "reviewed", raw, {"by": "text", "on": "day"}, {}))


_TABLES = {"watch": _watch, "sell_through": _sell_through, "reviewed": _reviewed}


def _refuse_twice(file: str, laws: list[Law]) -> None:
    held: dict[tuple[Any, ...], list[Law]] = {}
    for law in laws:
        key = (type(law), law.label, getattr(law, "language", ""), str(law.when) if isinstance(law, Value) else "")
        for other in held.setdefault(key, []):
            if law.since < (other.until or date.max) and other.since < (law.until or date.max):
                raise PackTwice(file, law.label, law.since.isoformat())
        held[key].append(law)
