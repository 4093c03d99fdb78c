"""What the selling commands share: the season's markets, tax and money, jar sizes to price, and papers."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import TYPE_CHECKING, Any

import click

from labelkit.cli._runner import CommandContext
from labelkit.season import SeasonContext
from labelkit.season.settings import SeasonSettings

if TYPE_CHECKING:
    from labelkit.measures import Declared, Money
    from labelkit.measures.wording import Wording
    from labelkit.rules import Market
    from labelkit.sale import PriceRow
    from labelkit.sale.price_words import Priced
    from labelkit.sale.pricing import Size
    from labelkit.sale.tax import Tax

LETTER_CURRENCIES = ("USD", "CAD")


def paper_options(function):
    """``--page`` and ``--language`` for commands that print."""
    function = click.option(
        "--language", metavar="LOCALE", help="The language of the paper, for example fr_FR; yours unless given."
    )(function)
    return click.option(
        "--page", type=click.Choice(["letter", "a4"]), help="Paper size; by your currency unless given."
    )(function)


def paper_size(page: str | None, currency: str) -> str:
    """Letter where dollars of North America are used, A4 elsewhere, unless the user says so."""
    return page or ("letter" if currency in LETTER_CURRENCIES else "a4")


def words_of(context: CommandContext, language: str | None) -> tuple[Wording, str]:
    """The words of a paper, and the locale its numbers are written in."""
    from labelkit.measures.locales import locale_of
    from labelkit.shipped.catalogues import wording

    locale = language or context.locale
    locale_of(locale)
    return wording("labelkit", locale), locale


def markets_of(names: Iterable[str], context: SeasonContext) -> list[Market]:
    """The markets of these names on the day."""
    from labelkit.rules import market

    return [market(name, context.day) for name in names]


def price_rows(priced: Iterable[Any], context: SeasonContext, name: Callable[[Any], str]) -> list[PriceRow]:
    """One row a size; the unit price is reckoned from the weight the label declares, never from a heavier fill."""
    from labelkit.sale import PriceRow

    return [PriceRow(name(p), p.declares, p.price, p.cost) for p in priced]


def sizes_of(jars: Iterable[tuple[str, Declared]], markets: tuple[str, ...], context: CommandContext) -> list[Size]:
    """Jar sizes to price, each with its fill target in the season's markets."""
    from labelkit.sale.pricing import Size
    from labelkit.season.settings import fill_of

    return [Size(name, declares, fill_of(declares, markets, context.day)) for name, declares in jars]


def tax_of(said: str | None, settings: dict[str, Any], context: CommandContext) -> Tax:
    """Tax as said now, or as the season remembers it. Raises :class:`~labelkit.errors.sale.TaxUnclear` where neither."""
    from labelkit.errors.sale import TaxUnclear
    from labelkit.reading.tax import read_tax
    from labelkit.sale.tax import Tax

    if said:
        return read_tax(said, context.locale)
    if not settings.get("tax"):
        raise TaxUnclear("")
    return Tax.of_setting(settings["tax"])


def tax_words(settings: dict[str, Any], words: Wording, locale: str) -> str:
    """What the price list says about tax; nothing where the season states none."""
    from labelkit.measures.locales import show_percent
    from labelkit.sale.tax import Tax

    tax = Tax.of_setting(settings["tax"]) if settings.get("tax") else Tax()
    rate = show_percent(tax.percent, locale, digits=2)
    if tax.how == "included":
        return words("Prices include {rate} tax.", rate=rate)
    return words("{rate} tax is added to these prices.", rate=rate) if tax.how == "added" else ""


def added_tax(settings: dict[str, Any], words: Wording, locale: str) -> str:
    """What a price card says about tax: only where the buyer pays more than the card shows."""
    return tax_words(settings, words, locale) if str(settings.get("tax", "")).startswith("added") else ""


def paid_prices(season: SeasonSettings, settings: dict[str, Any]) -> dict[str, Money]:
    """What a buyer pays for each size: the list price, with the tax that is added to it where the season says so."""
    from labelkit.sale.tax import Tax

    tax = Tax.of_setting(settings["tax"]) if settings.get("tax") else Tax()
    return {p.size: tax.paid_for(p.price) for p in season.prices.values()}


def statement_of(declares: Declared, markets: list[Market], locale: str) -> str:
    """The declared weight as the first market's label prints it; as it was typed where that cannot be said."""
    from labelkit.errors.rules import NoRuleInForce
    from labelkit.rules.figures import net_weight

    try:
        return net_weight.net_quantity(declares, markets[0]).statements[0] if markets else declares.show(locale)
    except NoRuleInForce:
        return declares.show(locale)


def cards_of(
    every: tuple[Priced, ...], markets: list[Market], season: SeasonSettings, product: str, locale: str, below: str
):
    """What stands on the price cards."""
    from labelkit.sale.cards import Card

    return [
        Card(
            product or p.row.size,
            statement_of(p.row.declares, markets, locale),
            p.row.price.show(locale),
            p.unit_text(locale),
            below or season.maker.get("name", ""),
        )
        for p in every
    ]


def facts_in(file: str | None, settings: dict[str, Any]):
    """How the producer works, as facts of a market: told by a label file, or by the season's own situation."""
    from labelkit.cli._files import read_text

    if not file:
        return lambda market: dict(settings.get("situation", {}))
    from labelkit.reading.label_file import read_label
    from labelkit.rules.checking.facts import told

    label = read_label(read_text(file), file)
    return lambda market: told(label, market)
