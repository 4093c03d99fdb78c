"""``labelkit remind``."""

from __future__ import annotations

import click

from labelkit.cli._files import commit_with, message_beside, no_message, write_whole
from labelkit.cli._options import COUNT, once_option, paper_options
from labelkit.cli._runner import Answer, CommandContext, answering
from labelkit.cli._said import late_option


@click.command()
@click.option("--customer", metavar="NAME", required=True, help="The customer who is late.")
@click.option("--days", type=COUNT, help="Days you give them to pay; 14 unless given.")
@click.option("--out", metavar="FILE.pdf", help="Where the letter goes; named after the day unless given.")
@once_option
@paper_options
@late_option
@answering
def command(
    context: CommandContext,
    customer: str,
    days: int | None,
    out: str | None,
    once: str | None,
    page: str | None,
    language: str | None,
) -> Answer:
    """Print a payment reminder for a late customer.

    It lists every delivery that is late, with what is open of it. It claims no interest and no fee. Beside it lies a
    message to the customer (.eml) to look at and send; labelkit sends nothing.

    \b
    Example:  labelkit --day 2026-09-30 remind --customer "Corner shop"
    """
    from labelkit.sale.reminder import reminder_pdf
    from labelkit.season.account import USUAL_GRACE, remind
    from labelkit.season.letters import language_for, reminder_letter
    from labelkit.season.papers import paper_size, paper_words
    from labelkit.season.settings import settings_of

    with context.work(once) as work:
        settings = work.settings()
        words, locale = paper_words(language_for(settings, customer, language), context.locale)
        done = remind(work, customer, context.day, days=days or USUAL_GRACE)
        season = settings_of(work, context.day)
        made = reminder_pdf(
            done.reminder, done.deliveries, done.address, season.maker, words, locale, page=paper_size(season, page)
        )
        written = write_whole(out or f"reminder-{done.reminder.day}.pdf", made, private=True)
        message = message_beside(written, reminder_letter(settings, done, made, words, locale), context.now)
        commit_with(work, written, *message)
    one = done.reminder
    text = [
        f"{one.customer} is reminded of {one.amount.show(context.locale)}: {', '.join(one.numbers)}.",
        f"To be paid by {one.pay_by}. Whether you may charge interest or a fee: check your local rules.",
        *(f"Written: {name}" for name in (written, *message)),
        *([] if message else [no_message(one.customer)]),
    ]
    document = {
        "customer": one.customer,
        "deliveries": list(one.numbers),
        "amount": str(one.amount.amount),
        "pay_by": one.pay_by,
        "file": str(written),
        "message": str(message[0]) if message else None,
    }
    return Answer(document, "\n".join(text))
