"""``labelkit plan``."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import click

from labelkit.cli._files import write_whole
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
    season_file,
)
from labelkit.cli._plan_text import past_told, plan_text
from labelkit.cli._runner import Answer, CommandContext, answering

if TYPE_CHECKING:
    from labelkit.lots.season import SeasonFile
    from labelkit.plan import JarPlan
    from labelkit.plan.wishes import Planning
    from labelkit.season.plan import PlanBasis, Planned

GOALS = ("money", "least-left", "mix", "first")
SHARE, KEPT = BySize(NUMBER, "one pound=3"), BySize(MASS, "winter feed=5 kg")
ONLY, TAG = BySize(click.STRING, "one pound=clover"), BySize(click.STRING, "B1=organic")


@click.command()
@season_file
@click.option("--goal", type=click.Choice(GOALS), help="What the plan is to be good at; money if nothing else is said.")
@click.option(
    "--mix",
    type=SHARE,
    metavar="SIZE=SHARE",
    multiple=True,
    help="With --goal mix: the share of jars of each size wished for.",
)
@click.option("--first", metavar="SIZE", help="With --goal first: the size to fill as many of as possible.")
@click.option(
    "--wet",
    type=click.Choice(["leave-out", "allow"]),
    help="Buckets over the market's moisture ceiling; left out if nothing else is said.",
)
@click.option("--reserve", type=JAR_LIMIT, multiple=True, help="Jars kept for helpers, family, gifts or a show.")
@click.option(
    "--keep",
    type=KEPT,
    metavar="NAME=WEIGHT",
    multiple=True,
    help="Honey kept unbottled, for winter feed for example.",
)
@click.option("--whole-cases", type=JAR_COUNT, multiple=True, help="Fill whole cases of so many jars only.")
@click.option("--stock", type=JAR_LIMIT, multiple=True, help="Empty jars at hand.")
@click.option("--buy", metavar="SIZE", multiple=True, help="More empty jars of this size may be bought.")
@click.option("--buy-pack", type=JAR_COUNT, multiple=True, help="Jars are bought in packs of so many.")
@click.option("--then", type=JAR_STEP, multiple=True, help="After so many sold, one more brings only that.")
@click.option(
    "--only",
    type=ONLY,
    metavar="SIZE=WORD",
    multiple=True,
    help="Fill this size only from honey of this plant source, or with this tag.",
)
@click.option(
    "--tag",
    "tags",
    type=TAG,
    metavar="BUCKET=WORD",
    multiple=True,
    help="Keep this bucket's honey apart from honey without the word.",
)
@click.option("--use-first", metavar="BUCKET", multiple=True, help="Empty this bucket first, as older or wetter.")
@click.option("--join-tails", is_flag=True, help="Join what is left of alike buckets into a blend, where that gains.")
@click.option("--bucket-step", type=MASS, help="Caution: the step of the scale the buckets were weighed on.")
@click.option("--jar-step", type=MASS, help="Caution: the step of the scale the jars are filled on.")
@click.option("--hang-up", type=MASS, help="Caution: what stays on the walls of an emptied bucket.")
@click.option(
    "--fill-from-past",
    "from_past",
    is_flag=True,
    help="Plan with what your jars really take, by your own check weights; see --sure and --system.",
)
@fill_goal_options
@click.option("--why", is_flag=True, help="Say for each size why this many and not one more.")
@click.option("--without", metavar="BUCKET", multiple=True, help="What if this bucket were not there?")
@click.option("--price", "prices", type=JAR_AMOUNT, multiple=True, help="What if this size sold for that?")
@click.option("--at-least", type=JAR_LIMIT, multiple=True, help="What if at least so many are wanted?")
@click.option("--at-most", type=JAR_LIMIT, multiple=True, help="What if at most so many sell?")
@click.option(
    "--patience", type=click.IntRange(1, 100), default=1, show_default=True, help="How many times the usual search."
)
@click.option("--picture", metavar="FILE.svg", help="Draw the plan: each bucket divided into its jars.")
@click.option("--table", "spreadsheet", metavar="FILE.csv", help="Write every bucket with its jars as a spreadsheet.")
@answering
def command(
    context: CommandContext,
    file: SeasonFile | None,
    picture: str | None,
    spreadsheet: str | None,
    why: bool,
    **said: Any,
) -> Answer:
    """How many jars of which sizes the buckets fill, and what that brings.

    Plans from a season file, or from what the record says is in the buckets. The what-if options show the plan they
    lead to beside the plan without them. A step of the scale or a hang-up makes the plan careful: the last jar is
    never short.

    \b
    Example:  labelkit plan sample_lots/one-bucket.toml --why
              labelkit plan season.toml --without B3 --price "one pound=13"
    """
    from labelkit.season.plan import plan

    done = plan(basis_for(context, file, said["from_past"]), _asked(said))
    if picture:
        from labelkit.plan.picture import plan_svg

        write_whole(picture, plan_svg(done.request, done.plan, context.locale))
    if spreadsheet:
        from labelkit.plan.table import plan_table

        write_whole(spreadsheet, plan_table(done.request, done.plan))
    return _answer(done, context.locale, {"Picture": picture, "Every bucket by itself": spreadsheet}, why)


def basis_for(context: CommandContext, file: SeasonFile | None, from_past: bool) -> PlanBasis:
    """What there is to plan with: a season file, which meets past runs only where that is wished for, or the record."""
    from labelkit.season.past_fills import NO_PAST, past_runs
    from labelkit.season.plan import basis_of_file, basis_of_record

    past = NO_PAST
    if file is None or (from_past and context.has_record()):
        with context.reading() as state:
            if file is None:
                return basis_of_record(state, context.day)
            past = past_runs(state)
    return basis_of_file(file, context.day, past)


def _asked(said: dict[str, Any]) -> Planning:
    from labelkit.plan.wishes import GOALS, WET, FillGoal, Planning

    tables = ("mix", "reserve", "keep", "whole_cases", "stock", "buy_pack", "prices", "at_least", "at_most")
    names = ("first", "buy", "use_first", "join_tails", "bucket_step", "jar_step", "hang_up", "from_past", "without")
    given: dict[str, Any] = {name: said[name] for name in names}
    given |= {name: by_size(said[name], f"--{name.rstrip('s').replace('_', '-')}") for name in tables}
    return Planning(
        goal=GOALS.get(said["goal"]),
        wet=WET.get(said["wet"]),
        then=grouped(said["then"]),
        only=grouped(said["only"]),
        tags=grouped(said["tags"]),
        fill_goal=FillGoal(said["sure"], said["system"]),
        patience=said["patience"],
        **given,
    )


def _answer(done: Planned, locale: str, written: dict[str, str | None], why: bool) -> Answer:
    document = done.plan.as_dict()
    if done.before:
        document["instead_of"] = {"value": str(done.before.value.amount), "jars": done.before.jars}
    if done.known:
        document["from_past" if done.from_past else "offered"] = sorted(done.known)
    text = plan_text(done.request, done.plan, locale) + _difference(done.before, done.plan, locale)
    text += "".join(
        f"\n{line}" for line in past_told(done.known, done.known if done.from_past else {}, done.unknown, locale)
    )
    if why:
        from labelkit.plan.why import reasons

        document["why"] = [reason.words(locale) for reason in reasons(done.request, done.plan)]
        text += "\n\nWhy these and not one more:\n" + "\n".join(f"  {line}" for line in document["why"])
    return Answer(document, text + "".join(f"\n{what}: {name}" for what, name in written.items() if name))


def _difference(before: JarPlan | None, plan: JarPlan, locale: str) -> str:
    if before is None:
        return ""
    from labelkit.plan.what_if import difference

    change = difference(before, plan)
    sign = "+" if change.value.minor > 0 else ""
    jars = ", ".join(f"{count:+d} {size}" for size, count in change.jars.items())
    unsure = "" if change.sure else " Not both plans are proved best, so part of this may be the search."
    return f"\nAgainst the plan without these wishes: {sign}{change.value.show(locale)}{f' ({jars})' if jars else ''}.{unsure}"
