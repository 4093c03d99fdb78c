"""What the markets say about selling itself: duties, reliefs and questions of a topic, in words with their sources."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Any

from labelkit.measures.rounding import plain
from labelkit.rules.findings import law_line, with_caution
from labelkit.rules.market import Market


def duties(markets: Iterable[Market], facts: Mapping[str, Any], topic: str, *, asking: bool = True) -> tuple[str, ...]:
    """What the law of these markets wants or spares in a topic for these facts.

    A fact not given becomes a question, unless only what surely holds is wanted.
    """
    said: dict[str, None] = {}
    for market in markets:
        for law in (*market.requires(topic), *market.exemptions(topic), *market.duties(topic)):
            answer = law.answer(facts)
            if answer.holds:
                said[f"{market.name}: {law.says} {with_caution(law.do)} ({law_line(law.cite, law.sure)})"] = None
            elif answer.holds is None and asking:
                said.update((f"{market.name}: {fact.asks}", None) for fact in answer.missing)
    return tuple(said)


def kept_for(markets: Iterable[Market]) -> tuple[str, ...]:
    """How long each market wants records kept, where that was read."""
    name = "years records are kept"
    held = [(market, market.value(name)) for market in markets if market.holds(name)]
    return tuple(
        f"{market.name}: keep it {plain(value.value)} years ({law_line(value.cite, value.sure)})."
        for market, value in held
    )
