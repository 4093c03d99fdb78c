"""The plan as a picture: each bucket a bar as long as its honey, divided into the jars it fills.

Honey that stays unbottled on purpose is hatched, honey poured over into a blend is dotted, and a blend is a bar of its
own below the buckets. Light and dark follow the reader's screen.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from labelkit.measures import NOTHING, Mass, show_metric, total
from labelkit.measures.locales import DEFAULT_LOCALE
from labelkit.plan.outcome import JarPlan
from labelkit.plan.request import JarSize, PlanRequest
from labelkit.shipped import render

# From dark to light, so that neighbours differ in print without colour as well: honey, comb, straw, then leaf.
TINTS = ("#6b3f14", "#98590f", "#c07f1a", "#dba64a", "#ecca88", "#f5e3bd", "#c9d3b8", "#93a583")
LIGHT_ON = TINTS[:2]
KEPT, TAIL = "url(#kept)", "url(#tail)"
BAR_LEFT, BAR_WIDTH, BAR_HEIGHT, ROW, TOP = 190, 760, 40, 62, 132
WIDTH, KEY_ROW, MARGIN = BAR_LEFT + BAR_WIDTH + 130, 24, 32
MOST_ROWS = 60
LETTER = 7.4  # width of a letter of the bar's type, about
KEY_LETTER = 8.2


@dataclass(frozen=True, slots=True)
class Part:
    """What a stretch of a bar stands for: so much honey, and words for it, the longest that fit."""

    mass: Mass
    fill: str
    ink: str
    words: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Piece:
    """One stretch of a bar; positions in pixels. ``plate`` is the width of the plate its words stand on, if any."""

    x: float
    width: float
    fill: str
    ink: str
    words: str
    plate: float


@dataclass(frozen=True, slots=True)
class Row:
    """One bucket or blend."""

    y: float
    name: str
    holds: str
    pieces: tuple[Piece, ...]
    left_x: float
    left_width: float
    left: str


@dataclass(frozen=True, slots=True)
class Key:
    """One entry of the legend."""

    x: float
    y: float
    fill: str
    name: str
    told: str


def plan_svg(request: PlanRequest, plan: JarPlan, locale: str = DEFAULT_LOCALE, title: str = "") -> str:
    """The picture as SVG text. The first sixty buckets are drawn; the rest is counted in a line.

    >>> from labelkit.measures import Money
    >>> from labelkit.plan import JarSize, PlanBucket, jar_plan
    >>> pound = JarSize("one pound", "1 lb", Mass.read("1 lb", "en_US"), Money.of("12", "USD"), Money.of("1.35", "USD"))
    >>> asked = PlanRequest((PlanBucket("B1", Mass.read("20 lb", "en_US")),), (pound,), "USD")
    >>> "20 × one pound" in plan_svg(asked, jar_plan(asked))
    True
    """
    longest = max((bucket.usable.mg for bucket in plan.buckets), default=1) or 1
    legend = _legend(request, plan, locale)
    top = TOP + (legend[-1].y - legend[0].y if legend else 0)
    drawn = plan.buckets[:MOST_ROWS]
    bars = [
        (b.id, show_metric(b.usable, locale), b.usable, [*jars(request.sizes, b.jars), *set_aside(plan, b.id, locale)])
        for b in drawn
    ]
    for blend in plan.blends:
        poured = "from " + ", ".join(name for name, _ in blend.parts)
        bars.append((blend.id, _short(poured), total(m for _, m in blend.parts), jars(request.sizes, blend.jars)))
    rows = [_row(top + ROW * n, *bar, longest, locale) for n, bar in enumerate(bars)]
    more = len(plan.buckets) - len(drawn)
    sure = "proved: no plan brings more" if plan.proved else f"nothing can bring more than {plan.bound.show(locale)}"
    return render(
        "plan/plan.svg",
        rows=rows,
        legend=legend,
        title=title or "The jar plan",
        value=plan.value.show(locale),
        sure=sure,
        width=WIDTH,
        height=top + ROW * len(rows) + (34 if more else 0) + 18,
        bar=BAR_HEIGHT,
        more=f"and {more} more buckets" if more else "",
        bar_left=BAR_LEFT,
    )


def tints(sizes: Sequence[JarSize]) -> dict[str, str]:
    """The colour of each jar size."""
    return {size.id: TINTS[n % len(TINTS)] for n, size in enumerate(sizes)}


def jars(sizes: Sequence[JarSize], counts: dict[str, int]) -> list[Part]:
    """The stretches of the jars filled from one bucket or blend, in the order of the sizes."""
    tint = tints(sizes)
    return [
        Part(
            size.fill * counts[size.id],
            tint[size.id],
            "#fffaf0" if tint[size.id] in LIGHT_ON else "#33240f",
            (f"{counts[size.id]} × {size.id}", str(counts[size.id])),
        )
        for size in sizes
        if counts.get(size.id)
    ]


def set_aside(plan: JarPlan, bucket: str, locale: str) -> list[Part]:
    """The stretches of a bucket that fill no jar of its own: honey that is kept, and the tail that goes into a blend."""
    kept = [
        Part(k.mass, KEPT, "kept-ink", (f"{show_metric(k.mass, locale)} {k.id}", k.id, "kept"))
        for k in plan.kept
        if k.bucket == bucket
    ]
    poured = [(blend.id, mass) for blend in plan.blends for name, mass in blend.parts if name == bucket]
    return [*kept, *(Part(mass, TAIL, "tail-ink", (f"into {name}", "→")) for name, mass in poured)]


def _row(y: float, name: str, holds: str, holds_mass: Mass, parts: Iterable[Part], longest: int, locale: str) -> Row:
    def across(mass: Mass) -> float:
        return round(mass.mg * BAR_WIDTH / longest, 2)

    pieces, x, used = [], float(BAR_LEFT), NOTHING
    for part in parts:
        width = across(part.mass)
        words = next((w for w in part.words if len(w) * LETTER < width - 8), "")
        pieces.append(Piece(round(x, 2), width, part.fill, part.ink, words, round(len(words) * LETTER + 8, 2)))
        x, used = x + width, used + part.mass
    left = holds_mass - used
    return Row(y, name, holds, tuple(pieces), round(x, 2), across(left), f"{show_metric(left, locale)} left")


def _legend(request: PlanRequest, plan: JarPlan, locale: str) -> list[Key]:
    """Every jar size filled, what is kept and what is poured over, in as many lines as it takes."""
    tint = tints(request.sizes)
    entries = [
        (
            tint[size.id],
            size.id,
            f"{plan.jars[size.id]}{f', {size.reserve} of them not for sale' if size.reserve else ''}",
        )
        for size in request.sizes
        if plan.jars.get(size.id)
    ]
    if plan.kept:
        entries.append((KEPT, "kept unbottled", show_metric(total(k.mass for k in plan.kept), locale)))
    if plan.blends:
        poured = total(mass for blend in plan.blends for _, mass in blend.parts)
        entries.append((TAIL, "poured into a blend", show_metric(poured, locale)))
    keys, x, y = [], float(MARGIN), 100
    for fill, name, told in entries:
        wide = 60 + KEY_LETTER * (len(name) + len(told))
        if x > MARGIN and x + wide > WIDTH - MARGIN:
            x, y = float(MARGIN), y + KEY_ROW
        keys.append(Key(round(x, 2), y, fill, name, told))
        x += wide
    return keys


def _short(text: str, most: int = 24) -> str:
    """
    >>> _short("from B1, B2, B3, B4, B5, B6, B7")
    'from B1, B2, B3, B4, B5…'
    """
    return text if len(text) <= most else text[: most - 1].rstrip(" ,") + "…"
