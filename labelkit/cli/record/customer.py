"""``labelkit record customer``."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

import click

from labelkit.cli._options import ADDRESS, once_option
from labelkit.cli._runner import Answer, CommandContext, answering
from labelkit.cli._said import late_option
from labelkit.cli.recall import LANGUAGES


@click.command()
@click.argument("name", required=False, default="")
@click.option("--phone", metavar="NUMBER", default="", help="Whom a recall calls first.")
@click.option("--email", metavar="ADDRESS", default="", help="Their mail address.")
@click.option("--address", type=ADDRESS, help="Where they are.")
@click.option("--language", type=click.Choice(LANGUAGES), help="The language of letters to them.")
@click.option("--from", "file", metavar="FILE.vcf", help="Take in the contacts of an address book (vCard).")
@once_option
@late_option
@answering
def command(
    context: CommandContext,
    name: str,
    phone: str,
    email: str,
    address: tuple[str, ...] | None,
    language: str | None,
    file: str | None,
    once: str | None,
) -> Answer:
    """Show or set a customer's contact details.

    As far as a recall needs them.

    It stands outside the chain of events, so that "record forget" can take it out again.

    \b
    Example:  labelkit record customer "Corner shop" --phone "555 0142"
              labelkit record customer --from contacts.vcf
    """
    from labelkit.errors.cli import UsageUnclear
    from labelkit.season.deliver import CustomerFacts, note_customer
    from labelkit.season.shelf import customer_facts

    said = phone or email or address or language
    if (file and (name or said)) or not (file or name):
        raise UsageUnclear(
            "Name one customer, or take in the cards of a file with --from.", "labelkit record customer --help"
        )
    if file:
        return _taken_in(context, file, once)
    if said:
        with context.work(once) as work:
            known = note_customer(work, CustomerFacts(name, phone, email, address or (), language or ""), context.day)
    else:
        with context.reading() as state:
            known = customer_facts(state, name)
    reached = {key: known.get(key) for key in ("phone", "email", "address", "language")}
    return Answer({"customer": name, **reached}, f"{name}: {_said(reached)}")


def _taken_in(context: CommandContext, file: str, once: str | None) -> Answer:
    """The contacts of a file, each with what it replaced."""
    from labelkit.cli._files import read_bytes
    from labelkit.reading.cards import read_cards
    from labelkit.season.deliver import note_cards
    from labelkit.season.settings import season_of

    cards = read_cards(read_bytes(file), file, LANGUAGES, season_of(context).first_market)
    with context.work(once) as work:
        noted = note_cards(work, cards, context.day)
    keys = ("phone", "email", "address", "language")
    document = [
        {"customer": one.name, **{key: one.facts.get(key) for key in keys}, "replaced": one.replaced} for one in noted
    ]
    lines = [f"{one.name}: {_said(one.facts)}{_was(one.replaced)}" for one in noted]
    return Answer({"customers": document}, "\n".join(lines))


def _said(facts: Mapping[str, Any]) -> str:
    words = [facts.get("phone"), facts.get("email"), ", ".join(facts.get("address") or ()), facts.get("language")]
    return "; ".join(str(word) for word in words if word) or "nothing is noted yet"


def _was(replaced: Mapping[str, Any]) -> str:
    return f" (before: {_said(replaced)})" if replaced else ""
