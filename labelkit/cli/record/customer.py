"""``labelkit record customer``."""

from __future__ import annotations

import click

from labelkit.cli._runner import Answer, CommandContext, answering


@click.command()
@click.argument("name")
@click.option("--phone", metavar="NUMBER", help="Whom a recall calls first.")
@click.option("--email", metavar="ADDRESS", help="Their mail address.")
@click.option("--address", metavar="'STREET; TOWN'", help="Where they are.")
@click.option("--once", metavar="KEY", help="A name for this step, so that repeating it books nothing twice.")
@answering
def command(
    context: CommandContext, name: str, phone: str | None, email: str | None, address: str | None, once: str | None
) -> Answer:
    """Note how a business you supply is reached, as far as a recall needs it; or see what is noted.

    It stands outside the chain of events, so that "record forget" can take it out again.

    Example:  labelkit record customer "Corner shop" --phone "555 0142"
    """
    from labelkit.record.settings import Setting

    told = {"phone": phone, "email": email, "address": address and [p.strip() for p in address.split(";") if p.strip()]}
    told = {key: value for key, value in told.items() if value}
    setting = f"customer {name}"
    with context.work(once) as work:
        known = dict(work.settings().get(setting, {}))
        if told and not work.booked_before:
            work.add(Setting(context.day, setting, {**known, **told}))
        if told:
            work.commit()
            known = dict(work.settings().get(setting, {}))
    reached = {key: known.get(key) for key in ("phone", "email", "address")}
    words = [reached["phone"], reached["email"], ", ".join(reached["address"] or ())]
    text = f"{name}: {'; '.join(word for word in words if word) or 'nothing is noted yet'}"
    return Answer({"customer": name, **reached}, text)
