"""Filling day: the sheet beside the scale, every jar's weight as it is read, and what to do about it at once."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import islice
from typing import TYPE_CHECKING, Any

from flask import Blueprint, Response, request

from labelkit.errors import LabelkitError
from labelkit.measures import Mass, show_customary, show_metric
from labelkit.measures.division import Division, ScaleReading
from labelkit.page import request_context, security
from labelkit.page.forms import (
    about,
    booked,
    booking_day,
    by_size,
    mass,
    paper,
    scale,
    scale_unit,
    step_key,
    typed,
    value,
    with_unit,
)
from labelkit.page.language import of_papers, say_count
from labelkit.page.view import href, page, weights_first
from labelkit.page.wishes import planning
from labelkit.reading.weight_list import of_options
from labelkit.reading.weights import read_weights
from labelkit.run.check_weighing.plausible import likely_tare
from labelkit.season.check_weigh import CheckWeighing, LotJudged, check_weigh, hardest_test, judge_lot
from labelkit.season.kept_plan import follow
from labelkit.season.papers import paper_size
from labelkit.season.past_fills import checks_of, jars_of
from labelkit.season.run_sheet import DaySheet, FillingDay, run_sheet, run_sheet_pdf, runs_ahead
from labelkit.season.unmet import against_buckets

if TYPE_CHECKING:
    from labelkit.measures import Declared
    from labelkit.run.fill_test import FillTest

view = Blueprint("filling", __name__)

RUNS, SEARCHED = 12, 200
MOST_WEIGHTS = 400


@dataclass(frozen=True, slots=True)
class Weighed:
    """One jar as it was typed: its place from 1, the honey in it, what it lacks of the aim, and how it stands."""

    place: int
    text: str
    net: Mass
    add: Mass | None
    over: Mass | None
    kind: str  # good, short, deep


@dataclass(frozen=True, slots=True)
class LotWeighed:
    """A lot, booked or to be: what its jars declare, what each should hold, how many they are."""

    declares: Declared
    label: Mass
    count: int


@view.get("/filling")
def filling() -> str:
    """The run sheet of the plan, and the runs whose jars can be weighed."""
    return _filling()


@view.get("/filling/sheet.pdf")
def sheet() -> Response:
    """The run sheet on paper."""
    season = request_context.season()
    words, locale = of_papers()
    return paper(run_sheet_pdf(_sheet(), paper_size(season), words, locale), "run-sheet.pdf")


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
        control_chart(found["test"].verdict, title, request_context.context().locale, scale()), mimetype="image/svg+xml"
    )
    drawn.headers["Content-Security-Policy"] = security.DRAWING_POLICY
    return drawn


@view.post("/filling/keep")
def keep():
    """Keep the weights with their lot."""
    return booked(
        _kept,
        _weigh,
        lambda done: href("/filling", kept=done.found.run.lot),
        lambda done: say_count(
            "{n} weight of lot {lot} is kept.",
            "{n} weights of lot {lot} are kept.",
            len(done.check.shown),
            lot=done.found.run.lot,
        ),
    )


def _kept() -> LotJudged:
    context = request_context.context()
    with context.work(step_key()) as work:
        found = jars_of(work, typed("lot"), typed("size") or None)
        shown, tare, _ = _read(found.jars.fill)
        asked = CheckWeighing(
            shown, tare, _said_scale(), value("aimed", on_scale), bool(typed("anew")), shown_in=scale()
        )
        return check_weigh(work, found, asked, booking_day(), locale=context.locale)


def _weights() -> list[str]:
    """The weights typed so far, the new one last, each with the small unit where it is bare."""
    every = [*request.values.getlist("w"), typed("next")]
    unit = scale_unit(scale())
    return [with_unit(one, unit) for one in every if one.strip()][:MOST_WEIGHTS]


def _read(label: Mass) -> tuple[tuple[Mass, ...], Mass | None, tuple[str, ...]]:
    """The weights of jars of this label, the tare that is in them, and how they were understood."""
    locale = request_context.context().locale
    tare = value("tare", on_scale)
    with about("tare"):
        tare = tare and likely_tare(tare, label, locale)
    shown, notes = read_weights(of_options(_weights()), label, locale, tare)
    return shown, tare, notes


def _lot() -> LotWeighed:
    """The lot whose jars are weighed: booked, or a size of which so many are to be filled."""
    context, season = request_context.context(), request_context.season()
    if typed("lot"):
        with context.reading() as state:
            jars = jars_of(state, typed("lot"), typed("size") or None).jars
        return LotWeighed(jars.declares, jars.fill, jars.count)
    size = season.size(typed("size"))
    many = typed("count")
    filled = int(many) if many.isdigit() and len(many) < 7 else 1
    return LotWeighed(size.weight, season.fill(size.size, context.day), filled)


def on_scale(text: str, locale: str) -> Mass:
    """A weight of a jar; a number alone is in the unit the scale shows."""
    return mass(text, locale, scale_unit(scale()))


def several_on_scale(text: str, locale: str) -> tuple[Mass, ...]:
    """Weights of several empty jars, parted by semicolons."""
    return tuple(on_scale(one, locale) for one in text.split(";") if one.strip())


def _said_scale() -> Division | None:
    """The step of the scale where somebody said it, here or for the season; a usual one is not kept as if it were known."""
    return scale() if typed("division") or request_context.season().scale else None


def _fine(mass: Mass) -> str:
    """A jar's weight as finely as the scale counts, in its unit."""
    return scale().show(mass, request_context.context().locale)


