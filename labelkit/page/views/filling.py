"""Filling day: the sheet beside the scale, every jar's weight as it is read, and what to do about it at once."""

from __future__ import annotations

import tempfile
from collections.abc import Callable
from dataclasses import dataclass
from decimal import Decimal
from itertools import islice
from pathlib import Path
from typing import TYPE_CHECKING, Any

from flask import Blueprint, Response, request

from labelkit.errors import LabelkitError
from labelkit.page import request_context, security
from labelkit.page.language import say_count
from labelkit.page.verbs import booked, by_size, do, made, once, option, paper, typed, with_unit
from labelkit.page.view import href, number, page, weight_unit

if TYPE_CHECKING:
    from labelkit.measures import Declared, Mass
    from labelkit.run.fill_test import FillTest

view = Blueprint("filling", __name__)

RUNS, SEARCHED = 12, 200
MOST_WEIGHTS = 400
_WORST = ("fail", "ask", "pass")


@dataclass(frozen=True, slots=True)
class Weighed:
    """One jar as it was typed: its place from 1, the honey in it, what it lacks of the aim, and how it stands."""

    place: int
    text: str
    net: Mass
    add: Mass | None
    over: Mass | None
    kind: str  # good, short, deep


@view.get("/filling")
def filling() -> str:
    """The run sheet of the plan, and the runs whose jars can be weighed."""
    return _filling()


@view.get("/filling/sheet.pdf")
def sheet() -> Response:
    """The run sheet on paper."""
    from labelkit.cli._sale import paper_size

    page_ = f"--page={paper_size(None, request_context.season().currency)}"
    return paper(made("out", "run-sheet.pdf", "run-sheet", *_sheet_words(), page_), "run-sheet.pdf")


@view.get("/filling/weigh")
def weigh() -> str:
    """Weigh jar after jar; what is typed stands in the address, so that a closed tab loses nothing."""
    return _weigh()


@view.get("/filling/look")
def look() -> str:
    """The jars so far, the verdict and the chart."""
    return page("filling_look.html", **_judged(), taken=bool(typed("take")))


@view.get("/filling/chart.svg")
def chart() -> Response:
    """The control chart of what was typed."""
    from labelkit.errors.filling import NoWeights
    from labelkit.run.check_weighing.chart import control_chart

    found = _judged()
    if found["unable"]:
        raise found["unable"]
    if not found["test"]:
        raise NoWeights(found["count"])
    title = f"{typed('size')} ({found['declares']})" + (f", {typed('lot')}" if typed("lot") else "")
    drawn = Response(
        control_chart(found["test"].verdict, title, request_context.context().locale), mimetype="image/svg+xml"
    )
    drawn.headers["Content-Security-Policy"] = security.DRAWING_POLICY
    return drawn


@view.post("/filling/keep")
def keep():
    """Keep the weights with their lot."""
    return booked(
        lambda: do(
            "check-weigh",
            f"--lot={typed('lot')}",
            *option("size", typed("size")),
            *_scale_words(),
            *(f"--weight={one}" for one in _weights()),
            *once(),
        ),
        _weigh,
        lambda answer: href("/filling", kept=answer.document["lot"]),
        _told,
    )


def _told(answer) -> str:
    return say_count(
        "{n} weight of lot {lot} is kept.",
        "{n} weights of lot {lot} are kept.",
        len(_weights()),
        lot=answer.document["lot"],
    )


def _weights() -> list[str]:
    """The weights typed so far, the new one last, each with the small unit where it is bare."""
    every = [*request.values.getlist("w"), typed("next")]
    return [with_unit(one, _small()) for one in every if one.strip()][:MOST_WEIGHTS]


def _small() -> str:
    return "g" if weight_unit() == "kg" else "oz"


def _scale_words() -> list[str]:
    return [word for name in ("tare", "division", "aimed") for word in option(name, with_unit(typed(name), _small()))]


def _sheet_words() -> list[str]:
    words = [
        word
        for name in ("tare", "margin")
        for size, value in by_size(name).items()
        for word in option(name, f"{size}={with_unit(value, _small())}")
    ]
    words += [word for size, count in by_size("at-most").items() for word in option("at-most", f"{size}={count}")]
    return [*words, *option("division", with_unit(typed("division"), _small()))]


def _lot_jars() -> tuple[Declared, int]:
    """What the jars declare, and how many were, or are to be, filled under one lot code."""
    from labelkit.cli._filling import jars_of

    if typed("lot"):
        with request_context.context().reading() as state:
            found = jars_of(state, typed("lot"), typed("size") or None)
        return found.jars.declares, found.jars.count
    count = typed("count")
    return request_context.season().size(typed("size")).declares, int(count) if count.isdigit() and len(
        count
    ) < 7 else 1


def _fine(mass: Mass) -> str:
    """A jar's weight as finely as scales count: in tenths of a gram, or in hundredths of an ounce where those were typed."""
    from labelkit.measures import show_metric
    from labelkit.measures.rounding import HALF_UP, to_step

    context = request_context.context()
    if any("oz" in text.casefold() or "lb" in text.casefold() for text in _weights()):
        return f"{number(to_step(mass.oz, Decimal('0.01'), HALF_UP))} oz"
    return show_metric(mass, context.locale)


def _sheet_units() -> tuple[Callable[[Mass], str], Callable[[Mass], str]]:
    """The units the scale counts in, and the others; grams unless its division was given in ounces."""
    from labelkit.measures import show_customary, show_metric

    locale = request_context.context().locale
    both = (lambda mass: show_metric(mass, locale), lambda mass: show_customary(mass, locale))
    return both[::-1] if "oz" in with_unit(typed("division"), _small()) else both


