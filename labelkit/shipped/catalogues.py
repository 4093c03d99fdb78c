"""The one loader of the gettext catalogues in ``templates/languages``.

A language is a folder there, with ``labelkit.po`` for papers and labels, ``page.po`` for the page and ``recall.po`` for
recall notices. English needs none: it is the key.
"""

from __future__ import annotations

from functools import lru_cache, partial

from labelkit.measures.wording import Wording, language_of
from labelkit.shipped import folder, template_text

PATH = "languages/{lang}/LC_MESSAGES/{domain}.po"


def catalogue_text(domain: str, lang: str) -> str:
    """Return the text of the catalogue of a language; ``domain`` is labelkit, page or recall."""
    return template_text(PATH.format(lang=lang, domain=domain))


@lru_cache(maxsize=32)
def wording(domain: str, locale: str, *, show_missing: bool = False) -> Wording:
    """Return the words of a locale's language; English where there is no catalogue for it.

    A paper names events, sizes and places as the page does: what its catalogue lacks is looked up in the page's.

    >>> wording("labelkit", "en_US")("Price list"), wording("recall", "es")("FOOD RECALL")
    ('Price list', 'RETIRADA DE PRODUCTO ALIMENTICIO')
    """
    lang = language_of(locale)
    if lang not in languages(domain):
        return Wording(None, lang, show_missing=show_missing)
    beside = partial(wording, "page", locale) if domain == "labelkit" else None
    return Wording.read(catalogue_text(domain, lang), lang, show_missing=show_missing, beside=beside)


@lru_cache(maxsize=8)
def languages(domain: str) -> tuple[str, ...]:
    """Return the languages besides English that there is a catalogue for.

    >>> languages("recall")
    ('de', 'es', 'fr', 'pl', 'uk')
    """
    templates = folder("templates")
    names = (each.name for each in (templates / "languages").iterdir())
    return tuple(sorted(lang for lang in names if (templates / PATH.format(lang=lang, domain=domain)).is_file()))