def _other(reading: ScaleReading) -> str:
    """A reading in the units the scale does not show; nothing where the season never wants them."""
    if weights_first().endswith("-only"):
        return ""
    show = show_metric if reading.division.customary else show_customary
    return show(reading.mass, request_context.context().locale)


def _judged() -> dict[str, Any]:
    """The jars typed so far by every market's test, the worst first; a refusal where a weight cannot be."""
    context, season = request_context.context(), request_context.season()
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
        lot = _lot()
        nothing |= {"declares": lot.declares.show(context.locale), "count": lot.count}
        places = season.places(context.day)
        weights = _weights()
        if not places:
            return nothing
        if not weights:
            return nothing | {"needed": hardest_test(lot.declares, places, lot.count).sample}
        shown, tare, notes = _read(lot.label)
        aimed = value("aimed", on_scale) or lot.label
        how: dict[str, Any] = {"tare": tare, "division": _said_scale(), "shown_in": scale(), "locale": context.locale}
        tests = judge_lot(lot.declares, lot.count, shown, places, **how)
    except LabelkitError as refusal:
        return nothing | {"unable": refusal}
    return nothing | {
        "test": tests[0],
        "others": tests[1:],
        "notes": (*notes, *tests[0].notes),
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
    return page("filling_weigh.html", refused=refused, small=scale_unit(scale()), lots=lots, **_judged(), taken=True)


def _filling(refused: LabelkitError | None = None) -> str:
    context = request_context.context()
    found, unable = None, None
    with context.reading() as state:
        buckets = state.buckets(full=True)
        full, unmet = bool(buckets), against_buckets(state, buckets, context.day)
        runs = list(islice((each for each in state.latest(("run",)) if each.stands), RUNS))
        kept: dict[tuple[str, str], int] = {}
        for check in checks_of(state):
            kept[check.lot, check.size] = kept.get((check.lot, check.size), 0) + len(check.shown)
    if full and request_context.season().planned(context.day):
        try:
            found = _sheet()
        except LabelkitError as refusal:
            unable = refusal
    return page(
        "filling.html",
        shown=lambda reading: reading.show(context.locale),
        other=_other,
        refused=refused,
        sheet=found and found.sheet,
        followed=found and found.followed,
        changes=[change.words(context.locale) for change in found.followed.changes] if found else [],
        unable=unable,
        runs=runs,
        kept=kept,
        small=scale_unit(scale()),
        full=full,
        unmet=unmet,
        prices=request_context.season().jars(context.day),
        pdf=href("/filling/sheet.pdf", **request.args.to_dict(flat=False)),
    )


def _sheet() -> DaySheet:
    """The run sheet of the kept plan, or of the best one; the form says how its jars are filled."""
    context = request_context.context()
    asked = FillingDay(by_size("tare", several_on_scale), by_size("margin", on_scale), scale())
    with context.reading() as state:
        followed = follow(state, context.day, planning())
        ahead = runs_ahead(state, followed, context.day)
    return run_sheet(followed, asked, context.locale, ahead)
