"""Where a figure comes from and how sure it is.

=============  ===========================================================
sure           meaning
=============  ===========================================================
``seen``       read in the source that is named
``second-hand``  read where somebody else quotes the source
``memory``     recalled, not read; said to the user every time
``reckoned``   arithmetic on figures of the other kinds
``practice``   common practice, no source
=============  ===========================================================
"""

from __future__ import annotations

from dataclasses import dataclass

SEEN = "seen"
SECOND_HAND = "second-hand"
MEMORY = "memory"
RECKONED = "reckoned"
PRACTICE = "practice"
OWN = "own"  # the producer's own figure

_SAID = {
    SECOND_HAND: "read only where another source quotes it",
    MEMORY: "recalled from memory and not read at its source",
    RECKONED: "reckoned by labelkit, not printed by any source",
    PRACTICE: "common practice without a published source",
}


@dataclass(frozen=True, slots=True)
class Source:
    """A published source and how it was read."""

    title: str
    sure: str = SEEN

    @property
    def caution(self) -> str:
        """What has to be said with the figure; empty where it was read at its source.

        >>> Source("White 1975, specific gravity of honey", MEMORY).caution
        'White 1975, specific gravity of honey: recalled from memory and not read at its source.'
        """
        return f"{self.title}: {_SAID[self.sure]}." if self.sure in _SAID else ""
