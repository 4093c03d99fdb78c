"""How the record bears a very large season: 1,000,000 jars over 20,000 buckets, traced both ways on both engines.

    python -m tests.bench.record [--share 100] [--server] [--kills 0 [--seconds 1800]]

Everything goes through the book as in daily use: hashes, guards, triggers, derived rows. Bare SQL on the same tables
gives the ratio. ``--share 10`` takes a tenth of the season. ``--kills 10000`` kills that many writers first.
"""

from __future__ import annotations

import argparse
import json
import os
import random
import resource
import statistics
import subprocess
import sys
import tempfile
import time
from datetime import date, timedelta
from pathlib import Path

from labelkit.lots.bucket import Blend, Part, Source, WeighIn
from labelkit.lots.code import lot_code
from labelkit.measures import Declared, Mass, Money
from labelkit.record import open_record
from labelkit.record.lookup import find_lot
from labelkit.record.verify import verify
from labelkit.run.bottling import Filled, Run
from labelkit.sale.events import Sale, SaleLine
from labelkit.trace.follow import follow
from tests.record.season import AT

POUND = Mass(453_592)
HOLD = Mass(22_700_000)
PER_LOT, JARS = 4, 200
TRACES = 1000


def season(buckets: int):
    """The events of the season, and its lot codes as they come."""
    begin = date(2026, 7, 1)
    taken: set[str] = set()
    price = Money(1200, "USD")
    for n in range(buckets):
        yard = n % 400
        hives = tuple(f"H{(yard * 50 + (n // 400) * 5 + h) % 20_000}" for h in range(5))
        yield WeighIn(f"B{n}", begin, HOLD, sources=(Source(f"Yard {yard}", hives),))
    for n in range(buckets // PER_LOT):
        day = begin + timedelta(days=n % 120)
        code = lot_code(day, f"M{n}", taken).code
        taken.add(code)
        parts = tuple(Part(f"B{n * PER_LOT + k}", HOLD) for k in range(PER_LOT))
        yield Blend(f"M{n}", day, parts)
        held = PER_LOT * HOLD
        yield Run(
            code,
            day,
            f"M{n}",
            held,
            (Filled("one pound", Declared.read("1 lb", "en_US"), JARS, POUND),),
            left=held - JARS * POUND,
        )
        for s in range(JARS // 4):
            shop = f"Shop {(n * 7 + s) % 500}" if s % 5 else None
            lines = (SaleLine(code, "one pound", 4, POUND, price),)
            yield Sale(day + timedelta(days=s), lines, to="shop" if shop else "stall", customer=shop)


def timed(function, *arguments) -> tuple[float, object]:
    """Seconds, and what it gave."""
    begun = time.perf_counter()
    gave = function(*arguments)
    return time.perf_counter() - begun, gave


def spread(times: list[float]) -> dict[str, str]:
    """The middle and the slowest hundredth, in milliseconds."""
    ordered = sorted(times)
    return {"p50": f"{statistics.median(ordered) * 1000:.2f}", "p99": f"{ordered[int(len(ordered) * 0.99)] * 1000:.2f}"}


def load(where: str, buckets: int) -> dict[str, object]:
    """Book the whole season; how long it took."""
    with open_record(where, create=True) as book:

        def book_all():
            with book.work(who="bench", at=AT) as work:
                count = len(work.add_all(season(buckets)))
                work.commit()
                return count

        seconds, count = timed(book_all)
        if where.startswith("postgresql"):  # what the server does by itself within a minute
            with book._engine.connect() as connection:
                connection.exec_driver_sql("ANALYZE")
                connection.commit()
    return {"events": count, "seconds": f"{seconds:.1f}", "events_per_second": round(count / seconds)}


BARE_BACK = """
WITH RECURSIVE up (lot) AS (
    SELECT CAST(:lot AS TEXT) UNION SELECT link.parent FROM link JOIN up ON link.child = up.lot
) SELECT lot FROM up
"""
BARE_FORWARD = """
WITH RECURSIVE down (lot) AS (
    SELECT CAST(:lot AS TEXT) UNION SELECT link.child FROM link JOIN down ON link.parent = down.lot
) SELECT lot FROM down
"""


def traces(where: str, buckets: int) -> dict[str, object]:
    """Both ways a thousand times: the walk alone, the bare SQL, and the whole trace with every buyer and balance."""
    from labelkit.record import engine as adapter

    chance = random.Random(1)
    measured: dict[str, list[float]] = {}

    def note(name, function, *arguments):
        seconds, gave = timed(function, *arguments)
        measured.setdefault(name, []).append(seconds)
        return gave

    server = where.startswith("postgresql")
    collated = 'AS TEXT) COLLATE "C"' if server else "AS TEXT)"
    forward, back = (bare.replace("AS TEXT)", collated) for bare in (BARE_FORWARD, BARE_BACK))
    sql = {"back": adapter.sa.text(back), "forward": adapter.sa.text(forward)}
    with open_record(where) as book, book.reading() as state:
        lots = sorted(state.lot_codes_taken())
        for n in range(TRACES):
            lot, bucket = chance.choice(lots), f"B{chance.randrange(buckets)}"
            note("back, bare SQL", lambda lot=lot: state.connection.execute(sql["back"], {"lot": lot}).all())
            note("back, walk", lambda lot=lot: state.ancestry(lot))
            note("forward, bare SQL", lambda b=bucket: state.connection.execute(sql["forward"], {"lot": b}).all())
            note("forward, walk", lambda b=bucket: state.descent(b))
            if n < TRACES // 5:
                start = find_lot(state, lot)
                story = note("whole trace, read", state.story, start.lots)
                trace = note("whole trace, reckoned", follow, start, story)
                assert trace.balances and len(trace.went) == JARS // 4
        seconds, _ = timed(state.stock)
    found = {name: spread(times) for name, times in measured.items()}
    return {"milliseconds": found, "stock_of_everything_seconds": f"{seconds:.2f}"}


def size_of(where: str) -> int:
    """Bytes on the disk."""
    if not where.startswith("postgresql"):
        return Path(where).stat().st_size
    from labelkit.record import engine as adapter

    with open_record(where) as book, book._engine.connect() as connection:
        return connection.execute(adapter.sa.text("SELECT pg_database_size(current_database())")).scalar()


def main() -> None:
    """The command line."""
    options = argparse.ArgumentParser(description=__doc__)
    options.add_argument("--share", type=int, default=100, help="per cent of the season")
    options.add_argument("--server", action="store_true", help="PostgreSQL instead of a file")
    options.add_argument("--kills", type=int, default=0)
    options.add_argument("--seconds", type=float, default=1e9, help="stop killing after these")
    given = options.parse_args()
    if given.kills:
        with tempfile.TemporaryDirectory() as folder:
            line = [sys.executable, "-m", "tests.record.killing", "--kills", str(given.kills), "--where", folder]
            line += ["--seconds", str(given.seconds)]
            subprocess.run([*line, "--server"] if given.server else line, check=True)
        return
    buckets = 20_000 * given.share // 100 // PER_LOT * PER_LOT
    with tempfile.TemporaryDirectory() as folder:
        if given.server:
            from tests.record.server import new_database

            where = new_database()
        else:
            where = os.path.join(folder, "season.labelkit")
        report: dict[str, object] = {"engine": "PostgreSQL" if given.server else "SQLite", "buckets": buckets}
        report["jars"] = buckets // PER_LOT * JARS
        report["load"] = load(where, buckets)
        report["megabytes"] = f"{size_of(where) / 1e6:.1f}"
        report |= traces(where, buckets)
        with open_record(where) as book:
            seconds, verdict = timed(verify, book)
        report["verify"] = {"seconds": f"{seconds:.1f}", "clean": verdict.clean}
        report["peak_memory_megabytes"] = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss // 1024
    print(json.dumps(report, indent=2))


if __name__ == "__main__":
    main()
