"""What prices look like on paper and on the screen: rows with their unit price, price cards, the list to hang up."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Sequence
from datetime import date
from typing import TYPE_CHECKING

from labelkit.errors.rules import NoRuleInForce
from labelkit.measures.locales import show_percent
from labelkit.rules.figures import net_weight
from labelkit.sale import PriceRow
from labelkit.sale.cards import Card, cards_pdf
from labelkit.sale.price_list import Line, price_list_pdf
from labelkit.sale.price_words import Priced, priced
from labelkit.sale.tax import ADDED, INCLUDED
from labelkit.season.papers import paper_size
from labelkit.season.settings import SeasonSettings

if TYPE_CHECKING:
    from labelkit.measures import Declared
    from labelkit.measures.wording import Wording
    from labelkit.rules.market import Market


def priced_sizes(season: SeasonSettings, day: date, sizes: Iterable[str] | None = None) -> tuple[Priced, ...]:
    """Each jar size with its cost, margin and unit price; the unit price is of the weight the label declares."""
    wanted = season.priced(day) if sizes is None else dict.fromkeys(sizes)
    rows = [PriceRow(p.size, p.declares, p.price, p.cost, p.product, p.called) for p in map(season.size, wanted)]
    return priced(rows, season.places(day))


def piece_price(season: SeasonSettings, size: str, day: date, locale: str) -> str:
    """What the label of a piece says of its price: what it costs, and the price by weight that comes from.

    A piece keeps its price when that of its size changes; its unit price is then its own.
    """
    piece = season.size(size)
    whole = season.size(piece.piece_of)
    of = whole if whole.piece(piece.weight, day).price == piece.price else piece
    (priced_of,) = priced_sizes(season, day, [of.size])
    per = priced_of.unit_text(locale) or f"{of.price.show(locale)} / {of.weight.show(locale)}"
    return f"{piece.price.show(locale)} · {per}"


def price_list_paper(
    every: Sequence[Priced],
    season: SeasonSettings,
    words: Wording,
    locale: str,
    day: date,
    *,
    product: str = "",
    page: str | None = None,
    channel: str = "stall",
) -> bytes:
    """The price list to hang up, as PDF."""
    lines = [
        Line(
            ", ".join(filter(None, (_called(season, p, product), season.jar_of(p.row.size)))),
            net_statement(p.row.declares, season.places(day), locale),
            p.row.price.show(locale),
            p.unit_text(locale),
        )
        for p in every
    ]
    size = paper_size(season, page)
    tax = tax_text(season, [p.row.size for p in every], words, locale, day, channel)
    return price_list_pdf(lines, words, locale, day, page=size, maker=season.maker, market=season.first_market, tax=tax)


def price_cards(
    every: Sequence[Priced],
    season: SeasonSettings,
    words: Wording,
    locale: str,
    day: date,
    *,
    product: str = "",
    page: str | None = None,
    channel: str = "stall",
) -> bytes:
    """Price cards to cut out, as PDF."""
    maker = season.maker.get("name", "")
    cards = [
        Card(
            _called(season, p, product) or p.row.size,
            net_statement(p.row.declares, season.places(day), locale) or p.row.size,
            p.row.price.show(locale),
            p.unit_text(locale),
            added_tax_text(season, p.row.size, words, locale, day, channel) or maker,
        )
        for p in every
    ]
    size = paper_size(season, page)
    return cards_pdf(cards, words("Price cards"), page=size, lang=words.lang, author=maker)


def _called(season: SeasonSettings, one: Priced, product: str) -> str:
    """What a buyer reads above a size: its product's name, and of the season's own honey what was given."""
    return (
        season.products[one.row.product].called if one.row.product in season.products and one.row.product else product
    )


def net_statement(declares: Declared | None, markets: Sequence[Market], locale: str) -> str:
    """The declared weight as the first market's label prints it; as it was typed where no rule says."""
    if declares is None:
        return ""
    try:
        return net_weight.net_quantity(declares, markets[0]).statements[0] if markets else declares.show(locale)
    except NoRuleInForce:
        return declares.show(locale)


def tax_text(
    season: SeasonSettings, sizes: Iterable[str], words: Wording, locale: str, day: date, channel: str = "stall"
) -> str:
    """What the price list says about tax at the stall; nothing where no price bears any, by size where they differ."""
    said: dict[str, list[str]] = defaultdict(list)
    for size in sizes:
        said[_tax_words(season, size, words, locale, day, channel)].append(size)
    if len(said) == 1:
        return next(iter(said))
    return " ".join(f"{', '.join(of)}: {text}" for text, of in said.items() if text)


def _tax_words(season: SeasonSettings, size: str, words: Wording, locale: str, day: date, channel: str) -> str:
    tax = season.tax(size, channel, day)
    if tax is None or tax.how not in (INCLUDED, ADDED):
        return ""
    rate = show_percent(tax.percent, locale, digits=2)
    if tax.how == INCLUDED:
        return words("Prices include {rate} tax.", rate=rate)
    return words("{rate} tax is added to these prices.", rate=rate)


def added_tax_text(
    season: SeasonSettings, size: str, words: Wording, locale: str, day: date, channel: str = "stall"
) -> str:
    """What a price card says about tax: only where the buyer pays more than the card shows."""
    tax = season.tax(size, channel, day)
    return _tax_words(season, size, words, locale, day, channel) if tax and tax.how == ADDED else ""
