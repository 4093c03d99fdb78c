"""The jar plan as a person reads it, and what past runs say of filling."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from typing import TYPE_CHECKING, Any

from labelkit.cli._show import table
from labelkit.errors.sentence import written
from labelkit.measures import show_both
from labelkit.plan.table import kept_by_bucket

if TYPE_CHECKING:
    from labelkit.measures import Mass, Money
    from labelkit.plan import BucketPlan, JarPlan, PlanRequest
    from labelkit.plan.what_if import Difference
    from labelkit.run.next_fill import NextFill
    from labelkit.season.kept_plan import Followed

MOST_ROWS = 24  # buckets, or groups of buckets filled alike, that are shown line by line
NAMED = 5  # buckets named of a longer list


def plan_text(request: PlanRequest, plan: JarPlan, locale: str) -> str:
    """By bucket, by size, what is left, what it brings and how sure that is.

    Of many buckets those filled alike share a line; where even that would be too long, only what stands out is told.
    """
    each = [
        (s.id, s.declares.show(locale), show_both(s.fill, locale), (s.price - s.cost).show(locale))
        for s in request.sizes
    ]
    lines = [*_buckets(request, plan, locale), ""]
    lines += [table(("jar", "declares", "fill at least", "brings"), each, right=[2, 3]), ""]
    for out in plan.left_out:
        allow = " Plan it all the same with --wet allow." if out.wet else ""
        lines.append(f"Left out: bucket {out.bucket}, {written(out.reason, locale)}.{allow}")
    lines.append(_worth(request, plan, locale))
    lines += [f"Buy {count} more {size} jars." for size, count in plan.to_buy.items()]
    lines += [
        f"Kept unbottled: {show_both(kept.mass, locale)} for {kept.id}, in bucket {kept.bucket}." for kept in plan.kept
    ]
    for blend in plan.blends:
        parts = ", ".join(f"{show_both(mass, locale)} of {bucket}" for bucket, mass in blend.parts)
        jars = ", ".join(f"{count} × {size}" for size, count in blend.jars.items())
        reach = f" A recall of {blend.id} would reach {blend.hives} hives." if blend.hives else ""
        lines.append(f"{blend.id.capitalize()}: {parts} fill {jars} and gain {blend.gain.show(locale)}.{reach}")
    return "\n".join(lines)


def _worth(request: PlanRequest, plan: JarPlan, locale: str) -> str:
    from labelkit.measures.locales import show_percent

    brings = f"Brings {plan.value.show(locale)}."
    if plan.proved and request.goal != "most money":
        return (
            f"{brings} Proved for the goal “{request.goal}”: no plan does better at it, and none that does as well "
            "brings more."
        )
    if plan.proved:
        return f"{brings} Proved: no plan brings more."
    gap = show_percent(plan.gap * 100, locale, digits=4)
    return (
        f"{brings} Not proved best: nothing can bring more than {plan.bound.show(locale)}, so at most {gap} is missing."
    )


def _buckets(request: PlanRequest, plan: JarPlan, locale: str) -> list[str]:
    sizes = [size.id for size in request.sizes]
    if len(plan.buckets) <= MOST_ROWS:
        return [_rows(plan, sizes, [[bucket] for bucket in plan.buckets], locale)]
    alike: dict[tuple, list[BucketPlan]] = {}
    kept = kept_by_bucket(plan)
    for bucket in plan.buckets:
        key = bucket.usable, tuple(bucket.jars.get(size, 0) for size in sizes), kept.get(bucket.id)
        alike.setdefault(key, []).append(bucket)
    if len(alike) <= MOST_ROWS:
        return [_rows(plan, sizes, list(alike.values()), locale)]
    return _standing_out(request, plan, locale)


def _rows(plan: JarPlan, sizes: Sequence[str], groups: list[list[BucketPlan]], locale: str) -> str:
    """A line for each group of buckets filled alike."""
    from labelkit.measures import total

    kept, grouped = kept_by_bucket(plan), any(len(group) > 1 for group in groups)

    def left(bucket: BucketPlan) -> str:
        if bucket.id not in kept:
            return show_both(bucket.left, locale)
        return f"{show_both(bucket.left - kept[bucket.id], locale)} and {show_both(kept[bucket.id], locale)} kept"

    def cells(group: list[BucketPlan]) -> tuple[str, ...]:
        first = group[0]
        many = (str(len(group)),) if grouped else ()
        return (
            names(bucket.id for bucket in group),
            *many,
            show_both(first.usable, locale),
            *(str(first.jars.get(size, 0) or "–") for size in sizes),
            left(first),
        )

    heads = (*(("buckets", "how many", "each holds") if grouped else ("bucket", "fills from")), *sizes, "left")
    whole = (
        "together",
        *((str(len(plan.buckets)),) if grouped else ()),
        show_both(total(b.usable for b in plan.buckets), locale),
        *(str(sum(b.jars.get(size, 0) for b in plan.buckets)) for size in sizes),
        show_both(plan.left - total(kept.values()), locale),
    )
    return table(heads, [*map(cells, groups), whole], right=range(1, len(heads)))


def _standing_out(request: PlanRequest, plan: JarPlan, locale: str) -> list[str]:
    """What is to be known of many buckets that are all filled differently."""
    from labelkit.measures import total
    from labelkit.measures.locales import show_number

    def count(n: int) -> str:
        return show_number(n, locale)

    sizes = [size.id for size in request.sizes]
    rows = [(size, count(plan.jars[size]), count(sum(1 for b in plan.buckets if b.jars.get(size)))) for size in sizes]
    kept = kept_by_bucket(plan)
    rest = {b.id: b.left - kept[b.id] if b.id in kept else b.left for b in plan.buckets}
    opened = [b for b in plan.buckets if b.jars]
    lines = [
        table(("jar", "filled", "from buckets"), rows, right=[1, 2]),
        "",
        f"{count(len(plan.buckets))} buckets with {show_both(total(b.usable for b in plan.buckets), locale)} in them; "
        f"{show_both(total(rest.values()), locale)} stay over.",
    ]
    most = sorted(opened, key=lambda b: (-rest[b.id].mg, b.id))[:NAMED]
    middle = sorted(rest[b.id] for b in opened)[len(opened) // 2] if opened else None
    if middle is not None:
        told = ", ".join(f"{b.id} ({show_both(rest[b.id], locale)})" for b in most)
        lines.append(f"Half of the buckets keep no more than {show_both(middle, locale)}. Most stays in {told}.")
    shut = [b.id for b in plan.buckets if not b.jars]
    if shut:
        lines.append(f"Not opened: {names(shut)}.")
    several = max((len(b.jars) for b in opened), default=0)
    full = [b.id for b in opened if len(b.jars) == several]
    lines.append(f"No bucket is filled into more than {several} sizes; {count(len(full))} into so many.")
    lines.append("Every bucket by itself: --table plan.csv, or --json.")
    return lines


def names(ids: Iterable[str]) -> str:
    """The first few names of a list, and how many there are beside.

    >>> names(["B1", "B2"]), names([f"B{n}" for n in range(1, 9)])
    ('B1, B2', 'B1, B2, B3, B4 and 4 more')
    """
    ids = list(ids)
    return ", ".join(ids) if len(ids) <= NAMED else f"{', '.join(ids[: NAMED - 1])} and {len(ids) - NAMED + 1} more"


def past_told(
    known: Mapping[str, NextFill], taken: Mapping[str, NextFill], bare: Sequence[str], locale: str
) -> list[str]:
    """What one's own past runs say: offered where it was not asked for, told where it was taken."""
    if not known:
        return []
    if taken:
        more = [f"No check weights yet of {', '.join(bare)}: planned at the bare fill target."] if bare else []
        notes = dict.fromkeys(note for fill in taken.values() for note in fill.notes)
        return [
            "",
            "Filled by your own past runs:",
            *(f"  {line}" for line in fills_told(taken, locale)),
            *(f"  {note}" for note in notes),
            *(f"  {line}" for line in more),
        ]
    return [
        "",
        "Your own past runs say:",
        *(f"  {line}" for line in fills_told(known, locale)),
        "  Let the plan and the run sheet reckon with it: --fill-from-past",
    ]


