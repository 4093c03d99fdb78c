"""Letters made comparable: what a reader takes for the same word is the same word here.

Case, accents, ligatures and full-width forms fold away (Unicode NFKD and case folding); soft hyphens, joiners and other
invisible characters are dropped; letters of other alphabets that look like Latin ones become those (a small part of the
look-alikes of Unicode Technical Standard 39, "confusables"). Digits and signs used as letters (``c0ld``) give a second reading.
"""

from __future__ import annotations

import unicodedata
from functools import lru_cache

# Invisible characters: soft hyphen, grapheme joiner, zero-width space and joiners, direction marks, word joiner and
# the invisible operators, byte-order mark.
INVISIBLE = "\u00ad\u034f\u061c\u115f\u1160\u17b4\u17b5\u180e\u200b-\u200f\u202a-\u202e\u2060-\u2064\u2066-\u206f\ufe00-\ufe0f\ufeff"
COMBINING = "\u0300-\u036f\u1ab0-\u1aff\u1dc0-\u1dff\u20d0-\u20ff\ufe20-\ufe2f"

_STAND_FOR = {
    # Letters without a decomposition.
    "ł": "l",
    "ø": "o",
    "đ": "d",
    "ð": "d",
    "þ": "th",
    "æ": "ae",
    "œ": "oe",
    "ı": "i",
    "ħ": "h",
    "ŋ": "n",
    "ə": "e",
    # Cyrillic look-alikes.
    "а": "a",
    "в": "b",
    "с": "c",
    "ԁ": "d",
    "е": "e",
    "ё": "e",
    "һ": "h",
    "н": "h",
    "і": "i",
    "ї": "i",
    "ј": "j",
    "к": "k",
    "ӏ": "l",
    "м": "m",
    "п": "n",
    "о": "o",
    "р": "p",
    "ԛ": "q",
    "г": "r",
    "ѕ": "s",
    "т": "t",
    "ц": "u",
    "ѵ": "v",
    "ԝ": "w",
    "х": "x",
    "у": "y",
    "з": "3",
    # Greek look-alikes.
    "α": "a",
    "β": "b",
    "ϲ": "c",
    "δ": "d",
    "ε": "e",
    "η": "n",
    "ι": "i",
    "κ": "k",
    "μ": "u",
    "ν": "v",
    "ο": "o",
    "ρ": "p",
    "σ": "o",
    "τ": "t",
    "υ": "u",
    "χ": "x",
    "ω": "w",
    "γ": "y",
    "ζ": "z",
    # Small capitals and a few letters of other sorts.
    "ᴀ": "a",
    "ʙ": "b",
    "ᴄ": "c",
    "ᴅ": "d",
    "ᴇ": "e",
    "ɢ": "g",
    "ʜ": "h",
    "ɪ": "i",
    "ᴊ": "j",
    "ᴋ": "k",
    "ʟ": "l",
    "ᴍ": "m",
    "ɴ": "n",
    "ᴏ": "o",
    "ᴘ": "p",
    "ʀ": "r",
    "ᴛ": "t",
    "ᴜ": "u",
    "ᴠ": "v",
    "ᴡ": "w",
    "ʏ": "y",
    "ᴢ": "z",
    "ɑ": "a",
    "ɡ": "g",
    "ո": "n",
    "ս": "u",
    "օ": "o",
    "հ": "h",
}
_LOOK_ALIKE = str.maketrans(_STAND_FOR)
_AS_LETTER = (
    str.maketrans({"0": "o", "1": "i", "3": "e", "4": "a", "5": "s", "7": "t", "@": "a", "$": "s"}),
    str.maketrans({"0": "o", "1": "l", "3": "e", "4": "a", "5": "s", "7": "t", "@": "a", "$": "s"}),
)
_GREEK_CAPITALS = str.maketrans(
    {
        "Α": "A",
        "Β": "B",
        "Ε": "E",
        "Ζ": "Z",
        "Η": "H",
        "Ι": "I",
        "Κ": "K",
        "Μ": "M",
        "Ν": "N",
        "Ο": "O",
        "Ρ": "P",
        "Τ": "T",
        "Υ": "Y",
        "Χ": "X",
    }
)


def folded(word: str) -> str:
    """One word as it is compared.

    >>> folded("Añejo"), folded("ANTI\u00adBACTERIAL"), folded("сurеs"), folded("ŁAGODZI"), folded("Straße")
    ('anejo', 'antibacterial', 'cures', 'lagodzi', 'strasse')
    """
    if word.isascii():
        return word.casefold()
    apart = unicodedata.normalize("NFKD", word).translate(_GREEK_CAPITALS).casefold()
    kept = (c for c in apart if unicodedata.category(c) not in ("Mn", "Me", "Cf") and c not in _OTHER_INVISIBLE)
    return "".join(kept).translate(_LOOK_ALIKE)


_OTHER_INVISIBLE = frozenset("\u115f\u1160\u17b4\u17b5")


@lru_cache(maxsize=20000)
def readings(word: str) -> tuple[str, ...]:
    """What a word may be read as: itself folded, and with its digits and signs read as the letters they look like.

    Only digits between letters are read so; ``B12`` and ``16oz`` stay what they are.

    >>> readings("C0ld"), readings("B12"), readings("gripp€")
    (('c0ld', 'cold'), ('b12',), ('gripp€',))
    """
    plain = folded(word)
    if plain.isalpha() or not (plain[:1].isalpha() and plain[-1:].isalpha()):
        return (plain,)
    return tuple(dict.fromkeys((plain, *(plain.translate(table) for table in _AS_LETTER))))
