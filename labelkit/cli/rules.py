"""``labelkit rules``."""

from __future__ import annotations

import textwrap

import click

from labelkit.cli._runner import Answer, CommandContext, answering

_WIDTH = 110


@click.command()
@click.argument("places", nargs=-1, metavar="[MARKET [MARKET]]")
@click.option("--about", default="", metavar="WORDS", help="Only what speaks of these words, with its history.")
@click.option("--unverified", is_flag=True, help="Only what was not read at the source.")
@click.option("--not-reread", is_flag=True, help="Only what has not been read again for a year.")
@answering
def command(context: CommandContext, places: tuple[str, ...], about: str, unverified: bool, not_reread: bool) -> Answer:
    """The law labelkit holds: where, since when, how sure; two markets side by side.

    Example:  labelkit rules us --about "letter height"

    Example:  labelkit rules us eu --about "letter height"
    """
    from labelkit.rules import catalogue, market, shelf

    here = [market(place, context.day) for place in places]
    if unverified or not_reread:
        chosen = here or [market(head.id, context.day) for head in shelf.markets()]
        pick = catalogue.doubtful if unverified else catalogue.stale
        return _laws([law for place in chosen for law in pick(place) if catalogue.speaks_of(law, about)])
    if not here:
        return _markets(catalogue.summaries(context.day))
    if len(here) == 1:
        return _one(here[0], about)
    if len(here) == 2:
        return _two(here[0], here[1], about)
    raise click.UsageError("Name one market to read its rules, or two to see them side by side.")


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
        (each.code, each.name, str(each.blocks), *map(str, each.by_certainty.values()), ", ".join(each.not_read))
        for each in summaries
    ]
    total = sum(each.blocks for each in summaries)
    read = sum(each.by_certainty["seen"] for each in summaries)
    foot = (
        f"{total} rules and values of {len(summaries)} markets, {read} of them read at the source; the others say so "
        "wherever they are used.\nA child market (us-va) also keeps its parent's rules. Check your local rules."
    )
    return Answer(document, f"{table(heads, rows, right=[2, 3, 4, 5])}\n\n{foot}")


def _one(here, about: str) -> Answer:
    from labelkit.rules import catalogue
    from labelkit.rules.blocks import Value

    held = catalogue.held(here, about)
    if not about:
        return _laws(held, _questions(here))
    told = list(held)
    for name in dict.fromkeys(law.name for law in held if isinstance(law, Value)):
        told += [law for law in here.history(name) if law not in told]
    return _laws(told)


def _questions(here) -> str:
    asked = [f"Not read yet: {entry.area.replace('_', ' ')}. {entry.why} {entry.do}" for entry in here.not_read()]
    return "\n".join([*asked, f"Ask {here.head.office}."] if asked else [])


def _two(one, other, about: str) -> Answer:
    from labelkit.rules import catalogue

    rows = catalogue.side_by_side(one, other, about)
    document = {
        "markets": [one.code, other.code],
        "values": [{"name": n, one.code: a, other.code: b} for n, a, b in rows],
    }
    lines = []
    for name, left, right in rows:
        lines += [name, _hang(f"{one.code:<8}{left}"), _hang(f"{other.code:<8}{right}"), ""]
    return Answer(document, "\n".join([*lines, "Check your local rules."]))


def _laws(laws, foot: str = "") -> Answer:
    from labelkit.rules.findings import CHECK_LOCAL

    document = {"rules": [_document(law) for law in laws]}
    lines = [line for law in laws for line in (*_lines(law), "")]
    if not laws:
        lines = ["Nothing of that kind is held.", ""]
    return Answer(document, "\n".join([*lines, *([foot, ""] if foot else []), CHECK_LOCAL]))


def _lines(law) -> list[str]:
    from labelkit.rules.catalogue import shown
    from labelkit.rules.findings import law_line

    days = f"since {'at least ' if law.since_is == 'at least' else ''}{law.since}" + (
        f" until {law.until}" if law.until else ""
    )
    when = f", when {law.when}" if law.when.sets else ""
    unless = f", unless {law.unless}" if law.unless else ""
    lines = [f"{law.pack}: {law.label}{when}{unless}", _hang(f"        {shown(law)}")]
    if law.note:
        lines.append(_hang(f"        ({law.note})"))
    return [*lines, _hang(f"        {days}; {law_line(law.cite, law.sure)}")]


def _hang(text: str) -> str:
    return textwrap.fill(text, _WIDTH, subsequent_indent=" " * 8, break_on_hyphens=False, break_long_words=False)


def _document(law) -> dict:
    from labelkit.rules.catalogue import shown

    return {
        "market": law.pack,
        "topic": law.topic,
        "kind": law.kind,
        "rule": law.rule if hasattr(law, "rule") else law.label,
        "name": law.label,
        "says": shown(law),
        "when": str(law.when),
        "unless": str(law.unless) if law.unless else "",
        "since": law.since,
        "since_is": law.since_is,
        "until": law.until,
        "cite": str(law.cite),
        "read_on": law.cite.read_on,
        "sure": law.sure,
        "note": law.note,
    }
