"""Findings: what is the matter, why, what to do, where it is written, when we read it, and how sure we are."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date

from labelkit.rules.blocks import MEMORY, SEEN, Cite, Law, Rule, Value
from labelkit.rules.sources import COPY, OTHER

CHECK_LOCAL = "Check your local rules."
_UNSURE = {
    "second-hand": "known only from a second source; read the text itself before you rely on it",
    MEMORY: "from memory, not read at the source; check it before you rely on it",
}


@dataclass(frozen=True, slots=True)
class Finding:
    """One finding. ``level`` is stop (the law as read is not met), ask (may be required) or note (good practice)."""

    rule: str
    market: str
    level: str
    field: str
    found: str
    says: str
    do: str
    cite: str
    read_on: date | None
    sure: str
    read_in: str = ""  # the kind of text that was read; said to readers, not a key of the command contract

    def as_dict(self) -> dict[str, str | None]:
        """The finding as the command contract spells it."""
        return {
            "rule": self.rule,
            "market": self.market,
            "level": self.level,
            "field": self.field,
            "found": self.found,
            "says": self.says,
            "do": self.do,
            "cite": self.cite,
            "read_on": self.read_on.isoformat() if self.read_on else None,
            "sure": self.sure,
        }


def finding_of(law: Rule, market: str, *, field: str, found: str, level: str | None = None) -> Finding:
    """What a rule of a pack has to say about something found on a label; ``do`` always ends in the caution."""
    return Finding(
        rule=law.rule,
        market=market,
        level=level or law.level,
        field=field,
        found=found,
        says=law.says,
        do=with_caution(law.do),
        cite=str(law.cite),
        read_on=law.cite.read_on,
        sure=law.sure,
        read_in=law.cite.read_in,
    )


def finding_of_value(value: Value, market: str, *, level: str, field: str, found: str = "", do: str = "") -> Finding:
    """What the producer should know about a value that was used: its note, in a finding."""
    return Finding(
        rule=value.rule,
        market=market,
        level=level,
        field=field,
        found=found,
        says=value.note,
        do=with_caution(do),
        cite=str(value.cite),
        read_on=value.cite.read_on,
        sure=value.sure,
        read_in=value.cite.read_in,
    )


def with_caution(do: str) -> str:
    """Advice that ends in the one sentence every finding about law ends in.

    >>> with_caution("Print the lot code.")
    'Print the lot code. Check your local rules.'
    """
    do = do.strip()
    return do if do.endswith(CHECK_LOCAL) else f"{do} {CHECK_LOCAL}".strip()


def law_lines(laws: Iterable[Law]) -> str:
    """Where some figures come from: one line for each text with all its clauses, and the doubt where there is any."""
    clauses: dict[tuple[str, date | None, str, str], dict[str, None]] = {}
    for law in laws:
        text = (law.cite.title, law.cite.read_on, law.cite.read_in, law.sure)
        clauses.setdefault(text, {})[law.cite.clause] = None
    lines = [
        law_line(Cite(title, ", ".join(filter(None, found)), day, read_in=read_in), sure)
        for (title, day, read_in, sure), found in clauses.items()
    ]
    return "\n".join([*(f"Law: {line}" for line in lines), CHECK_LOCAL])


def law_line(cite: Cite, sure: str) -> str:
    """One citation for a reader: the text, the day it was read, and the doubt where it was not read at the source.

    >>> law_line(Cite("An invented honey act", "s. 1"), "memory")
    'An invented honey act, s. 1 – from memory, not read at the source; check it before you rely on it'
    """
    read = f" (read {read_where(cite.read_on, cite.read_in)})" if cite.read_on and sure == SEEN else ""
    doubt = f" – {_UNSURE[sure]}" if sure in _UNSURE else ""
    return f"{cite}{read}{doubt}"


def read_where(day: date | None, read_in: str) -> str:
    """The day a text was read, and in what kind of text where that was not the official one.

    >>> read_where(date(2026, 11, 28), "faithful copy"), read_where(date(2026, 11, 28), "official text")
    ('2026-11-28 in a faithful copy', '2026-11-28')
    >>> read_where(date(2026, 11, 28), "other text of the same act")
    '2026-11-28 in another text of the same act'
    """
    kinds = {COPY: " in a faithful copy", OTHER: " in another text of the same act"}
    return f"{day}{kinds.get(read_in, '')}"
