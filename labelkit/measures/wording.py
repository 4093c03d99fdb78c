"""Words in the reader's language: documents and pages speak through one of these, never in bare English.

English is the key. A word without a translation comes out in English, so that nothing is ever blank; a test asks for
``show_missing`` and sees it between marks. Every catalogue says how far it was checked, and an entry its translator
doubted carries gettext's own ``fuzzy`` flag and counts as :attr:`Wording.unsure`.
"""

from __future__ import annotations

import gettext
from collections.abc import Callable
from typing import Any

from labelkit.errors.sentence import Sentence
from labelkit.measures.locales import Catalogue, Message, locale_of, read_catalogue

QUALITY = "X-Translation-Quality"


class Wording:
    """The words of one language. Call it with the English words, and with what stands in their braces.

    >>> words = Wording.read('''
    ... msgid ""
    ... msgstr "Plural-Forms: nplurals=2; plural=(n > 1);\\\\n"
    ...
    ... msgid "Price list"
    ... msgstr "Liste des prix"
    ...
    ... msgid "{n} jar"
    ... msgid_plural "{n} jars"
    ... msgstr[0] "{n} pot"
    ... msgstr[1] "{n} pots"
    ... ''', "fr")
    >>> words("Price list"), words.count("{n} jar", "{n} jars", 3), words("Cash float")
    ('Liste des prix', '3 pots', 'Cash float')
    """

    def __init__(
        self,
        catalogue: Catalogue | None,
        lang: str = "en",
        *,
        show_missing: bool = False,
        beside: Callable[[], Wording] | None = None,
    ) -> None:
        self.lang = lang
        self._beside = beside  # where a word is looked up that this catalogue lacks
        self.show_missing = show_missing
        self._messages = catalogue.messages if catalogue else {}
        self._which: Callable[[int], int] = gettext.c2py(catalogue.plural_rule if catalogue else "(n != 1)")
        self.quality = (
            catalogue.headers.get(QUALITY, "nobody has said how far it was checked") if catalogue else "original"
        )

    @classmethod
    def read(
        cls, text: str, lang: str, *, show_missing: bool = False, beside: Callable[[], Wording] | None = None
    ) -> Wording:
        """From the text of a gettext catalogue; ``beside`` gives the one that is asked next."""
        return cls(read_catalogue(text, lang), lang, show_missing=show_missing, beside=beside)

    @property
    def checked(self) -> bool:
        """Whether somebody who speaks the language has read all of it."""
        return self.quality in ("original", "checked")

    @property
    def unsure(self) -> tuple[str, ...]:
        """The entries the translator doubted."""
        return tuple(name for (_, name), message in self._messages.items() if message.unsure)

    def __call__(self, text: str, /, context: str = "", **facts: Any) -> str:
        """The words, filled in; ``context`` tells two uses of one English word apart."""
        message = self._message(text, context)
        return _filled(message.strings[0] if message and message.strings[0] else self._bare(text), facts)

    def _message(self, text: str, context: str = "") -> Message | None:
        found = self._messages.get((context, text))
        return found or (self._beside()._message(text, context) if self._beside else None)

    def own(self, text: str) -> str:
        """A :class:`Sentence` in this language; a name somebody gave as it is."""
        return self.say(text) if isinstance(text, Sentence) else text

    def say(self, text: str) -> str:
        """What a stage said in English, in this language: a :class:`Sentence` with its facts, or plain words."""
        if not isinstance(text, Sentence):
            return self(text)
        facts: dict[str, Any] = {
            name: self.say(fact) if isinstance(fact, Sentence) else fact for name, fact in text.facts.items()
        }
        if text.many:
            return self.count(text.text, text.many, facts.pop("n"), **facts)
        return self(text.text, **facts)

    def count(self, one: str, many: str, n: int, **facts: Any) -> str:
        """The words for so many, in the language's own plural form."""
        return _filled(self.plural(one, many, n), {"n": n, **facts})

    def plural(self, one: str, many: str, n: int) -> str:
        """The language's own plural form for so many, its braces still open."""
        message = self._message(one)
        if message and all(message.strings) and len(message.strings) > self._which(n):
            return message.strings[self._which(n)]
        return self._bare(one if n == 1 else many)

    def __contains__(self, text: object) -> bool:
        """Whether this catalogue itself translates these English words."""
        return ("", text) in self._messages

    def _bare(self, text: str) -> str:
        return f"⟦{text}⟧" if self.show_missing and self.lang != "en" else text


def _filled(text: str, facts: dict[str, Any]) -> str:
    return text.format(**facts) if facts else text


ENGLISH = Wording(None)


def language_of(locale: str) -> str:
    """The language of a locale.

    >>> language_of("uk_UA")
    'uk'
    """
    return locale_of(locale).language
