"""From a label file and the law of its markets to everything the label will say.

The maker writes what is theirs (name, weight, lines, address); the law adds what it wants in its own words: the lawful
form of the net quantity, the best-before statement, the origin, the sentences a state prescribes to the letter, and how
large each must stand. Where the law is silent on infants, the caution the health authorities give is printed all the
same.
"""

from __future__ import annotations

import tomllib
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import date

from labelkit.labels.content import TYPE_SIZE, Height, LabelContent, Words, clean, front_label_content
from labelkit.labels.legal_heights import Asked, asked
from labelkit.labels.nutrition.content import DISPLAYS, with_nutrition
from labelkit.measures import Length
from labelkit.measures.locales import language_names, locale_of
from labelkit.rules.address import address_lines
from labelkit.rules.blocks import Statement
from labelkit.rules.checking import Checked, check
from labelkit.rules.checking.facts import facts_of, panel_of
from labelkit.rules.checking.required import demanded
from labelkit.rules.checking.said import said
from labelkit.rules.figures import date_mark, net_weight, origin
from labelkit.rules.kinds import read as pack_value
from labelkit.rules.label import Label
from labelkit.rules.market import Market
from labelkit.shipped import template_text

INFANTS = "infant_caution"
#: What may be left out where there is no room: the maker's own words, which no law asks for.
FREE = ("line", "storage")


@dataclass(frozen=True)
class Composed:
    """A label with all its words: as the placer takes it, and as the check reads it."""

    label: Label
    content: LabelContent
    asked: Asked
    checked: Checked


def compose(
    label: Label,
    markets: Sequence[Market],
    *,
    locale: str = "en_US",
    bottled: date | None = None,
    kind: str = "front",
    link: str | None = None,
    number: str | None = None,
) -> Composed:
    """Join what the maker wrote with what the markets ask, and check the whole as it will print.

    ``bottled`` is the day of bottling, where a shortened date hangs on it. Raises what the figures refuse: a weight
    that cannot be declared, a date before the bottling.

    >>> from labelkit.measures import Declared
    >>> from labelkit.rules import market
    >>> label = Label(("us",), "Clover Honey", Declared.read("1 lb", "en_US"), maker={"name": "Pretend Hollow Honey"})
    >>> made = compose(label, [market("us", date(2026, 11, 25))])
    >>> made.content.of("net").text, made.content.of("caution").text
    ('Net Wt 16 oz (1 lb) 453 g', 'Do not feed honey to infants under one year of age.')
    """
    markets = _most_particular(markets)
    main = markets[0]
    prescribed = tuple(law for market in markets for law in _prescribed(label, market))
    sentences = tuple(dict.fromkeys(text for law in prescribed for text in law.text.values()))
    langs = _languages(markets, locale)
    caution = _caution(label, sentences, markets, langs)
    grams, statements = label.weight.grams, _statements(label, markets)
    rules = asked(markets, panel_of(label), grams)
    shares = [(share.country, share.percent) for share in label.origin]
    content = front_label_content(
        name=label.name,
        statement=statements[0],
        other_statements=statements[1:],
        maker=label.maker.get("name", ""),
        address=address_lines(label.maker, "phone", "email", "registration"),
        lot=label.lot or None,
        best_before=date_mark.of(label.best_before, main, bottled).statement if label.best_before else "",
        caution=caution,
        origin=origin.statement(shares, main, grams).statement if shares else "",
        grade=label.grade,
        lines=label.lines,
        wording=(*sentences, *filter(None, [label.volume])),
        ingredients=f"{_heading(langs)}: {', '.join(label.ingredients)}" if _lists(label, markets) else "",
        net_height=rules.net,
        text_height=rules.text,
        net_rule=rules.net_rule,
        langs=langs,
        link=link,
        number=number,
        diameter=label.panel.get("diameter"),
        market=",".join(market.code for market in markets),
        kind=kind,
    )
    content = replace(content, words=tuple(_due(_as_large(words, prescribed)) for words in content.words))
    # A wrap bears the panel where the maker gave values for one and a market of the label has one.
    if kind == "nutrition" or (kind == "wrap" and label.nutrition and any(one.holds(DISPLAYS) for one in markets)):
        content = with_nutrition(content, label, markets, grams)
        label = replace(label, situation={**label.situation, "nutrition_panel": True})
    printed = replace(label, lines=(*label.lines, *sentences, *caution), net_statement=statements[0])
    return Composed(label, content, rules, check(printed, markets))


