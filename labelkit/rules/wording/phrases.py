r"""The small language packs and vocabularies write their phrases in.

==================  ================================================================================================
``cure``            the word, after folding
``cure*``           a word that begins so; ``*honig`` ends so; ``*bakter*`` contains it
``anti-bacterial``  joined, hyphenated or apart; so are ``anti-(viral|fungal)`` and ``(fat|salt)-free``
``(a|b c)``         one of these
``[the|a]``         may stand there or not
``{ills}``          one of the phrases of a list
``...`` ``...3``    up to six, or up to three, words between, in the same sentence
``=UMF``            these letters exactly, capitals kept
``!{ills}``         at the beginning: a negation before it never clears this phrase
==================  ==============================================================================

A phrase is parsed into nested tuples: ``("word", form)``, ``("begins", form)``, ``("ends", form)``, ``("has", form)``,
``("exact", letters)``, ``("list", name)``, ``("gap", most)``, ``("any", (phrase, ...))``, ``("all", (part, ...))``.
"""

from __future__ import annotations

import re
from functools import lru_cache
from typing import Any

from labelkit.rules.wording.folding import folded

USUAL_GAP = 6
_PART = re.compile(r"\.\.\.(\d*)|\{(\w+)\}|([(\[])|([)\]])|(\|)|([^\s()\[\]|{}]+)")
_PREFIXED = re.compile(r"(?<![\w*])([^\W_]+)-\(([^()\[\]{}]+)\)")
_SUFFIXED = re.compile(r"\(([^()\[\]{}]+)\)-([^\W_]+\*?)")
_PIECES = re.compile(r"[\w@$]+")
_ONE_WORD = re.compile(r"\*?[^\W_]+\*?")  # most phrases are one word
_UMLAUT = re.compile("[äöü]", re.IGNORECASE)
_SPELT_OUT = {"ä": "ae", "ö": "oe", "ü": "ue"}

Node = tuple[str, Any]  # its kind, and what is inside


class PhraseUnclear(ValueError):
    """A phrase that does not follow the small language; whoever reads the phrase says which file it stands in."""


@lru_cache(maxsize=20000)
def parse(phrase: str) -> Node:
    """A phrase as nested tuples.

    >>> parse("[a] remed* for ...3 {ills}")
    ('all', (('any', (('all', ()), ('word', 'a'))), ('begins', 'remed'), ('word', 'for'), ('gap', 3), ('list', 'ills')))
    >>> parse("anti-bacterial")
    ('any', (('all', (('word', 'anti'), ('word', 'bacterial'))), ('word', 'antibacterial')))
    """
    if _ONE_WORD.fullmatch(phrase):
        return _word(phrase)
    phrase = _PREFIXED.sub(lambda m: f"({'|'.join(f'{m[1]}-{word}' for word in m[2].split('|'))})", phrase)
    phrase = _SUFFIXED.sub(lambda m: f"({'|'.join(f'{word}-{m[2]}' for word in m[1].split('|'))})", phrase)
    parts = list(_PART.finditer(phrase))
    left = _PART.sub("", phrase).strip()
    if not parts or left:
        raise PhraseUnclear(f"“{left or phrase}” is not a phrase")
    node, at = _any(phrase, parts, 0)
    if at != len(parts):
        raise PhraseUnclear(f"“{phrase}” has a bracket too many")
    if not _sure_begin(node) or (node[0] == "any" and ("all", ()) in node[1]):
        raise PhraseUnclear(f"“{phrase}” may not begin with a gap, nor be empty")
    return node


def _any(phrase: str, parts: list[re.Match[str]], at: int, closing: str = "") -> tuple[Node, int]:
    choices: list[list[Node]] = []
    run: list[Node] = []
    while at < len(parts):
        gap, name, opening, close, bar, word = parts[at].groups()
        at += 1
        if close:
            if close != closing:
                raise PhraseUnclear(f"“{phrase}” has brackets that do not match")
            return _choice([*choices, run]), at
        if bar:
            choices.append(run)
            run = []
        elif opening:
            inner, at = _any(phrase, parts, at, ")" if opening == "(" else "]")
            run.append(inner if opening == "(" else ("any", (("all", ()), inner)))
        elif name:
            run.append(("list", name))
        elif word == "-":
            continue  # a hyphen beside a bracket or a list joins nothing
        elif word:
            run.append(_word(word))
        else:
            run.append(("gap", int(gap) if gap else USUAL_GAP))
    if closing:
        raise PhraseUnclear(f"“{phrase}” has a bracket that is never closed")
    return _choice([*choices, run]), at


def _choice(runs: list[list[Node]]) -> Node:
    nodes = tuple(run[0] if len(run) == 1 else ("all", tuple(run)) for run in runs)
    return nodes[0] if len(nodes) == 1 else ("any", nodes)


def _word(word: str) -> Node:
    if word.startswith("="):
        return ("exact", word[1:])
    begins, ends = word.endswith("*"), word.startswith("*")
    pieces = _PIECES.findall(word)
    if not pieces:
        raise PhraseUnclear(f"“{word}” is no word")
    if len(pieces) == 1:
        return _spellings(pieces[0], begins, ends)
    last = len(pieces) - 1
    apart = tuple(_spellings(piece, begins and n == last, ends and n == 0) for n, piece in enumerate(pieces))
    return ("any", (("all", apart), _spellings("".join(pieces), begins, ends)))


def _spellings(piece: str, begins: bool, ends: bool) -> Node:
    kind = {(True, True): "has", (True, False): "begins", (False, True): "ends", (False, False): "word"}[begins, ends]
    forms = [folded(piece)]
    if not piece.isascii() and _UMLAUT.search(piece):  # Blüte is also spelt Bluete
        forms.append(folded(_UMLAUT.sub(lambda letter: _SPELT_OUT[letter[0].casefold()], piece)))
    nodes = tuple((kind, form) for form in dict.fromkeys(forms))
    return nodes[0] if len(nodes) == 1 else ("any", nodes)


def _sure_begin(node: Node) -> bool:
    """Whether the first thing of a phrase is always a word, so that a search knows where to begin."""
    kind, inside = node
    if kind == "any":
        return all(_sure_begin(choice) or choice == ("all", ()) for choice in inside)
    if kind == "all":
        for part in inside:
            if part[0] == "gap":
                return False
            if not (part[0] == "any" and ("all", ()) in part[1]):
                return _sure_begin(part)
        return False
    return bool(kind != "gap")
