"""The packs told to a reader: what is held where, since when, how sure, and where two places differ."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from typing import Any

from labelkit.measures.rounding import plain
from labelkit.rules import shelf
from labelkit.rules.blocks import CERTAINTIES, SEEN, Law, Rule, Value, WordList
from labelkit.rules.market import Market, market


@dataclass(frozen=True, slots=True)
class Summary:
    """One market in numbers: its own blocks by certainty, and the areas nobody has read."""

    code: str
    name: str
    blocks: int
    by_certainty: dict[str, int]
    not_read: tuple[str, ...]


def summaries(day: date) -> tuple[Summary, ...]:
    """Every market, each with what its own pack holds (its parents' is theirs)."""
    return tuple(_summary(market(head.id, day)) for head in shelf.markets())


def _summary(here: Market) -> Summary:
    counted = Counter(law.sure for law in own(here))
    sure = {word: counted[word] for word in CERTAINTIES}
    areas = tuple(entry.area for entry in here.head.not_read)
    return Summary(here.code, here.name, sum(counted.values()), sure, areas)


def own(here: Market) -> Iterator[Law]:
    """Every block of the market's own pack, on any day; lists of words are no law and are left out."""
    for topic in shelf.topics(here.code, here.shelf):
        yield from (law for law in shelf.laws(here.code, topic, here.shelf) if not isinstance(law, WordList))


def held(here: Market, about: str = "") -> tuple[Law, ...]:
    """Every block in force here and today, parents' included, whose name, topic or text speaks of ``about``."""
    found = here.laws(Law)
    return tuple(law for law in found if not isinstance(law, WordList) and speaks_of(law, about))


def speaks_of(law: Law, about: str) -> bool:
    """Whether all words of ``about`` occur in the block's name, topic, citation or text."""
    text = " ".join((law.label, law.topic.replace("_", " "), str(law.cite), shown(law))).casefold()
    return all(word in text for word in about.casefold().split())


def doubtful(here: Market) -> tuple[Law, ...]:
    """The blocks of the market's own pack that were not read at the source, the least sure first."""
    unsure = [law for law in own(here) if law.sure != SEEN]
    return tuple(sorted(unsure, key=lambda law: -CERTAINTIES.index(law.sure)))


def side_by_side(one: Market, other: Market, about: str = "") -> tuple[tuple[str, str, str], ...]:
    """Every value either market holds: its name, and what each has; conditions are told, not asked."""
    left, right = _values(one, about), _values(other, about)
    return tuple((name, left.get(name, "–"), right.get(name, "–")) for name in {**left, **right})


def _values(here: Market, about: str) -> dict[str, str]:
    told: dict[str, list[str]] = {}
    above: dict[str, str] = {}
    for law in here.laws(Value):
        # A child's values stand instead of its parents' of the same name.
        if above.setdefault(law.name, law.pack) == law.pack and speaks_of(law, about):
            told.setdefault(law.name, []).append(f"{shown(law)} ({law.when})" if law.when.sets else shown(law))
    return {name: "; ".join(parts) for name, parts in told.items()}


def shown(law: Law) -> str:
    """What a block says, on one line.

    >>> from datetime import date
    >>> shown(market("us", date(2026, 11, 25)).value("denominators of a common fraction"))
    '2, 4, 8, 16, 32'
    """
    if isinstance(law, Value):
        return _spelt(law.raw)
    if isinstance(law, Rule):
        return law.says
    return getattr(law, "because", "")


def days(law: Law) -> str:
    """From when to when a block holds."""
    least = "at least " if law.since_is == "at least" else ""
    return f"since {least}{law.since}" + (f" until {law.until}" if law.until else "")


def _spelt(raw: Any) -> str:
    if isinstance(raw, bool):
        return "yes" if raw else "no"
    if isinstance(raw, dict):
        return " ".join(f"{key} {_spelt(value)}" for key, value in raw.items())
    if isinstance(raw, list):
        return ("; " if isinstance(raw[0], dict) else ", ").join(_spelt(item) for item in raw)
    return plain(raw) if isinstance(raw, Decimal) else str(raw)
