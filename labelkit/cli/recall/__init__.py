"""``labelkit recall``: hold jars, call them back, and count until the last is found."""

from __future__ import annotations

from typing import Any

import click

from labelkit.cli._group import LazyGroup

LANGUAGES = ("en", "de", "es", "fr", "pl", "uk")


@click.command(cls=LazyGroup, package="labelkit.cli.recall")
def command() -> None:
    """Hold jars, call them back, and count until the last is found.

    Your food authority's word goes before labelkit's; check your local rules.

    Example:  labelkit recall look L26195AXR --cause foreign-body
    """


def traced(state: Any, lots: tuple[str, ...]):
    """The trace of several lots at once, and the events behind it."""
    from labelkit.record.lookup import find_lot
    from labelkit.trace.follow import Start, follow

    found = tuple(dict.fromkeys(lot for text in lots for lot in find_lot(state, text).lots))
    story = state.story(found)
    return follow(Start("lot", " ".join(found), found), story), story


def recall_of(state: Any, name: str):
    """A recall by its name. Raises :class:`~labelkit.errors.trace.RecallUnknown`."""
    from labelkit.errors.trace import RecallUnknown

    begun = {each.event.name: each.event for each in state.events(("recall",)) if each.stands}
    if name not in begun:
        raise RecallUnknown(name, ", ".join(begun))
    return begun[name]


def tell_story(state: Any) -> tuple:
    """Everything said in recalls."""
    return tuple(state.events(("tell",)))


def list_to_call(customers, direct, locale: str) -> str:
    """Whom to call, with what they had; and where jars went without a name."""
    from labelkit.cli._show import table
    from labelkit.measures.locales import show_day

    rows = [
        (
            each.customer,
            each.phone or "–",
            ", ".join(part for part in (*each.address, each.email) if part != each.phone),
            str(each.count),
            ", ".join(f"{count} × {size} {lot}" for lot, size, count in each.jars),
            ", ".join(show_day(day, locale, form="medium") for day in each.days),
            ", ".join(each.numbers),
        )
        for each in customers
    ]
    parts = (
        [table(("customer", "phone", "address", "jars", "which", "delivered", "note no."), rows, right=(3,))]
        if rows
        else []
    )
    signs = [
        (each.place, show_day(each.day, locale, form="medium"), str(each.count), each.size, each.lot) for each in direct
    ]
    if signs:
        parts.append(
            "Sold without a name (sign and notice):\n"
            + table(("where", "day", "jars", "size", "lot"), signs, right=(2,))
        )
    if unknown := [each.customer for each in customers if not each.phone]:
        parts.append(
            f"No telephone number is known of {', '.join(unknown)}; note one: labelkit record customer NAME --phone …"
        )
    return "\n\n".join(parts) or "Nobody was sold any of these jars."


def people(customers) -> list[dict[str, Any]]:
    """The customers of a call list as a document."""
    return [
        {
            "customer": c.customer,
            "phone": c.phone or None,
            "email": c.email or None,
            "address": list(c.address),
            "jars": c.count,
            "numbers": list(c.numbers),
        }
        for c in customers
    ]


def in_languages(
    asked: tuple[str, ...], recall: Any, trace: Any, customers: tuple, settings: dict, locale: str
) -> tuple[tuple[str, tuple], ...]:
    """The notices in each language asked for; else in the season's own; else in the reader's."""
    from labelkit.measures.wording import language_of
    from labelkit.trace.notices import notices

    own = str(settings.get("language") or locale)
    found = []
    for lang in dict.fromkeys(asked or (language_of(own),)):
        writes = next((each for each in (locale, own) if language_of(each) == lang), lang)
        found.append((lang, notices(recall, trace, customers, settings.get("maker", {}), writes)))
    return tuple(found)


def write_notices(folder: str, found: tuple[tuple[str, tuple], ...], customers: tuple) -> list[str]:
    """Write the notices into a new folder as text and on paper, and whom to call; the names of the files."""
    from labelkit.cli._files import new_folder, write_whole
    from labelkit.trace.papers import notice_paper
    from labelkit.trace.sheet import call_sheet

    into = new_folder(folder)
    files = [str(write_whole(into / "to-call.csv", call_sheet(customers)))]
    for lang, written in found:
        for each in written:
            name = each.id if len(found) == 1 else f"{each.id}.{lang}"
            files.append(str(write_whole(into / f"{name}.txt", each.text)))
            files.append(str(write_whole(into / f"{name}.pdf", notice_paper(each))))
    return files
