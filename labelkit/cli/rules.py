"""``labelkit rules``."""

from __future__ import annotations

import click

from labelkit.cli._rules_text import laws_answer
from labelkit.cli._runner import Answer, CommandContext, answering

_NOT_READ_WIDTH = 36


@click.command()
@click.argument("places", nargs=-1, metavar="[MARKET [MARKET]]")
@click.option("--about", default="", metavar="WORDS", help="Only what speaks of these words, with its history.")
@click.option("--unverified", is_flag=True, help="Only what was not read at the source.")
@click.option("--due", is_flag=True, help="Only what is to be read again by the end of this month.")
@click.option("--law", default="", metavar="NAME", help="Everything that depends on one act, such as “21 CFR 101.9”.")
@click.option("--changes", nargs=2, metavar="FROM TO", help="What changed between two days or years.")
@click.option("--totals", is_flag=True, help="How much was read at the source, by market.")
@click.option("--review", metavar="FILE", help="Write a law review to tick and sign (.html or .csv).")
@click.option("--reviewed", metavar="FILE", help="Read a signed review (.csv) back in.")
@click.option("--out", metavar="FOLDER", help="The folder for the reviewed pack.")
@answering
def command(
    context: CommandContext,
    places: tuple[str, ...],
    about: str,
    unverified: bool,
    due: bool,
    law: str,
    changes: tuple[str, str] | None,
    totals: bool,
    review: str | None,
    reviewed: str | None,
    out: str | None,
) -> Answer:
    """Show the rules labelkit holds, with sources.

    Or compare two markets.

    Example:  labelkit rules us --about "letter height"

    Example:  labelkit rules us eu --about "letter height"

    Example:  labelkit rules eu-de --changes 2024 2027

    Example:  labelkit rules us-or --review review.html
    """
    from labelkit.cli import _rules_upkeep as upkeep
    from labelkit.rules import catalogue, market, shelf

    _refuse_two(about and not unverified, unverified, due, law, changes, totals, review, reviewed)
    here = [market(place, context.day) for place in places]
    if totals:
        return upkeep.totals(context)
    if review or reviewed:
        return _reviewing(context, here, review, reviewed, out)
    every = here or [market(head.id, context.day) for head in shelf.markets()]
    if unverified:
        found = [law for place in every for law in catalogue.doubtful(place)]
        return laws_answer([law for law in found if catalogue.speaks_of(law, about)])
    if due:
        return upkeep.due(every)
    if law:
        return upkeep.of_act(every, law)
    if changes:
        return upkeep.changes(context, here or _of_season(context) or every, *changes)
    if not here:
        return _markets(catalogue.summaries(context.day))
    if len(here) == 1:
        return _one(here[0], about)
    if len(here) == 2:
        return _two(here[0], here[1], about)
    raise click.UsageError("Name one market to read its rules, or two to compare them.")


def _refuse_two(*asked) -> None:
    if sum(map(bool, asked)) > 1:
        raise click.UsageError("Ask one thing at a time: these options give different answers.")


def _reviewing(context: CommandContext, here, review: str | None, reviewed: str | None, out: str | None) -> Answer:
    from labelkit.cli import _rules_upkeep as upkeep

    if len(here) != 1:
        raise click.UsageError(
            "A review is of one market: name it, for example labelkit rules us-or --review review.html"
        )
    if review:
        return upkeep.review(context, here[0], review)
    if not reviewed or not out:
        raise click.UsageError("Say where the reviewed pack goes: --out FOLDER")
    return upkeep.reviewed(context, here[0], reviewed, out)


def _of_season(context: CommandContext):
    """The markets of the season's record, where there is one."""
    from labelkit.season.settings import settings_of

    if not context.has_record():
        return []
    with context.reading() as state:
        return settings_of(state).places(context.day)


def _markets(summaries) -> Answer:
    from labelkit.cli._show import table

    document = {
        "markets": [
            {
                "market": each.code,
                "name": each.name,
                "rules": each.blocks,
                "seen": each.by_certainty["seen"],
                "second_hand": each.by_certainty["second-hand"],
                "memory": each.by_certainty["memory"],
                "not_read": list(each.not_read),
            }
            for each in summaries
        ]
    }
    heads = ("market", "name", "rules", "read", "second-hand", "memory", "not read yet")
    rows = [
        (each.code, each.name, str(each.blocks), *map(str, each.by_certainty.values()), _shortened(each.not_read))
        for each in summaries
    ]
    total = sum(each.blocks for each in summaries)
    read = sum(each.by_certainty["seen"] for each in summaries)
    foot = (
        f"{total} rules and values of {len(summaries)} markets, {read} of them read at the source; the others say so "
        "wherever\nthey are used. A child market (us-va) also keeps its parent's rules. Check your local rules."
    )
    return Answer(document, f"{table(heads, rows, right=[2, 3, 4, 5])}\n\n{foot}")


def _shortened(areas: tuple[str, ...]) -> str:
    """The areas nobody has read, as many as fit a line.

    >>> _shortened(("net_quantity", "letter_height", "language", "claims"))
    'net quantity, letter height, +2'
    """
    words = [area.replace("_", " ") for area in areas]
    kept = list(words)
    while kept and len(", ".join([*kept, "+99"])) > _NOT_READ_WIDTH:
        kept.pop()
    more = len(words) - len(kept)
    return ", ".join([*kept, *([f"+{more}"] if more else [])])


def _one(here, about: str) -> Answer:
    from labelkit.rules import catalogue
    from labelkit.rules.blocks import Value

    held = catalogue.held(here, about)
    if not about:
        return laws_answer(held, foot=_questions(here))
    told = list(held)
    for name in dict.fromkeys(law.name for law in held if isinstance(law, Value)):
        told += [law for law in here.history(name) if law not in told]
    return laws_answer(told)


def _questions(here) -> str:
    asked = [f"Not read yet: {entry.area.replace('_', ' ')}. {entry.why} {entry.do}" for entry in here.not_read()]
    return "\n".join([*asked, f"Ask {here.head.office}."] if asked else [])


def _two(one, other, about: str) -> Answer:
    from labelkit.cli._rules_text import wrapped
    from labelkit.rules import catalogue

    rows = catalogue.side_by_side(one, other, about)
    document = {
        "markets": [one.code, other.code],
        "values": [{"name": n, one.code: a, other.code: b} for n, a, b in rows],
    }
    lines = []
    for name, left, right in rows:
        lines += [name, wrapped(f"{one.code:<8}{left}"), wrapped(f"{other.code:<8}{right}"), ""]
    return Answer(document, "\n".join([*lines, "Check your local rules."]))
