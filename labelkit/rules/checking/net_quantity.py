"""The net weight as the label words it, against what the market's packs say of units, words and figures."""

from __future__ import annotations

import re
from collections.abc import Iterator
from decimal import Decimal
from fractions import Fraction
from math import gcd

from labelkit.measures.mass import GRAMS_PER_OUNCE
from labelkit.measures.rounding import plain
from labelkit.rules.blocks import Value
from labelkit.rules.checking.net_statement import (
    GRAM,
    KILOGRAM,
    VOLUME,
    WORDS,
    Amount,
    amounts,
    form,
    is_multipack,
    weights,
)
from labelkit.rules.checking.required import Case
from labelkit.rules.checking.values import about, held
from labelkit.rules.figures import net_weight
from labelkit.rules.findings import Finding
from labelkit.rules.wording.folding import folded

_FIELD = "net_statement"


def net_quantity(case: Case) -> Iterator[Finding]:
    """Everything that is wrong, or doubtful, in the wording of the net weight; nothing when the file leaves it to us."""
    statement = case.label.net_statement
    if statement is None:
        return
    lawful = _lawful(case)
    if _same(statement) in map(_same, lawful):
        yield from _points(case, amounts(statement))
        return
    found = amounts(statement)
    findings = [*_words(case, statement), *_systems(case, found), *_writing(case, found), *_truth(case, found)]
    if is_multipack(statement):
        law = held(case, "systems of the net quantity")
        if law:
            yield about(case, law, "ask", _FIELD, statement, says="A pack of several jars states their number, the weight of each and the total.",
                        do="Compare it with the rule for packs of several units; labelkit checks single jars.")  # fmt: skip
        return
    yield from findings
    yield from _points(case, found)
    if not any(finding.level == "stop" for finding in findings):
        yield from _form(case, found, statement, lawful)


def _lawful(case: Case) -> tuple[str, ...]:
    if not case.label.declares:
        return ()
    return net_weight.declared(case.label.declares, case.market).statements


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
        yield about(case, due, "stop", _FIELD, statement, says=f"A weight is stated with the words “{usual}”; they are missing.",
                    do=f"Write, for example, “{_example(case, usual, statement)}”.")  # fmt: skip
    elif re.search(r"\bn\.?\s?(w|wt)\b\.?|\bnet\.?\s*wt\b", statement, re.IGNORECASE):
        level = "stop" if re.search(r"\bn\.?\s?(w|wt)\b", statement, re.IGNORECASE) else "ask"
        yield about(case, law, level, _FIELD, statement, says="The word “net” may not be shortened with the weight.",
                    do=f"Write “{usual}” in full, or the weight alone.")  # fmt: skip


def _example(case: Case, usual: str, statement: str) -> str:
    lawful = _lawful(case)
    return lawful[0] if lawful else f"{usual} {statement}"


def _systems(case: Case, found: tuple[Amount, ...]) -> Iterator[Finding]:
    """Both systems where both are due, metric where metric is; a volume is no weight."""
    law = held(case, "systems of the net quantity")
    if law is None:
        return
    shown = ", ".join(amount.written for amount in found) or (case.label.net_statement or "")
    metric = any(amount.metric for amount in found)
    customary = bool(weights(found))
    volume = any(amount.kind == VOLUME for amount in found)
    if volume:
        says = "Honey is sold by weight; a fluid measure is no net weight" + (
            "." if not (metric or customary) else ", and beside the weight on the main panel it misleads."
        )
        yield about(case, law, "ask" if metric or customary else "stop", _FIELD, shown, says=says,
                    do="State the weight; a volume may stand elsewhere on the jar.")  # fmt: skip
    if not (metric or customary):
        if not volume:
            yield about(case, law, "stop", _FIELD, shown, says="No weight was found in the statement.", do=_write(case))
    elif law.value == "both" and not metric:
        yield about(
            case,
            law,
            "stop",
            _FIELD,
            shown,
            says="The metric weight is missing; both systems are due.",
            do=_write(case),
        )
    elif law.value == "both" and not customary:
        yield about(
            case,
            law,
            "stop",
            _FIELD,
            shown,
            says="The weight in pounds or ounces is missing; both systems are due.",
            do=_write(case),
        )
    elif not metric:
        yield about(
            case, law, "stop", _FIELD, shown, says="The weight must be stated in grams or kilograms.", do=_write(case)
        )
    elif law.value == "metric" and customary:
        yield about(
            case,
            law,
            "ask",
            _FIELD,
            shown,
            says="The weight is stated in grams or kilograms here; ounces and pounds beside it were not read to be allowed.",
            do=_write(case),
        )


