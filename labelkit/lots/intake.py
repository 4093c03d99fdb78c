"""Honey that comes into a bucket, said in values that were read: what :mod:`labelkit.lots.bucket` books of it."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from labelkit.errors.lots import ReceiptUnclear, WeightMissing
from labelkit.lots.bucket import Drain, Source, WeighIn, Weighing, check_moisture, net_of
from labelkit.lots.plausible import check_fits
from labelkit.lots.received import STATES, OriginShare, Receive
from labelkit.measures import Mass, Money

_WHOLE = Decimal(100)
_MISSING = {"supplier": "the supplier", "their_lot": "the supplier's lot"}


@dataclass(frozen=True, slots=True)
class Intake:
    """One weighing: the honey alone, or gross and tare; whatever else is known of it.

    ``moisture`` is in per cent by mass, ``container_ml`` what the bucket can hold; ``because`` why
    the weight is right, where it is asked about.
    """

    bucket: str
    net: Mass | None = None
    gross: Mass | None = None
    tare: Mass | None = None
    division: Mass | None = None
    container_ml: Decimal | None = None
    moisture: Decimal | None = None
    weighed: date | None = None
    harvested: date | None = None
    sources: tuple[Source, ...] = ()
    plant: str = ""
    because: str = ""


def weigh_in(intake: Intake, day: date, locale: str) -> WeighIn:
    """The weigh-in this means; ``day`` where it names none, ``locale`` is how a refusal writes figures.

    >>> weigh_in(Intake("B1", gross=Mass.of_grams(28_400), tare=Mass.of_grams(1_100)), date(2026, 7, 14), "en_US").net.kg
    Decimal('27.3')
    """
    net, weighing = _weights(intake, locale)
    check_fits(intake.bucket, net, intake.container_ml, weighing.gross if weighing else None, locale=locale)
    weighed = intake.weighed or day
    return WeighIn(
        bucket=intake.bucket,
        day=weighed,
        net=net,
        weighing=weighing,
        harvested=intake.harvested or weighed,
        sources=intake.sources,
        plant=intake.plant or None,
        moisture=_moisture(intake),
        container_ml=intake.container_ml,
        because=intake.because.strip(),
    )


def drain(intake: Intake, day: date, harvested: Collection[date] = (), *, locale: str) -> Drain:
    """The cappings honey this adds to its bucket.

    Cappings drain for days; unless it says otherwise their honey came off with the bucket's own, where that has one
    harvest day (``harvested`` holds the bucket's).

    >>> added = drain(Intake("B1", net=Mass.of_grams(1_200)), date(2026, 7, 17), harvested=[date(2026, 7, 14)], locale="en_US")
    >>> added.net.g, added.harvested
    (Decimal('1200'), datetime.date(2026, 7, 14))
    """
    net, weighing = _weights(intake, locale)
    own = next(iter(harvested)) if len(harvested) == 1 else None
    return Drain(
        bucket=intake.bucket,
        day=intake.weighed or day,
        net=net,
        weighing=weighing,
        harvested=intake.harvested or own,
        sources=intake.sources,
        moisture=_moisture(intake),
        because=intake.because.strip(),
    )


@dataclass(frozen=True, slots=True)
class Receipt:
    """A delivery as it was weighed on arrival, and what the supplier's papers say of it."""

    weighed: Intake
    supplier: str
    their_lot: str
    origin: tuple[OriginShare, ...]
    number: str = ""
    harvest: str = ""
    states: tuple[str, ...] = ()
    paid: Money | None = None
    moisture_stated: bool = False  # by their papers, and not read on the refractometer here


def received(receipt: Receipt, day: date, locale: str) -> Receive:
    """The event this receipt means; ``locale`` is how a refusal writes figures.

    Raises :class:`~labelkit.errors.lots.ReceiptUnclear` where it could not be traced one step back or says no whole
    origin, and what a weighing refuses.

    >>> weighed = Intake("R1", net=Mass.of_grams(20_000))
    >>> came = received(Receipt(weighed, "Brook apiary", "K7", (OriginShare("US", Decimal(100)),)), date(2026, 8, 1), "en_US")
    >>> [(str(m.account), m.mass.kg) for m in came.movements()]
    [('suppliers', Decimal('-20')), ('bucket', Decimal('20'))]
    """
    weighed = receipt.weighed
    _check_receipt(weighed.bucket, receipt)
    net, weighing = _weights(weighed, locale)
    return Receive(
        bucket=weighed.bucket,
        day=weighed.weighed or day,
        net=net,
        supplier=receipt.supplier.strip(),
        their_lot=receipt.their_lot.strip(),
        origin=receipt.origin,
        weighing=weighing,
        moisture=_moisture(weighed),
        container_ml=weighed.container_ml,
        number=receipt.number.strip(),
        harvest=receipt.harvest.strip(),
        plant=weighed.plant or None,
        states=receipt.states,
        paid=receipt.paid,
        because=weighed.because.strip(),
    )


def _check_receipt(bucket: str, receipt: Receipt) -> None:
    for field in ("supplier", "their_lot"):
        if not getattr(receipt, field).strip():
            raise ReceiptUnclear(bucket, f"{_MISSING[field]} is not given", field)
    countries = [share.country for share in receipt.origin]
    if len(set(countries)) < len(countries):
        raise ReceiptUnclear(bucket, "a country of origin is named twice", "origin")
    total = sum((share.percent for share in receipt.origin), Decimal(0))
    if total != _WHOLE:
        raise ReceiptUnclear(bucket, f"the origin shares add up to {total.normalize():f} % and not to 100 %", "origin")
    for state in receipt.states:
        if state not in STATES:
            raise ReceiptUnclear(bucket, f"“{state}” is none of {', '.join(STATES)}", "states")


def _weights(intake: Intake, locale: str) -> tuple[Mass, Weighing | None]:
    if not intake.bucket.strip():
        raise WeightMissing("(unnamed)", "the bucket has no name")
    return net_of(intake.bucket, intake.net, intake.gross, intake.tare, intake.division, locale=locale)


def _moisture(intake: Intake) -> Decimal | None:
    if intake.moisture is not None:
        check_moisture(intake.bucket, intake.moisture)
    return intake.moisture
