"""Writers killed with signal 9 at random moments, again and again, and the record looked at after each.

    python -m tests.record.killing --kills 300 --where FOLDER [--server]

Each writer is a process of its own that books steps of three events and says so only after the commit. After every kill
the record must hold every step that was said, whole, and at most one more; a full verify follows at every change of record.
Prints one JSON document.
"""

from __future__ import annotations

import argparse
import json
import os
import random
import signal
import time
from datetime import timedelta
from pathlib import Path

from labelkit.lots.bucket import Blend, Part
from labelkit.record import open_record
from labelkit.record.verify import verify
from tests.record.season import AT, LATER, kg, weigh

PER_BOOK = 40
STEP = 3


def write_steps(where: str, name: str, said: int) -> None:
    """Book steps until killed; after each commit say which event was the last."""
    with open_record(where, create=True) as record:
        os.write(said, b"open\n")
        for n in range(10_000):
            one, two = f"{name}-{n}a", f"{name}-{n}b"
            with record.work(who=name, at=AT + timedelta(minutes=n % 9), key=f"{name}-{n}") as work:
                work.add_all((weigh(one, "20"), weigh(two, "10")))
                work.add(Blend(f"{name}-{n}", LATER, (Part(one, kg("5")), Part(two, kg("5")))))
                last = work.commit()[-1].seq
            os.write(said, f"{last}\n".encode())


def kill_one(where: str, name: str, chance: random.Random) -> list[int]:
    """Start a writer, kill it at a random moment, give back what it had said."""
    reads, writes = os.pipe()
    child = os.fork()
    if child == 0:
        os.close(reads)
        try:
            write_steps(where, name, writes)
        finally:
            os._exit(1)
    os.close(writes)
    with os.fdopen(reads, "rb", buffering=0) as heard:
        said = b""
        # Some die while opening or making the record, most a moment after some step: by steps, not by the clock, so that
        # a busy machine kills at the same places.
        for _ in range(chance.choice((0, 1, 1, 2, 2, 3, 4, 5))):
            said += heard.readline()
        time.sleep(chance.random() * 0.004)
        os.kill(child, signal.SIGKILL)
        os.waitpid(child, 0)
        said += heard.read()
    return [int(line) for line in said.decode().splitlines() if line.isdigit()]


def events_in(where: str) -> int:
    """How many events stand, each checked against its hash as it is read."""
    with open_record(where, create=True) as record:
        seqs = [(each.seq, each.part) for each in record.events()]
    assert [seq for seq, _ in seqs] == list(range(1, len(seqs) + 1)), "a gap"
    assert all(part == (seq - 1) % STEP for seq, part in seqs), "a step in pieces"
    return len(seqs)


def run(kills: int, places, seed: int = 1, seconds: float = 1e9) -> dict:
    """Kill so many writers, or as many as fit, taking a new place for the record every few kills; what was counted."""
    until = time.monotonic() + seconds
    chance = random.Random(seed)
    counted = {"kills": 0, "books": 0, "steps_said": 0, "steps_found": 0, "said_but_lost": 0, "faults": []}
    while counted["kills"] < kills and time.monotonic() < until:
        where, before, said_here = next(places), 0, 0
        counted["books"] += 1
        for n in range(min(PER_BOOK, kills - counted["kills"])):
            said = kill_one(where, f"w{n}", chance)
            counted["kills"] += 1
            now = events_in(where)
            assert now % STEP == 0, f"half a step: {now} events"
            if said:
                said_here += len(said)
                counted["said_but_lost"] += max(0, said[-1] - now) // STEP
            assert now - before - len(said) * STEP in (0, STEP), "more than the one step nobody heard of"
            before = now
        with open_record(where, create=True) as record:
            counted["faults"] += [fault.found for fault in verify(record).faults]
        counted["steps_said"] += said_here
        counted["steps_found"] += before // STEP
    return counted


def file_places(folder: Path):
    """One new file after another."""
    for n in range(100_000):
        yield str(folder / f"season{n}.labelkit")


def server_places():
    """One new database after another."""
    from tests.record.server import new_database

    while True:
        yield new_database()


def main() -> None:
    """The command line."""
    options = argparse.ArgumentParser()
    options.add_argument("--kills", type=int, default=300)
    options.add_argument("--where", type=Path, required=True)
    options.add_argument("--server", action="store_true")
    options.add_argument("--seed", type=int, default=1)
    options.add_argument("--seconds", type=float, default=1e9, help="stop after these, however many were killed")
    given = options.parse_args()
    places = server_places() if given.server else file_places(given.where)
    print(json.dumps(run(given.kills, places, given.seed, given.seconds)))


if __name__ == "__main__":
    main()
