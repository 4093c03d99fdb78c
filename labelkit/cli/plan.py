"""``labelkit plan``."""

from __future__ import annotations

from typing import TYPE_CHECKING

import click

from labelkit.cli._files import write_whole
from labelkit.cli._plan_text import plan_table, plan_text
from labelkit.cli._planning import asked_of
from labelkit.cli._runner import Answer, CommandContext, answering
from labelkit.cli._wishes import GOALS, what_if

if TYPE_CHECKING:
    from labelkit.plan import JarPlan, PlanRequest


@click.command()
@click.argument("file", required=False, metavar="[LOTS.toml]")
@click.option(
    "--goal", type=click.Choice(list(GOALS)), help="What the plan is to be good at; money if nothing else is said."
)
@click.option(
    "--mix", metavar="SIZE=SHARE", multiple=True, help="With --goal mix: the share of jars of each size wished for."
)
@click.option("--first", metavar="SIZE", help="With --goal first: the size to fill as many of as possible.")
@click.option(
    "--wet",
    type=click.Choice(["leave-out", "allow"]),
    help="Buckets over the market's moisture ceiling; left out if nothing else is said.",
)
@click.option("--reserve", metavar="SIZE=COUNT", multiple=True, help="Jars kept for helpers, family, gifts or a show.")
@click.option("--keep", metavar="NAME=WEIGHT", multiple=True, help="Honey kept unbottled, for winter feed for example.")
@click.option("--whole-cases", metavar="SIZE=COUNT", multiple=True, help="Fill whole cases of so many jars only.")
@click.option("--stock", metavar="SIZE=COUNT", multiple=True, help="Empty jars at hand.")
@click.option("--buy", metavar="SIZE", multiple=True, help="More empty jars of this size may be bought.")
@click.option("--buy-pack", metavar="SIZE=COUNT", multiple=True, help="Jars are bought in packs of so many.")
@click.option(
    "--then", metavar="SIZE=COUNT@PRICE", multiple=True, help="After so many sold, one more brings only that."
)
@click.option(
    "--only",
    metavar="SIZE=WORD",
    multiple=True,
    help="Fill this size only from honey of this plant source, or with this tag.",
)
@click.option(
    "--tag", metavar="BUCKET=WORD", multiple=True, help="Keep this bucket's honey apart from honey without the word."
)
@click.option("--use-first", metavar="BUCKET", multiple=True, help="Empty this bucket first, as older or wetter.")
@click.option("--join-tails", is_flag=True, help="Join what is left of alike buckets into a blend, where that gains.")
@click.option("--bucket-step", metavar="WEIGHT", help="Caution: the step of the scale the buckets were weighed on.")
@click.option("--jar-step", metavar="WEIGHT", help="Caution: the step of the scale the jars are filled on.")
@click.option("--hang-up", metavar="WEIGHT", help="Caution: what stays on the walls of an emptied bucket.")
@click.option("--fill-from-past", is_flag=True, help="Plan with what your jars really take, by your own check weights.")
@click.option("--sure", metavar="PERCENT", help="With --fill-from-past: how sure a lot is to pass; 95 unless given.")
@click.option("--system", metavar="NAME", help="With --fill-from-past: another of the market's ways to judge a lot.")
@click.option("--why", is_flag=True, help="Say for each size why this many and not one more.")
@click.option("--without", metavar="BUCKET", multiple=True, help="What if this bucket were not there?")
@click.option("--price", "prices", metavar="SIZE=AMOUNT", multiple=True, help="What if this size sold for that?")
@click.option("--at-least", metavar="SIZE=COUNT", multiple=True, help="What if at least so many are wanted?")
@click.option("--at-most", metavar="SIZE=COUNT", multiple=True, help="What if at most so many sell?")
@click.option(
    "--patience", type=click.IntRange(1, 100), default=1, show_default=True, help="How many times the usual search."
)
@click.option("--picture", metavar="FILE.svg", help="Draw the plan: each bucket divided into its jars.")
@click.option("--table", "spreadsheet", metavar="FILE.csv", help="Write every bucket with its jars as a spreadsheet.")
@answering
def command(
    context: CommandContext,
    file: str | None,
    patience: int,
    picture: str | None,
    spreadsheet: str | None,
    why: bool,
    **wishes,
) -> Answer:
    """How many jars of which sizes the buckets fill, and what that brings.

    Plans from a season file, or from what the record says is in the buckets. The what-if options show the plan they
    lead to beside the plan without them. A step of the scale or a hang-up makes the plan careful: the last jar is
    never short.

    \b
    Example:  labelkit plan sample_lots/one-bucket.toml --why
              labelkit plan season.toml --without B3 --price "one pound=13"
    """
    asked, plan, before = plan_asked(context, file, wishes, patience)
    if picture:
        from labelkit.plan.picture import plan_svg

        write_whole(picture, plan_svg(asked, plan))
    if spreadsheet:
        write_whole(spreadsheet, plan_table(asked, plan))
    document = plan.as_dict()
    if before:
        document["instead_of"] = {"value": str(before.value.amount), "jars": before.jars}
    text = plan_text(asked, plan, context.locale) + _difference(before, plan, context.locale)
    by_past, said = _by_past(context, file, wishes)
    document |= by_past
    text += "".join(f"\n{line}" for line in said)
    if why:
        from labelkit.plan.why import reasons

        found = reasons(asked, plan)
        document["why"] = [reason.words(context.locale) for reason in found]
        text += "\n\nWhy these and not one more:\n" + "\n".join(f"  {line}" for line in document["why"])
    written = {"Picture": picture, "Every bucket by itself": spreadsheet}
    return Answer(document, text + "".join(f"\n{what}: {name}" for what, name in written.items() if name))


