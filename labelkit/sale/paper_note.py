"""The line under a paper whose words no native speaker has read yet."""

from __future__ import annotations

from labelkit.measures.wording import Wording


def quality_note(words: Wording) -> str:
    """Return the line; nothing where somebody has checked the words.

    >>> from labelkit.measures.wording import ENGLISH
    >>> quality_note(ENGLISH)
    ''
    """
    return "" if words.checked else words("The words of this paper were not checked by a native speaker yet.")
