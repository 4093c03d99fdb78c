"""How near the year's sales are to the caps of the small producer's reliefs, counted off the record.

What a law frees the small producer from holds up to so many gallons, pounds, jars or so much money a year, of what is
sold, packed or produced, as the rule says. The record knows it, so nobody has to add it up; whoever nears a cap is warned in time, and an answer typed once that the
record has overtaken is questioned.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable, Iterator, Mapping
from dataclasses import dataclass
from datetime import date
from decimal import ROUND_CEILING, Decimal
from functools import cache
from typing import TYPE_CHECKING, Any

from labelkit.errors.sentence import Sentence
from labelkit.honey.density import ML_PER_US_GALLON
from labelkit.honey.volume import volume_of
from labelkit.lots.bucket import Drain, WeighIn
from labelkit.lots.movement import Account
from labelkit.measures import Mass, Money, months_after
from labelkit.rules.kinds import read, taken
from labelkit.rules.market import market
from labelkit.run import Run
from labelkit.sale.result import BRING, entries

if TYPE_CHECKING:
    from labelkit.rules.blocks import Exempt
    from labelkit.rules.conditions import Condition
    from labelkit.season.settings import SeasonSettings

WARNED_FROM = Decimal("0.8")  # of the cap; house rule
#: The kinds of event each count is of; of two the larger is held against the cap.
_KINDS = {
    "sold": ("sell", "unload", "deliver", "return", "take-out"),
    "packed": (Run.kind,),
    "produced": (WeighIn.kind, Drain.kind),
}
# Federal law says over how many months jars are counted; the home-food laws say "a year", read here as a calendar year.
UNITS, UNITS_OVER, FEDERAL = "units_per_year", "months the units sold are counted over", "us"


@dataclass(frozen=True, slots=True)
class Sum:
    """What was sold, packed or produced in a span: the honey in it, the jars, and what they brought."""

    mass: Mass
    jars: int
    money: Money


def _gallons(sold: Sum) -> Decimal:
    return volume_of(sold.mass, _wettest()) / ML_PER_US_GALLON


@cache
def _wettest() -> Decimal:
    """The most water honey of any grade that has ever been in force may have, so that gallons are rather too many."""
    grades = market(FEDERAL, date.max).history("grades")
    wettest: Decimal = max(row["moisture"] for grade in grades for row in grade.value)
    return wettest


def _brought(sold: Sum) -> Decimal:
    return sold.money.amount


# All sales and sales of food are at least those of honey: the record knows no others.
_COUNTED: Mapping[str, tuple[Callable[[Sum], Decimal], str]] = {
    "gallons_per_year": (_gallons, "US gal"),
    "pounds_per_year": (lambda sold: sold.mass.lb, "lb"),
    UNITS: (lambda sold: Decimal(sold.jars), ""),
    "honey_sales_per_year": (_brought, ""),
    "food_sales_per_year": (_brought, ""),
    "product_sales_per_year": (_brought, ""),
    "all_sales_per_year": (_brought, ""),
}


@dataclass(frozen=True, slots=True)
class Counted:
    """A yearly figure as the record has it, rounded up to the whole unit."""

    fact: str
    since: date
    exact: Decimal
    currency: str
    how: str = "sold"

    def shown(self, figure: Decimal | None = None) -> str:
        """The figure, or another of its kind, with its unit; jars are a bare number."""
        whole = (self.exact if figure is None else figure).to_integral_value(ROUND_CEILING)
        return f"{whole} {_COUNTED[self.fact][1] or self.currency}" if self.fact != UNITS else f"{whole}"


@dataclass(frozen=True, slots=True)
class Near:
    """A cap the year's sales are near, or past."""

    counted: Counted
    law: Exempt
    place: str  # the name of the market
    code: str
    cap: Decimal
    passed: bool

    @property
    def what(self) -> Sentence:
        """How near, in a sentence."""
        counted = self.counted
        facts = {"sold": counted.shown(), "cap": counted.shown(self.cap), "place": self.place}
        if counted.how == "produced":
            if self.passed:
                return Sentence("{place}: a relief ends at {cap} a year; {sold} are produced.", **facts)
            return Sentence("{place}: {sold} of {cap} a year are produced.", **facts)
        if counted.how == "packed":
            if self.passed:
                return Sentence("{place}: a relief ends at {cap} a year; {sold} are packed.", **facts)
            return Sentence("{place}: {sold} of {cap} a year are packed.", **facts)
        if self.passed:
            return Sentence("{place}: a relief ends at {cap} a year; {sold} are sold.", **facts)
        if counted.fact == UNITS:
            return Sentence("{place}: {sold} of {cap} jars a year are sold.", **facts)
        return Sentence("{place}: {sold} of {cap} a year are sold.", **facts)


