"""``labelkit rules`` for whoever keeps the packs true: totals, what is due, what one act holds up, changes, reviews."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from typing import TYPE_CHECKING

from labelkit.cli._rules_text import hung, law_document, laws_answer, wrapped
from labelkit.cli._runner import Answer, CommandContext

if TYPE_CHECKING:
    from labelkit.rules import Market
    from labelkit.rules.upkeep import Change, Totals

YEAR_DIGITS = 4


def totals(context: CommandContext) -> Answer:
    """How the rules and values of every pack are known."""
    from labelkit.cli._show import table
    from labelkit.rules import upkeep

    every, packs = upkeep.totals(context.day)
    document = {
        "all": _counts(every),
        "read_in": every.read_in,
        "quoted": every.quoted,
        "packs": [{"code": each.code} | _counts(each) | {"quoted": each.quoted} for each in packs],
    }
    heads = (
        "market",
        "values",
        "seen",
        "official",
        "copy",
        "other",
        "second-hand",
        "memory",
        "quoted",
        "no clause",
        "no url",
    )
    kept = [each for each in packs if each.values]
    text = table(heads, [_cells(each) for each in (every, *kept)], right=range(1, len(heads)))
    empty = ", ".join(each.code for each in packs if not each.values)
    foot = [
        "Wording rules are not counted. Official, copy, other: the kind of text read, if recorded.",
        *([f"No values of their own: {empty}."] if empty else []),
        "Check your local rules.",
    ]
    return Answer(document, "\n".join([text, "", *map(wrapped, foot)]))


def _counts(each: Totals) -> dict[str, int]:
    return {key: getattr(each, key) for key in ("seen", "second_hand", "memory", "no_clause", "no_url")}


def _cells(each: Totals) -> tuple[str, ...]:
    official, copy, other, _ = each.read_in.values()
    known = (official, copy, other, each.second_hand, each.memory, each.quoted, each.no_clause, each.no_url)
    return (each.code, str(each.values), str(each.seen), *map(str, known))


def due(places: Sequence[Market]) -> Answer:
    """What is to be read again by the end of this month."""
    from labelkit.rules import upkeep

    found = [law for here in places for law in upkeep.due(here)]
    head = f"{len(found)} rules and values are to be read again by the end of {places[0].day:%Y-%m}."
    return laws_answer(found, head=head)


def of_act(places: Sequence[Market], name: str) -> Answer:
    """Everything that depends on one act."""
    from labelkit.rules import upkeep

    found = upkeep.of_act(places, name)
    acts = {law.cite.source.id: law.cite.source for law in found if law.cite.source}
    head = "\n".join(
        "\n".join(filter(None, (f"{act.title} [{act.id}]", act.url and hung(act.url), act.find and hung(act.find))))
        for act in acts.values()
    )
    return laws_answer(found, head=head, sources=list(acts.values()))


def changes(context: CommandContext, places: Sequence[Market], first: str, last: str) -> Answer:
    """What changed between two days."""
    from labelkit.rules.findings import CHECK_LOCAL
    from labelkit.rules.upkeep import Between

    since, until = _day(first, (1, 1), context.locale), _day(last, (12, 31), context.locale)
    found = {change.law: change for here in places for change in Between(here, since, until).changes}
    rows = sorted(found.values(), key=lambda change: (change.day, change.law.pack))
    document = {"from": since, "to": until, "changes": [change_document(each) for each in rows]}
    lines = [line for each in rows for line in (*change_lines(each), "")] or [
        "No change is held between these days.",
        "",
    ]
    return Answer(document, "\n".join([f"Changes from {since} to {until}", "", *lines, CHECK_LOCAL]))


def _day(text: str, in_year: tuple[int, int], locale: str) -> date:
    from labelkit.measures import read_day

    if text.isdigit() and len(text) == YEAR_DIGITS and text != "0000":
        return date(int(text), *in_year)
    return read_day(text, locale)


def change_document(change: Change) -> dict:
    """A change as a document: what held before, what holds after, and what becomes of jars labelled before."""
    return {
        "day": change.day,
        "market": change.law.pack,
        "name": change.law.label,
        "before": law_document(change.before) if change.before else None,
        "after": law_document(change.after) if change.after else None,
        "sell_through": change.law.sell_through,
    }


def change_lines(change: Change) -> list[str]:
    """A change for a reader."""
    from labelkit.rules.catalogue import days, shown

    law = change.law
    when = f", when {law.when}" if law.when.sets else ""
    lines = [f"{change.day}  {law.pack}: {law.label}{when}"]
    if change.before:
        lines.append(hung(f"until then: {shown(change.before)}"))
    if change.after:
        lines.append(hung(f"from then:  {shown(change.after)}"))
        if change.after.sell_through:
            lines.append(hung(f"Jars labelled before: {change.after.sell_through.says}"))
    return [*lines, hung(f"{days(law)}; {law.cite}")]


def review(context: CommandContext, here: Market, file: str) -> Answer:
    """The law review of one market's own pack, as a page to tick or as a table."""
    from labelkit.cli._files import write_whole
    from labelkit.errors.cli import UsageUnclear
    from labelkit.rules import review as law_review
    from labelkit.season.law_review import review_page

    ending = file.rsplit(".", 1)[-1].casefold()
    if ending not in ("html", "csv"):
        raise UsageUnclear(f"{file} is neither an .html nor a .csv file.", "labelkit rules --help")
    rows = law_review.rows(here)
    content = "\ufeff" + law_review.table(here) if ending == "csv" else review_page(here, context.day)
    written = write_whole(file, content)
    return Answer(
        {"market": here.code, "rules": len(rows), "file": str(written)},
        f"{len(rows)} rules and values of {here.name} are in {written}, to be ticked.\n"
        f"To read the table back in: labelkit rules {here.code} --reviewed review.csv --out reviewed",
    )


def reviewed(context: CommandContext, here: Market, file: str, out: str) -> Answer:
    """A reviewed pack from a table that came back."""
    from labelkit.cli._files import new_folder, read_lines, write_whole
    from labelkit.rules import review as law_review
    from labelkit.rules.pack import pack_texts

    found = law_review.read_table(read_lines(file, context.locale).text, here, context.locale)
    laws = [row.law for row in law_review.rows(here)]
    folder = new_folder(out) / here.code
    for name, text in pack_texts(here.shelf / here.code).items():
        own = [law for law in laws if law.file == f"{here.code}/{name}"]
        write_whole(folder / name, law_review.marked(text, own, found.agreed))
    remarks = [{"rule": rule, "remark": remark} for rule, remark in found.remarks.items()]
    names = sorted({reviewer.by for reviewer in found.agreed.values()})
    lines = [
        f"{len(found.agreed)} of {len(laws)} rules and values are signed by {' and '.join(names) or 'nobody'}; "
        f"{len(found.open)} are open.",
        *(f"  {entry['rule']}: {entry['remark']}" for entry in remarks),
        f"The reviewed pack is in {folder}.",
        "Check your local rules.",
    ]
    document = {
        "market": here.code,
        "agreed": len(found.agreed),
        "open": [law.label for law in found.open],
        "reviewers": names,
        "remarks": remarks,
        "folder": str(folder),
    }
    return Answer(document, "\n".join(lines))
