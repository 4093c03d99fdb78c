"""The language of the page: which one this request is answered in, and its words.

Templates say ``_("Weigh in")``, and ``ngettext("{n} bucket", "{n} buckets", n)``; the rooms say :func:`say` and
:func:`say_count`. English is the key, the words stand in a gettext catalogue for each language. Which one: the one
switched to on the page, else the season's own, else the browser's. What the commands answer stays English and is marked
so for whoever has it read aloud.
"""

from __future__ import annotations

from datetime import date
from decimal import Decimal
from html import escape
from typing import Any

from flask import g, request, session

from labelkit.errors.sentence import PLAIN, Figure, Sentence, written
from labelkit.measures.locales import language_name
from labelkit.measures.wording import Wording, language_of
from labelkit.page import request_context
from labelkit.season.papers import season_words
from labelkit.shipped.catalogues import languages, wording

LANGUAGES = {lang: language_name(lang) for lang in ("en", *languages("page"))}


class Marked(str):
    """Text that is markup already, as Jinja2 knows it."""

    def __html__(self) -> str:
        return str(self)


def later(text: str) -> str:
    """The same text; says that a page will say it through ``_``, so that the catalogues are asked for it."""
    return text


def chosen(*, ask_record: bool = True) -> str:
    """The language of this request; without asking the record where that may be what failed."""
    if "language" not in g:
        asked = session.get("language") or (_of_the_season() if ask_record else "")
        g.language = asked if asked in LANGUAGES else (request.accept_languages.best_match(LANGUAGES) or "en")
    return g.language


def _of_the_season() -> str:
    return request_context.settings().get("language", "") if request_context.has_record() else ""


def say(text: str, /, **facts: Any) -> str:
    """Words in the language of this request; a fact that is markup makes the whole of them markup."""
    return _filled(wording("page", chosen())(text), facts)


def say_count(one: str, many: str, n: int, /, **facts: Any) -> str:
    """The words for so many; ``{n}`` is the number."""
    return _filled(wording("page", chosen()).plural(one, many, n), {**facts, "n": n})


def told(words: str) -> str:
    """What a command says, in the language of this request where the catalogue has it; else marked as English."""
    return translated(words) or Marked(f'<span lang="en">{escape(in_figures(words))}</span>')


def plainly(words: str) -> str:
    """The same for a file, where English is not marked."""
    return str(translated(words) or in_figures(words))


def in_figures(words: str) -> str:
    """English words with their figures as the reader writes them; plain where the request was refused before it had a context."""
    if not isinstance(words, Figure | Sentence):
        return words
    return str(written(words, g.context.locale if "context" in g else PLAIN))


def translated(words: str) -> str:
    """The words in the language of this request; nothing where its catalogue lacks them."""
    lang = chosen()
    known = wording("page", lang)
    if words in known:
        return known(words)
    of_papers = wording("labelkit", lang)
    if (words.text if isinstance(words, Sentence) else words) in of_papers:
        return of_papers.say(words)
    if isinstance(words, Sentence) and (lang == "en" or words.text in known):
        facts = {name: _shown(fact, known) for name, fact in words.facts.items()}
        return say_count(words.text, words.many, facts["n"], **facts) if words.many else say(words.text, **facts)
    return in_figures(words) if lang == "en" else ""


def _shown(fact: Any, known: Wording) -> Any:
    from labelkit.measures.locales import show_day, show_number

    if isinstance(fact, Figure):
        return in_figures(fact)
    if isinstance(fact, Sentence):
        return translated(fact) or in_figures(fact)
    if isinstance(fact, Decimal):
        return show_number(fact, request_context.context().locale)
    if isinstance(fact, date):
        return show_day(fact, for_days(request_context.context().locale), form="medium")
    return known(fact) if isinstance(fact, str) and fact in known else fact


def _filled(text: str, facts: dict[str, Any]) -> str:
    if not any(hasattr(fact, "__html__") for fact in facts.values()):
        return text.format(**facts) if facts else text
    safe = {name: fact.__html__() if hasattr(fact, "__html__") else escape(str(fact)) for name, fact in facts.items()}
    return Marked(escape(text).format(**safe))


def for_days(locale: str) -> str:
    """The locale to write days in: the reader's own where it speaks the page's language, else the page's."""
    return locale if language_of(locale) == chosen() else chosen()


def of_papers() -> tuple[Wording, str]:
    """The words of the season's own papers in the language of this request, and the locale of their figures."""
    context = request_context.context()
    return season_words(request_context.season(), chosen(), context.locale)


def facts(*, ask_record: bool = True) -> dict[str, Any]:
    """What every template may say words with; ``english`` marks an element whose words stay English."""
    lang = chosen(ask_record=ask_record)
    return {
        "_": say,
        "ngettext": say_count,
        "told": told,
        "lang": lang,
        "languages": LANGUAGES,
        "unchecked": not wording("page", lang).checked,
        "english": Marked("" if lang == "en" else ' lang="en"'),
    }
