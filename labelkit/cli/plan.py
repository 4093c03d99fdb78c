"""``labelkit plan``."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import click

from labelkit.cli._files import write_whole
from labelkit.cli._planning import asked_of
from labelkit.cli._rim import Answer, Desk, answering
from labelkit.cli._season import counts, pairs
from labelkit.cli._show import both, table

if TYPE_CHECKING:
    from labelkit.plan import JarPlan, PlanRequest

GOALS = {"money": "most money", "least-left": "least left over", "mix": "wished mix", "first": "one size first"}


@click.command()
@click.argument("file", required=False, metavar="[LOTS.toml]")
@click.option(
    "--goal", type=click.Choice(list(GOALS)), default="money", show_default=True, help="What the plan is to be good at."
)
@click.option(
    "--mix", metavar="SIZE=SHARE", multiple=True, help="With --goal mix: the share of jars of each size wished for."
)
@click.option("--first", metavar="SIZE", help="With --goal first: the size to fill as many of as possible.")
@click.option("--wet", type=click.Choice(["leave-out", "allow"]), default="leave-out", show_default=True,
              help="Buckets over the market's moisture ceiling.")  # fmt: skip
@click.option("--without", metavar="BUCKET", multiple=True, help="What if this bucket were not there?")
@click.option("--price", "prices", metavar="SIZE=AMOUNT", multiple=True, help="What if this size sold for that?")
@click.option("--at-least", metavar="SIZE=COUNT", multiple=True, help="What if at least so many are wanted?")
@click.option("--at-most", metavar="SIZE=COUNT", multiple=True, help="What if at most so many sell?")
@click.option(
    "--patience", type=click.IntRange(1, 100), default=1, show_default=True, help="How many times the usual search."
)
@click.option("--picture", metavar="FILE.svg", help="Draw the plan: each bucket divided into its jars.")
@answering
def command(desk: Desk, file: str | None, patience: int, picture: str | None, **wishes) -> Answer:
    """How many jars of which sizes the buckets fill, and what that brings.

    Plans from a season file, or from what the record says is in the buckets. The what-if options show the plan they
    lead to beside the plan without them.

    \b
    Example:  labelkit plan sample_lots/one-bucket.toml
              labelkit plan season.toml --without B3 --price "one pound=13"
    """
    asked, plan, before = plan_asked(desk, file, wishes, patience)
    if picture:
        from labelkit.plan.picture import plan_svg

        write_whole(picture, plan_svg(asked, plan))
    document = plan.as_dict()
    if before:
        document["instead_of"] = {"value": str(before.value.amount), "jars": before.jars}
    text = plan_text(asked, plan, desk.locale)
    return Answer(
        document, text + _difference(before, plan, desk.locale) + (f"\nPicture: {picture}" if picture else "")
    )


def plan_asked(
    desk: Desk, file: str | None, wishes: dict, patience: int = 1
) -> tuple[PlanRequest, JarPlan, JarPlan | None]:
    """What is asked, its plan, and the plan without the what-ifs where there are any; ``wishes`` as the options hold them."""
    from labelkit.plan import jar_plan

    found = asked_of(desk, file, patience)
    base = _goal(found.request, wishes["goal"], wishes["mix"], wishes["first"], wishes["wet"])
    asked = _what_if(base, found.currency, desk, wishes)
    return asked, jar_plan(asked), jar_plan(base) if asked != base else None


def _goal(request: PlanRequest, goal: str, mix: tuple[str, ...], first: str | None, wet: str) -> PlanRequest:
    from labelkit.measures.locales import read_number
    from labelkit.plan import Goal, Wet

    shares = tuple((size, read_number(share)) for size, share in pairs(mix, "--mix", "one pound=3"))
    return replace(request, goal=Goal(GOALS[goal]), mix=shares, first=first, wet=Wet(wet.replace("-", " ")))


def _what_if(request: PlanRequest, currency: str, desk: Desk, wishes: dict) -> PlanRequest:
    from labelkit.errors.lots import BucketUnknown
    from labelkit.errors.run import JarSizeUnknown
    from labelkit.measures import Money

    known = [bucket.id for bucket in request.buckets]
    for name in wishes["without"]:
        if name not in known:
            raise BucketUnknown(name, f"; known: {', '.join(known)}")
    sizes = {size.id: size for size in request.sizes}

    def change(size: str, **changes) -> None:
        if size not in sizes:
            raise JarSizeUnknown(size, ", ".join(sizes))
        sizes[size] = replace(sizes[size], **changes)

    for size, amount in pairs(wishes["prices"], "--price", "one pound=13"):
        change(size, price=Money.read(amount, currency, desk.locale))
    for size, count in counts(wishes["at_least"], "--at-least"):
        change(size, at_least=count)
    for size, count in counts(wishes["at_most"], "--at-most"):
        change(size, at_most=count)
    buckets = tuple(bucket for bucket in request.buckets if bucket.id not in wishes["without"])
    return replace(request, buckets=buckets, sizes=tuple(sizes.values()))


def plan_text(request: PlanRequest, plan: JarPlan, locale: str) -> str:
    """The plan as a person reads it: by bucket, by size, what is left, what it brings and how sure that is."""
    from labelkit.measures import total
    from labelkit.measures.locales import show_percent

    sizes = [size.id for size in request.sizes]
    heads = ("bucket", "fills from", *sizes, "left")
    rows = [
        (b.id, both(b.usable), *(str(b.jars.get(size, 0) or "–") for size in sizes), both(b.left)) for b in plan.buckets
    ]
    whole = (
        "together",
        both(total(b.usable for b in plan.buckets)),
        *(str(plan.jars.get(s, 0)) for s in sizes),
        both(plan.left),
    )
    lines = [table(heads, [*rows, whole], right=range(1, len(heads))), ""]
    each = [(s.id, s.declares, both(s.fill), (s.price - s.cost).show(locale)) for s in request.sizes]
    lines += [table(("jar", "declares", "fill at least", "brings"), each, right=[2, 3]), ""]
    for out in plan.left_out:
        lines.append(f"Left out: bucket {out.bucket}, {out.reason}. Plan it all the same with --wet allow.")
    if plan.proved:
        lines.append(f"Brings {plan.value.show(locale)}. Proved: no plan brings more.")
    else:
        gap = show_percent(plan.gap * 100, locale, digits=4)
        lines.append(
            f"Brings {plan.value.show(locale)}. Not proved best: nothing can bring more than "
            f"{plan.bound.show(locale)}, so at most {gap} is missing."
        )
    lines += [f"Buy {count} more {size} jars." for size, count in plan.to_buy.items()]
    return "\n".join(lines)


def _difference(before: JarPlan | None, plan: JarPlan, locale: str) -> str:
    if before is None:
        return ""
    change = plan.value - before.value
    sign = "+" if change.minor > 0 else ""
    jars = [
        f"{plan.jars.get(size, 0) - before.jars.get(size, 0):+d} {size}"
        for size in dict.fromkeys((*before.jars, *plan.jars))
        if plan.jars.get(size, 0) != before.jars.get(size, 0)
    ]
    return f"\nAgainst the plan without these wishes: {sign}{change.show(locale)}" + (
        f" ({', '.join(jars)})" if jars else ""
    )