def fills_told(fills: Mapping[str, NextFill], locale: str) -> list[str]:
    """A line for each size: what to fill to, what a jar will take, and how sure that is."""
    from labelkit.measures import show_first
    from labelkit.run.next_fill import odds

    lines = []
    for fill in fills.values():
        margin = f"{show_first(fill.margin, locale)} above" if fill.margin else "not above"
        runs = f"{fill.habit.runs} past run{'' if fill.habit.runs == 1 else 's'}"
        lines.append(
            f"{fill.size}: fill to {show_first(fill.aim, locale)} net, {margin} what it owes; a jar then takes "
            f"{show_first(fill.takes, locale)} on average and a lot passes {odds(fill.chance, locale)} of the time "
            f"({runs}, {fill.habit.jars} jars weighed)."
        )
    return lines


def difference_text(change: Difference, locale: str) -> str:
    """What one plan changes against another: money, jars, and whether the search may be part of it."""
    sign = "+" if change.value.minor > 0 else ""
    jars = ", ".join(f"{count:+d} {size}" for size, count in change.jars.items())
    unsure = "" if change.sure else " Not both plans are proved best, so part of this may be the search."
    return f"{sign}{change.value.show(locale)}{f' ({jars})' if jars else ''}.{unsure}"


def followed_text(followed: Followed, locale: str) -> list[str]:
    """Whether a kept plan is followed, what was filled of it, and why it is not followed any more."""
    kept = followed.kept
    if kept is None:
        return []
    if followed.changes:
        against = difference_text(followed.against, locale) if followed.against else ""
        return [
            f"The plan kept as event {kept.seq} no longer holds; this is a new plan with the same wishes:",
            *(f"  {change.words(locale)}" for change in followed.changes),
            f"  Against the kept plan: {against}",
            "  To keep the new plan: labelkit plan --same-wishes --book",
            *_filled_of(followed),
        ]
    return [f"Of the plan kept as event {kept.seq} on {kept.day}.", *_filled_of(followed)]


def _filled_of(followed: Followed) -> list[str]:
    """What was filled out of each planned bucket, beside what was planned."""
    said = []
    for bucket, jars in followed.filled.items():
        planned = followed.planned(bucket)
        if jars:
            each = ", ".join(f"{jars[size]} of {planned.get(size, 0)} {size}" for size in {**planned, **jars})
            said.append(f"  {bucket}: {each} filled.")
    return said


def followed_document(followed: Followed, locale: str) -> dict[str, Any]:
    """The same for a program: the kept plan that is followed, what changed, what was filled of it."""
    document: dict[str, Any] = {"booked": followed.event}
    if followed.kept is None:
        return document
    document["filled"] = {bucket: dict(jars) for bucket, jars in followed.filled.items() if jars}
    document["changes"] = [
        {"what": each.what, "about": each.about, "was": _plain(each.was), "now": _plain(each.now)}
        for each in followed.changes
    ]
    if followed.against:
        document["against_booked"] = {"value": str(followed.against.value.amount), "jars": followed.against.jars}
    return document


def _plain(value: Mass | Money | int | None) -> Any:
    from labelkit.measures import Mass, Money

    if isinstance(value, Mass):
        return value.g
    return value.amount if isinstance(value, Money) else value