def _write(case: Case) -> str:
    lawful = _lawful(case)
    return f"Write, for example, “{lawful[0]}”." if lawful else "State the weight in the units the law asks for."


def _writing(case: Case, found: tuple[Amount, ...]) -> Iterator[Finding]:
    """Symbols, fractions, decimals and figures, each amount by itself."""
    for amount in found:
        yield from _metric_writing(case, amount) if amount.metric else _customary_writing(case, amount)


def _metric_writing(case: Case, amount: Amount) -> Iterator[Finding]:
    symbols = held(case, "metric symbols")
    if symbols and amount.unit not in symbols.value and amount.unit.casefold() not in WORDS:
        right = amount.kind if amount.kind in symbols.value else symbols.value[0]
        yield about(case, symbols, "stop", _FIELD, amount.written, says=f"“{amount.unit}” is no symbol of a metric unit; only {', '.join(symbols.value)} are.",
                    do=f"Write “{amount.number} {right}”.")  # fmt: skip
    fractions = held(case, "common fractions of metric units")
    if amount.fraction and fractions and fractions.value == "not allowed":
        yield about(case, fractions, "stop", _FIELD, amount.written, says="A metric weight takes no common fraction.",
                    do="Write decimals, or change to grams.")  # fmt: skip
        return
    kilograms = held(case, "kilograms from")
    either = held(case, "weights that may be shown in either metric unit")
    free = either is not None and Decimal(amount.grams.numerator) / amount.grams.denominator in either.value
    if kilograms and amount.kind == GRAM and amount.grams >= kilograms.value:
        kg = plain(Decimal(amount.grams.numerator) / amount.grams.denominator / 1000)
        yield about(
            case,
            kilograms,
            "stop",
            _FIELD,
            amount.written,
            says="From here on the weight is stated in kilograms.",
            do=f"Write “{kg} kg”.",
        )
    elif kilograms and amount.kind == KILOGRAM and amount.grams < kilograms.value and not free:
        grams = plain(Decimal(amount.grams.numerator) / amount.grams.denominator)
        yield about(
            case,
            kilograms,
            "stop",
            _FIELD,
            amount.written,
            says="A weight as small as this is stated in grams.",
            do=f"Write “{grams} g”.",
        )
    figures = held(case, "figures of the metric weight")
    if figures and not amount.fraction and amount.figures > figures.value:
        yield about(case, figures, "ask", _FIELD, amount.written, says=f"The metric weight is stated with no more than {figures.value} figures.",
                    do="Drop the last figures; a weight is rounded down, never up.")  # fmt: skip


def _customary_writing(case: Case, amount: Amount) -> Iterator[Finding]:
    short = held(case, "abbreviations in the net quantity")
    plural = amount.unit.casefold().removesuffix("s")
    if short and plural not in short.value and amount.unit.casefold() not in WORDS and amount.kind != VOLUME:
        yield about(case, short, "stop", _FIELD, amount.written, says=f"“{amount.unit}” is not one of the short forms that may stand in a net weight: {', '.join(short.value)}.",
                    do=f"Write “{amount.number} {amount.kind}”.")  # fmt: skip
    allowed = held(case, "denominators of a common fraction")
    if amount.fraction and allowed:
        above, below = amount.fraction
        if below not in allowed.value:
            yield about(case, allowed, "stop", _FIELD, amount.written, says=f"Only fractions in {', '.join(map(str, allowed.value))} parts may stand in a net weight.",
                        do="Use one of these fractions, rounded down, or decimals.")  # fmt: skip
        elif gcd(above, below) > 1:
            lowest = Fraction(above, below)
            yield about(
                case,
                allowed,
                "stop",
                _FIELD,
                amount.written,
                says="The fraction is not in its lowest terms.",
                do=f"Write {lowest} instead of {above}/{below}.",
            )
    decimals = held(case, "decimals of a customary weight")
    if decimals and amount.decimals > decimals.value:
        yield about(case, decimals, "stop", _FIELD, amount.written, says=f"A decimal fraction takes no more than {decimals.value} places here.",
                    do="Cut it off there; never round it up.")  # fmt: skip


