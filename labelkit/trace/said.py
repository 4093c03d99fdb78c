"""The words of recall notices in six languages, from the catalogues that ship with labelkit.

Whoever mends a catalogue after reading it as a native speaker writes so into its head; until then every notice in that
language comes with the advice to have it read first.
"""

from __future__ import annotations

from functools import lru_cache

from labelkit.measures.wording import Wording
from labelkit.shipped import folder, template_text

CATALOGUE = "languages/{}/LC_MESSAGES/recall.po"


@lru_cache(maxsize=16)
def wording(lang: str, *, show_missing: bool = False) -> Wording:
    """The words of one language; English where there is no catalogue for it.

    >>> wording("en")("FOOD RECALL"), wording("es")("FOOD RECALL")
    ('FOOD RECALL', 'RETIRADA DE ALIMENTOS')
    """
    if lang not in languages():
        return Wording(None, lang, show_missing=show_missing)
    return Wording.read(template_text(CATALOGUE.format(lang)), lang, show_missing=show_missing)


@lru_cache(maxsize=1)
def languages() -> tuple[str, ...]:
    """The languages besides English that notices are written in.

    >>> languages()
    ('de', 'es', 'fr', 'pl', 'uk')
    """
    here = folder("templates") / "languages"
    return tuple(sorted(each.name for each in here.iterdir() if (here.parent / CATALOGUE.format(each.name)).is_file()))


def sentence(text: str) -> str:
    """A text as a sentence: a capital at its beginning, a stop at its end.

    >>> sentence("it can injure whoever eats it")
    'It can injure whoever eats it.'
    """
    text = text.strip()
    return f"{text[:1].upper()}{text[1:]}" + ("" if text.endswith((".", "!", "?")) else ".")
