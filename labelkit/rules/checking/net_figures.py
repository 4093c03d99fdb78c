"""How each figure of a net weight is written, and whether all of them tell the same truth."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal
from fractions import Fraction
from math import gcd

from labelkit.measures.mass import GRAMS_PER_OUNCE
from labelkit.measures.rounding import plain
from labelkit.rules.blocks import Value
from labelkit.rules.checking.case import Case
from labelkit.rules.checking.net_statement import GRAM, KILOGRAM, VOLUME, WORDS, Amount, weights
from labelkit.rules.checking.values import about, held
from labelkit.rules.figures.metric import pound_size
from labelkit.rules.findings import Finding

_FIELD = "net_statement"
# Beyond rounding: a figure this much under the declared weight speaks of another weight.
_ANOTHER_WEIGHT = Fraction(1, 100)


def advice(case: Case) -> str:
    """What to write instead."""
    return (
        f"Write, for example, “{case.forms[0]}”." if case.forms else "State the weight in the units the law asks for."
    )


def writing(case: Case, found: tuple[Amount, ...]) -> Iterator[Finding]:
    """Symbols, fractions, decimals and figures, each amount by itself."""
    for amount in found:
        yield from _metric_writing(case, amount) if amount.metric else _customary_writing(case, amount)


def _metric_writing(case: Case, amount: Amount) -> Iterator[Finding]:
    symbols = held(case, "metric symbols")
    if symbols and amount.unit not in symbols.value and amount.unit.casefold() not in WORDS:
        right = amount.kind if amount.kind in symbols.value else symbols.value[0]
        yield about(
            case,
            symbols,
            "stop",
            _FIELD,
            amount.written,
            says=f"“{amount.unit}” is no symbol of a metric unit; only {', '.join(symbols.value)} are.",
            do=f"Write “{amount.number} {right}”.",
        )
    fractions = held(case, "common fractions of metric units")
    if amount.fraction and fractions and fractions.value == "not allowed":
        yield about(
            case,
            fractions,
            "stop",
            _FIELD,
            amount.written,
            says="A metric weight takes no common fraction.",
            do="Write decimals, or change to grams.",
        )
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
        yield about(
            case,
            figures,
            "ask",
            _FIELD,
            amount.written,
            says=f"The metric weight is stated with no more than {figures.value} figures.",
            do="Drop the last figures; a weight is rounded down, never up.",
        )


def _customary_writing(case: Case, amount: Amount) -> Iterator[Finding]:
    short = held(case, "abbreviations in the net quantity")
    plural = amount.unit.casefold().removesuffix("s")
    if short and plural not in short.value and amount.unit.casefold() not in WORDS and amount.kind != VOLUME:
        yield about(
            case,
            short,
            "stop",
            _FIELD,
            amount.written,
            says=f"“{amount.unit}” is not one of the short forms that may stand in a net weight: {', '.join(short.value)}.",
            do=f"Write “{amount.number} {amount.kind}”.",
        )
    allowed = held(case, "denominators of a common fraction")
    if amount.fraction and allowed:
        above, below = amount.fraction
        if below not in allowed.value:
            yield about(
                case,
                allowed,
                "stop",
                _FIELD,
                amount.written,
                says=f"Only fractions in {', '.join(map(str, allowed.value))} parts may stand in a net weight.",
                do="Use one of these fractions, rounded down, or decimals.",
            )
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
        yield about(
            case,
            decimals,
            "stop",
            _FIELD,
            amount.written,
            says=f"A decimal fraction takes no more than {decimals.value} places here.",
            do="Cut it off there; never round it up.",
        )


def points(case: Case, found: tuple[Amount, ...]) -> Iterator[Finding]:
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


def truth(case: Case, found: tuple[Amount, ...]) -> Iterator[Finding]:
    """No figure may promise more than the jar is meant to hold, and all must speak of the same weight."""
    law = held(case, "rounding of a declared weight")
    given = weights(found)
    declared = case.facts.get("declared")
    meant = Fraction(declared) if declared else (given[0] if given else None)
    if law is None or meant is None:
        return
    typed_customary = case.label.declares.customary if case.label.declares else bool(given)
    if typed_customary and declared:
        # The jar is filled to the metric weight its pound size is sold as, so that figure promises no more than it holds.
        meant = max(meant, Fraction(pound_size(Decimal(declared), case.market, [])))
    for grams in given:
        if grams > meant:
            ounces = _ounces(grams - meant)
            yield about(
                case,
                law,
                "stop",
                _FIELD,
                case.net_statement or "",
                says=f"The label would promise {ounces} oz more than {_shown(case)}: a rounded figure may not overstate.",
                do=advice(case),
            )
            break
    for amount in (amount for amount in found if amount.metric):
        yield from _metric_truth(case, law, amount, meant, typed_customary)
    if any(grams < meant * (1 - _ANOTHER_WEIGHT) for grams in given):
        yield about(
            case,
            law,
            "stop",
            _FIELD,
            case.net_statement or "",
            says=f"One of the figures is well under {_shown(case)}; the figures of one label must agree.",
            do=advice(case),
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
            do=f"{advice(case)} Rounding down costs nothing.",
        )
    elif -over > max(unit, meant * _ANOTHER_WEIGHT):
        yield about(
            case,
            law,
            "stop",
            _FIELD,
            amount.written,
            says=f"{amount.number} {amount.unit} is not {_shown(case)}; the figures of one label must agree.",
            do=advice(case),
        )


def _ounces(grams: Fraction) -> str:
    ounces = Decimal(grams.numerator) / grams.denominator / GRAMS_PER_OUNCE
    return f"{ounces:.3f}" if ounces < 1 else f"{ounces:.2f}"


def _shown(case: Case) -> str:
    return case.label.declares.text if case.label.declares else "the weight stated first"
