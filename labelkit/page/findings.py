"""Findings beside a label's look: in order, numbered, each at its field of the desk and at its place on the print."""

from __future__ import annotations

import re
from collections.abc import Iterable
from typing import Any

from labelkit.page.own_words import in_page_words
from labelkit.rules.glossary import Fact, glossary

# A finding names the key of a label file that answers it, after the question; on the page a field asks it.
_FILE_WORDS = re.compile(r" \((\w+) in \[situation\]\)")
_QUESTION = re.compile(r"(?:^|(?<=\s))[A-Z][^.?!]*\? \(\w+ in \[situation\]\)\s?")
# Which marks of the label a field of a label file is, and which field of the desk says it.
_ROLES = {
    "name": ("name",),
    "net_statement": ("net",),
    "declares": ("net",),
    "lines": ("line", "wording", "caution"),
    "origin": ("origin",),
    "lot": ("lot",),
    "best_before": ("best_before",),
    "maker": ("maker", "address"),
    "grade": ("grade",),
    "ingredients": ("ingredients",),
    "floral_source": ("name",),
    "story": ("story",),
}
#: The fields of the desk that findings stand at.
FIELDS = ("name", "lines", "floral_source", "grade", "ingredients", "origin", "best_before", "maker")
_ORDER = ("stop", "ask", "note")


def in_order(findings) -> list:
    """Findings with what must be fixed first, then what to ask."""
    return sorted(findings, key=lambda finding: _ORDER.index(finding.level))


def told(findings) -> list[dict[str, Any]]:
    """Findings numbered, with their source, what to do, the field they stand at, and the facts they ask about."""
    from labelkit.rules.report import source

    return [
        {
            "f": found,
            "number": n,
            "source": source(found),
            "do": in_page_words(_QUESTION.sub("", found.do).strip()),
            "field": _field(found),
            "facts": _FILE_WORDS.findall(found.do),
        }
        for n, found in enumerate(in_order(findings), 1)
    ]


def _field(finding) -> str:
    """The field of the desk that says what a finding is about; nothing where none does, or it only tells."""
    field = finding.field.partition(".")[0]
    said = finding.level == "stop" or (finding.level == "ask" and finding.found)
    return field if said and field in FIELDS else ""


def unruled(findings: Iterable[dict[str, Any]], stops: Iterable[str]) -> list[str]:
    """What must be fixed and is no finding of the rules: letters too small, words that found no room."""
    ruled = {f"{found['f'].says} {found['f'].do}" for found in findings}
    return [text for text in dict.fromkeys(stops) if text not in ruled]


def on_desk(findings: list[dict[str, Any]], stops: list[str], answered: dict[str, Any]) -> dict[str, Any]:
    """The findings as a desk shows them: by field, counted, with the questions they ask; ``stops`` are those beside them."""
    at_field: dict[str, list[dict[str, Any]]] = {}
    for found in findings:
        at_field.setdefault(found["field"], []).append(found)
    levels = [found["f"].level for found in findings]
    return {
        "findings": findings,
        "at_field": at_field,
        "facts": _facts_asked(findings, answered),
        "answered": answered,
        "stops_": stops,
        "must": levels.count("stop") + len(stops),
        "asks": levels.count("ask"),
        "unmet": (),
        "changed": False,
        "notes": (),
    }


def _facts_asked(findings: list[dict[str, Any]], answered: dict[str, Any]) -> list[Fact]:
    """The facts that are asked about or were answered in this form, each once, as the glossary lists them."""
    asked = {name for found in findings for name in found["facts"]} | set(answered)
    return [fact for name, fact in glossary().facts.items() if name in asked]


def spots(findings: list[dict[str, Any]], placed) -> list[dict[str, Any]]:
    """Where on the label the findings point, as boxes of the label, each with the field it leads to."""
    from labelkit.labels.layout.placed import texts_of
    from labelkit.paper.fonts import around

    marked: dict[tuple, dict[str, Any]] = {}
    for found in findings:
        finding = found["f"]
        if not found["field"]:
            continue
        texts = [text for role in _ROLES.get(found["field"], ()) for text in texts_of(placed.marks, role)]
        said = finding.found.casefold()
        boxes = [text.box for text in texts if said and (text.text.casefold() in said or said in text.text.casefold())]
        boxes = boxes or [text.box for text in texts if found["field"] != "lines"]
        if not boxes:
            continue
        box = around(boxes)
        spot = marked.setdefault(
            (box.left, box.top), {"box": box, "numbers": [], "level": finding.level, "field": found["field"]}
        )
        spot["numbers"].append(found["number"])
    return list(marked.values())
