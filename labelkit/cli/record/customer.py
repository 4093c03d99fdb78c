"""``labelkit record customer``."""

from __future__ import annotations

import click

from labelkit.cli._options import ADDRESS, once_option
from labelkit.cli._runner import Answer, CommandContext, answering
from labelkit.cli._said import late_option
from labelkit.cli.recall import LANGUAGES


@click.command()
@click.argument("name")
@click.option("--phone", metavar="NUMBER", default="", help="Whom a recall calls first.")
@click.option("--email", metavar="ADDRESS", default="", help="Their mail address.")
@click.option("--address", type=ADDRESS, help="Where they are.")
@click.option("--language", type=click.Choice(LANGUAGES), help="The language of letters to them.")
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
    once: str | None,
) -> Answer:
    """Show or set a customer's contact details.

    As far as a recall needs them.

    It stands outside the chain of events, so that "record forget" can take it out again.

    Example:  labelkit record customer "Corner shop" --phone "555 0142"
    """
    from labelkit.season.deliver import CustomerFacts, note_customer
    from labelkit.season.shelf import customer_facts

    if phone or email or address or language:
        with context.work(once) as work:
            known = note_customer(work, CustomerFacts(name, phone, email, address or (), language or ""), context.day)
    else:
        with context.reading() as state:
            known = customer_facts(state, name)
    reached = {key: known.get(key) for key in ("phone", "email", "address", "language")}
    words = [reached["phone"], reached["email"], ", ".join(reached["address"] or ()), reached["language"]]
    text = f"{name}: {'; '.join(word for word in words if word) or 'nothing is noted yet'}"
    return Answer({"customer": name, **reached}, text)
