"""How easily refusals and findings read: ``python -m tests.reading_ease``.

Flesch reading ease, 206.835 - 1.015 words a sentence - 84.6 syllables a word (R. Flesch, A new readability yardstick,
Journal of Applied Psychology 32, 1948; formula from memory); 60 to 70 is plain English. Syllables are the parts a word may be
hyphenated into (pyphen, en_US), which counts a little fewer than are spoken. A figure counts as a word of one syllable.
"""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterable
from pathlib import Path

import labelkit
from tests.test_plain_words import COMMAND, REFUSALS

PACKS = Path(labelkit.__file__).parent / "rules" / "packs"
WORD = re.compile(r"[A-Za-z][A-Za-z’'-]*")


def reading_ease(texts: Iterable[str]) -> float:
    """The Flesch reading ease of texts taken together."""
    from pyphen import Pyphen

    parts = Pyphen(lang="en_US")
    sentences = [each for text in texts for each in re.split(r"(?<=[.!?:])\s+", text) if WORD.search(each)]
    words = [word for each in sentences for word in WORD.findall(each)]
    syllables = sum(len(parts.positions(word)) + 1 for word in words)
    return 206.835 - 1.015 * len(words) / len(sentences) - 84.6 * syllables / len(words)


def refusals() -> list[str]:
    """What refusals say, without what is typed."""
    return [re.sub(r"\{\w+\}", "ten", COMMAND.sub("", text)) for _, _, text in REFUSALS]


def findings() -> list[str]:
    """What the packs say of a label, and what to do."""

    def said(block: object) -> Iterable[str]:
        if isinstance(block, dict):
            for name, value in block.items():
                if name in ("says", "do") and isinstance(value, str):
                    yield value
                yield from said(value)
        elif isinstance(block, list):
            for each in block:
                yield from said(each)

    return [text for path in sorted(PACKS.rglob("*.toml")) for text in said(tomllib.loads(path.read_text("utf-8")))]


if __name__ == "__main__":
    for name, texts in (("refusals", refusals()), ("findings", findings())):
        print(f"{name}: {len(texts)} texts, reading ease {reading_ease(texts):.1f}")
