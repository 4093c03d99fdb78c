"""The words a pack may use: topics, values, facts, elements, each with its kind and, for facts, its question.

The glossary is data as well (``glossary.toml``). It is what turns a slip of the pen in a pack into a refusal instead of
a rule that silently does not exist, and what turns a fact nobody gave into a question a producer can answer.
"""

from __future__ import annotations

import difflib
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from functools import lru_cache
from typing import Any, TypeVar

from labelkit.errors.rules import PackNameUnknown
from labelkit.rules.pack import RULES, read_toml

T = TypeVar("T")


@dataclass(frozen=True, slots=True)
class Name:
    """A value a pack may hold: what it is called, the topic it stands in, the kind of its value."""

    name: str
    topic: str
    kind: str
    id: str
    words: tuple[str, ...] = ()
    columns: Mapping[str, str] = field(default_factory=dict)
    stricter: str | None = None  # "higher" or "lower": which way a child tightens it
    says: str = ""


@dataclass(frozen=True, slots=True)
class Fact:
    """Something a rule depends on, and the question that gets it."""

    name: str
    kind: str
    asks: str
    words: tuple[str, ...] = ()
    assumed: bool | None = None  # taken for granted when nobody says otherwise: the ordinary, fully labelled jar


@dataclass(frozen=True, slots=True)
class Element:
    """Something that stands on a label, and the field of a label file that holds it."""

    name: str
    field: str
    says: str


@dataclass(frozen=True, slots=True)
class Glossary:
    """All of them, by name."""

    topics: Mapping[str, str]
    names: Mapping[str, Name]
    facts: Mapping[str, Fact]
    elements: Mapping[str, Element]

    def name(self, name: str, file: str = "glossary") -> Name:
        """The entry of a value."""
        return _entry(self.names, "value", name, file)

    def fact(self, name: str, file: str = "glossary") -> Fact:
        """The entry of a fact."""
        return _entry(self.facts, "fact", name, file)

    def element(self, name: str, file: str = "glossary") -> Element:
        """The entry of an element of the label."""
        return _entry(self.elements, "element", name, file)

    def topic(self, name: str, file: str = "glossary") -> str:
        """What a topic is about."""
        return _entry(self.topics, "topic", name, file)


@lru_cache(maxsize=1)
def glossary() -> Glossary:
    """The glossary that ships with labelkit, read once."""
    read = read_toml(RULES / "glossary.toml")
    return Glossary(
        topics=read["topics"],
        names={name: _name(name, topic, entry) for topic, name, entry in _entries(read["values"])},
        facts={name: _fact(name, entry) for name, entry in read["facts"].items()},
        elements={name: Element(name, entry["field"], entry["says"]) for name, entry in read["elements"].items()},
    )


def near(word: str, known: Iterable[str], most: int = 3) -> tuple[str, ...]:
    """Words spelt much like this one.

    >>> near("panel_aera", ["panel_area", "declared"])
    ('panel_area',)
    """
    return tuple(difflib.get_close_matches(word, list(known), n=most, cutoff=0.6))


def _entries(values: Mapping[str, Mapping[str, Any]]) -> Iterator[tuple[str, str, Any]]:
    for topic, names in values.items():
        for name, entry in names.items():
            yield topic, name, entry


def _name(name: str, topic: str, entry: Mapping[str, Any]) -> Name:
    return Name(
        name=name,
        topic=topic,
        kind=entry["kind"],
        id=entry["id"],
        words=tuple(entry.get("words", ())),
        columns=entry.get("columns", {}),
        stricter=entry.get("stricter"),
        says=entry.get("says", ""),
    )


def _fact(name: str, entry: Mapping[str, Any]) -> Fact:
    return Fact(name, entry["kind"], entry["asks"], tuple(entry.get("words", ())), entry.get("assumed"))


def _entry(known: Mapping[str, T], kind: str, name: str, file: str) -> T:
    if name not in known:
        raise PackNameUnknown(file, kind, name, near(name, known))
    return known[name]
