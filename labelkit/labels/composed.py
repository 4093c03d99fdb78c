"""From a label file and the law of its markets to everything the label will say.

The maker writes what is theirs (name, weight, lines, address); the law adds what it wants in its own words: the lawful
form of the net quantity, the best-before statement, the origin, the sentences a state prescribes to the letter, and how
large each must stand. Where the law is silent on infants, the caution the health authorities give is printed all the
same.
"""

from __future__ import annotations

import unicodedata
from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date

from labelkit.errors.labels import LabelLanguageUnsaid
from labelkit.labels.case import LabelCase, harvest_words, heading, named_languages
from labelkit.labels.content import TYPE_SIZE, Height, LabelContent, Words, clean, front_label_content
from labelkit.labels.legal_heights import LegalHeights, legal_heights
from labelkit.labels.nutrition.content import DISPLAYS, with_nutrition
from labelkit.measures import Length
from labelkit.rules.address import address_lines
from labelkit.rules.blocks import Statement
from labelkit.rules.checking.facts import panel_of
from labelkit.rules.checking.required import demanded
from labelkit.rules.figures import date_mark, net_weight, origin
from labelkit.rules.kinds import read as pack_value
from labelkit.rules.label import EACH, STORY

#: The scripts labelkit prints beside Latin, by the names of their letters, and the languages written in them.
SCRIPTS = {"GREEK": {"el"}, "CYRILLIC": {"bg", "uk", "sr", "mk", "be", "ru"}}
#: What may be left out where there is no room: the maker's own words, which no law asks for.
FREE = ("line", "storage", "story")


@dataclass(frozen=True)
class Composed:
    """A label with all its words, as the placer takes it, and the case they were taken from."""

    case: LabelCase
    content: LabelContent
    asked: LegalHeights


def compose(
    case: LabelCase,
    *,
    bottled: date | None = None,
    kind: str = "front",
    link: str | None = None,
    number: str | None = None,
) -> Composed:
    """Join what the maker wrote with what the markets ask: everything one label of the jar may say.

    ``bottled`` is the day of bottling, where a shortened date hangs on it. Raises what the figures refuse: a weight
    that cannot be declared, a date before the bottling.

    >>> from labelkit.labels.case import label_case
    >>> from labelkit.measures import Declared
    >>> from labelkit.rules import market
    >>> from labelkit.rules.label import Label
    >>> label = Label(("us",), "Clover Honey", Declared.read("1 lb", "en_US"), maker={"name": "Pretend Hollow Honey"})
    >>> made = compose(label_case(label, [market("us", date(2026, 11, 25))], "en_US"))
    >>> made.content.of("net").text, made.content.of("caution").text
    ('Net Wt 16 oz (1 lb) 453 g', 'Do not feed honey to infants under one year of age.')
    """
    label, markets, added = case.label, case.markets, case.added
    _must_speak(case)
    main, grams = markets[0], label.weight.grams
    statements = case.statements or net_weight.net_quantity(label.weight, main).statements
    shares = [(share.country, share.percent) for share in label.origin]
    rules = legal_heights(markets, panel_of(label), grams)
    content = front_label_content(
        name=label.name,
        statement=statements[0],
        other_statements=statements[1:],
        maker=label.maker.get("name", ""),
        address=address_lines(label.maker, "phone", "email", "registration", market=label.markets[0]),
        lot=label.lot or None,
        best_before=date_mark.of(label.best_before, main, bottled).statement if label.best_before else "",
        caution=added.caution or case.cautions,
        origin=added.origin or (origin.statement(shares, main, grams).statement if shares else ""),
        grade=label.grade,
        lines=case.free,
        wording=(*added.sentences, *case.due, *([label.volume.text] if label.volume else ())),
        story=_story(case),
        ingredients=f"{heading(case.langs)}: {', '.join(label.ingredients)}" if _lists(case) else "",
        net_height=rules.net,
        text_height=rules.text,
        net_rule=rules.net_rule,
        langs=case.langs,
        link=link,
        number=number,
        diameter=label.panel.get("diameter"),
        market=",".join(market.code for market in markets),
        kind=kind,
    )
    words = (_named(words, label.maker.get("name", "")) for words in content.words)
    year = label.story.get("harvest", "")
    content = replace(content, harvest=year if year.isdigit() else "")
    content = replace(content, words=tuple(_due(_as_large(one, case.prescribed)) for one in words))
    # A wrap bears the panel where the maker gave values for one and a market of the label has one.
    if kind == "nutrition" or (kind == "wrap" and label.nutrition and any(one.holds(DISPLAYS) for one in markets)):
        content = with_nutrition(content, case)
        case = case.with_fact("nutrition_panel", True)
    return Composed(case, content, rules)


def _must_speak(case: LabelCase) -> None:
    """Refuse a label in a script it would not speak itself, where the law leaves the language to a country nobody named."""
    if all(named_languages(market) or len(market.packs) > 1 for market in case.markets):
        return
    for text in (case.label.name, *case.label.lines):
        for script, languages in SCRIPTS.items():
            if any(unicodedata.name(sign, "").startswith(script) for sign in text) and languages.isdisjoint(case.langs):
                raise LabelLanguageUnsaid(text, script.capitalize(), case.markets[0].code)


def _story(case: LabelCase) -> tuple[str, ...]:
    """What the label tells of its honey, in every language; a year that hangs on a lot is left out where no lot is known."""
    told = dict(case.label.story)
    year = told.pop("harvest", "")
    rest = [told[name] for name in STORY if told.get(name)]
    years = harvest_words(year, case.langs) if year not in ("", EACH) else [""] * len(case.langs)
    return tuple(" · ".join(filter(None, (one, *rest))) for one in years)


def _lists(case: LabelCase) -> bool:
    """Whether the ingredients are printed: where there are several, and where a market wants the list of plain honey."""
    if case.label.kind not in ("honey", "comb"):
        return True
    laws = (law for one in case.cases for law, answer in demanded(one.market, one.facts) if answer.holds)
    return bool(case.label.ingredients) and any(law.element == "ingredients" for law in laws)


def _named(words: Words, maker: str) -> Words:
    """An address with its maker's name before it, since the name of the honey stands between the two on most labels; by
    itself where room is short."""
    if words.role != "address" or not maker:
        return words
    return replace(words, text=f"{clean(maker, 'the maker')} · {words.text}", instead=(words.text,))


def _due(words: Words) -> Words:
    """What the check was told the label says must stand on one of its labels: all but the maker's free lines."""
    return words if words.role in FREE else replace(words, must=True)


def _as_large(words: Words, prescribed: Sequence[Statement]) -> Words:
    """A prescribed sentence in the size its own law asks, where that is more than other words need."""
    law = next((law for law in prescribed if law.letters and words.text in map(clean, law.text.values())), None)
    if words.role != "wording" or law is None:
        return words
    measured = TYPE_SIZE if (law.letters or "").endswith("pt") else words.height.measured if words.height else "letters"
    own = Height(
        Length.of_mm(pack_value("length", law.letters)),
        measured,
        f"{law.cite.title} {law.cite.clause}".strip(),
        law.sure,
    )
    return replace(words, height=own)