def _points(case: Case, found: tuple[Amount, ...]) -> Iterator[Finding]:
    """Points after metric symbols, and figures that stand close to theirs: style, never a stop."""
    symbols = held(case, "metric symbols")
    if symbols is None:
        return
    for amount in found:
        if amount.metric and amount.point:
            yield about(
                case,
                symbols,
                "note",
                _FIELD,
                f"{amount.written}",
                says="A metric symbol takes no point.",
                do=f"Write “{amount.number} {amount.unit}”.",
            )
        elif amount.metric and not amount.spaced:
            yield about(
                case,
                symbols,
                "note",
                _FIELD,
                amount.written,
                says="A space belongs between the figure and the symbol.",
                do=f"“{amount.number} {amount.unit}” reads better; the official guide prints it without.",
            )


def _truth(case: Case, found: tuple[Amount, ...]) -> Iterator[Finding]:
    """No figure may promise more than the jar is meant to hold, and all must speak of the same weight."""
    law = held(case, "rounding of a declared weight")
    given = weights(found)
    declared = case.facts.get("declared")
    meant = Fraction(declared) if declared else (given[0] if given else None)
    if law is None or meant is None:
        return
    typed_customary = net_weight.typed_customary(case.label.declares) if case.label.declares else bool(given)
    for grams in given:
        if grams > meant:
            ounces = _ounces(grams - meant)
            yield about(case, law, "stop", _FIELD, case.label.net_statement or "", says=f"The label would promise {ounces} oz more than {_shown(case)}: a rounded figure may not overstate.",
                        do=_write(case))  # fmt: skip
            break
    for amount in (amount for amount in found if amount.metric):
        yield from _metric_truth(case, law, amount, meant, typed_customary)
    if any(grams < meant * Fraction(99, 100) for grams in given):
        yield about(
            case,
            law,
            "stop",
            _FIELD,
            case.label.net_statement or "",
            says=f"One of the figures is well under {_shown(case)}; the figures of one label must agree.",
            do=_write(case),
        )


def _metric_truth(case: Case, law: Value, amount: Amount, meant: Fraction, typed_customary: bool) -> Iterator[Finding]:
    unit = Fraction(1000 if amount.kind == KILOGRAM else 1, 10**amount.decimals)
    over = amount.grams - meant
    if over > 0:
        nearest = typed_customary and over <= unit / 2
        enforced = held(case, "figure that is enforced")
        promise = f"{amount.number} {amount.unit} is more than {_shown(case)}; the larger figure counts, so every jar must be filled to it."
        says = promise if nearest else f"{amount.number} {amount.unit} overstates {_shown(case)}."
        yield about(
            case,
            enforced if nearest and enforced else law,
            "ask" if nearest else "stop",
            _FIELD,
            amount.written,
            says=says,
            do=f"{_write(case)} Rounding down costs nothing.",
        )
    elif -over > max(unit, meant / 100):
        yield about(
            case,
            law,
            "stop",
            _FIELD,
            amount.written,
            says=f"{amount.number} {amount.unit} is not {_shown(case)}; the figures of one label must agree.",
            do=_write(case),
        )


def _ounces(grams: Fraction) -> str:
    ounces = Decimal(grams.numerator) / grams.denominator / GRAMS_PER_OUNCE
    return f"{ounces:.3f}" if ounces < 1 else f"{ounces:.2f}"


def _shown(case: Case) -> str:
    return case.label.declares or "the weight stated first"


def _form(case: Case, found: tuple[Amount, ...], statement: str, lawful: tuple[str, ...]) -> Iterator[Finding]:
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
        yield about(case, law, level, _FIELD, statement, says=f"A weight like this is stated {ways}.", do=_write(case))