def _most_particular(markets: Iterable[Market]) -> list[Market]:
    """A market whose law is part of another's is asked through that one."""
    every = list(dict.fromkeys(markets))
    return [one for one in every if not any(one.code in other.packs for other in every if other.code != one.code)]


def _prescribed(label: Label, market: Market) -> Iterable[Statement]:
    """The sentences this market surely wants on this label; where it depends on what was not told, the check asks."""
    facts = facts_of(label, market, said(label, market))
    for law in market.statements():
        if law.place.startswith("label") and law.answer(facts).holds:
            yield law


def _lists(label: Label, markets: Sequence[Market]) -> bool:
    """Whether the ingredients are printed: where there are several, and where a market wants the list of plain honey."""
    if label.kind not in ("honey", "comb"):
        return True
    laws = (
        law
        for market in markets
        for law, answer in demanded(market, facts_of(label, market, said(label, market)))
        if answer.holds
    )
    return bool(label.ingredients) and any(law.element == "ingredients" for law in laws)


def _languages(markets: Sequence[Market], locale: str) -> tuple[str, ...]:
    """The languages the label speaks: all that a market requires, else the first of each market."""
    return tuple(dict.fromkeys(lang for market in markets for lang in _spoken(market, locale)))


def _spoken(market: Market, locale: str) -> Sequence[str]:
    """What one market's law names; the reader's own language where it leaves that to a country nobody named."""
    required = "languages the label must speak"
    if not market.holds(required):
        return market.head.languages[:1]
    named = [lang for lang in market.value(required).value if lang in language_names()]
    return named or (market.head.languages[:1] if len(market.packs) > 1 else (locale_of(locale).language,))


def _caution(
    label: Label, sentences: Sequence[str], markets: Sequence[Market], langs: Sequence[str]
) -> tuple[str, ...]:
    """The caution on infants in every language of the label; nothing where its words or a law's say it already."""
    with_law = replace(label, lines=(*label.lines, *sentences))
    if all(INFANTS in said(with_law, market).reading.elements for market in markets):
        return ()
    cautions = _words()["infants"]
    return tuple(cautions[lang] for lang in langs if lang in cautions) or (cautions["en"],)


def _heading(langs: Sequence[str]) -> str:
    """What stands over the list of ingredients, in every language of the label."""
    words = _words()["ingredients"]
    return " / ".join(dict.fromkeys(words.get(lang, words["en"]) for lang in langs))


def _words() -> dict[str, dict[str, str]]:
    return tomllib.loads(template_text("labels/cautions.toml"))


def _statements(label: Label, markets: Sequence[Market]) -> list[str]:
    """The net quantity as it may print: the maker's own wording, or the forms every market here accepts."""
    if label.net_statement:
        return [label.net_statement]
    first, *others = (net_weight.net_quantity(label.weight, market).statements for market in markets)
    shared = [form for form in first if all(form in accepted for accepted in others)]
    return shared or list(first)


def _due(words: Words) -> Words:
    """What the check was told the label says must stand on one of its labels: all but the maker's free lines."""
    return words if words.role in FREE else replace(words, must=True)


def _as_large(words: Words, prescribed: Sequence[Statement]) -> Words:
    """A prescribed sentence in the size its own law asks, where that is more than other words need."""
    law = next((law for law in prescribed if law.letters and words.text in map(clean, law.text.values())), None)
    if words.role != "wording" or law is None:
        return words
    measured = TYPE_SIZE if law.letters.endswith("pt") else words.height.measured if words.height else "letters"
    own = Height(
        Length.of_mm(pack_value("length", law.letters)),
        measured,
        f"{law.cite.title} {law.cite.clause}".strip(),
        law.sure,
    )
    return replace(words, height=own)
