"""The figures on a label against the values of the market: weights a jar may hold, moisture and grade, letters, dates."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal

from labelkit.errors.rules import FactMissing, NoRuleInForce
from labelkit.measures.rounding import HALF_UP, plain, to_step
from labelkit.rules.checking.case import Case
from labelkit.rules.checking.facts import panel_of
from labelkit.rules.checking.values import about, held, unread
from labelkit.rules.figures import date_mark, letter_height, moisture_limit
from labelkit.rules.findings import Finding
from labelkit.rules.wording.folding import folded

# Grams a millilitre: honey of 14 to 21 % moisture at 20 °C is 1.40 to 1.45 (USDA honey grades, table of specific gravity;
# not verified); the bounds leave room for warm honey and for comb.
_LIGHTEST, _HEAVIEST = Decimal("1.33"), Decimal("1.50")
_ML = Decimal(1)


def sizes(case: Case) -> Iterator[Finding]:
    """A weight that is not among those a jar may hold, with the nearest that are."""
    law, declared = held(case, "weights a jar may hold"), case.facts.get("declared")
    typed = case.label.declares
    if law is None or declared is None:
        return
    metric = not (typed and typed.customary)
    # A metric declaration of a standard weight is that weight with its grams rounded down.
    if any(declared == weight or (metric and declared == int(weight)) for weight in law.value):
        return
    names = dict(zip(law.value, law.raw, strict=True))
    below = max((weight for weight in law.value if weight < declared), default=None)
    above = min((weight for weight in law.value if weight > declared), default=None)
    nearest = " or ".join(names[weight] for weight in (below, above) if weight is not None)
    yield about(
        case,
        law,
        "stop",
        "declares",
        typed.text if typed else "",
        says=f"{typed or 'The declared weight'} is not one of the weights honey may be packed in here.",
        do=f"The nearest allowed: {nearest}. Fill and declare one of these.",
    )


def volume(case: Case) -> Iterator[Finding]:
    """A volume beside the weight that no honey of that weight can have."""
    typed, declared = case.label.volume, case.facts.get("declared")
    law = next((law for law in case.market.requires() if law.element == "volume"), None)
    if not typed or declared is None or law is None:
        return
    least, most = declared / _HEAVIEST, declared / _LIGHTEST
    if not least <= typed.ml <= most:
        shown = f"{plain(to_step(least, _ML, HALF_UP))} to {plain(to_step(most, _ML, HALF_UP))} ml"
        yield case.finding(
            law,
            "volume",
            typed.text,
            level="stop",
            says=f"{case.label.declares} of honey takes about {shown}, not {typed}. A fluid ounce of honey weighs about 1.5 oz.",
            do="Measure what the jar holds, and print that volume for this size.",
        )


def moisture(case: Case) -> Iterator[Finding]:
    """Honey too wet to be called honey, or for the grade it bears."""
    given = case.facts.get("moisture")
    if given is None:
        return
    limit = moisture_limit.allowed(given, case.market, case.facts["honey"])
    shown = f"{plain(given)} %"
    if limit.answer == moisture_limit.NO and limit.limit_percent is not None:
        law = limit.laws[0]
        yield about(
            case,
            law,
            "stop",
            "moisture",
            shown,
            says=f"Honey with {shown} water may not be called honey here; the limit is {plain(limit.limit_percent)} %.",
            do="Blend or dry it below the limit, or sell it for baking where that is allowed.",
        )
    yield from _grade_truth(case, given, shown)


def _grade_truth(case: Case, given: Decimal, shown: str) -> Iterator[Finding]:
    printed = folded(case.label.grade)
    try:
        law = case.market.value("grades", **{"pasteurized": False, **case.facts})
    except (NoRuleInForce, FactMissing):
        return
    # "Grade A" and "U.S. Grade A" are one grade; the end of the name is what tells grades apart.
    row = next(
        (
            row
            for row in law.value
            if printed and folded(row["grade"]).endswith(printed[-2:]) and _is_grade(printed, row["grade"])
        ),
        None,
    )
    if row and given > row["moisture"]:
        good = ", ".join(moisture_limit.grades(given, case.market)) or "none"
        yield about(
            case,
            law,
            "stop",
            "grade",
            case.label.grade,
            says=f"{row['grade']} takes at most {plain(row['moisture'])} % water; this lot has {shown}.",
            do=f"Grades this moisture allows: {good}. The other factors of the grade count as well.",
        )


def _is_grade(printed: str, grade: str) -> bool:
    def last(name: str) -> str:
        return "".join(letter if letter.isalnum() else " " for letter in folded(name)).split()[-1]

    return last(printed) == last(grade)


def letters(case: Case) -> Iterator[Finding]:
    """How large the letters must be on this jar: good to know while the label is designed."""
    panel, declared = panel_of(case.label), case.facts.get("declared")
    try:
        heights = letter_height.required(
            case.market, declared_g=declared, panel=panel, moulded=bool(case.facts.get("moulded"))
        )
    except (NoRuleInForce, FactMissing):
        return
    height = to_step(heights.net_quantity_mm, Decimal("0.01"), HALF_UP)
    found = (
        f"panel of {plain(to_step(heights.panel_area_mm2 / 100, Decimal('0.1'), HALF_UP))} cm²"
        if heights.panel_area_mm2
        else ""
    )
    says = f"On this jar the net weight stands in letters at least {plain(height)} mm high, measured on {heights.measured_on}."
    law = next(
        (law for law in heights.laws if law.name == "smallest letter height of the net quantity"), heights.laws[0]
    )
    yield about(
        case,
        law,
        "note",
        "panel",
        found,
        says=says,
        do="labelkit measures the letters it places; on a label made elsewhere, measure them.",
    )


def dates(case: Case) -> Iterator[Finding]:
    """A day that has passed, a lot mark without its beginning."""
    best_before = case.label.best_before
    yield from _unworded_date(case)
    if best_before and best_before.last < case.market.day:
        law = held(case, "best before with the day")
        if law:
            yield about(
                case,
                law,
                "ask",
                "best_before",
                str(best_before),
                says="This day has already passed.",
                do="Correct the day, or do not sell the jars as fresh stock.",
            )
    law = held(case, "beginning of the lot mark")
    lot = case.label.lot
    if law and lot and not lot.upper().startswith(law.value.upper()):
        yield about(
            case,
            law,
            "ask",
            "lot",
            lot,
            says=f"A lot mark begins with “{law.value}” unless it clearly stands apart from the other words.",
            do=f"Print “{law.value} {lot}”.",
        )
    due = held(case, "lot mark is due")
    if due and due.value == "not required" and not lot:
        yield about(
            case,
            due,
            "note",
            "lot",
            "",
            says=due.note or "No lot mark is asked for here.",
            do="Print a lot code all the same: without it a recall is a recall of everything.",
        )


def _unworded_date(case: Case) -> Iterator[Finding]:
    """A date whose words nobody has read for this market: it is asked about, since no print can word it."""
    best_before, market = case.label.best_before, case.market
    if best_before is None:
        return
    try:
        date_mark.of(best_before, market, None)
    except FactMissing:
        return  # the day of bottling, which the record knows
    except NoRuleInForce as refusal:
        yield unread(case, "date_and_lot", "best_before", str(best_before), refusal)
