"""The words of stall papers in the reader's language, from the catalogues that ship with labelkit."""

from __future__ import annotations

from functools import lru_cache

from labelkit.measures.wording import Wording, language_of
from labelkit.shipped import folder, template_text

CATALOGUE = "languages/{}/LC_MESSAGES/labelkit.po"


@lru_cache(maxsize=16)
def words_for(locale: str, *, show_missing: bool = False) -> Wording:
    """The words for a locale; English where there is no catalogue for its language.

    >>> words_for("en_US")("Price list")
    'Price list'
    """
    lang = language_of(locale)
    if lang not in languages():
        return Wording(None, "en" if lang == "en" else lang, show_missing=show_missing)
    return Wording.read(template_text(CATALOGUE.format(lang)), lang, show_missing=show_missing)


@lru_cache(maxsize=1)
def languages() -> tuple[str, ...]:
    """The languages there is a catalogue for."""
    here = folder("templates") / "languages"
    return tuple(sorted(each.name for each in here.iterdir() if each.is_dir())) if here.is_dir() else ()


def quality_note(words: Wording) -> str:
    """One line under a paper whose words nobody has checked; nothing where somebody has.

    >>> quality_note(words_for("en_US"))
    ''
    """
    if words.checked or words.lang not in languages():
        return ""
    return words("The words of this paper were not checked by a native speaker yet.")
