"""Deliver: jars to a business, with a note that carries the lots."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace
from datetime import date, timedelta
from typing import TYPE_CHECKING, Any

from labelkit.errors.sale import CustomerMissing, CustomerPriceMissing
from labelkit.lots.movement import Account
from labelkit.measures import Money
from labelkit.record.settings import Setting
from labelkit.sale.account_events import Delivery
from labelkit.sale.delivery import next_number, note_acts, note_fields
from labelkit.sale.delivery_note import delivery_note_pdf
from labelkit.sale.load import Wish, load_lines
from labelkit.season.once import booked_once
from labelkit.season.papers import paper_size
from labelkit.season.product_sizes import meant
from labelkit.season.settings import SeasonSettings, settings_of
from labelkit.season.shelf import agreed_prices, check_all_there, counted, customer_facts, lot_named, shelf_for
from labelkit.season.unmet import against_jars, refuse

if TYPE_CHECKING:
    from labelkit.measures.wording import Wording
    from labelkit.reading.cards import Card
    from labelkit.record.work import Work


@dataclass(frozen=True, slots=True)
class JarsForCustomer:
    """A delivery as somebody asks for it; ``prices``, ``address``, ``phone`` and ``days_to_pay`` are remembered.

    ``because`` says why jars that are asked about may go.
    """

    customer: str
    jars: Mapping[str, int]
    lot: str | None = None
    prices: Mapping[str, Money] = field(default_factory=dict)
    address: tuple[str, ...] = ()
    carrier: str = ""
    to: str = "shop"
    number: str | None = None
    phone: str = ""
    because: str = ""
    days_to_pay: int | None = None


@dataclass(frozen=True, slots=True)
class Delivered:
    """The delivery as it was booked, whom it comes from, and whether the customer's phone number is still missing."""

    delivery: Delivery
    season: SeasonSettings
    phone_missing: bool = False


def deliver(work: Work, asked: JarsForCustomer, day: date, locale: str) -> Delivered:
    """Book a delivery, the oldest jars first unless a lot is named; ``locale`` is how the note writes its figures.

    Raises :class:`~labelkit.errors.sale.CustomerMissing`, :class:`~labelkit.errors.sale.CustomerPriceMissing`,
    :class:`~labelkit.errors.record.JarsTooFew`, what stands against the jars (:mod:`labelkit.season.unmet`) and what a
    note refuses.
    """
    if not asked.customer.strip():
        raise CustomerMissing(asked.to)
    season = settings_of(work, day)
    before = booked_once(work, "deliver")
    if before:
        return Delivered(before.event, season)
    asked = _meant(work, season, asked)
    known = customer_facts(work, asked.customer)
    facts = _with_news(known, asked)
    delivery = _delivery(work, asked, season, facts, day)
    note_fields(delivery, season.maker, locale)
    if facts != known:
        work.add(Setting(day, f"customer {asked.customer}", facts))
    work.add(delivery)
    return Delivered(delivery, season, not facts.get("phone"))


def _meant(work: Work, season: SeasonSettings, asked: JarsForCustomer) -> JarsForCustomer:
    """A jar's name means the size in stock that is filled into such jars."""
    lot = lot_named(work, asked.lot) if asked.lot else None
    jars = meant(work, season, asked.jars, lot, Account.JARS)
    return replace(asked, jars=jars, prices=meant(work, season, asked.prices, lot, Account.JARS))


def _with_news(known: Mapping[str, Any], asked: JarsForCustomer) -> dict[str, Any]:
    """What is known of the customer, with what was said now."""
    facts = dict(known)
    if asked.address:
        facts["address"] = list(asked.address)
    if asked.phone:
        facts["phone"] = asked.phone
    if asked.days_to_pay is not None:
        facts["days_to_pay"] = asked.days_to_pay
    if asked.prices:
        said = {size: str(price.amount) for size, price in asked.prices.items()}
        facts["prices"] = {**known.get("prices", {}), **said}
    return facts


def _delivery(
    work: Work, asked: JarsForCustomer, season: SeasonSettings, facts: Mapping[str, Any], day: date
) -> Delivery:
    code = lot_named(work, asked.lot) if asked.lot else None
    shelf = shelf_for(work, asked.jars, code)
    wanted = [Wish(season.size(size).size, count, "") for size, count in asked.jars.items()]
    prices = agreed_prices(facts, season.currency)
    if missing := [wish.size for wish in wanted if wish.size not in prices]:
        raise CustomerPriceMissing(asked.customer, missing)
    check_all_there(work, wanted, shelf, code)
    lines = load_lines(shelf, wanted, prices)
    refuse(against_jars(work, counted(lines), day), asked.because)
    made = [booked.event for booked in work.events(("deliver",))]
    return Delivery(
        day,
        asked.number or next_number(made, day.year),
        asked.customer,
        lines,
        tuple(facts.get("address", ())),
        asked.carrier,
        to=asked.to,
        because=asked.because.strip(),
        due=day + timedelta(days=facts["days_to_pay"]) if "days_to_pay" in facts else None,
    )


def note_paper(
    delivery: Delivery,
    season: SeasonSettings,
    words: Wording,
    locale: str,
    *,
    page: str | None = None,
    prices: bool = True,
) -> bytes:
    """The note as PDF, with the laws of the season's markets that list what it holds; with or without prices."""
    acts = note_acts(season.places(delivery.day), words.lang)
    size = paper_size(season, page)
    return delivery_note_pdf(delivery, season.maker, words, locale, page=size, prices=prices, acts=acts)


@dataclass(frozen=True, slots=True)
class CustomerFacts:
    """How a customer is reached; what is empty stays as it was."""

    customer: str
    phone: str = ""
    email: str = ""
    address: tuple[str, ...] = ()
    language: str = ""


@dataclass(frozen=True, slots=True)
class NotedCustomer:
    """A customer as they are known now, and what was known before."""

    name: str
    facts: Mapping[str, Any]
    before: Mapping[str, Any]

    @property
    def replaced(self) -> dict[str, Any]:
        """What was known and says something else now, as it was."""
        return {key: self.before[key] for key in self.before if self.facts.get(key) != self.before[key]}


def note_cards(work: Work, cards: Iterable[Card], day: date) -> tuple[NotedCustomer, ...]:
    """Remember the customers of address cards; what a card does not say stays as it was."""
    noted = []
    for each in cards:
        before = customer_facts(work, each.name)
        asked = CustomerFacts(each.name, each.phone, each.email, each.address, each.language)
        noted.append(NotedCustomer(each.name, note_customer(work, asked, day), before))
    return tuple(noted)


def note_customer(work: Work, asked: CustomerFacts, day: date) -> dict[str, Any]:
    """Remember how a customer is reached; all that is known of them then."""
    known = customer_facts(work, asked.customer)
    said = {"phone": asked.phone, "email": asked.email, "address": list(asked.address), "language": asked.language}
    facts = known | {name: value for name, value in said.items() if value}
    if facts != known and not work.booked_before:
        work.add(Setting(day, f"customer {asked.customer}", facts))
    return facts
