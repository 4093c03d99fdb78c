"""The words of a market's law, searched for in a text: which rule, where, and whether it is really said.

A hit is let go when a phrase that makes it innocent lies over it ("sweet treat"), when the words it needs near are not in
its sentence, or when a negation stands directly before it. Directly means: between the negation and the hit there are
only words that carry a negation on, such as articles and auxiliary verbs, so that in "not only good on toast, it cures a
cold" nothing is denied.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field
from functools import lru_cache

from labelkit.errors.rules import NoRuleInForce, PackNameUnknown, PackValueWrong
from labelkit.rules import shelf
from labelkit.rules.blocks import Law, Wording, WordList
from labelkit.rules.glossary import near
from labelkit.rules.market import Market
from labelkit.rules.wording.lexicon import CARRIES, NEGATIONS, NO_NEGATIONS, lexicon
from labelkit.rules.wording.matcher import Phrases
from labelkit.rules.wording.phrases import PhraseUnclear
from labelkit.rules.wording.tokens import Text

Places = list[tuple[int, int]]
Lists = Callable[[str], tuple[str, ...]]
# Lists of a vocabulary whose names begin so are the words by which an element of a label is known.
STANDS = "stands_"
_FURTHEST_NEGATION = 8
_TURNS = re.compile(r"[,:]|\s[-–—]\s|[–—]")


@dataclass(frozen=True, slots=True)
class Hit:
    """A rule and the words it is about: from word ``begin`` up to, not including, word ``end``."""

    law: Wording
    begin: int
    end: int

    def overlaps(self, other: Hit) -> bool:
        """Whether the two share a word."""
        return self.begin < other.end and other.begin < self.end


@dataclass(frozen=True, slots=True)
class Reading:
    """What a text says: the hits of the law, and which elements of a label stand in it (see ``stands_…`` lists).

    ``innocent`` holds, by rule, the places where a phrase stands that makes the words of that rule innocent.
    """

    hits: tuple[Hit, ...]
    elements: frozenset[str]
    innocent: Mapping[str, Places] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class _Groups:
    """The numbers of the phrase groups of one wording."""

    law: Wording
    plain: int
    firm: int
    near: int
    shields: int


class Reader:
    """The wordings of one market in one language, compiled once and used for every text."""

    def __init__(self, laws: Iterable[Wording], lists: Lists, elements: Iterable[str] = ()) -> None:
        self.phrases = Phrases(lists)
        self.negations, self.no_negations, self.carries = (
            self.phrases.add(lists(name)) for name in (NEGATIONS, NO_NEGATIONS, CARRIES)
        )
        self.elements = {self.phrases.add(lists(name)): name.removeprefix(STANDS) for name in elements}
        self.groups = [self._groups(law) for law in laws]

    def _groups(self, law: Wording) -> _Groups:
        firm = [phrase[1:].lstrip() for phrase in law.words if phrase.startswith("!")]
        plain = [phrase for phrase in law.words if not phrase.startswith("!")]
        if law.negated == "keeps":
            firm, plain = firm + plain, []
        try:
            return _Groups(law, *(self.phrases.add(words) for words in (plain, firm, law.near, law.shielded_by)))
        except PhraseUnclear as fault:
            raise PackValueWrong(law.file, f"[[wording]] {law.rule}", "words", str(fault), "a phrase") from None

    def read(self, text: Text) -> Reading:
        """Every hit, rule by rule, the longest where several of one rule overlap, and the elements that stand there."""
        found = self.phrases.find(text)
        denied = self._denied(text, found)
        hits = [
            Hit(groups.law, begin, end)
            for groups in self.groups
            for begin, end in _longest(_said(groups, found, denied, text))
        ]
        innocent = {
            groups.law.rule: found[groups.shields]
            for groups in self.groups
            if groups.law.shielded_by and groups.shields in found
        }
        return Reading(
            tuple(hits), frozenset(name for group, name in self.elements.items() if group in found), innocent
        )

    def _denied(self, text: Text, found: dict[int, Places]) -> set[int]:
        """The words at which something denied begins."""
        real = _without(found.get(self.negations, []), found.get(self.no_negations, []))
        carries: dict[int, int] = dict(found.get(self.carries, []))
        denied: set[int] = set()
        for begin, end in real:
            at, limit = end, text.ends[begin]
            if at < limit and _TURNS.search(text.source[text.spans[at - 1][1] : text.spans[at][0]]):
                continue  # "Do not wait: it heals": what follows the pause is said, not denied
            while at < limit and at - end <= _FURTHEST_NEGATION:
                denied.add(at)
                if at not in carries:
                    break
                denied.update(range(at, carries[at]))
                at = carries[at]
        return denied


def _said(groups: _Groups, found: dict[int, Places], denied: set[int], text: Text) -> Places:
    """Where one wording is really said."""
    plain = [(begin, end) for begin, end in found.get(groups.plain, ()) if begin not in denied]
    places = sorted([*plain, *found.get(groups.firm, ())])
    if places and groups.law.shielded_by:
        places = _without(places, found.get(groups.shields, []))
    if places and groups.law.near:
        sentences = {text.ends[begin] for begin, _ in found.get(groups.near, ())}
        places = [(begin, end) for begin, end in places if text.ends[begin] in sentences]
    return places


def _without(places: Places, shields: Places) -> Places:
    """The places no shield lies over."""
    if not shields:
        return places
    covered = {word for begin, end in shields for word in range(begin, end)}
    return [(begin, end) for begin, end in places if not covered.intersection(range(begin, end))]


def _longest(places: Places) -> Places:
    kept: Places = []
    for begin, end in sorted(places, key=lambda place: (place[0], -place[1])):
        if kept and begin < kept[-1][1]:
            if end > kept[-1][1]:
                kept[-1] = (kept[-1][0], end)
        else:
            kept.append((begin, end))
    return kept


@lru_cache(maxsize=256)
def readers(market: Market) -> tuple[Reader, ...]:
    """The readers of a market, one for each language its law has words in or that is spoken there."""
    by_language: dict[str, list[Wording]] = {language: [] for language in market.speaks or ()}
    for law in market.wordings():
        by_language.setdefault(law.language, []).append(law)
    return tuple(
        Reader(laws, _lists(market, language), (name for name in lexicon(language) if name.startswith(STANDS)))
        for language, laws in sorted(by_language.items())
    )


def refuse_lawless(market: Market, kind: type[Law], what: str) -> None:
    """Refuse a day on which the market holds no law of this kind at all, naming the first day it does."""
    if market.laws(kind):
        return
    held = (
        law
        for pack in market.packs
        for topic in shelf.topics(pack, market.shelf)
        for law in shelf.laws(pack, topic, market.shelf)
    )
    first = min((law.since for law in held if isinstance(law, kind)), default=None)
    raise NoRuleInForce(
        what, market.name, market.day.isoformat(), first.isoformat() if first else None, market.head.office
    )


def _lists(market: Market, language: str) -> Lists:
    own = {law.name: law.words for law in reversed(market.laws(WordList, "word_lists")) if law.language == language}
    shared = lexicon(language)

    def phrases(name: str) -> tuple[str, ...]:
        if name in own:
            return own[name]
        if name in shared:
            return shared[name]
        raise PackNameUnknown(f"{market.code} ({language})", "word list", name, near(name, [*own, *shared]))

    return phrases


def read(text: Text, market: Market) -> Reading:
    """Everything in a text that a market's law has something to say about.

    A word that several languages share ("Diabetiker") is innocent in all of them where one of them finds it so.
    """
    readings = [reader.read(text) for reader in readers(market)]
    innocent: dict[str, Places] = {}
    for reading in readings:
        for rule, places in reading.innocent.items():
            innocent.setdefault(rule, []).extend(places)
    return Reading(
        tuple(
            hit
            for reading in readings
            for hit in reading.hits
            if _without([(hit.begin, hit.end)], innocent.get(hit.law.rule, []))
        ),
        frozenset().union(*(reading.elements for reading in readings)),
        innocent,
    )
