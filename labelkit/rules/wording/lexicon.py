"""The words of a language that claims are made of: ills, healing verbs, negations.

This is vocabulary and not law, so it stands outside the packs, one file a language in ``lexicon/``. A pack's phrases use
these lists by name; a ``[[word_list]]`` of a pack goes before the list of the same name here.
"""

from __future__ import annotations

from collections.abc import Mapping
from functools import lru_cache
from pathlib import Path

from labelkit.errors.rules import PackKeyMissing, PackValueWrong
from labelkit.rules.pack import read_toml, short

LEXICON = Path(__file__).parent / "lexicon"
# Lists the search itself asks for; every language has them, if only empty.
NEGATIONS, NO_NEGATIONS, CARRIES = "negations", "no_negations", "carries_a_negation"
OWN = (NEGATIONS, NO_NEGATIONS, CARRIES)


@lru_cache
def lexicon(language: str, folder: Path = LEXICON) -> Mapping[str, tuple[str, ...]]:
    """The lists of a language by name; nothing for a language labelkit has no words of.

    >>> "asthma*" in lexicon("en")["ills"]
    True
    """
    path = folder / f"{language}.toml"
    if not path.exists():
        return dict.fromkeys(OWN, ())
    read, file = read_toml(path), short(path)
    lists = read.get("lists", {})
    for name, phrases in lists.items():
        if not (isinstance(phrases, list) and all(isinstance(phrase, str) and phrase for phrase in phrases)):
            raise PackValueWrong(file, "[lists]", name, phrases, "a list of phrases")
    for name in OWN:
        if name not in lists:
            raise PackKeyMissing(file, "[lists]", name)
    return {name: tuple(phrases) for name, phrases in lists.items()}
