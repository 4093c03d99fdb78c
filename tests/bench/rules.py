"""How fast the law answers: cold commands, and warm figures, as ratios to an empty command and to one look-up.

Run:  python -m tests.bench.rules
"""

from __future__ import annotations

import subprocess
import sys
import time
from datetime import date

from labelkit.measures import Declared
from labelkit.reading.shares import read_share

DAY = date(2026, 11, 25)
COMMANDS = {
    "--version": ["--version"],
    "reckon net-weight": ["reckon", "net-weight", "--declare", "1 lb", "--market", "us"],
    "reckon letter-height": ["reckon", "letter-height", "--market", "us", "--panel-area", "13 sq in"],
    "reckon origin": ["reckon", "origin", "--market", "eu", "--share", "ES=60", "--share", "AR=40"],
    "rules (all markets)": ["rules"],
}


def cold(arguments: list[str]) -> float:
    """The best of five fresh processes, in seconds."""
    best = 9e9
    for _ in range(5):
        begun = time.perf_counter()
        subprocess.run([sys.executable, "-m", "labelkit", *arguments], check=True, capture_output=True)
        best = min(best, time.perf_counter() - begun)
    return best


def warm(function, times: int = 200) -> float:
    """Seconds for one call once everything is read."""
    function()
    begun = time.perf_counter()
    for _ in range(times):
        function()
    return (time.perf_counter() - begun) / times


def main() -> None:
    """Print both tables."""
    from labelkit.rules import market
    from labelkit.rules.figures import letter_height, net_weight, origin, tolerance

    print("cold start            seconds   × --version")
    base = cold(COMMANDS["--version"])
    for name, arguments in COMMANDS.items():
        taken = cold(arguments)
        print(f"{name:<22}{taken:7.3f}{taken / base:14.1f}")

    us, eu = market("us", DAY), market("eu", DAY)
    panel = letter_height.Panel.of_area(8387)
    shares = [read_share("ES=60", "en_US"), read_share("AR=40", "en_US")]
    calls = {
        "one value": lambda: us.value("smallest letter height of the net quantity", panel_area=8387),
        "net weight": lambda: net_weight.net_quantity(Declared.read("1 lb", "en_US"), us),
        "letter height": lambda: letter_height.required(us, panel=panel),
        "tolerance": lambda: tolerance.of(Declared.read("340 g", "en_US"), eu),
        "origin": lambda: origin.statement(shares, eu),
    }
    print("\nwarm                  ms a call   × one value")
    one = warm(calls["one value"])
    for name, function in calls.items():
        taken = warm(function)
        print(f"{name:<22}{taken * 1000:9.3f}{taken / one:14.1f}")


if __name__ == "__main__":
    main()
