"""The plan as a picture: each bucket a bar as long as its honey, divided into the jars it fills."""

from __future__ import annotations

from dataclasses import dataclass

from labelkit.measures import Mass, show_metric
from labelkit.measures.locales import DEFAULT_LOCALE
from labelkit.plan.outcome import JarPlan
from labelkit.plan.request import PlanRequest
from labelkit.shipped import render

# From dark to light, so that neighbours differ in print without colour as well: honey, comb, straw, then leaf.
TINTS = ("#6b3f14", "#98590f", "#c07f1a", "#dba64a", "#ecca88", "#f5e3bd", "#c9d3b8", "#93a583")
LIGHT_ON = TINTS[:2]
BAR_LEFT, BAR_WIDTH, BAR_HEIGHT, ROW, TOP = 190, 760, 40, 62, 132
MOST_ROWS = 60
LETTER = 7.4  # width of a letter of the bar's type, about


@dataclass(frozen=True, slots=True)
class Piece:
    """One stretch of a bar; positions in pixels."""

    x: float
    width: float
    tint: str
    ink: str
    words: str


@dataclass(frozen=True, slots=True)
class Row:
    """One bucket."""

    y: float
    name: str
    holds: str
    pieces: tuple[Piece, ...]
    left_x: float
    left_width: float
    left: str


def plan_svg(request: PlanRequest, plan: JarPlan, locale: str = DEFAULT_LOCALE, title: str = "") -> str:
    """The picture as SVG text. The first sixty buckets are drawn; the rest is counted in a line.

    >>> from labelkit.measures import Money
    >>> from labelkit.plan import JarSize, PlanBucket, jar_plan
    >>> pound = JarSize("one pound", "1 lb", Mass.read("1 lb"), Money.of("12", "USD"), Money.of("1.35", "USD"))
    >>> asked = PlanRequest((PlanBucket("B1", Mass.read("20 lb")),), (pound,), "USD")
    >>> "20 × one pound" in plan_svg(asked, jar_plan(asked))
    True
    """
    longest = max((bucket.usable.mg for bucket in plan.buckets), default=1)
    tints = {size.id: TINTS[n % len(TINTS)] for n, size in enumerate(request.sizes)}
    fills = {size.id: size.fill for size in request.sizes}
    rows = [_row(n, bucket, tints, fills, longest, locale) for n, bucket in enumerate(plan.buckets[:MOST_ROWS])]
    legend = [(size.id, tints[size.id], plan.jars.get(size.id, 0)) for size in request.sizes if plan.jars.get(size.id)]
    value = plan.value.show(locale)
    sure = "proved: no plan brings more" if plan.proved else f"nothing can bring more than {plan.bound.show(locale)}"
    more = len(plan.buckets) - len(rows)
    return render(
        "plan/plan.svg", rows=rows, legend=legend, title=title or "The jar plan", value=value, sure=sure,
        width=BAR_LEFT + BAR_WIDTH + 130, height=TOP + ROW * len(rows) + (34 if more else 0) + 18,
        bar=BAR_HEIGHT, more=f"and {more} more buckets" if more else "", bar_left=BAR_LEFT,
    )  # fmt: skip


def _row(n: int, bucket, tints: dict[str, str], fills: dict[str, Mass], longest: int, locale: str) -> Row:
    def across(mass: Mass) -> float:
        return round(mass.mg * BAR_WIDTH / longest, 2)

    pieces, x = [], float(BAR_LEFT)
    for size, tint in tints.items():
        count = bucket.jars.get(size, 0)
        if not count:
            continue
        width = across(count * fills[size])
        words = next((w for w in (f"{count} × {size}", str(count)) if len(w) * LETTER < width - 8), "")
        pieces.append(Piece(round(x, 2), width, tint, "#fffaf0" if tint in LIGHT_ON else "#33240f", words))
        x += width
    return Row(
        TOP + ROW * n, bucket.id, show_metric(bucket.usable, locale), tuple(pieces), round(x, 2), across(bucket.left),
        f"{show_metric(bucket.left, locale)} left",
    )  # fmt: skip
