"""What the food is called, in which languages, and where the honey comes from."""

from __future__ import annotations

from collections.abc import Iterator
from functools import lru_cache

from labelkit.errors import Refused
from labelkit.errors.rules import NoRuleInForce
from labelkit.measures.locales import language_names
from labelkit.rules.checking.case import Case, cautions, is_said
from labelkit.rules.checking.values import about, held, unread
from labelkit.rules.figures import origin as origin_figure
from labelkit.rules.findings import Finding
from labelkit.rules.wording.folding import folded
from labelkit.rules.wording.lexicon import lexicon
from labelkit.rules.wording.search import STANDS, Reader
from labelkit.rules.wording.tokens import Text, text_of

_NAME = STANDS + "name"


def name(case: Case) -> Iterator[Finding]:
    """Whether the name says honey at all, and says it in every language that is due."""
    law = held(case, "legal name")
    if law is None:
        return
    named = text_of(case.label.name)
    due = _languages(case)
    if not any(_says_honey(named, language) for language in (due or case.market.head.languages)) and not _legal(
        case, law.value
    ):
        yield about(
            case,
            law,
            "stop",
            "name",
            case.label.name,
            says="The name does not say that this is honey.",
            do=f"Print “{law.value[0]}” in the name.",
        )
        return
    language_law = held(case, "languages the label must speak")
    # The name in a further language may be a line of its own; a caution that speaks of honey names nothing.
    spoken = text_of("\n\n".join((case.label.name, *(line for line in case.label.lines if not cautions(line, case)))))
    missing = [language for language in due if not _says_honey(spoken, language)]
    if language_law and missing and len(due) > len(missing):
        languages = " and ".join(map(language_names().__getitem__, missing))
        yield about(
            case,
            language_law,
            "stop" if len(due) > 1 else "ask",
            "name",
            case.label.name,
            says=f"The name does not stand there in {languages}. {language_law.note}".strip(),
            do=f"Print the name and all other words the law asks for in {languages} as well.",
        )
    elif language_law and missing:
        languages = " and ".join(map(language_names().__getitem__, missing))
        yield about(
            case,
            language_law,
            "ask",
            "name",
            case.label.name,
            says=f"The label must speak {languages}, and the name was not recognised in it.",
            do=f"Print the name and all other required words in {languages}.",
        )


def _languages(case: Case) -> list[str]:
    law = held(case, "languages the label must speak")
    named = [language for language in law.value if language in language_names()] if law else []
    spoken = case.market.head.languages
    if law and not named and len(case.market.packs) > 1 and len(spoken) == 1:
        return list(spoken)
    return named  # where several languages are spoken and the law names none, any of them will do


def _legal(case: Case, names: tuple[str, ...]) -> bool:
    return any(folded(word) in folded(case.label.name) for word in names)


def _says_honey(text: Text, language: str) -> bool:
    reader = _namer(language)
    return reader is None or "name" in reader.read(text).elements


@lru_cache
def _namer(language: str) -> Reader | None:
    """What knows the names of honey in a language; nothing for a language labelkit has no words of."""
    lists = lexicon(language)
    return Reader((), lists.__getitem__, (_NAME,)) if _NAME in lists else None


def origin(case: Case) -> Iterator[Finding]:
    """The statement of origin this market wants for these countries, and what there is to say about it."""
    if not case.label.origin:
        return
    due = held(case, "origin is due")
    shares = [(share.country, share.percent) for share in case.label.origin]
    try:
        found = origin_figure.statement(shares, case.market, case.facts.get("declared"))
    except Refused as refusal:
        # Words nobody has read are a question of their own, even where an origin is due.
        if due and not isinstance(refusal, NoRuleInForce):
            yield about(case, due, "ask", "origin", "", says=refusal.what, do=refusal.do)
        else:
            yield unread(case, "origin", "origin", ", ".join(share.country for share in case.label.origin), refusal)
        return
    many = len(shares) > 1
    law = held(case, "origin of several countries" if many else "origin of one country")
    if law is None or (not many and due and due.value not in ("always", "when graded or imported")):
        return
    added = found.statement == case.added.origin
    printed = added or is_said("\n".join(case.label.lines), found.statement)
    says = law.note if many and law.note else "Where the honey comes from is stated in these words."
    do = (
        f"labelkit adds this: “{found.statement}”."
        if added
        else "It is there."
        if printed
        else f"Print: “{found.statement}”."
    )
    yield about(case, law, "note" if printed or not many else "ask", "origin", found.statement, says=says, do=do)
