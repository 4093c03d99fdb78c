"""How rules and values are shown on the command line, as text and as a document."""

from __future__ import annotations

import textwrap
from collections.abc import Sequence
from typing import TYPE_CHECKING, Any

from labelkit.cli._runner import Answer

if TYPE_CHECKING:
    from labelkit.rules.blocks import Law

WIDTH = 98
_INDENT = " " * 8


def laws_answer(laws: Sequence[Law], *, head: str = "", foot: str = "", **more: Any) -> Answer:
    """Rules and values one below the other; ``more`` are further keys of the document."""
    from labelkit.rules.findings import CHECK_LOCAL

    lines = [line for law in laws for line in (*law_lines(law), "")] or ["Nothing of that kind is held.", ""]
    parts = [*([head, ""] if head else []), *lines, *([foot, ""] if foot else []), CHECK_LOCAL]
    return Answer(more | {"rules": [law_document(law) for law in laws]}, "\n".join(parts))


def law_lines(law: Law) -> list[str]:
    """One rule or value for a reader: what it says, since when, where it is written, and its doubt."""
    from labelkit.rules.catalogue import days, shown
    from labelkit.rules.findings import law_line

    when = f", when {law.when}" if law.when.sets else ""
    unless = f", unless {law.unless}" if law.unless else ""
    lines = [wrapped(f"{law.pack}: {law.label}{when}{unless}"), hung(shown(law))]
    if law.note:
        lines.append(hung(f"({law.note})"))
    if law.cite.quote:
        lines.append(hung(f"“{law.cite.quote}”"))
    lines.append(hung(f"{days(law)}; {law_line(law.cite, law.sure)}"))
    if law.reviewed:
        lines.append(hung(f"Reviewed by {law.reviewed.by} on {law.reviewed.on}."))
    lines += [hung(f"Being changed: {bill.what} (looked at on {bill.day}).") for bill in law.watch]
    return lines


def hung(text: str) -> str:
    """A paragraph set in under its rule."""
    return wrapped(_INDENT + text)


def wrapped(text: str) -> str:
    """A paragraph whose later lines are set in."""
    return textwrap.fill(text, WIDTH, subsequent_indent=_INDENT, break_on_hyphens=False, break_long_words=False)


def law_document(law: Law) -> dict[str, Any]:
    """One rule or value as a document; ``sure`` in the three words of the contract, ``read_in`` the kind of text."""
    from labelkit.rules.catalogue import shown

    cite = law.cite
    return {
        "market": law.pack,
        "topic": law.topic,
        "kind": law.kind,
        "rule": law.rule if hasattr(law, "rule") else law.label,
        "name": law.label,
        "says": shown(law),
        "when": str(law.when),
        "unless": str(law.unless) if law.unless else "",
        "since": law.since,
        "since_is": law.since_is,
        "until": law.until,
        "cite": str(cite),
        "source": cite.source.id if cite.source else "",
        "url": cite.url,
        "quote": cite.quote,
        "no_quote": cite.no_quote,
        "read_on": cite.read_on,
        "recheck_by": cite.recheck_by,
        "sure": law.sure,
        "read_in": cite.read_in,
        "where": cite.where,
        "note": law.note,
        "watch": [{"what": bill.what, "day": bill.day, "expected": bill.expected} for bill in law.watch],
        "sell_through": law.sell_through,
        "reviewed": law.reviewed,
    }
