"""One label for its markets on a day, read once: what its maker wrote, and what the print adds in the law's own words.

The check, the words, the layout, the nutrition panel and the page are all given the same :class:`LabelCase`, so that what
one of them says of a label is what the others mean.
"""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from typing import Any

from labelkit.errors import Refused
from labelkit.labels.content import clean
from labelkit.measures.locales import language_names, locale_of
from labelkit.rules.blocks import Statement
from labelkit.rules.checking import Checked, judge
from labelkit.rules.checking.case import INFANTS, Added, Case, cautions, elements_of, read_cases
from labelkit.rules.checking.presence import as_words, has_words
from labelkit.rules.checking.required import demanded
from labelkit.rules.checking.said import pattern_of
from labelkit.rules.figures import origin
from labelkit.rules.label import Label
from labelkit.rules.market import Market
from labelkit.shipped import template_text

LANGUAGES = "languages the label must speak"
#: What becomes of the label where words of a role found no place on any label of a print.
_UNSAID: dict[str, dict[str, Any]] = {
    "lot": {"lot": ""},
    "best_before": {"best_before": None},
    "grade": {"grade": ""},
    "ingredients": {"ingredients": ()},
}


@dataclass(frozen=True)
class LabelCase:
    """A label with its markets, facts and words; ``cases`` holds it in each market, the main one first.

    ``statements`` are the forms the net quantity may print in, the best first; ``prescribed`` the sentences surely due.
    Of the maker's lines ``cautions`` warn of infants, ``due`` say something else a law asks for, and ``free`` the rest.
    """

    label: Label
    cases: tuple[Case, ...]
    langs: tuple[str, ...]
    prescribed: tuple[Statement, ...]
    statements: tuple[str, ...]
    free: tuple[str, ...]
    due: tuple[str, ...]
    cautions: tuple[str, ...]
    added: Added

    @property
    def markets(self) -> tuple[Market, ...]:
        """The markets, the main one first; one that is part of another's law is left out."""
        return tuple(case.market for case in self.cases)

    @cached_property
    def checked(self) -> Checked:
        """What the rules find on the label as it prints."""
        return judge(self.cases)

    @property
    def warnings(self) -> tuple[str, ...]:
        """The texts that warn of infants: one of them must stand in every print of every jar."""
        said = (*self.added.sentences, *self.added.caution, *self.cautions)
        return tuple(clean(text) for text in said if INFANTS in elements_of(text, self.cases[0].market))

    def with_fact(self, name: str, value: Any) -> LabelCase:
        """The same with one fact more, such as a panel that is printed."""
        return replace(self, cases=tuple(replace(case, facts={**case.facts, name: value}) for case in self.cases))

    def unsaid(self, missing: Iterable[tuple[str, str]]) -> LabelCase:
        """The case of a print on whose labels these words (role and text) do not stand."""
        missing = tuple(missing)
        if not missing:
            return self
        roles = {role for role, _ in missing}
        changes: dict[str, Any] = {}
        for role in roles:
            changes |= _UNSAID.get(role, {})
        if roles & {"maker", "address"}:
            kept = {"maker": "name"} if "maker" not in roles else {}
            changes["maker"] = {key: text for key, text in self.label.maker.items() if key in kept.values()}
        gone = {text for _, text in missing}
        changes |= {"volume": None} if self.label.volume and self.label.volume.text in gone else {}
        changes |= {"lines": tuple(line for line in self.label.lines if line not in gone)}
        label = replace(self.label, **changes)
        added = self.added.without(gone)
        return replace(
            self, label=label, added=added, cases=tuple(one.printing(added) for one in read_cases(label, self.markets))
        )


def label_case(label: Label, markets: Iterable[Market], locale: str) -> LabelCase:
    """Read a label for its markets and settle what its print adds.

    >>> from datetime import date
    >>> from labelkit.measures import Declared
    >>> from labelkit.rules import market
    >>> case = label_case(Label(("us",), "Clover Honey", Declared.read("1 lb", "en_US")), [market("us", date(2026, 11, 25))], "en_US")
    >>> case.added.net_statement, case.added.caution
    ('Net Wt 16 oz (1 lb) 453 g', ('Do not feed honey to infants under one year of age.',))
    """
    own = read_cases(label, markets)
    prescribed = tuple(law for case in own for law in case.prescribed())
    sentences = tuple(dict.fromkeys(text for law in prescribed for text in _sentences(law, label.lines)))
    langs = _languages([case.market for case in own], locale)
    statements = _statements(label, own)
    warnings = tuple(line for line in label.lines if any(cautions(line, case) for case in own))
    lawful = [pattern_of(words) for law in prescribed for words in (*law.text.values(), *law.accept)]
    rest = tuple(line for line in label.lines if not _is(line, lawful))
    warnings = tuple(line for line in rest if line in warnings)
    due = tuple(line for line in rest if line not in warnings and any(_asked_for(line, case) for case in own))
    free = tuple(line for line in rest if line not in (*warnings, *due))
    added = Added(
        sentences,
        _caution(own, (*warnings, *sentences), langs),
        _origin(own[0]),
        None if label.net_statement or not statements else statements[0],
    )
    cases = tuple(case.printing(added) for case in own)
    return LabelCase(label, cases, langs, prescribed, statements, free, due, warnings, added)


