"""``labelkit start``."""

from __future__ import annotations

from typing import TYPE_CHECKING

import click

from labelkit.cli._options import DIVISION
from labelkit.cli._runner import Answer, CommandContext, answering
from labelkit.cli._said import late_option

if TYPE_CHECKING:
    from labelkit.measures.division import Division
    from labelkit.season.start import Started


UNITS = ("metric", "customary", "metric-only", "customary-only")


@click.command()
@click.option(
    "--market",
    "markets",
    multiple=True,
    metavar="MARKET",
    help="Where the jars are sold: us, us-va, eu-de, uk, ca, au, nz …; repeat for each.",
)
@click.option("--currency", metavar="CODE", default="", help="The currency of prices and costs: USD, EUR, GBP …")
@click.option("--name", metavar="NAME", default="", help="The name the jars are sold under.")
@click.option("--street", metavar="WORDS", default="", help="Street and number.")
@click.option("--city", metavar="WORDS", default="", help="Town.")
@click.option("--region", metavar="WORDS", default="", help="State or region.")
@click.option("--postcode", metavar="WORDS", default="", help="Postcode.")
@click.option("--phone", metavar="NUMBER", default="", help="A telephone number for the label.")
@click.option("--email", metavar="ADDRESS", default="", help="An e-mail address for the label.")
@click.option(
    "--registration", metavar="NUMBER", default="", help="A registration or permit number, where your place gives one."
)
@click.option("--units", type=click.Choice(UNITS), help="Which weights come first; the other stands beside, or never.")
@click.option("--scale", type=DIVISION, help="The step your jar scale counts in: 1 g, 0.1 oz, 0 lb 0.1 oz.")
@click.option(
    "--language", metavar="LOCALE", default="", help="The language of papers and price lists: en, es, fr, de, pl, uk."
)
@click.option("--numbers", metavar="LOCALE", default="", help="How the page reads and writes numbers: en_US, de_DE …")
@late_option
@answering
def command(
    context: CommandContext,
    markets: tuple[str, ...],
    currency: str,
    units: str | None,
    scale: Division | None,
    language: str,
    numbers: str,
    **maker: str,
) -> Answer:
    """Set up a season: who you are and where you sell.

    Run it again to change any of it.

    \b
    Example:  labelkit start --market us --market us-va --currency USD
                  --name "Pretend Hollow Honey" --street "12 Sample Lane"
                  --city "Pretend Hollow" --region VA --postcode 00000
    """
    from labelkit.season.start import SeasonStart, check_start, start

    asked = SeasonStart(markets, currency, maker, units or "", language, numbers, scale)
    check_start(asked, context.day)
    with context.work(create=True) as work:
        done = start(work, asked, context.day)
    return Answer(done.settings, _words(context, done))


def _words(context: CommandContext, done: Started) -> str:
    settings = done.settings
    lines = [f"Record: {context.shown}"]
    if done.markets:
        lines.append(f"Sold in: {'; '.join(place.name for place in done.markets)}")
    if "currency" in settings:
        lines.append(f"Currency: {settings['currency']}")
    if settings.get("maker"):
        from labelkit.rules.address import address_lines

        maker = settings["maker"]
        market = done.markets[0].code if done.markets else ""
        said = (maker.get("name"), *address_lines(maker, "phone", "email", "registration", market=market))
        lines.append("Maker: " + ", ".join(filter(None, said)))
    return "\n".join(lines)
