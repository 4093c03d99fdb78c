"""How long each page takes over a large season, and a label's look.

    python -m tests.bench.page [--lots 500] [--times 20]

A season of so many bottled buckets (200 jars each, four sizes of customer), with ten buckets still full, is booked
through the record; then every page is asked for so many times by one visitor in this process, without the wire. The
record page, which reads the least, is the measure of the others. The look of a label: first (the design is laid out),
and again with other places used (nothing is kept from before but the typefaces).
"""

from __future__ import annotations

import argparse
import statistics
import tempfile
import time
from datetime import UTC, date, datetime, timedelta
from pathlib import Path

from labelkit.cli._rim import Desk, answer_to
from labelkit.lots.bucket import Source, WeighIn
from labelkit.lots.code import lot_code
from labelkit.measures import Mass, Money
from labelkit.page.app import make_app
from labelkit.page.here import Station
from labelkit.page.samples import Samples
from labelkit.record import open_book
from labelkit.run.bottling import Filled, Run
from labelkit.sale.events import Sale, SaleLine

DAY = date(2026, 7, 1)
AT = datetime(2026, 7, 1, 8, tzinfo=UTC)
POUND = Mass(453_592)
JARS = 200
PORT = 8765


def season(record: str, lots: int) -> str:
    """Book it; the first lot's code."""
    said = ["--record", record, "--day", DAY.isoformat()]
    answer_to([*said, "start", "--market", "us-va", "--name", "Pretend Hollow Honey"], clock=AT, who="bench")
    answer_to(
        [*said, "price", "--set", "one pound", "--declares", "1 lb", "--price", "12", "--cost", "1.35"],
        clock=AT,
        who="bench",
    )
    answer_to(
        [*said, "label-words", "--name", "Wildflower Honey", "--jar", "one pound=3 in x 3.2 in"], clock=AT, who="bench"
    )
    codes: set[str] = set()
    events: list = []
    for n in range(lots):
        day = DAY + timedelta(days=n // 40)
        bucket, held = f"B{n:05d}", JARS * POUND
        events.append(WeighIn(bucket, day, held, sources=(Source(f"Yard {n % 50}", (f"H{n % 400}",)),), moisture=None))
        code = lot_code(day, bucket, codes).code
        codes.add(code)
        jars = (Filled("one pound", "1 lb", JARS, POUND),)
        events.append(Run(code, day, bucket, held, jars, left=Mass(0), left_was_weighed=True))
        line = SaleLine(code, "one pound", JARS // 2, POUND, Money.of("12.00", "USD"))
        events.append(Sale(day, (line,), "shop", f"Made-up shop {n % 30}", "1 Nowhere Road"))
    events += [WeighIn(f"F{n}", DAY, 60 * POUND, sources=(Source("Yard 1", ("H1",)),)) for n in range(10)]
    with open_book(record) as book, book.work(who="bench", at=AT) as work:
        work.add_all(events)
        work.commit()
    return min(codes)


def main() -> None:
    asked = argparse.ArgumentParser(description=__doc__)
    asked.add_argument("--lots", type=int, default=500)
    asked.add_argument("--times", type=int, default=20)
    given = asked.parse_args()
    with tempfile.TemporaryDirectory() as folder:
        record = str(Path(folder) / "season.labelkit")
        began = time.perf_counter()
        lot = season(record, given.lots)
        print(f"{given.lots} lots, {given.lots * JARS} jars booked in {time.perf_counter() - began:.1f} s")
        desk = Desk(record=record, day=DAY + timedelta(days=60), who="bench", clock=AT + timedelta(days=60))
        client = make_app(Station(desk, True, PORT, Samples())).test_client()
        label = f"lot={lot}&size=one+pound"
        pages = (
            "/record",
            "/",
            "/weigh",
            "/prices",
            "/plan",
            "/bottle",
            "/sell",
            f"/trace?code={lot}",
            f"/labels?{label}",
        )
        measure = None
        print(f"{'page':<14}{'p50 ms':>9}{'p99 ms':>9}{'to /record':>12}")
        for path in pages:
            half, most = times(client, [path] * given.times)
            measure = measure or half
            print(f"{path.partition('?')[0]:<14}{half:>9.0f}{most:>9.0f}{half / measure:>11.1f}x")
        first, _ = times(client, [f"/labels/one.png?{label}&design=almanac"])
        again, worst = times(client, [f"/labels/one.png?{label}&design=almanac&used={n}" for n in range(1, 9)])
        print(
            f"a label's look: first {first:.0f} ms, warm p50 {again:.0f} ms, p99 {worst:.0f} ms ({first / again:.1f}x)"
        )


def times(client, paths: list[str]) -> tuple[float, float]:
    """Median and longest, in milliseconds, each answer being a page."""
    took = []
    for path in paths:
        began = time.perf_counter()
        answer = client.get(path, headers={"Host": f"127.0.0.1:{PORT}"})
        took.append((time.perf_counter() - began) * 1000)
        assert answer.status_code == 200, (path, answer.status_code)
    return statistics.median(took), max(took)


if __name__ == "__main__":
    main()
