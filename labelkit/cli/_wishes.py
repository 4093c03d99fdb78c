"""What a person wishes of a plan, as options: one set for every command that plans, read into one value."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING, Any

import click

from labelkit.cli._options import (
    JAR_AMOUNT,
    JAR_COUNT,
    JAR_LIMIT,
    JAR_STEP,
    MASS,
    NUMBER,
    BySize,
    by_size,
    fill_goal_options,
    grouped,
)

if TYPE_CHECKING:
    from labelkit.plan.wishes import Planning

GOALS = ("money", "least-left", "mix", "first")
SHARE, KEPT = BySize(NUMBER, "one pound=3"), BySize(MASS, "winter feed=5 kg")
ONLY, TAG = BySize(click.STRING, "one pound=clover"), BySize(click.STRING, "B1=organic")

_OPTIONS = (
    click.option(
        "--goal", type=click.Choice(GOALS), help="What the plan is to be good at; money if nothing else is said."
    ),
    click.option(
        "--mix",
        type=SHARE,
        metavar="SIZE=SHARE",
        multiple=True,
        help="With --goal mix: the share of jars of each size wished for.",
    ),
    click.option("--first", metavar="SIZE", help="With --goal first: the size to fill as many of as possible."),
    click.option(
        "--wet",
        type=click.Choice(["leave-out", "allow"]),
        help="Buckets over the market's moisture ceiling; left out if nothing else is said.",
    ),
    click.option("--reserve", type=JAR_LIMIT, multiple=True, help="Jars kept for helpers, family, gifts or a show."),
    click.option(
        "--keep",
        type=KEPT,
        metavar="NAME=WEIGHT",
        multiple=True,
        help="Honey kept unbottled, for winter feed for example.",
    ),
    click.option("--whole-cases", type=JAR_COUNT, multiple=True, help="Fill whole cases of so many jars only."),
    click.option("--stock", type=JAR_LIMIT, multiple=True, help="Empty jars at hand."),
    click.option("--buy", metavar="SIZE", multiple=True, help="More empty jars of this size may be bought."),
    click.option("--buy-pack", type=JAR_COUNT, multiple=True, help="Jars are bought in packs of so many."),
    click.option("--then", type=JAR_STEP, multiple=True, help="After so many sold, one more brings only that."),
    click.option(
        "--only",
        type=ONLY,
        metavar="SIZE=WORD",
        multiple=True,
        help="Fill this size only from honey of this plant source, or with this tag.",
    ),
    click.option(
        "--tag",
        "tags",
        type=TAG,
        metavar="BUCKET=WORD",
        multiple=True,
        help="Keep this bucket's honey apart from honey without the word.",
    ),
    click.option("--use-first", metavar="BUCKET", multiple=True, help="Empty this bucket first, as older or wetter."),
    click.option(
        "--join-tails", is_flag=True, help="Join what is left of alike buckets into a blend, where that gains."
    ),
    click.option("--bucket-step", type=MASS, help="Caution: the step of the scale the buckets were weighed on."),
    click.option("--jar-step", type=MASS, help="Caution: the step of the scale the jars are filled on."),
    click.option("--hang-up", type=MASS, help="Caution: what stays on the walls of an emptied bucket."),
    click.option(
        "--fill-from-past",
        "from_past",
        is_flag=True,
        help="Plan with what your jars really take, by your own check weights; see --sure and --system.",
    ),
    fill_goal_options,
    click.option("--without", metavar="BUCKET", multiple=True, help="What if this bucket were not there?"),
    click.option("--price", "prices", type=JAR_AMOUNT, multiple=True, help="What if this size sold for that?"),
    click.option("--at-least", type=JAR_LIMIT, multiple=True, help="What if at least so many are wanted?"),
    click.option("--at-most", type=JAR_LIMIT, multiple=True, help="What if at most so many sell?"),
    click.option(
        "--patience", type=click.IntRange(1, 100), default=1, show_default=True, help="How many times the usual search."
    ),
)


def wish_options(function: Callable) -> Callable:
    """Every wish a plan can be asked, from ``--goal`` to the what-ifs; read by :func:`planning_of`."""
    for option in reversed(_OPTIONS):
        function = option(function)
    return function


def planning_of(said: dict[str, Any]) -> Planning:
    """The wishes of these options."""
    from labelkit.plan.wishes import GOALS as BY_NAME
    from labelkit.plan.wishes import WET, FillGoal, Planning

    tables = ("mix", "reserve", "keep", "whole_cases", "stock", "buy_pack", "prices", "at_least", "at_most")
    names = ("first", "buy", "use_first", "join_tails", "bucket_step", "jar_step", "hang_up", "from_past", "without")
    given: dict[str, Any] = {name: said[name] for name in names}
    given |= {name: by_size(said[name], f"--{name.rstrip('s').replace('_', '-')}") for name in tables}
    return Planning(
        goal=BY_NAME.get(said["goal"]),
        wet=WET.get(said["wet"]),
        then=grouped(said["then"]),
        only=grouped(said["only"]),
        tags=grouped(said["tags"]),
        fill_goal=FillGoal(said["sure"], said["system"]),
        patience=said["patience"],
        **given,
    )
