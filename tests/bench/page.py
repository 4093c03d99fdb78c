"""How long each page takes over a season of a million jars, and a label's look.

    python -m tests.bench.page [--jars 1000000] [--times 40] [--record FILE]

The season is the record bench's own (5,000 blended lots of 200 jars from 20,000 buckets, each lot sold in fifty goes),
with ten buckets still full, jars in stock, a market day loaded and a recall under way. Every page is asked for so many
times by one visitor in this process, without the wire; beside the clock stands what the processor worked, since other
work on the machine stretches the clock. The page of who one is, which reads the least, is the measure of
the others. The look of a label: first (the design is laid out), and again with other places used (nothing is kept from
before but the typefaces). With ``--record`` the season is kept in that file and taken from it the next time.
"""

from __future__ import annotations

import argparse
import statistics
import tempfile
import time
from dataclasses import replace
from datetime import date, timedelta
from pathlib import Path

from labelkit.cli._runner import answer_to
from labelkit.lots.bucket import Source, WeighIn
from labelkit.lots.code import lot_code
from labelkit.measures import NOTHING, Declared
from labelkit.page.app import make_app
from labelkit.page.request_context import Station
from labelkit.page.samples import Samples
from labelkit.record import open_record
from labelkit.run.bottling import Filled, Run
from labelkit.season.context import SeasonContext
from tests.bench import record as million
from tests.record.season import AT

DAY = date(2026, 11, 20)
LATER = AT + timedelta(days=150)
PORT = 8765
MARKET = "Made-up square"


def said(record: str, *words: str):
    """One command on the season's record."""
    return answer_to(["--record", record, "--day", DAY.isoformat(), *words], clock=LATER, who="bench")


def season(record: str, jars: int) -> None:
    """Book it."""
    said(record, "start", "--market", "us-va", "--name", "Pretend Hollow Honey")
    said(record, "price", "--set", "one pound", "--declares", "1 lb", "--price", "12", "--cost", "1.35")
    said(record, "label-words", "--name", "Wildflower Honey", "--jar", "one pound=3 in x 3.2 in")
    buckets = jars // million.JARS * million.PER_LOT
    with open_record(record) as book, book.work(who="bench", at=LATER) as work:
        work.add_all(emptied(million.season(buckets)))
        taken = set(work.lot_codes_taken())
        for n in range(10):
            full = WeighIn(f"F{n}", date(2026, 10, 30), 60 * million.POUND, sources=(Source("Yard 1", ("H1",)),))
            jars_here = (Filled("one pound", Declared.read("1 lb", "en_US"), 20, million.POUND),)
            code = lot_code(date(2026, 11, 1), full.bucket, taken).code
            taken.add(code)
            work.add_all(
                [
                    full,
                    Run(code, date(2026, 11, 1), full.bucket, full.net, jars_here, left=full.net - 20 * million.POUND),
                ]
            )
        work.commit()
    said(record, "stall", "load", "--place", MARKET, "--jar", "one pound=24", "--change", "80", "--book")
    said(record, "recall", "begin", a_lot(record), "--cause", "foreign-body", "--why", "a splinter", "--name", "R1")


def emptied(events):
    """The same season with every bottled bucket scraped out, as a honey house does it."""
    for happened in events:
        yield replace(happened, left=NOTHING, lost=happened.left) if isinstance(happened, Run) else happened


def a_lot(record: str) -> str:
    """A lot in the middle of the season."""
    with open_record(record, to_read=True) as book:
        lots = sorted(book.lot_codes_taken())
    return lots[len(lots) // 2]


def the_pages(record: str) -> list[str]:
    """Every page worth timing, in the order of the season; the first is the measure of the others."""
    lot = a_lot(record)
    with open_record(record, to_read=True) as book:
        here = next(s.lot for s in book.stock() if s.count)
    weights = "&".join(f"w={grams}+g" for grams in range(450, 462))
    return [
        "/start",
        "/",
        "/weigh",
        "/drain",
        "/prices",
        "/plan",
        "/filling",
        f"/filling/weigh?lot={here}&size=one+pound&{weights}",
        "/bottle",
        f"/lot/{lot}",
        f"/labels?lot={here}&size=one+pound",
        f"/sell?lot={here}",
        "/stall",
        "/sell/result",
        "/trace",
        f"/trace?code={lot}",
        f"/trace/flow.svg?code={lot}",
        "/recall",
        f"/recall/scope?code={here}&cause=foreign-body",
        "/recall/run?name=R1",
        "/record",
    ]


def main() -> None:
    asked = argparse.ArgumentParser(description=__doc__)
    asked.add_argument("--jars", type=int, default=1_000_000)
    asked.add_argument("--times", type=int, default=40)
    asked.add_argument("--record", help="keep the season here, or take it from here")
    asked.add_argument("--only", default="", help="only pages whose address holds this")
    given = asked.parse_args()
    with tempfile.TemporaryDirectory() as folder:
        record = given.record or str(Path(folder) / "season.labelkit")
        if not Path(record).exists():
            began = time.perf_counter()
            season(record, given.jars)
            print(f"{given.jars} jars booked in {time.perf_counter() - began:.1f} s")
        measure_all(record, given.times, given.only)


def measure_all(record: str, often: int, only: str) -> None:
    """Time every page and print the table."""
    context = SeasonContext(record=record, day=DAY, who="bench", clock=LATER)
    client = make_app(Station(context, True, PORT, Samples())).test_client()
    print(f"{'page':<18}{'p50 ms':>9}{'p99 ms':>9}{'worked':>9}{'kB':>8}{'to the least':>14}")
    least = None
    for path in the_pages(record):
        if only in path:
            times(client, [path])
            half, most, worked, size = times(client, [path] * often)
            least = least or worked
            name, more = path.partition("?")[0], f"{worked / least:>13.1f}x"
            print(f"{name:<18}{half:>9.0f}{most:>9.0f}{worked:>9.0f}{size / 1000:>8.0f}{more}", flush=True)
    if not only or only in "/labels/one.png":
        label = the_pages(record)[10].partition("?")[2]
        first, *_ = times(client, [f"/labels/one.png?{label}&design=almanac"])
        again, worst, worked, _ = times(
            client, [f"/labels/one.png?{label}&design=almanac&used={n}" for n in range(1, 9)]
        )
        print(
            f"a label's look: first {first:.0f} ms, warm p50 {again:.0f} ms, p99 {worst:.0f} ms, worked {worked:.0f} ms"
        )


def times(client, paths: list[str]) -> tuple[float, float, float, int]:
    """Median and ninety-ninth hundredth by the clock, the median the processor worked, in ms; the last answer's bytes."""
    took, worked, size = [], [], 0
    for path in paths:
        began, used = time.perf_counter(), time.process_time()
        answer = client.get(path, headers={"Host": f"127.0.0.1:{PORT}"})
        took.append((time.perf_counter() - began) * 1000)
        worked.append((time.process_time() - used) * 1000)
        size = len(answer.data)
        assert answer.status_code == 200, (path, answer.status_code)
    ordered = sorted(took)
    last = ordered[min(int(len(ordered) * 0.99), len(ordered) - 1)]
    return statistics.median(took), last, statistics.median(worked), size


if __name__ == "__main__":
    main()
