"""Claims found in free text: the words of a market's law, read sentence by sentence.

The words stand in the packs (``[[wording]]`` blocks of the topic ``claims``), the vocabulary of each language in
``lexicon/``; here is only how they are found.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import replace
from typing import Any

from labelkit.rules.blocks import Wording
from labelkit.rules.conditions import Answer
from labelkit.rules.findings import Finding, finding_of, with_caution
from labelkit.rules.glossary import Fact
from labelkit.rules.market import Market
from labelkit.rules.wording.search import Hit, read, refuse_lawless
from labelkit.rules.wording.tokens import Text, text_of


def questions(facts: Iterable[Fact]) -> str:
    """What to answer before a rule can be told to hold, each question once."""
    return " ".join(dict.fromkeys(fact.asks for fact in facts))


def words(
    text: str, market: Market, *, facts: Mapping[str, Any] | None = None, field: str = "text"
) -> tuple[Finding, ...]:
    """What a market's law has to say about a text, the gravest first.

    Where a rule depends on a fact that is not in ``facts``, the finding is a question that names it. The same words are
    found once, however often they stand there. Refuses a day before any law on words that the market holds.

    >>> from datetime import date
    >>> from labelkit.rules import market
    >>> us = market("us", date(2026, 11, 25))
    >>> [(f.rule, f.level, f.found) for f in words("A sweet treat. It treats a cold!", us)]
    [('us.claim.disease', 'stop', 'treats a cold')]
    """
    refuse_lawless(market, Wording, "law on words")
    ready = text_of(text)
    return findings_of(ready, read(ready, market).hits, market, facts or {}, lambda begin: field)


def findings_of(
    text: Text,
    hits: Iterable[Hit],
    market: Market,
    facts: Mapping[str, Any],
    field_at: Callable[[int], str],
    ask: Callable[[Iterable[Fact]], str] = questions,
) -> tuple[Finding, ...]:
    """The findings of the hits in a text.

    ``field_at`` names the field a word (by its number) stands in; ``ask`` words the questions of missing facts.
    """
    asked = [(hit, answer) for hit in hits if (answer := hit.law.answer(facts)).holds is not False]
    open_questions = [hit for hit, answer in asked if answer.holds is None and hit.law.level != "note"]
    found: dict[tuple[str, str, str], Finding] = {}
    for hit, answer in asked:
        # A note that holds only if … is not worth saying beside the question whether it does.
        if answer.holds is None and hit.law.level == "note" and any(map(hit.overlaps, open_questions)):
            continue
        finding = _finding(hit, answer, market, text, field_at(hit.begin), ask)
        found.setdefault((finding.rule, finding.field, finding.found.casefold()), finding)
    return gravest_first(found.values())


def _finding(hit: Hit, answer: Answer, market: Market, text: Text, field: str, ask: Callable[..., str]) -> Finding:
    law = hit.law
    level = "ask" if answer.holds is None and law.level == "stop" else law.level
    finding = finding_of(law, market.code, field=field, found=text.written(hit.begin, hit.end), level=level)
    return replace(finding, do=with_caution(f"{law.do} {ask(answer.missing)}")) if answer.missing else finding


def gravest_first(findings: Iterable[Finding]) -> tuple[Finding, ...]:
    """Findings by level: stop, ask, note; within a level as they were found."""
    order = {"stop": 0, "ask": 1, "note": 2}
    return tuple(sorted(findings, key=lambda finding: order[finding.level]))