@dataclass(frozen=True, slots=True)
class Overtaken:
    """A yearly figure somebody typed that the record is already above."""

    counted: Counted
    said: Decimal


def near_caps(book: Any, season: SeasonSettings, day: date) -> list[Near]:
    """The caps of the season's markets of which four fifths or more are sold; none that an answer has ruled out."""
    situation, counts = book.settings().get("situation", {}), _Counts(book, season, day)
    found: dict[tuple[str, Decimal], Near] = {}
    for here in season.places(day):
        for law in here.exemptions():
            for test in _caps(law, situation):
                cap, counted = _bound(test, season.currency), counts.of(test.fact.name, law.counts)
                if cap and counted.exact >= WARNED_FROM * cap:
                    passed = counted.exact > cap if test.relation == "to" else counted.exact >= cap
                    near = Near(counted, law, here.name, here.code, cap, passed)
                    found.setdefault((test.fact.name, cap), near)
    return list(found.values())


def overtaken(book: Any, season: SeasonSettings, day: date) -> list[Overtaken]:
    """The typed yearly figures that are less than what the record counts."""
    situation, counts = book.settings().get("situation", {}), _Counts(book, season, day)
    said = {fact: _figure(fact, situation[fact], season.currency) for fact in _COUNTED if fact in situation}
    found = [Overtaken(counts.of(fact, "sold"), figure) for fact, figure in said.items() if figure is not None]
    return [each for each in found if each.counted.exact > each.said]


def _caps(law: Exempt, situation: Mapping[str, Any]) -> Iterator[Condition]:
    """The caps of an exemption that may still be the maker's: no answer rules out what stands beside them."""
    for tests in law.when.sets:
        given = [(test, situation.get(test.fact.name)) for test in tests]
        if all(said is None or test.holds(said) for test, said in given):
            yield from (test for test in tests if test.fact.name in _COUNTED and test.relation in ("to", "under"))


def _bound(test: Condition, currency: str) -> Decimal | None:
    return _plain(read(test.fact.kind, test.raw), currency)


def _figure(fact: str, said: Any, currency: str) -> Decimal | None:
    from labelkit.rules.glossary import glossary

    return _plain(taken(glossary().fact(fact).kind, said), currency)


def _plain(figure: Decimal | Money, currency: str) -> Decimal | None:
    """A figure as a number; nothing for money of another currency, which the record cannot be held against."""
    if isinstance(figure, Money):
        return figure.amount if figure.currency == currency else None
    return figure


class _Counts:
    """The year's figures, read once and only if a law or an answer asks for them."""

    def __init__(self, book: Any, season: SeasonSettings, day: date) -> None:
        self.book, self.currency, self.day = book, season.currency, day
        self.goods = {size for size in season.prices if not season.sold_in(size).is_honey}
        self._sums: dict[tuple[date, str], Sum] = {}

    def of(self, fact: str, counts: str) -> Counted:
        """A figure as a law counts it; money, which nobody is paid for packing, as what was sold."""
        since, figure = self._since(fact), _COUNTED[fact][0]
        ways = ["sold"] if figure is _brought else counts.split(" or ")
        return max(
            (Counted(fact, since, figure(self._sum(since, how)), self.currency, how) for how in ways),
            key=lambda counted: counted.exact,
        )

    def _sum(self, since: date, how: str) -> Sum:
        if (since, how) not in self._sums:
            booked = self.book.latest(_KINDS[how], since=since)
            events = [one.event for one in booked if one.stands and one.day <= self.day]
            self._sums[since, how] = (
                _sold(events, self.currency, self.goods) if how == "sold" else _made(events, self.currency)
            )
        return self._sums[since, how]

    def _since(self, fact: str) -> date:
        law = market(FEDERAL, self.day)
        if fact == UNITS and law.holds(UNITS_OVER):
            return months_after(self.day, -law.value(UNITS_OVER).value)
        return self.day.replace(month=1, day=1)


def _made(events: Iterable[Any], currency: str) -> Sum:
    """The honey that came from the hives, or was filled into jars, and the jars of it."""
    moved = [m for event in events for m in event.movements() if m.account in (Account.HIVES, Account.JARS)]
    mass = Mass(sum(abs(m.mass.mg) for m in moved))
    return Sum(mass, sum(m.count for m in moved), Money(0, currency))


def _sold(events: Iterable[Any], currency: str, goods: Collection[str]) -> Sum:
    """What these sales come to; candles and wax are no food, and no cap read so far is of them."""
    lines = [entry for entry in entries(events, currency) if entry.what in BRING and entry.size not in goods]
    mass = Mass(sum(entry.mass.mg for entry in lines))
    money = Money(sum(entry.money.minor for entry in lines), currency)
    return Sum(mass, sum(entry.count for entry in lines), money)
