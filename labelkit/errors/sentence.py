"""Words that remember what they were made of, so that whoever shows them can say them in another language or locale."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import Any

PLAIN = "en_US"  # how words read to programs and to everybody who asks for nothing else


class Figure(str):
    """A figure as it reads in plain English, which can be shown in any locale: with the way of showing and its value.

    >>> half = Figure(lambda value, locale: value.replace(".", "," if locale == "de_DE" else "."), "1.5 kg")
    >>> half, half.in_locale("de_DE")
    ('1.5 kg', '1,5 kg')
    """

    show: Callable[..., str]
    value: tuple[Any, ...]

    def __new__(cls, show: Callable[..., str], *value: Any) -> Figure:
        made = super().__new__(cls, show(*value, PLAIN))
        made.show, made.value = show, value
        return made

    def __reduce__(self) -> tuple[Any, ...]:
        return type(self), (self.show, *self.value)  # a copy is made of the value, not of its words

    def in_locale(self, locale: str) -> str:
        """The same figure as it is written there."""
        return self.show(*self.value, locale)


class Sentence(str):
    """English words that remember what they were made of, so that a page can say them in its own language.

    To everybody else they are the words themselves.

    >>> one = Sentence("Weigh what is left in {bucket}.", bucket="B1")
    >>> one, one.text, one.facts
    ('Weigh what is left in B1.', 'Weigh what is left in {bucket}.', {'bucket': 'B1'})
    >>> Sentence.plural("{n} jar missing", "{n} jars missing", 3)
    '3 jars missing'
    """

    text: str
    many: str
    facts: dict[str, Any]

    def __new__(cls, text: str, /, **facts: Any) -> Sentence:
        return cls._made(text, "", text, facts)

    @classmethod
    def plural(cls, one: str, many: str, n: int, /, **facts: Any) -> Sentence:
        """The words for so many; ``{n}`` is the number."""
        return cls._made(one, many, one if n == 1 else many, {"n": n, **facts})

    @classmethod
    def _made(cls, text: str, many: str, form: str, facts: dict[str, Any]) -> Sentence:
        made = super().__new__(cls, form.format(**facts))
        made.text, made.many, made.facts = text, many, facts
        return made

    def __reduce__(self) -> tuple[Any, ...]:
        return self._made, (
            self.text,
            self.many,
            self.many if self.many and self.facts["n"] != 1 else self.text,
            self.facts,
        )

    def worded(self, otherwise: Callable[[str], str]) -> Sentence:
        """The same figures in other words, made of the text whose braces are still open.

        >>> Sentence("Weigh {bucket} (scale A).", bucket="B1").worded(lambda text: text.replace(" (scale A)", ""))
        'Weigh B1.'
        """
        text, many = otherwise(self.text), otherwise(self.many) if self.many else ""
        return self._made(text, many, many if many and self.facts["n"] != 1 else text, self.facts)

    def in_locale(self, locale: str) -> Sentence:
        """The same English words with their figures as they are written there."""
        facts = {name: written(fact, locale) for name, fact in self.facts.items()}
        return self._made(self.text, self.many, self.many if self.many and facts["n"] != 1 else self.text, facts)


def together(sentences: Iterable[str], locale: str) -> str:
    """Sentences one after another, as they read in a locale."""
    return " ".join(written(each, locale) for each in sentences)


def written(words: Any, locale: str) -> Any:
    """Words or a figure as they read in a locale; what holds no figure stays as it is."""
    return words.in_locale(locale) if isinstance(words, Figure | Sentence) else words
