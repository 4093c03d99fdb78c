"""TOML as people write it, read in bounded time: refused above a size and a depth before anything is made of it."""

from __future__ import annotations

import re
import tomllib
from decimal import Decimal
from typing import Any

LARGEST = 4_000_000  # characters; ten thousand buckets with everything said of each
DEEPEST = 20  # tables and lists in one another, or names in a dotted one; the deepest of ours is four
LONGEST = 30  # digits of a number
_WORDS = re.compile(r'"""[\s\S]*?"""|\'\'\'[\s\S]*?\'\'\'|"(?:[^"\\\n]|\\.)*"|\'[^\'\n]*\'|#[^\n]*')
_DOTTED = re.compile(rf"(?:[\w-]+\s*\.\s*){{{DEEPEST},}}")


def read_toml(text: str) -> dict[str, Any]:
    """The tables of a TOML text, numbers with a point as Decimal. Raises ValueError with what is wrong, in words.

    >>> read_toml("moisture = 17.6")
    {'moisture': Decimal('17.6')}
    >>> read_toml("a = " + "[" * 50 + "]" * 50)
    Traceback (most recent call last):
    ValueError: its lists and tables lie more than 20 deep in one another
    """
    if len(text) > LARGEST:
        raise ValueError(f"it has {len(text):,} characters, and a file of this kind has at most {LARGEST:,}")
    bare = _WORDS.sub("x", text)
    if _DOTTED.search(bare) or _deepest(bare) > DEEPEST:
        raise ValueError(f"its lists and tables lie more than {DEEPEST} deep in one another")
    if any(len(digits) > LONGEST for digits in re.findall(r"\d[\d_]*", bare)):
        raise ValueError(f"it holds a number of more than {LONGEST} digits")
    return tomllib.loads(text, parse_float=_number)


def _deepest(bare: str) -> int:
    depth = most = 0
    for sign in re.findall(r"[\[\]{}]", bare):
        depth += 1 if sign in "[{" else -1
        most = max(most, depth)
    return most


def _number(text: str) -> Decimal:
    number = Decimal(text.replace("_", ""))
    if (
        number.is_finite() and abs(number.adjusted()) > LONGEST
    ):  # nan and inf are TOML; who reads the value refuses them
        raise ValueError(f"{text} is not a number a scale, ruler or till can show")
    return number