def plan_asked(
    context: CommandContext, file: str | None, wishes: dict, patience: int = 1
) -> tuple[PlanRequest, JarPlan, JarPlan | None]:
    """What is asked, its plan, and the plan without the what-ifs where there are any; ``wishes`` as the options hold them."""
    from labelkit.plan import jar_plan

    base = asked_of(context, file, patience, wishes).request
    asked = what_if(base, context, wishes)
    return asked, jar_plan(asked), jar_plan(base) if asked != base else None


def _by_past(context: CommandContext, file: str | None, wishes: dict) -> tuple[dict, list[str]]:
    """What one's own check weights say of the fills: taken where it was wished for, offered in words where it was not.

    A season file is a plan of its own: its sizes meet the record's runs only where that is wished for.
    """
    from labelkit.cli._filling import chance_of, fills_for
    from labelkit.cli._sheet_words import past_told

    taken = bool(wishes.get("fill_from_past"))
    if file and not taken:
        return {}, []
    bare = asked_of(context, file, wishes={key: wish for key, wish in wishes.items() if key != "fill_from_past"})
    sure = chance_of(wishes.get("sure"), context.locale)
    known = fills_for(context, bare.request, bare.markets, bare.day, sure, wishes.get("system"))
    unknown = [size.id for size in bare.request.sizes if size.id not in known]
    names = {"from_past" if taken else "offered": sorted(known)} if known else {}
    return names, past_told(known, known if taken else {}, unknown, context.locale)


def _difference(before: JarPlan | None, plan: JarPlan, locale: str) -> str:
    if before is None:
        return ""
    from labelkit.plan.what_if import difference

    change = difference(before, plan)
    sign = "+" if change.value.minor > 0 else ""
    jars = ", ".join(f"{count:+d} {size}" for size, count in change.jars.items())
    unsure = "" if change.sure else " Not both plans are proved best, so part of this may be the search."
    return f"\nAgainst the plan without these wishes: {sign}{change.value.show(locale)}{f' ({jars})' if jars else ''}.{unsure}"