def cases_printed(label: Label, markets: Iterable[Market], locale: str) -> tuple[Case, ...]:
    """The label in each market as labelkit prints it: what a check of a label file is about."""
    return label_case(label, markets, locale).cases


def heading(langs: Sequence[str]) -> str:
    """What stands over the list of ingredients, in every language of the label."""
    words = _words()["ingredients"]
    return " / ".join(dict.fromkeys(words.get(lang, words["en"]) for lang in langs))


def harvest_words(year: str, langs: Sequence[str]) -> list[str]:
    """The year of the harvest in each language of the label.

    >>> harvest_words("2026", ["en", "de"])
    ['Harvest 2026', 'Ernte 2026']
    """
    words = _words()["harvest"]
    return [f"{words.get(lang, words['en'])} {year}" for lang in langs]


def _is(line: str, patterns: Iterable[re.Pattern[str]]) -> bool:
    return any(pattern.fullmatch(line.strip()) for pattern in patterns)


def _asked_for(line: str, case: Case) -> bool:
    """Whether a line says an element that the law wants on this label, such as the day of packing."""
    laws = [law for law, _ in demanded(case.market, case.facts)]
    wanted = {as_words(law.element) for law in laws} & case.said.reading.elements
    said = wanted and not wanted.isdisjoint(elements_of(line, case.market))
    return bool(said) or any(
        has_words(law.or_words, replace(case.label, name="", grade="", lines=(line,))) for law in laws
    )


def _sentences(law: Statement, lines: Sequence[str]) -> tuple[str, ...]:
    """A prescribed sentence in every language it is held in, or the other wording of it that the maker chose."""
    accepted = (words for words in law.accept if any(_is(line, [pattern_of(words)]) for line in lines))
    chosen = next(accepted, None)
    return (chosen,) if chosen else tuple(law.text.values())


def _languages(markets: Sequence[Market], locale: str) -> tuple[str, ...]:
    """The languages the label speaks: all that a market requires, else the first of each market."""
    return tuple(dict.fromkeys(lang for market in markets for lang in _spoken(market, locale)))


def named_languages(market: Market) -> list[str]:
    """The languages a market's law names, by their codes (BCP 47); none where it leaves that to a country."""
    held = market.value(LANGUAGES).value if market.holds(LANGUAGES) else ()
    return [lang for lang in held if lang in language_names()]


def _spoken(market: Market, locale: str) -> Sequence[str]:
    """What one market's law names; the reader's own language where it leaves that to a country nobody named."""
    if not market.holds(LANGUAGES):
        return market.head.languages[:1]
    return named_languages(market) or (
        market.head.languages[:1] if len(market.packs) > 1 else (locale_of(locale).language,)
    )


def _statements(label: Label, own: Sequence[Case]) -> tuple[str, ...]:
    """The net quantity as it may print: the maker's own wording, or the forms every market here accepts."""
    if label.net_statement:
        return (label.net_statement,)
    first, *others = (case.forms for case in own)
    return tuple(form for form in first if all(form in accepted for accepted in others)) or first


def _caution(own: Sequence[Case], said: Sequence[str], langs: Sequence[str]) -> tuple[str, ...]:
    """The caution on infants in every language of the label; nothing where one of its lines says it in each market."""
    if all(any(INFANTS in elements_of(text, case.market) for text in said) for case in own):
        return ()
    words = _words()["infants"]
    return tuple(words[lang] for lang in langs if lang in words) or (words["en"],)


def _origin(case: Case) -> str:
    """The statement of origin in the words of the main market; empty where it has none for these countries."""
    if not case.label.origin:
        return ""
    try:
        shares = [(share.country, share.percent) for share in case.label.origin]
        return origin.statement(shares, case.market, case.facts.get("declared")).statement
    except Refused:
        return ""


def _words() -> dict[str, dict[str, str]]:
    return tomllib.loads(template_text("labels/cautions.toml"))
