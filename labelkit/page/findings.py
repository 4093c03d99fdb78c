"""Findings beside a label's look: in order, numbered, and where on the label each one points."""

from __future__ import annotations

import re

from labelkit.page.own_words import in_page_words

# A finding names the key of a label file that answers it; on the page a field does.
_FILE_WORDS = re.compile(r" \(\w+ in \[situation\]\)")
# Which marks of the label a field of a label file is.
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


def in_order(findings) -> list:
    """Findings with what must be fixed first, then what to ask."""
    order = ("stop", "ask", "note")
    return sorted(findings, key=lambda finding: order.index(finding.level))


def told(findings) -> list[dict]:
    """Findings numbered, with their source and what to do, as a page says it."""
    from labelkit.rules.report import source

    return [
        {"f": found, "number": n, "source": source(found), "do": in_page_words(_FILE_WORDS.sub("", found.do))}
        for n, found in enumerate(in_order(findings), 1)
    ]


def spots(findings, placed) -> list[dict]:
    """Where on the label each finding points, as boxes of the label."""
    from labelkit.labels.layout.placed import texts_of
    from labelkit.paper.fonts import around

    marked: dict[tuple, dict] = {}
    for n, finding in enumerate(findings, 1):
        if finding.level == "note":
            continue
        roles = _ROLES.get(finding.field.partition(".")[0], ())
        texts = [text for role in roles for text in texts_of(placed.marks, role)]
        said = finding.found.casefold()
        boxes = [text.box for text in texts if said and (text.text.casefold() in said or said in text.text.casefold())]
        boxes = boxes or [text.box for text in texts if finding.field != "lines"]
        if not boxes:
            continue
        box = around(boxes)
        spot = marked.setdefault((box.left, box.top), {"box": box, "numbers": [], "level": finding.level})
        spot["numbers"].append(n)
    return list(marked.values())