def _judged() -> dict[str, Any]:
    """The jars typed so far by every market's test, the worst first; a refusal where a weight cannot be."""
    nothing = {
        "test": None,
        "unable": None,
        "jars": (),
        "declares": "",
        "count": 0,
        "needed": 0,
        "typed_weights": (),
        "fine": _fine,
    }
    try:
        declares, count = _lot_jars()
        nothing |= {"declares": declares.show(request_context.context().locale), "count": count}
        weights = _weights()
        if not weights:
            return nothing | {"needed": _needed(declares, count)}
        tests = [_test(declares, count, place, weights) for place in request_context.season().markets]
        aimed = _aim(declares)
    except LabelkitError as refusal:
        return nothing | {"unable": refusal}
    if not tests:
        return nothing
    tests = sorted(tests, key=lambda one: _WORST.index(one.verdict.verdict))
    return nothing | {
        "test": tests[0],
        "others": tests[1:],
        "jars": _jars(tests[0], weights, aimed),
        "aimed": aimed,
        "typed_weights": weights,
        "picture": href(
            "/filling/chart.svg",
            lot=typed("lot"),
            size=typed("size"),
            count=typed("count"),
            tare=typed("tare"),
            division=typed("division"),
            w=weights,
        ),
    }


def _test(declares: Declared, count: int, code: str, weights: list[str]) -> FillTest:
    """The very test of ``labelkit reckon fill-test``, whole, since each jar's place in it is shown."""
    from labelkit.measures import Mass
    from labelkit.reading.weight_list import of_options
    from labelkit.reading.weights import read_jars
    from labelkit.rules import market
    from labelkit.run.fill_test import enforced, fill_test

    context = request_context.context()
    step = with_unit(typed("division"), _small())
    place = market(code, context.day)
    tare = with_unit(typed("tare"), _small()) or None
    read = read_jars(of_options(weights), enforced(declares, place), tare, context.locale)
    return fill_test(
        declares,
        place,
        count,
        read.masses,
        tare=read.tare,
        division=Mass.read(step, context.locale) if step else None,
        locale=context.locale,
        notes=read.notes,
    )


def _needed(declares: Declared, count: int) -> int:
    """How many jars the most demanding market asks to weigh."""
    from labelkit.rules import market
    from labelkit.run.fill_test import terms

    return max(
        (
            terms(declares, market(code, request_context.context().day), count).sample
            for code in request_context.season().markets
        ),
        default=0,
    )


def _aim(declares: Declared) -> Mass:
    """What a jar is filled to: as said, else what its label owes."""
    from labelkit.measures import Mass
    from labelkit.season.settings import fill_of

    said = with_unit(typed("aimed"), _small())
    return (
        Mass.read(said, request_context.context().locale)
        if said
        else fill_of(declares, request_context.season().markets, request_context.context().day)
    )


def _jars(test: FillTest, weights: list[str], aimed: Mass) -> list[Weighed]:
    verdict, found = test.verdict, []
    for place, (text, net) in enumerate(zip(weights, verdict.sample.weights, strict=True), 1):
        kind = "deep" if place in verdict.deep else "short" if net < aimed else "good"
        found.append(
            Weighed(place, text, net, aimed - net if net < aimed else None, net - aimed if net > aimed else None, kind)
        )
    return found


def _weigh(refused: LabelkitError | None = None) -> str:
    """The whole page takes the jar in the field over into the list, as pressing Enter does where scripts run."""
    with request_context.context().reading() as state:
        runs = islice((each for each in state.latest(("run",)) if each.stands), SEARCHED)
        lots = [each.event.lot for each in runs if any(jar.size == typed("size") for jar in each.event.jars)][:RUNS]
        if typed("lot") and typed("lot") not in lots and state.knows(typed("lot")):
            lots = [typed("lot"), *lots]
    return page("filling_weigh.html", refused=refused, small=_small(), lots=lots, **_judged(), taken=True)


def _filling(refused: LabelkitError | None = None) -> str:
    from labelkit.cli._filling import checks_of

    context = request_context.context()
    found, unable = None, None
    with context.reading() as state:
        full = bool(state.buckets(full=True))
        runs = list(islice((each for each in state.latest(("run",)) if each.stands), RUNS))
        kept: dict[tuple[str, str], int] = {}
        for check in checks_of(state):
            kept[check.lot, check.size] = kept.get((check.lot, check.size), 0) + len(check.shown)
    if full and request_context.season().prices:
        try:
            found = _sheet()
        except LabelkitError as refusal:
            unable = refusal
    shown, other = _sheet_units()
    return page(
        "filling.html",
        shown=shown,
        other=other,
        refused=refused,
        sheet=found,
        unable=unable,
        runs=runs,
        kept=kept,
        small=_small(),
        full=full,
        prices=request_context.season().prices,
        pdf=href("/filling/sheet.pdf", **request.args.to_dict(flat=False)),
    )


def _sheet() -> dict[str, Any]:
    """The run sheet as the command reckons it, its weights as masses; the paper it makes is thrown away."""
    from labelkit.measures import Mass

    with tempfile.TemporaryDirectory(prefix="labelkit-") as folder:
        found = do("run-sheet", *_sheet_words(), f"--out={Path(folder) / 'sheet.pdf'}").document
    for line in (line for bucket in found["buckets"] for line in bucket["lines"]):
        line |= {name: Mass.of_grams(line[f"{name}_g"]) for name in ("fill_until", "good_from", "good_to")}
        line["tare"] = Mass.of_grams(line["tare_g"]) if line["tare_g"] else None
    return found
