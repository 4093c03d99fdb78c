"""What the packs require of a label: elements, exact sentences, and the exemptions and duties that come with a situation."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Mapping
from typing import Any

from labelkit.rules.blocks import LEVELS, Duty, Exempt, Require, Statement
from labelkit.rules.checking.case import Case, is_said
from labelkit.rules.checking.presence import as_words, has_words, stands
from labelkit.rules.checking.said import pattern_of
from labelkit.rules.conditions import NO, Answer, When
from labelkit.rules.findings import Finding
from labelkit.rules.glossary import Element, Fact, glossary
from labelkit.rules.market import Market

# Facts that are answered elsewhere in the file than in [situation].
_ANSWERED = {
    "panel_area": "[panel]",
    "longest_side": "[panel]",
    "declared": "declares",
    "kind": "kind",
    "infused": "kind",
    "ingredients": "ingredients",
    "date_shows": "best_before",
}


def questions(facts: Iterable[Fact]) -> str:
    """The questions of missing facts, each once, with the key that answers it.

    >>> questions([glossary().facts["own_hives"]])
    'Is all the honey from your own hives? (own_hives in [situation])'
    """
    unique = {fact.name: fact for fact in facts}
    return " ".join(f"{fact.asks} ({_ANSWERED.get(name, f'{name} in [situation]')})" for name, fact in unique.items())


def _is_it_there(element: Element) -> str:
    """The question whether an element stands on the label, with its key where a fact answers it."""
    fact = glossary().facts.get(element.name.replace(" ", "_"))
    return questions([fact]) if fact else f"Does the label carry {element.says}?"


def demanded(market: Market, facts: Mapping[str, Any]) -> Iterator[tuple[Require, Answer]]:
    """The elements a market wants for these facts, or may want, without those an exemption in use frees from."""
    used = [exempt for exempt in market.exemptions() if state_of(exempt, facts).holds]
    for law in market.requires():
        answer = law.answer(facts)
        if answer.holds is not False and not any(_frees(exempt, law) for exempt in used):
            yield law, answer


def required(case: Case) -> Iterator[Finding]:
    """Elements that are missing, or perhaps missing."""
    open_ = [(exempt, state_of(exempt, case.facts)) for exempt in case.market.exemptions()]
    for law, answer in demanded(case.market, case.facts):
        present = stands(law.element, case.label, case.said, case.facts)
        if present or has_words(law.or_words, case.label):
            yield from _printed_so(case, law, answer)
            continue
        printed = case.adds(as_words(law.element))
        if printed:
            yield case.finding(law, glossary().element(law.element).field, level="note", do=_added(printed))
            continue
        maybe_free = [state for exempt, state in open_ if state.holds is None and _frees(exempt, law)]
        yield _missing(case, law, answer, present, maybe_free)


def _missing(case: Case, law: Require, answer: Answer, present: bool | None, maybe_free: list[Answer]) -> Finding:
    element = glossary().element(law.element)
    missing = [fact for state in (answer, *maybe_free) for fact in state.missing]
    if answer.holds and present is False and not maybe_free:
        return case.finding(law, element.field)
    asks = questions(missing) or _is_it_there(element)
    return case.finding(law, element.field, level="ask", do=f"{law.do} {asks}")


def _printed_so(case: Case, law: Require, answer: Answer) -> Iterator[Finding]:
    """An element that is there, but whose place beside another the file cannot show."""
    if law.place == "beside" and answer.holds:
        yield case.finding(law, glossary().element(law.element).field, level="note")


def state_of(exempt: Exempt, facts: Mapping[str, Any]) -> Answer:
    """Whether an exemption is enjoyed: its conditions hold and nothing has voided it."""
    answer = exempt.answer(facts)
    if exempt.lost_by is None or answer.holds is False:
        return answer
    lost = exempt.lost_by.answer(facts)
    if lost.holds:
        return NO
    missing = tuple({fact.name: fact for state in (answer, lost) for fact in state.missing}.values())
    return Answer(None, missing) if missing else answer


def _frees(exempt: Exempt, law: Require) -> bool:
    return law.rule in exempt.frees_from or law.element in exempt.frees_from


def exemptions(case: Case) -> Iterator[Finding]:
    """Exemptions enjoyed, lost and outgrown, and those that hang on an answer not given.

    Of several that free from the same thing only the mildest are told. One that only frees from an element is asked about
    together with the element, and one nothing is known of is not brought up.
    """
    elements = {word for law in case.market.requires() for word in (law.element, law.rule)}
    asked = {
        (law.pack, law.topic) for law in case.market.duties() if law.level == "ask" and law.answer(case.facts).holds
    }
    states = [(law, law.answer(case.facts), state_of(law, case.facts)) for law in case.market.exemptions()]
    enjoyed = [law for law, _, state in states if state.holds]
    lost: list[Exempt] = []
    for law, answer, state in states:
        if state.holds:
            if not any(_milder(other, law) for other in enjoyed):
                notice = f"Notice: {law.notice.rstrip('.')}." if law.notice else ""
                yield case.finding(law, "situation", do=f"{law.do} {notice}".strip())
        elif answer.holds and law.lost_by is not None and state.holds is False:
            if any(_same_freedom(law, other) for other in lost):
                continue
            lost.append(law)
            why = f"This freedom is lost: {_reason(law.lost_by)}."
            yield case.finding(
                law,
                "situation",
                level="ask",
                says=f"{law.says} {why}",
                do=f"Take out what ends it, or meet what it frees from: {', '.join(law.frees_from)}.",
            )
        elif state.holds is None:
            if not set(law.frees_from) <= elements and _something_known(law, case):
                yield case.finding(law, "situation", level="ask", do=questions(state.missing))
        elif (law.pack, law.topic) not in asked and not any(_same_freedom(law, other) for other in enjoyed):
            yield from _beyond_the_cap(case, law)


def _reason(when: When) -> str:
    """What voided an exemption, in words: a fact that is so is named, anything else spelt with its bound."""
    tests = when.sets[0]
    return ", ".join(test.fact.name.replace("_", " ") if test.raw is True else str(test) for test in tests)


def _same_freedom(law: Exempt, other: Exempt) -> bool:
    return set(law.frees_from) == set(other.frees_from)


def _milder(other: Exempt, law: Exempt) -> bool:
    return _same_freedom(other, law) and LEVELS.index(other.level) > LEVELS.index(law.level)


def _something_known(law: Exempt, case: Case) -> bool:
    """Whether one of its conditions surely holds."""
    return any(
        test.holds(case.facts[test.fact.name])
        for tests in law.when.sets
        for test in tests
        if test.fact.name in case.facts
    )


def _beyond_the_cap(case: Case, law: Exempt) -> Iterator[Finding]:
    """An exemption that only a cap stands in the way of: the producer has outgrown it and should hear so."""
    for tests in law.when.sets:
        failed = [
            test
            for test in tests
            if case.facts.get(test.fact.name) is not None and not test.holds(case.facts[test.fact.name])
        ]
        known = [test for test in tests if case.facts.get(test.fact.name) is not None]
        outgrown = failed and all(test.relation in ("to", "under") for test in failed)
        if outgrown and len(known) > len(failed):
            limit = " and ".join(str(test) for test in failed)
            says = f"{law.says} It reaches only to the limit “{limit}”, and you are beyond it."
            yield case.finding(law, "situation", level="ask", says=says, do=_call(case, "what you need instead"))
            return


def _call(case: Case, about: str) -> str:
    return f"Call {case.market.head.office} and ask {about}."


def duties(case: Case, without: Collection[Duty] = ()) -> Iterator[Finding]:
    """What the law wants beside the label; a fact several duties miss is asked for once."""
    open_: dict[tuple[str, ...], list[tuple[Duty, Answer]]] = {}
    for law in case.market.duties():
        if law in without:
            continue
        answer = law.answer(case.facts)
        if answer.holds:
            yield case.finding(law, "situation")
        elif answer.holds is None:
            open_.setdefault(tuple(sorted(fact.name for fact in answer.missing)), []).append((law, answer))
    for laws in open_.values():
        (first, answer), more = laws[0], len(laws) - 1
        says = first.says + (f" ({more} more rule{'s' if more > 1 else ''} hang on the same answer.)" if more else "")
        yield case.finding(first, "situation", level="ask", says=says, do=questions(answer.missing))


def statements(case: Case) -> Iterator[Finding]:
    """Sentences the law prescribes: there word for word, printed by labelkit, there but changed, or missing."""
    text = "\n".join((case.label.name, *case.label.lines))
    for law in case.market.statements():
        answer = law.answer(case.facts)
        if answer.holds is False:
            continue
        yield _statement(case, law, answer, text)


def _statement(case: Case, law: Statement, answer: Answer, text: str) -> Finding:
    wordings = (*law.text.values(), *law.accept)
    due = law.text.values() if not law.accept else wordings
    whole = all if not law.accept and len(law.text) > 1 else any
    words = " / ".join(f"“{words}”" for words in law.text.values())
    if whole(is_said(text, words, exact=law.exact) for words in due):
        return case.finding(law, "lines", level="note", do=f"The words are there. {_how(law)}".strip())
    near = next((found[0] for words in wordings if (found := pattern_of(words).search(text))), "")
    if not near and whole(words in case.added.sentences for words in due):
        return case.finding(law, "lines", level="note", do=f"{_added(law.text.values())} {_how(law)}")
    if answer.holds is None:
        return case.finding(
            law, "lines", level="ask", do=f"{questions(answer.missing)} If so, print {words}. {_how(law)}"
        )
    if near:
        do = f"Print the words exactly as the law has them, capitals included, or leave them to labelkit: {words}. {_how(law)}"
        return case.finding(law, "lines", " ".join(near.split()), do=do)
    return case.finding(law, "lines", do=f"{law.do} The words: {words} {_how(law)}")


def _added(texts: Iterable[str]) -> str:
    """What the print says by itself, so that the maker need not."""
    return f"labelkit adds this: {' / '.join(f'“{text}”' for text in texts)}."


def _how(law: Statement) -> str:
    """Size, typeface, contrast and place of a prescribed sentence."""
    parts = []
    if law.letters:
        size = (
            f"{law.letters.removesuffix(' pt')}-point type or larger"
            if law.letters.endswith(" pt")
            else f"{law.letters} high or higher"
        )
        parts.append(size)
    if law.fonts:
        parts.append(" or ".join(law.fonts))
    if law.capitals:
        parts.append("in capitals")
    if law.contrast:
        parts.append("in a colour in clear contrast to the background")
    if law.place != "label":
        parts.append(f"on the {law.place}" if law.place != "beside" else f"beside {law.beside}")
    return f"Set it {', '.join(parts)}." if parts else ""
