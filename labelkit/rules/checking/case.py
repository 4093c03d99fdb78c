"""One label in one market, made once: its words read, its facts settled, and what is printed beside the maker's own words.

Every rule is held against a :class:`Case`; nothing that looks at one reads the label or asks for a fact again.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from contextlib import suppress
from dataclasses import dataclass, field, replace
from functools import lru_cache
from typing import Any

from labelkit.errors.rules import NoRuleInForce
from labelkit.rules.blocks import Require, Rule, Statement
from labelkit.rules.checking.facts import facts_of, told
from labelkit.rules.checking.said import Said, pattern_of, said
from labelkit.rules.figures import net_weight
from labelkit.rules.findings import Finding, finding_of, with_caution
from labelkit.rules.label import Label
from labelkit.rules.market import Market
from labelkit.rules.wording.search import read, refuse_lawless
from labelkit.rules.wording.tokens import text_of

INFANTS = "infant_caution"
#: Places of a prescribed sentence that a label can fill; a sign or a poster is no label.
ON_A_LABEL = ("label", "main panel")


@dataclass(frozen=True, slots=True)
class Added:
    """What a print says of its own accord: the sentences of the law, the caution, the origin, the net quantity's form."""

    sentences: tuple[str, ...] = ()
    caution: tuple[str, ...] = ()
    origin: str = ""
    net_statement: str | None = None

    def without(self, texts: Iterable[str]) -> Added:
        """The same for a print on which some of these texts found no place."""
        gone = frozenset(texts)
        return replace(
            self,
            sentences=tuple(text for text in self.sentences if text not in gone),
            caution=tuple(text for text in self.caution if text not in gone),
            origin="" if self.origin in gone else self.origin,
        )


NOTHING_ADDED = Added()


@dataclass(frozen=True, slots=True)
class Case:
    """One label in one market: everything a rule may look at. ``forms`` are the lawful forms of the declared weight."""

    label: Label
    market: Market
    said: Said
    facts: Mapping[str, Any]
    forms: tuple[str, ...] = ()
    added: Added = field(default=NOTHING_ADDED)

    @property
    def net_statement(self) -> str | None:
        """The net quantity as it will stand on the label: the maker's own wording, else the form that is printed."""
        return self.label.net_statement or self.added.net_statement

    def printing(self, added: Added) -> Case:
        """The same case with what the print adds to the maker's words."""
        elements = frozenset().union(*(elements_of(text, self.market) for text in (*added.sentences, *added.caution)))
        facts = dict(self.facts)
        if INFANTS in elements and "infant_warning" not in self.label.situation:
            facts["infant_warning"] = True
        if "nutrition_contact" in elements and "contact_printed" not in self.label.situation:
            facts["contact_printed"] = True
        return replace(self, added=added, facts=facts)

    def adds(self, element: str) -> tuple[str, ...]:
        """The texts of the print's own by which an element of a label is known."""
        return tuple(
            text for text in (*self.added.sentences, *self.added.caution) if element in elements_of(text, self.market)
        )

    def prescribed(self) -> Iterable[Statement]:
        """The sentences this market surely wants on this label; what depends on an open question is asked about."""
        for law in self.market.statements():
            if law.place.startswith(ON_A_LABEL) and law.answer(self.facts).holds:
                yield law

    def finding(self, law: Rule, field: str, found: str = "", **changes: Any) -> Finding:
        """A rule's finding about this label; ``do`` in ``changes`` takes the place of the rule's own advice."""
        finding = finding_of(law, self.market.code, field=field, found=found, level=changes.pop("level", None))
        return replace(finding, **{**changes, "do": with_caution(changes.get("do", law.do))})


def cautions(line: str, case: Case) -> bool:
    """Whether a line of the maker's own is a caution on infants."""
    return INFANTS in case.said.reading.elements and INFANTS in elements_of(line, case.market)


def read_cases(label: Label, markets: Iterable[Market]) -> tuple[Case, ...]:
    """The label in each market; one whose law is part of another's is read with that one.

    Refuses a day before any law on labels that a market holds.
    """
    unique = list(dict.fromkeys(markets))
    particular = [
        one for one in unique if not any(one.code in other.packs for other in unique if other.code != one.code)
    ]
    for one in particular:
        refuse_lawless(one, Require, "law on labels")
    return tuple(read_case(label, one) for one in particular)


def read_case(label: Label, market: Market) -> Case:
    """The label in one market, with nothing added to the maker's own words.

    Raises what a declared weight is refused for: :class:`~labelkit.errors.rules.TooLightToDeclare` …
    """
    known = told(label, market)
    words = said(label, market, [law for law in market.statements() if law.answer(known).holds is not False])
    forms: tuple[str, ...] = ()
    with suppress(NoRuleInForce):
        forms = net_weight.net_quantity(label.declares, market).statements if label.declares else ()
    return Case(label, market, words, facts_of(label, known, words), forms)


@lru_cache(maxsize=1024)
def elements_of(text: str, market: Market) -> frozenset[str]:
    """The elements of a label that a text of the print's own says, by the words of a market."""
    return read(text_of(text), market).elements


def is_said(text: str, sentence: str, *, exact: bool = False) -> bool:
    """Whether a sentence stands in a text, wherever its lines end."""
    return pattern_of(sentence, exact=exact).search(text) is not None
