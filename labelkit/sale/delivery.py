"""What a delivery note says: each thing the law asks for, with the place in the law that asks for it."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass

from labelkit.errors.sale import ReceiverUnclear
from labelkit.measures import show_both, total
from labelkit.measures.locales import show_day
from labelkit.rules.blocks import Value
from labelkit.rules.market import Market
from labelkit.sale.account_events import Delivery
from labelkit.sale.price_list import maker_lines

Said = Callable[[Delivery, Mapping[str, str], str], str]


@dataclass(frozen=True, slots=True)
class Asked:
    """One thing a note must hold, in words, the clauses that ask for it, and what this delivery says to it."""

    name: str
    eu: str  # clause of Commission Implementing Regulation (EU) No 931/2011, Article 3(1)
    us: str  # clause of 21 CFR 1.345(a)
    says: Said
    needed: bool = True  # some only where they differ from another


def _dispatcher(_: Delivery, maker: Mapping[str, str], __: str) -> str:
    return ", ".join(maker_lines(maker, ""))


def _receiver(delivery: Delivery, _: Mapping[str, str], __: str) -> str:
    return ", ".join((delivery.customer, *delivery.address)) if delivery.address else ""


def _lots(delivery: Delivery, _: Mapping[str, str], __: str) -> str:
    return ", ".join(dict.fromkeys(line.lot for line in delivery.lines))


def _amount(delivery: Delivery, _: Mapping[str, str], locale: str) -> str:
    packed = ", ".join(f"{line.count} × {line.size}" for line in delivery.lines)
    return f"{packed}; {show_both(total(line.count * line.fill for line in delivery.lines), locale)}"


FIELDS = (
    Asked("What it is", "(a)", "(2)", lambda d, m, _: ", ".join(dict.fromkeys(x.size for x in d.lines))),
    Asked("How much, and how it is packed", "(b)", "(5)", _amount),
    Asked("From", "(c)", "", _dispatcher),
    Asked("Owner while on the way", "(d)", "", lambda d, m, _: d.consignor, needed=False),
    Asked("To", "(e)", "(1)", _receiver),
    Asked("For", "(f)", "", lambda d, m, _: d.consignee, needed=False),
    Asked("Lots", "(g)", "(4)", _lots),
    Asked("Day of dispatch", "(h)", "(3)", lambda d, m, locale: show_day(d.day, locale)),
    Asked("Taken there by", "", "(6)", lambda d, m, _: d.carrier or m.get("name", "")),
)
_ACTS = "acts of a delivery note"


def note_laws(markets: Iterable[Market]) -> tuple[Value, ...]:
    """The laws of these markets that list what a delivery note holds, each once."""
    held = {law.file: law for one in markets if one.holds(_ACTS) for law in (one.value(_ACTS),)}
    return tuple(held.values())


def note_acts(markets: Iterable[Market], language: str) -> str:
    """Those laws as the note cites them, in its own language where the pack has it, else in English.

    >>> from datetime import date
    >>> from labelkit.rules import market
    >>> note_acts([market("eu-de", date(2026, 11, 25)), market("eu-fr", date(2026, 11, 25))], "de")
    'Verordnung (EU) Nr. 931/2011 Art. 3 Abs. 1'
    """
    cited = [{row["language"]: row["text"] for row in law.value} for law in note_laws(markets)]
    return "; ".join(texts.get(language, texts["en"]) for texts in cited)


def note_fields(delivery: Delivery, maker: Mapping[str, str], locale: str) -> tuple[tuple[Asked, str], ...]:
    """Everything the note says. Raises :class:`~labelkit.errors.sale.ReceiverUnclear` naming what would be left out."""
    said = tuple((asked, asked.says(delivery, maker, locale)) for asked in FIELDS)
    missing = [asked.name.lower() for asked, text in said if asked.needed and not text]
    if not maker.get("name") or not (maker.get("street") or maker.get("city")):
        missing.append("your own name and address")
    if missing:
        raise ReceiverUnclear(", ".join(dict.fromkeys(missing)))
    return tuple((asked, text) for asked, text in said if text)


def next_number(deliveries: Iterable[Delivery], year: int) -> str:
    """The number of the next delivery of a year.

    >>> next_number([], 2026)
    'D2026-001'
    """
    made = [d.number for d in deliveries if d.number.startswith(f"D{year}-")]
    last = max((int(number.rpartition("-")[2]) for number in made if number.rpartition("-")[2].isdigit()), default=0)
    return f"D{year}-{last + 1:03}"
