"""A law review: every rule and value of one pack on paper or in a table, to be ticked by somebody who knows the law.

The table comes back with ticks, and each ticked block of the pack gets the reviewer's name and day. Only the text of the
pack's files is worked on here; reading and writing files is the caller's.
"""

from __future__ import annotations

import csv
import io
import json
import re
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from hashlib import sha256

from labelkit.errors.rules import ReviewDoesNotFit, ReviewUnreadable, ReviewUnsigned
from labelkit.measures import read_day
from labelkit.rules.blocks import Law, Reviewer
from labelkit.rules.catalogue import own, shown
from labelkit.rules.market import Market

SAID = ("file", "rule", "when", "since", "says", "source", "clause", "quote", "address", "read_on", "read_in", "sure")
REDATED = ("since", "read_on")  # columns a spreadsheet may write in its own way
ASKED = ("agreed", "remark", "reviewer", "reviewed_on")  # the reviewer's own columns
COLUMNS = ("id", *SAID, *ASKED)
_TICKS = {"x", "yes", "y", "1", "true", "ok", "✓", "☑"}
_BLOCK = re.compile(r"^(?=\[\[?[a-z_]+\]\]?\s*$)", re.MULTILINE)
_SURE = re.compile(r'^sure = ".*"$', re.MULTILINE)


@dataclass(frozen=True, slots=True)
class Row:
    """One rule or value as a reviewer sees it."""

    law: Law

    @property
    def cells(self) -> dict[str, str]:
        """What its row holds, by column: a mark of all it says, what it says, and the reviewer's own cells."""
        law, cite = self.law, self.law.cite
        said = {
            "file": law.file,
            "rule": law.label,
            "when": "; ".join(filter(None, (str(law.when), f"unless {law.unless}" if law.unless else ""))),
            "since": law.since.isoformat() + (f" until {law.until}" if law.until else ""),
            "says": shown(law),
            "source": cite.title,
            "clause": cite.clause,
            "quote": cite.quote or (f"(no quotation: {cite.no_quote})" if cite.no_quote else ""),
            "address": cite.url,
            "read_on": cite.read_on.isoformat() if cite.read_on else "",
            "read_in": cite.read_in,
            "sure": law.sure,
        }
        mark = sha256("\n".join(said.values()).encode()).hexdigest()[:12]
        return {"id": mark} | said | dict.fromkeys(ASKED, "")


def rows(here: Market) -> tuple[Row, ...]:
    """Every block of the market's own pack, file by file, in the order of the files."""
    return tuple(Row(law) for law in own(here))


def table(here: Market) -> str:
    """The review as a table of comma-separated values, with a column to tick and one for remarks."""
    out = io.StringIO()
    writer = csv.DictWriter(out, COLUMNS, lineterminator="\r\n")
    writer.writeheader()
    writer.writerows({key: _harmless(cell) for key, cell in row.cells.items()} for row in rows(here))
    return out.getvalue()


def _harmless(cell: str) -> str:
    """A cell a spreadsheet takes for text and not for a formula."""
    return f" {cell}" if cell[:1] in "=+-@" else cell


@dataclass(frozen=True, slots=True)
class Reviewed:
    """A review that came back: who agreed to which block, the blocks nobody agreed to, and the remarks by rule."""

    agreed: Mapping[Law, Reviewer]
    open: tuple[Law, ...]
    remarks: Mapping[str, str]


def read_table(text: str, here: Market, locale: str) -> Reviewed:
    """A table that came back from a reviewer, held against the pack as it is; days in the reader's ``locale`` or as 2026-11-28.

    Raises :class:`~labelkit.errors.rules.ReviewUnreadable` when it is no such table,
    :class:`~labelkit.errors.rules.ReviewDoesNotFit` when a filled row is not what the pack says now, and
    :class:`~labelkit.errors.rules.ReviewUnsigned` when a ticked row has no name or no day.
    """
    held = {row.cells["id"]: row for row in rows(here)}
    agreed: dict[Law, Reviewer] = {}
    remarks: dict[str, str] = {}
    for given in _lines(text.lstrip("\ufeff")):
        ticked, remark = given["agreed"].casefold() in _TICKS, given["remark"]
        if not ticked and not remark:
            continue
        row = held.get(given["id"])
        if row is None or _said(row.cells) != _said(given):
            raise ReviewDoesNotFit(here.code, given["rule"], given["file"])
        law = row.law
        if remark:
            remarks[law.label] = remark
        if ticked:
            agreed[law] = _signed(given, locale)
    return Reviewed(agreed, tuple(row.law for row in held.values() if row.law not in agreed), remarks)


def _lines(text: str) -> Iterator[dict[str, str]]:
    first = text.split("\n", 1)[0]
    delimiter = ";" if first.count(";") > first.count(",") else ","
    reader = csv.DictReader(io.StringIO(text, newline=""), delimiter=delimiter)
    missing = [column for column in COLUMNS if column not in (reader.fieldnames or ())]
    if missing:
        raise ReviewUnreadable(missing)
    for given in reader:
        yield {column: (given[column] or "").strip() for column in COLUMNS}


def _signed(given: Mapping[str, str], locale: str) -> Reviewer:
    if not given["reviewer"] or not given["reviewed_on"]:
        raise ReviewUnsigned(given["rule"])
    return Reviewer(given["reviewer"], read_day(given["reviewed_on"], locale))


def _said(cells: Mapping[str, str]) -> tuple[str, ...]:
    """What a row says, spaces aside, without the columns a spreadsheet writes anew."""
    return tuple(" ".join(cells[column].split()) for column in SAID if column not in REDATED)


def marked(text: str, laws: Iterable[Law], agreed: Mapping[Law, Reviewer]) -> str:
    """The text of one file of the pack in which each block agreed to names who reviewed it, and when.

    ``laws`` are the blocks of the file; within one kind they are in the order they stand in it.
    """
    waiting: dict[str, list[Law]] = {}
    for law in laws:
        waiting.setdefault(law.kind, []).append(law)
    parts = []
    for part in _BLOCK.split(text):
        kind = part[2 : part.find("]")] if part.startswith("[[") else ""
        reviewer = agreed.get(waiting[kind].pop(0)) if kind in waiting else None
        parts.append(_with_reviewer(part, reviewer) if reviewer else part)
    return "".join(parts)


def _with_reviewer(block: str, reviewer: Reviewer) -> str:
    name = json.dumps(reviewer.by, ensure_ascii=False)
    bare = re.sub(r"^reviewed = .*\n", "", block, flags=re.MULTILINE)
    return _SURE.sub(lambda sure: f"{sure[0]}\nreviewed = {{ by = {name}, on = {reviewer.on} }}", bare, count=1)
