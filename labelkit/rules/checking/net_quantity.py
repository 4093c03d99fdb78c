"""The net weight as the label words it, against what the market's packs say of units, words and figures."""

from __future__ import annotations

import re
from collections.abc import Iterator

from labelkit.rules.checking.case import Case
from labelkit.rules.checking.net_figures import advice, points, truth, writing
from labelkit.rules.checking.net_statement import VOLUME, Amount, amounts, form, is_multipack, weights
from labelkit.rules.checking.values import about, held
from labelkit.rules.findings import Finding
from labelkit.rules.wording.folding import folded

_FIELD = "net_statement"


def net_quantity(case: Case) -> Iterator[Finding]:
    """Everything that is wrong, or doubtful, in the wording of the net weight; nothing when the file leaves it to us."""
    statement = case.net_statement
    if statement is None:
        return
    found = amounts(statement)
    if _same(statement) in map(_same, case.forms):
        yield from (*writing(case, found), *points(case, found))
        return
    findings = [*_words(case, statement), *_systems(case, found), *writing(case, found), *truth(case, found)]
    if is_multipack(statement):
        law = held(case, "systems of the net quantity")
        if law:
            yield about(
                case,
                law,
                "ask",
                _FIELD,
                statement,
                says="A pack of several jars states their number, the weight of each and the total.",
                do="Compare it with the rule for packs of several units; labelkit checks single jars.",
            )
        return
    yield from findings
    yield from points(case, found)
    if not any(finding.level == "stop" for finding in findings):
        yield from _form(case, found, statement)


def _same(statement: str) -> str:
    """A statement without what makes no difference: case, points after words, brackets, plural s, the word weight spelt out."""
    text = re.sub(r"[().,;:—–-]+(?=\s|$)|[()]", " ", f" {statement.casefold()} ")
    text = re.sub(r"\bweight\b", "wt", text)
    text = re.sub(r"\b(lb|oz)s\b", r"\1", text)
    text = re.sub(r"(\d)\s*(g|kg|oz|lb)\b", r"\1 \2", text)
    return " ".join(re.sub(r"\.(?=\s|$)", " ", text).split())


def _words(case: Case, statement: str) -> Iterator[Finding]:
    """“Net weight” where it must stand, and never shortened to initials where that is forbidden."""
    law = held(case, "words with the net quantity")
    if law is None:
        return
    due = held(case, "words with the net quantity are required")
    text = " ".join(folded(word) for word in re.findall(r"[^\W\d_]+", statement))
    wanted = [" ".join(folded(word) for word in words.split()) for words in law.value]
    if any(words in text for words in wanted):
        return
    usual = law.value[0]
    if due and due.value:
        yield about(
            case,
            due,
            "stop",
            _FIELD,
            statement,
            says=f"A weight is stated with the words “{usual}”; they are missing.",
            do=f"Write, for example, “{_example(case, usual, statement)}”.",
        )
    elif re.search(r"\bn\.?\s?(w|wt)\b\.?|\bnet\.?\s*wt\b", statement, re.IGNORECASE):
        level = "stop" if re.search(r"\bn\.?\s?(w|wt)\b", statement, re.IGNORECASE) else "ask"
        yield about(
            case,
            law,
            level,
            _FIELD,
            statement,
            says="The word “net” may not be shortened with the weight.",
            do=f"Write “{usual}” in full, or the weight alone.",
        )


def _example(case: Case, usual: str, statement: str) -> str:
    return case.forms[0] if case.forms else f"{usual} {statement}"


def _systems(case: Case, found: tuple[Amount, ...]) -> Iterator[Finding]:
    """Both systems where both are due, metric where metric is; a volume is no weight."""
    law = held(case, "systems of the net quantity")
    if law is None:
        return
    shown = ", ".join(amount.written for amount in found) or (case.net_statement or "")
    metric = any(amount.metric for amount in found)
    customary = bool(weights(found))
    volume = any(amount.kind == VOLUME for amount in found)
    if volume:
        says = "Honey is sold by weight; a fluid measure is no net weight" + (
            "." if not (metric or customary) else ", and beside the weight on the main panel it misleads."
        )
        yield about(
            case,
            law,
            "ask" if metric or customary else "stop",
            _FIELD,
            shown,
            says=says,
            do="State the weight; a volume may stand elsewhere on the jar.",
        )
    if not (metric or customary):
        if not volume:
            yield about(case, law, "stop", _FIELD, shown, says="No weight was found in the statement.", do=advice(case))
    elif law.value == "both" and not metric:
        yield about(
            case,
            law,
            "stop",
            _FIELD,
            shown,
            says="The metric weight is missing; both systems are due.",
            do=advice(case),
        )
    elif law.value == "both" and not customary:
        yield about(
            case,
            law,
            "stop",
            _FIELD,
            shown,
            says="The weight in pounds or ounces is missing; both systems are due.",
            do=advice(case),
        )
    elif not metric:
        yield about(
            case, law, "stop", _FIELD, shown, says="The weight must be stated in grams or kilograms.", do=advice(case)
        )
    elif law.value == "metric" and customary:
        yield about(
            case,
            law,
            "ask",
            _FIELD,
            shown,
            says="The weight is stated in grams or kilograms here; ounces and pounds beside it were not read to be allowed.",
            do=advice(case),
        )


def _form(case: Case, found: tuple[Amount, ...], statement: str) -> Iterator[Finding]:
    """Ounces, ounces with pounds, or pounds: which of them this weight takes."""
    law, others = held(case, "form of the customary weight"), held(case, "other forms of the customary weight")
    written = form(found)
    if law is None or not written:
        return
    allowed = {law.value, *(others.value if others else ())}
    if written not in allowed:
        wanted = {
            "ounces": "in ounces alone",
            "ounces (pounds)": "in ounces with the pounds in brackets after them",
            "pounds": "in pounds",
        }
        ways = " or ".join(wanted[way] for way in (law.value, *(others.value if others else ())))
        level = "note" if written == "ounces (pounds)" and "pounds" in allowed else "stop"
        yield about(case, law, level, _FIELD, statement, says=f"A weight like this is stated {ways}.", do=advice(case))
