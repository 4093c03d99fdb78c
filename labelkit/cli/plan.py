"""``labelkit plan``."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import click

from labelkit.cli._files import write_whole
from labelkit.cli._options import once_option, season_file
from labelkit.cli._plan_text import difference_text, past_told, plan_text
from labelkit.cli._runner import Answer, CommandContext, answering
from labelkit.cli._said import late_option
from labelkit.cli._wishes import planning_of, wish_options
from labelkit.errors.cli import UsageUnclear

if TYPE_CHECKING:
    from labelkit.lots.season import SeasonFile
    from labelkit.plan.wishes import Planning
    from labelkit.season.hang_up import HangUp
    from labelkit.season.plan import PlanBasis, Planned


@click.command()
@season_file
@wish_options
@click.option("--why", is_flag=True, help="Say for each size why this many and not one more.")
@click.option("--picture", metavar="FILE.svg", help="Draw the plan: each bucket divided into its jars.")
@click.option("--table", "spreadsheet", metavar="FILE", help="Write every bucket with its jars (.csv or .xlsx).")
@click.option("--book", is_flag=True, help="Keep this plan: run sheet, order list and filling day follow it.")
@click.option("--same-wishes", is_flag=True, help="Plan again with the wishes of the kept plan.")
@once_option
@late_option
@answering
def command(
    context: CommandContext,
    file: SeasonFile | None,
    picture: str | None,
    spreadsheet: str | None,
    why: bool,
    book: bool,
    same_wishes: bool,
    once: str | None,
    **said: Any,
) -> Answer:
    """Plan which jars each bucket fills.

    Shows what the jars bring, and how far from the best plan this one can be.

    Plans from a season file, or from what the record says is in the buckets. The what-if options show the plan they
    lead to beside the plan without them. A step of the scale or a hang-up makes the plan careful: the last jar is
    never short. With --book the plan is kept with its wishes, and followed until honey, prices or wishes change.

    \b
    Example:  labelkit plan sample_lots/one-bucket.toml --why
              labelkit plan season.toml --without B3 --price "one pound=13"
              labelkit plan --at-most "half pound=40" --book
    """
    from labelkit.season.plan import plan

    asked, event = _wishes(context, said, same_wishes), None
    if not book:
        done = plan(basis_for(context, file, asked.from_past), asked)
    else:
        from labelkit.errors.plan import FilePlanNotKept
        from labelkit.season.kept_plan import keep_plan

        if file:
            raise FilePlanNotKept(file.file)
        with context.work(once) as work:
            done, event = keep_plan(work, asked, context.day)
    reader = context.locale if file else context.reader
    if picture:
        from labelkit.plan.picture import plan_svg

        write_whole(picture, plan_svg(done.request, done.plan, reader))
    if spreadsheet:
        from labelkit.paper.workbook import table_file
        from labelkit.plan.table import plan_table

        write_whole(spreadsheet, table_file(plan_table(done.request, done.plan), spreadsheet, context.now))
    clings = {} if file or asked.hang_up else _hang_ups(context, done)
    answer = _answer(done, reader, {"Picture": picture, "Every bucket by itself": spreadsheet}, why)
    if clings:
        from labelkit.season.hang_up import hang_up_words

        lines = "".join(f"\n{line}" for line in hang_up_words(done.plan, clings, reader))
        weights = {name: {"g": each.mass.g, "source": each.source} for name, each in clings.items()}
        answer = Answer(answer.document | {"hang_up": weights}, answer.text + lines)
    if event is None:
        return answer
    told = f"\nThe plan is kept as event {event}. The run sheet of it: labelkit run-sheet"
    return Answer(answer.document | {"booked": event}, answer.text + told)


def _hang_ups(context: CommandContext, done: Planned) -> dict[str, HangUp]:
    from labelkit.season.hang_up import hang_ups

    with context.reading() as state:
        return hang_ups(state, {bucket.id for bucket in done.plan.buckets})


def _wishes(context: CommandContext, said: dict[str, Any], same: bool) -> Planning:
    asked = planning_of(said)
    if not same:
        return asked
    from labelkit.season.kept_plan import NO_WISHES, same_wishes

    if asked != NO_WISHES:
        raise UsageUnclear("Either --same-wishes or other wishes; together they are not clear.", "labelkit plan --help")
    with context.reading() as state:
        return same_wishes(state, context.day)


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


def _answer(done: Planned, locale: str, written: dict[str, str | None], why: bool) -> Answer:
    document = done.plan.as_dict()
    if done.before:
        document["instead_of"] = {"value": str(done.before.value.amount), "jars": done.before.jars}
    if done.known:
        document["from_past" if done.from_past else "offered"] = sorted(done.known)
    if done.empties:
        document["empties"] = dict(done.empties)
    text = plan_text(done.request, done.plan, locale)
    if done.empties:
        kept = ", ".join(f"{count} {size}" for size, count in done.empties.items())
        text += f"\nNo more than the empty jars you keep: {kept}. Plan with others: --stock SIZE=COUNT."
    if done.before:
        from labelkit.plan.what_if import difference

        against = difference_text(difference(done.before, done.plan), locale)
        text += f"\nAgainst the plan without these wishes: {against}"
    text += "".join(
        f"\n{line}" for line in past_told(done.known, done.known if done.from_past else {}, done.unknown, locale)
    )
    if why:
        from labelkit.plan.why import reasons

        document["why"] = [reason.words(locale) for reason in reasons(done.request, done.plan)]
        text += "\n\nWhy these and not one more:\n" + "\n".join(f"  {line}" for line in document["why"])
    return Answer(document, text + "".join(f"\n{what}: {name}" for what, name in written.items() if name))
