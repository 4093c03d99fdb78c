"""How selling bears a long season: market days settled, results summed, pages made, days read back.

    python -m tests.bench.sale [--days 400]

Every figure is a ratio within one run: a season of so many market days against one of a tenth of them. Work that grows
with the season gives about 10, work that does not gives about 1.
"""

from __future__ import annotations

import argparse
import json
import time
from collections.abc import Callable
from datetime import date, timedelta

from labelkit.measures import Declared, Mass, Money
from labelkit.reading.day_file import check_of, read_day_file
from labelkit.sale.day_page import FORMAT, day_page
from labelkit.sale.events import PriceSet, SaleLine
from labelkit.sale.result import entries, summed
from labelkit.sale.settlement import Count, Loaded, Till, settle
from labelkit.sale.year_paper import year_pdf
from labelkit.sale.year_report import Year
from labelkit.shipped.catalogues import wording

SIZES = ("half pound", "one pound", "two pound", "five pound")


def load_of(day: date) -> Loaded:
    lines = tuple(
        SaleLine(f"L{day:%y%j}A{n}R", size, 24, Mass(453_592), Money(1_200 + 37 * n, "USD"))
        for n in range(3)
        for size in SIZES
    )
    return Loaded(day, f"Market {day.toordinal() % 5}", lines, Money(8_000, "USD"))


def settled(days: int):
    for n in range(days):
        load = load_of(date(2020, 1, 1) + timedelta(n))
        counted = {(line.lot, line.size): Count(sold=17 + n % 5, tasted=1) for line in load.lines}
        yield settle(load, counted, Till(Money(300_000, "USD"), Money(50_000, "USD"), Money(313, "USD")))


def seconds(work: Callable[[], object], again: int = 3) -> float:
    best = float("inf")
    for _ in range(again):
        start = time.perf_counter()
        work()
        best = min(best, time.perf_counter() - start)
    return best


def file_text() -> str:
    core = {
        "labelkit": FORMAT,
        "key": "2026-07-25 Mill square",
        "mark": "0",
        "currency": "USD",
        "items": [[f"L{n}", size, 17, 0, 1, 0, None] for n in range(3) for size in SIZES],
        "cash_sales": 1,
        "cards": 2,
        "off": 0,
        "round": 0,
        "cash": None,
        "fee": None,
        "sales": 200,
    }
    return json.dumps(core | {"check": check_of(core)})


def main() -> None:
    options = argparse.ArgumentParser()
    options.add_argument("--days", type=int, default=400)
    days = options.parse_args().days
    words = wording("labelkit", "de_DE")
    prices = [
        PriceSet(date(2020, 1, 1), size, Declared.read("1 lb", "en_US"), Money(1_200, "USD"), Money(431, "USD"))
        for size in SIZES
    ]
    long, short = list(settled(days)), list(settled(days // 10))

    def year(held) -> Year:
        return Year("x", "USD", entries([*prices, *held], "USD"), Mass(10**9))

    works = {
        "days settled": lambda held: list(settled(len(held))),
        "lines of the season": lambda held: entries([*prices, *held], "USD"),
        "sums by lot": lambda held: summed(entries([*prices, *held], "USD"), lambda e: e.lot, "USD"),
        "the year on two pages": lambda held: year_pdf(year(held), words, "de_DE"),
    }
    print(f"{days} market days of 12 lines against {days // 10}")
    for name, work in works.items():
        one, ten = seconds(lambda: work(short)), seconds(lambda: work(long))  # noqa: B023
        print(f"  {name:24} {ten / one:6.2f} times, {days * 12 / ten:12,.0f} lines a second")
    page, text = seconds(lambda: day_page(load_of(date(2026, 7, 25)), words, "de_DE", "USD")), file_text()
    day = seconds(lambda: read_day_file(text, "day.json"))
    size = len(day_page(load_of(date(2026, 7, 25)), words, "de_DE", "USD"))
    print(f"  a market page takes {page / day:6.0f} times as long as reading its day back; it is {size / 1000:.0f} kB")


if __name__ == "__main__":
    main()
