"""``labelkit start``."""

from __future__ import annotations

import click

from labelkit.cli._runner import Answer, CommandContext, answering
from labelkit.errors.cli import UsageUnclear
from labelkit.season.context import DEFAULT_RECORD

MAKER = ("name", "street", "city", "region", "postcode", "phone", "email", "registration")


@click.command()
@click.option(
    "--market",
    "markets",
    multiple=True,
    metavar="MARKET",
    help="Where the jars are sold: us, us-va, eu-de, uk, ca, au, nz …; repeat for each.",
)
@click.option("--currency", metavar="CODE", help="The currency of prices and costs: USD, EUR, GBP …")
@click.option("--name", metavar="NAME", help="The name the jars are sold under.")
@click.option("--street", metavar="WORDS", help="Street and number.")
@click.option("--city", metavar="WORDS", help="Town.")
@click.option("--region", metavar="WORDS", help="State or region.")
@click.option("--postcode", metavar="WORDS", help="Postcode.")
@click.option("--phone", metavar="NUMBER", help="A telephone number for the label.")
@click.option("--email", metavar="ADDRESS", help="An e-mail address for the label.")
@click.option("--registration", metavar="NUMBER", help="A registration or permit number, where your place gives one.")
@click.option("--units", type=click.Choice(["metric", "customary"]), help="Which weights the page shows first.")
@click.option("--language", metavar="LOCALE", help="The language of papers and price lists: en, es, fr, de, pl, uk.")
@click.option("--numbers", metavar="LOCALE", help="How the page reads and writes numbers: en_US, de_DE …")
@answering
def command(
    context: CommandContext,
    markets: tuple[str, ...],
    currency: str | None,
    units: str | None,
    language: str | None,
    numbers: str | None,
    **maker: str | None,
) -> Answer:
    """Make the season's record, or change who you are and where you sell.

    \b
    Example:  labelkit start --market us --market us-va --currency USD
                  --name "Pretend Hollow Honey" --street "12 Sample Lane"
                  --city "Pretend Hollow" --region VA --postcode 00000
    """
    from labelkit.measures.locales import currency_digits, locale_of
    from labelkit.record.settings import Setting
    from labelkit.rules import market

    told = {key: value for key, value in maker.items() if value}
    shown = {key: value for key, value in (("units", units), ("language", language), ("numbers", numbers)) if value}
    for name in (language, numbers):
        if name:
            locale_of(name)
    if not (markets or currency or told or shown):
        raise UsageUnclear("start needs at least one thing to set, such as --market us.", "labelkit start --help")
    found = [market(name, context.day) for name in markets]
    if currency:
        currency_digits(currency)
    with context.work(create=True) as work:
        now = work.settings()
        wanted: dict = dict(shown)
        if found:
            wanted["market"] = [m.code for m in found]
            wanted["currency"] = currency or now.get("currency") or found[0].head.currency
        elif currency:
            wanted["currency"] = currency
        if told:
            wanted["maker"] = {**now.get("maker", {}), **told}
        work.add_all(Setting(context.day, name, value) for name, value in wanted.items())
        settings = {**now, **wanted}
        work.commit()
    return Answer(settings, _words(context, settings, found))


def _words(context: CommandContext, settings: dict, found: list) -> str:
    lines = [f"Record: {context.record or DEFAULT_RECORD}"]
    if found:
        lines.append(f"Sold in: {'; '.join(m.name for m in found)}")
    if "currency" in settings:
        lines.append(f"Currency: {settings['currency']}")
    if settings.get("maker"):
        from labelkit.rules.address import address_lines

        maker = settings["maker"]
        said = (maker.get("name"), *address_lines(maker, "phone", "email", "registration"))
        lines.append("Maker: " + ", ".join(filter(None, said)))
    return "\n".join(lines)
