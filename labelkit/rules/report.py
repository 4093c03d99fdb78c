"""Findings as a person reads them: what must be fixed, what to ask, what is good to know."""

from __future__ import annotations

import re
import textwrap
from collections.abc import Iterable, Sequence
from typing import Protocol

from labelkit.rules.blocks import SEEN
from labelkit.rules.findings import CHECK_LOCAL, Finding, read_where

_QUESTION = re.compile(r"(?:^| )([^.?!)]*\?) \(([^()]+)\)")
_GROUPS = (("stop", "Must be fixed"), ("ask", "Ask, or have proof"), ("note", "Good to know"))
_DOUBT = {"second-hand": "known from a second source only", "memory": "from memory, not read at the source"}


class Uncovered(Protocol):
    """Something that was not checked."""

    @property
    def market(self) -> str: ...
    @property
    def area(self) -> str: ...
    @property
    def says(self) -> str: ...
    @property
    def do(self) -> str: ...


def report(findings: Sequence[Finding], uncovered: Iterable[Uncovered] = (), *, width: int = 96) -> str:
    """The findings in three groups, each with its reason, what to do, and where that is written.

    >>> print(report(()))
    Nothing was found that the rules labelkit holds speak of. That is no legal advice. Check your local rules.
    """
    parts = [_group(title, [f for f in findings if f.level == level], width) for level, title in _GROUPS]
    if not findings:
        parts.append(
            f"Nothing was found that the rules labelkit holds speak of. That is no legal advice. {CHECK_LOCAL}"
        )
    parts.append(_not_checked(list(uncovered), width))
    if findings:
        parts.append(f"{_count(findings)} This is no legal advice. {CHECK_LOCAL}")
    return "\n\n".join(part for part in parts if part)


def _group(title: str, findings: list[Finding], width: int) -> str:
    if not findings:
        return ""
    asked: set[str] = set()
    return "\n\n".join([f"{title} ({len(findings)})", *(_finding(finding, width, asked) for finding in findings)])


def _asked_once(do: str, asked: set[str]) -> str:
    """Advice in which a question that was asked further up is only named by its key.

    >>> asked = set()
    >>> _asked_once("Print it. Is it raw? (raw in [situation])", asked)
    'Print it. Is it raw? (raw in [situation])'
    >>> _asked_once("Leave it. Is it raw? (raw in [situation])", asked)
    'Leave it. (raw in [situation] decides this as well)'
    """

    def once(question: re.Match[str]) -> str:
        if question[2] in asked:
            return f" ({question[2]} decides this as well)"
        asked.add(question[2])
        return question[0]

    return _QUESTION.sub(once, do).strip()


def _finding(finding: Finding, width: int, asked: set[str]) -> str:
    said = f"“{finding.found}” – " if finding.found else ""
    where = f" [{finding.field}]" if finding.field not in ("text", "situation", "market") else ""
    # The caution stands once, at the end of the report.
    do = _asked_once(finding.do.removesuffix(CHECK_LOCAL).strip(), asked)
    lines = [_wrapped(f"{said}{finding.says}{where}", "  • ", width)]
    if do:
        lines.append(_wrapped(do, "    → ", width))
    lines.append(_wrapped(f"{source(finding)}  {finding.rule}, {finding.market}", "      ", width))
    return "\n".join(lines)


def source(finding: Finding) -> str:
    """Where a finding is written, when that was read, and the doubt where there is any.

    >>> from datetime import date
    >>> source(Finding("x.y", "x", "note", "text", "", "", "", "An invented act, s. 1", date(2026, 11, 25), "seen"))
    '(An invented act, s. 1; read 2026-11-25)'
    """
    if finding.sure == SEEN:
        return f"({finding.cite}; read {read_where(finding.read_on, finding.read_in)})"
    read = f", read {finding.read_on}" if finding.read_on else ""
    return f"({finding.cite}; {_DOUBT[finding.sure]}{read})"


def _not_checked(uncovered: list[Uncovered], width: int) -> str:
    if not uncovered:
        return ""
    several = len({entry.market for entry in uncovered}) > 1
    lines = [f"Not checked ({len(uncovered)})"]
    for entry in uncovered:
        place = f"{entry.market}: " if several else ""
        lines.append(_wrapped(f"{place}{entry.says} {entry.do.removesuffix(CHECK_LOCAL).strip()}", "  • ", width))
    return "\n".join(lines)


def _count(findings: Sequence[Finding]) -> str:
    counts = {level: sum(finding.level == level for finding in findings) for level, _ in _GROUPS}
    stops = f"{counts['stop']} to fix" if counts["stop"] else "Nothing to fix"
    return f"{stops}, {counts['ask']} to ask, {counts['note']} good to know."


def _wrapped(text: str, lead: str, width: int) -> str:
    return textwrap.fill(
        text,
        width,
        initial_indent=lead,
        subsequent_indent=" " * len(lead),
        break_long_words=False,
        break_on_hyphens=False,
    )
