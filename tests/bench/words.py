"""How fast words and labels are read: `python -m tests.bench.words`.

Prints each measure beside its goal as a ratio (below 1 is within the goal), and the cost of twice the text over once.
Cold means a new process, as a producer runs it.
"""

from __future__ import annotations

import random
import subprocess
import sys
import tempfile
import time
from datetime import date
from pathlib import Path

from labelkit.reading.label_file import read_label
from labelkit.rules import market
from labelkit.rules.checking import check
from labelkit.rules.wording import words

DAY = date(2026, 11, 25)
LABEL = """market = ["us", "us-va"]
name = "Clover Honey"
floral_source = "clover"
declares = "1 lb"
net_statement = "Net Wt 16 oz (1 lb) 453 g"
lines = ["Raw", "From our own hives", "A sweet treat for cold mornings"]
ingredients = ["honey"]
grade = "U.S. Grade A"
lot = "L26195K"
best_before = 2028-06-30
origin = [{ country = "US", share = 100 }]
[maker]
name = "Sunny Ridge Apiary"
street = "12 Meadow Lane"
city = "Elmvale"
region = "VA"
postcode = "20000"
[panel]
diameter = "2.5 in"
height = "3.5 in"
[situation]
home_kitchen = true
own_hives = true
sells_to = ["stall", "shop"]
gallons_per_year = 90
food_sales_per_year = "18000 USD"
employees = 1
units_per_year = 2000
"""
_PROSE = """Our bees fly over clover and orange blossom. We strain the honey by hand, never heat it above forty degrees, and
fill it into glass jars. A sweet treat for cold mornings; it may help with a sore throat, some say. Rich in antioxidants and
vitamins. Local raw honey from our own hives in Ohio. Store in a cool, dry place. Nothing added, nothing taken away."""
PROSE = _PROSE.split()
WORDS = 10_000


def text(count: int) -> str:
    """So many words in sentences, always the same."""
    chance = random.Random(1)
    return " ".join(chance.choice(PROSE) for _ in range(count))


def best(of: int, work) -> float:
    """Seconds of the quickest of several runs."""
    times = []
    for _ in range(of):
        begin = time.perf_counter()
        work()
        times.append(time.perf_counter() - begin)
    return min(times)


def cold(*arguments: str) -> float:
    """Seconds of a new process of labelkit."""
    return best(
        3,
        lambda: subprocess.run(
            [sys.executable, "-m", "labelkit", "--day", "2026-11-25", *arguments], capture_output=True, check=False
        ),
    )


def show(what: str, seconds: float, goal: float) -> None:
    print(f"{what:<44} {seconds * 1000:8.1f} ms   {seconds / goal:5.2f} of the goal of {goal * 1000:.0f} ms")


def main() -> None:
    """Measure and print."""
    for code in ("us", "eu-de", "eu"):
        place = market(code, DAY)
        begin = time.perf_counter()
        words("", place)
        compiled = time.perf_counter() - begin
        once, twice = text(WORDS), text(2 * WORDS)
        seconds = best(3, lambda once=once, place=place: words(once, place))
        show(f"words, {WORDS} words, {code}", seconds, 0.5)
        doubled = best(3, lambda twice=twice, place=place: words(twice, place))
        print(f"{'':<44} {compiled * 1000:8.1f} ms   to read the packs and compile them, once")
        print(f"{'':<44} {doubled / seconds:8.2f}      times as long for twice the text")
    label = read_label(LABEL)
    places = [market(code, DAY) for code in label.markets]
    check(label, places)
    show("check, warm", best(20, lambda: check(label, places)), 0.005)
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "LABEL.toml"
        path.write_text(LABEL, encoding="utf-8")
        bare = cold("--version")
        seconds = cold("check", str(path))
        show("check, cold", seconds, 0.4)
        print(f"{'':<44} {bare * 1000:8.1f} ms   of these for labelkit --version")
        show("words, cold", cold("words", "Raw clover honey", "--market", "us"), 0.4)


if __name__ == "__main__":
    main()
