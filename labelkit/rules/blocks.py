"""What a pack can say: the kinds of block, the keys each may and must have, and the records they become.

Every block is law with a beginning, perhaps an end, a citation and a certainty. Nothing here knows any jurisdiction.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from datetime import date
from functools import cached_property
from types import MappingProxyType
from typing import Any, ClassVar

from labelkit.rules.conditions import ALWAYS, NO, YES, Answer, When
from labelkit.rules.glossary import Name, glossary
from labelkit.rules.kinds import read
from labelkit.rules.sources import Source

SEEN, SECOND_HAND, MEMORY = "seen", "second-hand", "memory"
CERTAINTIES = (SEEN, SECOND_HAND, MEMORY)
LEVELS = ("stop", "ask", "note")


def weakest(certainties: Iterable[str]) -> str:
    """The certainty of a figure that rests on several texts: that of the one known least well.

    >>> weakest(["seen", "memory", "second-hand"]), weakest(["seen", "seen"]), weakest([])
    ('memory', 'seen', 'seen')
    """
    return max(certainties, key=CERTAINTIES.index, default=SEEN)


MOST_QUOTED = 25  # words of a quotation


@dataclass(frozen=True, slots=True)
class Cite:
    """Where a rule is written, and the day we last read it there (``None``: never read, from memory)."""

    title: str
    clause: str
    read_on: date | None = None
    where: str = ""  # the copy that was read, when it was not the official one
    source: Source | None = None
    quote: str = ""  # the words of the text itself, at most ``MOST_QUOTED``
    no_quote: str = ""  # why there is none
    read_in: str = ""  # the kind of text that was read: one of labelkit.rules.sources.READ_IN, or not recorded
    recheck_by: date | None = None  # the day by which it is to be read again

    @property
    def url(self) -> str:
        """The official address of the act; empty when none is held."""
        return self.source.url if self.source else ""

    def __str__(self) -> str:
        between = " " if self.clause.startswith("(") else ", "
        return f"{self.title}{between}{self.clause}" if self.clause else self.title


@dataclass(frozen=True, slots=True)
class Watch:
    """A bill or draft that may change a block: what it is called, the day it was last looked at, its expected first day."""

    what: str
    day: date
    expected: date | None = None


@dataclass(frozen=True, slots=True)
class SellThrough:
    """What becomes of jars labelled before a change: they may be sold until ``until``.

    ``until`` is a day (the last one), ``"stocks run out"``, or ``"not at all"``.
    """

    until: date | str
    says: str


@dataclass(frozen=True, slots=True)
class Reviewer:
    """Who checked a block against the law, and on which day."""

    by: str
    on: date


SOLD_UNTIL = ("stocks run out", "not at all")


@dataclass(frozen=True, kw_only=True, eq=False)
class Law:
    """What every block carries."""

    kind: ClassVar[str] = ""
    pack: str
    topic: str
    file: str
    since: date
    until: date | None = None
    since_is: str = "took effect"  # or "at least": the oldest day we can vouch for
    cite: Cite
    sure: str
    when: When = ALWAYS
    unless: When | None = None
    note: str = ""
    watch: tuple[Watch, ...] = ()
    sell_through: SellThrough | None = None  # for jars labelled before ``since``
    reviewed: Reviewer | None = None

    def in_force(self, day: date) -> bool:
        """Whether it holds on this day, conditions aside."""
        return self.since <= day and (self.until is None or day < self.until)

    def answer(self, facts: Mapping[str, Any]) -> Answer:
        """Whether its conditions hold for these facts; see :class:`~labelkit.rules.conditions.Answer`."""
        when = self.when.answer(facts)
        if self.unless is None or when.holds is False:
            return when
        unless = self.unless.answer(facts)
        if unless.holds:
            return NO
        missing = {fact.name: fact for answer in (when, unless) for fact in answer.missing}
        return Answer(None, tuple(missing.values())) if missing else YES

    @property
    def label(self) -> str:
        """What messages call it, and what a child switches it off by."""
        return getattr(self, "name", None) or getattr(self, "rule", None) or self.topic


@dataclass(frozen=True, kw_only=True, eq=False)
class Value(Law):
    """One legal value: a height, a rate, a table, a form of words."""

    kind: ClassVar[str] = "value"
    name: str
    raw: Any
    against_parent: str | None = None
    because: str = ""

    @property
    def entry(self) -> Name:
        """What the glossary says about it."""
        return glossary().name(self.name)

    @cached_property
    def value(self) -> Any:
        """The value as its kind reads it; see :mod:`labelkit.rules.kinds`."""
        return read(self.entry.kind, self.raw, self.entry.columns)

    @property
    def rule(self) -> str:
        """The dotted id a finding about it carries, for example ``us.letter_height.net_quantity``."""
        return f"{self.pack}.{self.topic}.{self.entry.id}"


@dataclass(frozen=True, kw_only=True, eq=False)
class Rule(Law):
    """A block that can become a finding: it has an id, a level, and says what is the matter and what to do."""

    rule: str
    level: str
    says: str
    do: str


@dataclass(frozen=True, kw_only=True, eq=False)
class Require(Rule):
    """An element that must stand on the label."""

    kind: ClassVar[str] = "require"
    element: str
    place: str = "label"
    beside: str | None = None  # the element it must stand next to
    or_words: tuple[str, ...] = ()  # words that serve instead of the element
    letters: str | None = None  # smallest letters: "10 pt" (type size) or "3 mm" (height of a letter)


@dataclass(frozen=True, kw_only=True, eq=False)
class Statement(Rule):
    """Exact words, VERBATIM by language, that must stand on the label, on a sign, or both."""

    kind: ClassVar[str] = "statement"
    text: Mapping[str, str]
    accept: tuple[str, ...] = ()  # other wordings the same law accepts
    exact: bool = True  # False: the law asks for words "substantially similar"
    place: str = "label"
    beside: str | None = None
    letters: str | None = None
    fonts: tuple[str, ...] = ()
    contrast: bool = False
    capitals: bool = False


@dataclass(frozen=True, kw_only=True, eq=False)
class Wording(Rule):
    """Words that raise a finding when they stand anywhere on the label or in free text."""

    kind: ClassVar[str] = "wording"
    language: str
    words: tuple[str, ...]
    near: tuple[str, ...] = ()  # only when one of these stands in the same sentence
    shielded_by: tuple[str, ...] = ()  # not when the hit is part of one of these
    negated: str = "clears"  # a negation before it: "clears" the hit, or "keeps" it
    means: str = ""  # a fact, yes or no, that these words make true for every other rule


@dataclass(frozen=True, kw_only=True, eq=False)
class WordList(Law):
    """A list of words that wordings refer to as ``{name}``."""

    kind: ClassVar[str] = "word_list"
    name: str
    language: str
    words: tuple[str, ...]


@dataclass(frozen=True, kw_only=True, eq=False)
class Exempt(Rule):
    """An exemption: what it frees from, for whom, up to which caps, and what it obliges to instead."""

    kind: ClassVar[str] = "exempt"
    frees_from: tuple[str, ...]
    owes: tuple[str, ...] = ()  # rules (statements, elements) owed when the exemption is used
    lost_by: When | None = None  # what voids it
    notice: str = ""
    counts: str = "sold"  # one of COUNTS: what of the year its caps are of, in the law's own word


@dataclass(frozen=True, kw_only=True, eq=False)
class Duty(Rule):
    """Something the law wants that no label can show (register, file, keep a record), or a question for an office.

    Where its conditions hold it is a finding at its level: ``ask`` when somebody has to be asked, ``note`` otherwise.
    """

    kind: ClassVar[str] = "duty"


@dataclass(frozen=True, kw_only=True, eq=False)
class SwitchOff(Law):
    """A rule or value of a parent that does not hold here, and why."""

    kind: ClassVar[str] = "switch_off"
    what: str
    because: str


@dataclass(frozen=True, slots=True)
class NotRead:
    """An area of law nobody has read for this market: it yields a question, never silence."""

    pack: str
    area: str
    why: str
    do: str = ""

    @property
    def rule(self) -> str:
        """The dotted id of the question."""
        return f"{self.pack}.not_read.{self.area}"


@dataclass(frozen=True, slots=True)
class Head:
    """What ``pack.toml`` says about a market."""

    id: str
    name: str
    called: tuple[str, ...]
    parents: tuple[str, ...]
    languages: tuple[str, ...]
    currency: str
    office: str
    market: bool = True  # False: only a parent of others, not a place where one sells
    note: str = ""
    not_read: tuple[NotRead, ...] = ()


@dataclass(frozen=True, slots=True)
class Shape:
    """The keys of one kind of block: which must be there, which may, and the kind of each."""

    record: type
    must: Mapping[str, str]
    may: Mapping[str, str] = field(default_factory=lambda: MappingProxyType({}))


_RULE = {"rule": "text", "level": "level", "says": "text", "do": "text"}

SHAPES: Mapping[str, Shape] = MappingProxyType(
    {
        "value": Shape(Value, {"name": "text", "value": "any"}, {"against_parent": "stance", "because": "text"}),
        "require": Shape(
            Require,
            {**_RULE, "element": "element"},
            {"place": "place", "beside": "element", "or_words": "texts", "letters": "letters"},
        ),
        "statement": Shape(
            Statement,
            {**_RULE, "text": "by language"},
            {
                "accept": "texts",
                "exact": "flag",
                "place": "place",
                "beside": "element",
                "letters": "letters",
                "fonts": "texts",
                "contrast": "flag",
                "capitals": "flag",
            },
        ),
        "wording": Shape(
            Wording,
            {**_RULE, "language": "text", "words": "texts"},
            {"near": "texts", "shielded_by": "texts", "negated": "negated", "means": "flag fact"},
        ),
        "word_list": Shape(WordList, {"name": "text", "language": "text", "words": "texts"}),
        "exempt": Shape(
            Exempt,
            {**_RULE, "frees_from": "texts"},
            {"owes": "texts", "lost_by": "when", "notice": "text", "counts": "counts"},
        ),
        "duty": Shape(Duty, _RULE),
        "switch_off": Shape(SwitchOff, {"what": "text", "because": "text"}),
    }
)

PLACES = ("label", "main panel", "information panel", "beside", "sign", "label and sign", "label or sign")
COUNTS = ("sold", "packed", "produced", "packed or sold")
STANCES = ("tightens", "replaces", "adds")
