"""The season as a workbook: a sheet each for buckets, runs, jars, sales, customers, money, trace and findings.

It is for reading and reckoning on. The sheet of weigh-ins can be weighed in from again; the whole record comes back only
from an export, which the first sheet says.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import date
from decimal import Decimal
from functools import partial
from typing import TYPE_CHECKING, Any

from labelkit.measures import Mass
from labelkit.measures.locales import currency_digits
from labelkit.paper.workbook import COUNT, DAY, FIGURE, MONEY, Column, Sheet, Value
from labelkit.sale.ledger import Line, ledger
from labelkit.season.due import due_today
from labelkit.season.known_jars import known_of
from labelkit.season.result import result
from labelkit.season.settings import settings_of
from labelkit.season.stock import states_of, stock
from labelkit.season.trace import story_of, trace_of
from labelkit.season.unmet import best_before
from labelkit.trace.sheet import HEADINGS as TRACE_HEADINGS
from labelkit.trace.sheet import steps

if TYPE_CHECKING:
    from labelkit.record.reading import Reading
    from labelkit.sale.year_report import Year

HELD = (
    "buckets, runs, jars, sales, customers, money, trace and findings, as of the event below.",
    "The sheet weigh-ins can be weighed in again: labelkit weigh --from FILE.xlsx --sheet weigh-ins.",
    "A workbook does not hold the chain of events, corrections, holds, recalls, label words and settings.",
    "To rebuild the whole record: labelkit record export, then labelkit record import.",
)


def season_sheets(state: Reading, day: date, locale: str, *, people: bool = True) -> tuple[Sheet, ...]:
    """Every sheet, all from one state of the record; without ``people`` no customer is named."""
    year = result(state, day)
    sheets = (
        _about(state, day),
        _weigh_ins(state),
        _buckets(state, day),
        _runs(state),
        _jars(state, day),
        _sales(year),
        _customers(state, year),
        ledger_sheet(state, ledger(year)),
        _trace(state),
        _findings(state, day, locale),
    )
    return sheets if people else tuple(_without_people(sheet) for sheet in sheets)


NAMING = ("call", "customer")  # what is due and names a customer
PERSONAL = {
    "customer",
    "customers",
    "market",
    "phone",
    "email",
    "address",
    "to",
    "place",
}  # columns that may name somebody


def _without_people(sheet: Sheet) -> Sheet:
    """The same sheet with the cells that name somebody left empty."""
    hidden = [column.heading in PERSONAL for column in sheet.columns]
    if sheet.name == "findings":
        return Sheet(sheet.name, sheet.columns, [row for row in sheet.rows if row[2] not in NAMING])
    rows = [[None if hide else value for value, hide in zip(row, hidden, strict=True)] for row in sheet.rows]
    return Sheet(sheet.name, sheet.columns, [] if sheet.name == "customers" else rows)


def _kg(mass: Mass | None) -> Decimal | None:
    return None if mass is None else mass.kg


def _about(state: Reading, day: date) -> Sheet:
    head = state.head()
    rows = [("what this workbook holds", HELD[0]), *(("", words) for words in HELD[1:])]
    rows += [("day", day.isoformat()), ("events", str(head.seq)), ("head", head.hash)]
    return Sheet("about", [Column("labelkit"), Column("")], rows)


def _weigh_ins(state: Reading) -> Sheet:
    columns = [
        Column("bucket"),
        Column("net (kg)", FIGURE),  # where neither gross nor tare was said
        Column("gross (kg)", FIGURE),
        Column("tare (kg)", FIGURE),
        Column("moisture", FIGURE),
        Column("weighed", DAY),
        Column("harvested", DAY),
        Column("yard"),
        Column("hives"),
        Column("plant"),
        Column("more yards"),
        Column("honey (kg)", FIGURE, total=True),
    ]
    rows = []
    for each in story_of(state, "weigh"):
        event, scale = each.event, each.event.weighing
        first, *more = event.sources or (None,)
        rows.append(
            (
                event.bucket,
                None if scale else _kg(event.net),
                _kg(scale.gross) if scale else None,
                _kg(scale.tare) if scale else None,
                event.moisture,
                event.day,
                event.harvested,
                first.yard if first else None,
                "; ".join(first.hives) if first else None,
                event.plant,
                " | ".join(f"{each.yard}: {', '.join(each.hives)}" for each in more) or None,
                _kg(event.net),
            )
        )
    return Sheet("weigh-ins", columns, rows)


def _buckets(state: Reading, day: date) -> Sheet:
    buckets = state.buckets()
    states = states_of(state, buckets, day)
    columns = [
        Column("bucket"),
        Column("state"),
        Column("came in (kg)", FIGURE, total=True),
        Column("holds (kg)", FIGURE, total=True),
        Column("moisture (%)", FIGURE),
        Column("harvested"),
        Column("from"),
        Column("plants"),
        Column("blended from"),
    ]
    rows = [
        (
            b.id,
            states[b.id],
            _kg(b.came_in),
            _kg(b.holds),
            b.moisture,
            ", ".join(each.isoformat() for each in b.harvested) or None,
            "; ".join((*map(str, b.sources), *b.suppliers)) or None,
            ", ".join(b.plants) or None,
            ", ".join(part.bucket for part in b.parents) or None,
        )
        for b in buckets
    ]
    return Sheet("buckets", columns, rows)


def _runs(state: Reading) -> Sheet:
    columns = [
        Column("lot"),
        Column("day", DAY),
        Column("event", COUNT),
        Column("bucket"),
        Column("what"),
        Column("size"),
        Column("declares"),
        Column("jars", COUNT, total=True),
        Column("filled (kg)", FIGURE, total=True),
    ]
    rows: list[tuple[Value, ...]] = []
    for each in story_of(state, "run"):
        run = each.event
        head = (run.lot, run.day, each.seq, run.bucket)
        for what, filled in (("filled", run.jars), ("broken", run.broken), ("sample", run.samples)):
            rows += [(*head, what, one.size, str(one.declares), one.count, _kg(one.mass)) for one in filled]
        for what, mass in (("lost", run.lost), ("unexplained", run.unexplained)):
            if mass:
                rows.append((*head, what, None, None, None, _kg(mass)))
    return Sheet("runs", columns, rows)


def _jars(state: Reading, day: date) -> Sheet:
    filled = stock(state, day).filled
    known = known_of(state, {each.lot for each in filled})
    places = ("in stock", "on hold", "at the stall", "without a label")
    columns = [Column("lot"), Column("size"), *(Column(each, COUNT, total=True) for each in places)]
    rows = [
        (x.lot, x.size, x.in_stock, x.on_hold, x.at_stall, x.unlabelled, best_before(known, x.lot, x.size))
        for x in filled
    ]
    return Sheet("jars", [*columns, Column("best before", DAY)], rows)


def _sales(year: Year) -> Sheet:
    digits = currency_digits(year.currency)
    columns = [
        Column("day", DAY),
        Column("what"),
        Column("market"),
        Column("customer"),
        Column("lot"),
        Column("size"),
        Column("jars", COUNT, total=True),
        Column("kg", FIGURE, total=True),
        Column(f"money ({year.currency})", MONEY, True, digits),
        Column(f"tax in it ({year.currency})", MONEY, True, digits),
        Column(f"cost of jars ({year.currency})", MONEY, True, digits),
    ]
    rows = [
        (
            e.day,
            e.what,
            e.market,
            e.customer or None,
            e.lot or None,
            e.size or None,
            e.count,
            _kg(e.mass),
            e.money.amount,
            tax.amount if (tax := year.tax_of(e)) else None,
            e.cost.amount,
        )
        for e in year.entries
    ]
    return Sheet("sales", columns, rows)


def _customers(state: Reading, year: Year) -> Sheet:
    digits, settings = currency_digits(year.currency), state.settings()
    accounts = {account.customer: account for account in year.accounts}
    sums = ("delivered", "returned", "paid", "refunded", "open")
    columns = [Column("customer"), Column("phone"), Column("email"), Column("address")]
    columns += [Column(f"{each} ({year.currency})", MONEY, True, digits) for each in sums]
    rows = []
    for name in sorted({*state.names("customer"), *accounts}):
        facts, account = settings.get(f"customer {name}", {}), accounts.get(name)
        money = [getattr(account, each).amount if account else None for each in sums]
        address = ", ".join(facts.get("address") or ()) or None
        rows.append((name, facts.get("phone") or None, facts.get("email") or None, address, *money))
    return Sheet("customers", columns, rows)


def ledger_sheet(state: Reading, lines: Iterable[Line]) -> Sheet:
    """The ledger as a sheet; amounts by currency, since a ledger has one, and customers by their number in the record too."""
    lines = tuple(lines)
    currency = lines[0].amount.currency if lines else ""
    digits = currency_digits(currency) if currency else 2
    columns = [
        Column("day", DAY),
        Column("document"),
        Column("account"),
        Column("amount", MONEY, True, digits),
        Column("tax", MONEY, True, digits),
        Column("customer"),
        Column("customer_number", COUNT),
        Column("currency"),
    ]
    rows = [
        (
            x.day,
            x.document,
            x.account,
            x.amount.amount,
            x.tax.amount if x.tax else None,
            x.customer or None,
            state.people.number_of(x.customer) if x.customer else None,
            currency,
        )
        for x in lines
    ]
    return Sheet("money", columns, rows)


def _trace(state: Reading) -> Sheet:
    lots = sorted({each.event.lot for each in story_of(state, "run")} | {bucket.id for bucket in state.buckets()})
    figures = {"count": COUNT, "event": COUNT, "grams": FIGURE, "yard_share_grams": FIGURE, "moisture_percent": FIGURE}
    headings = [name for name in TRACE_HEADINGS if name not in ("common_name", "producer")]
    columns = [Column(name, DAY if name in ("day", "harvested") else figures.get(name, "text")) for name in headings]
    found = steps(trace_of(state, lots)) if lots else ()
    return Sheet("trace", columns, [[_read(step.get(c.heading), c) for c in columns] for step in found])


def _read(value: Any, column: Column) -> Value:
    """A figure of a step as a number again; an empty one as nothing."""
    if value in ("", None):
        return None
    return Decimal(value) if column.kind == FIGURE else value


def _findings(state: Reading, day: date, locale: str) -> Sheet:
    headings = ("level", "about", "rule", "market", "field", "found", "says", "do", "source", "sure")
    rows = [*_against(state, day, locale), *_printed(state), *_of_labels(state, day, locale)]
    return Sheet("findings", [Column(name) for name in headings], rows)


def _against(state: Reading, day: date, locale: str) -> Iterator[tuple[Value, ...]]:
    """What is due, held or unmet today."""
    for due in due_today(state, day, locale):
        yield (due.level, due.about or None, due.verb, None, None, None, str(due.what), str(due.why), None, None)


def _printed(state: Reading) -> Iterator[tuple[Value, ...]]:
    """What had to be fixed on labels that were printed all the same."""
    for each in story_of(state, "print"):
        for words in each.event.findings:
            about = f"{each.event.lot} {each.event.size}"
            yield ("stop", about, None, None, each.event.label, None, words, each.event.because, None, None)


def _of_labels(state: Reading, day: date, locale: str) -> Iterator[tuple[Value, ...]]:
    """What the rules say of each jar size with the label words as they are kept."""
    from labelkit.errors import Refused
    from labelkit.labels.case import cases_printed
    from labelkit.rules.checking import check_on
    from labelkit.season.lot_words import label_of_lots

    as_printed = partial(cases_printed, locale=locale)
    for size in settings_of(state).jars(day):
        try:
            checked = check_on(label_of_lots(state, size, (), day).label, day, as_printed)
        except Refused as refusal:
            yield ("ask", size, None, None, refusal.field or None, None, refusal.what, refusal.do, None, None)
            continue
        for f in checked.findings:
            row = (f.level, size, f.rule, f.market, f.field, f.found, f.says, f.do, f.cite, f.sure)
            yield tuple(str(value) if value else None for value in row)
