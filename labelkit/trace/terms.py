"""The words a trace is told in."""

from __future__ import annotations

from typing import TYPE_CHECKING

from labelkit.lots.movement import Account

if TYPE_CHECKING:
    from labelkit.measures.wording import Wording
    from labelkit.trace.follow import Trace

WHERE = {
    Account.JARS: "in stock",
    Account.STALL: "at the stall",
    Account.HELD: "on hold",
    Account.SOLD: "sold",
    Account.GIVEN: "given",
    Account.SAMPLE: "samples",
    Account.BROKEN: "broken",
    Account.DISCARDED: "discarded",
    Account.UNEXPLAINED: "missing",
}
# What became of honey that left its bucket without a jar.
BULK = {
    Account.SOLD: "sold",
    Account.GIVEN: "given",
    Account.FED: "fed to bees",
    Account.DISCARDED: "discarded",
    Account.WATER: "water",
    Account.REWEIGHED: "weighed less again",
}
# How jars came to a place, where the place alone does not say it.
CAME = {
    ("made", Account.JARS): "made",
    ("return", Account.JARS): "came back",
    ("return", Account.HELD): "came back",
    ("relabel", Account.JARS): "relabelled",
    ("unload", Account.JARS): "back from the stall",
    ("release", Account.JARS): "released",
    ("hold", Account.HELD): "set apart",
    ("take-out", Account.FED): "fed to bees",
    ("load", Account.STALL): "taken to the stall",
}
ASKED = {
    "lot": "Lot",
    "bucket": "Bucket",
    "yard": "Yard",
    "hive": "Hive",
    "harvested": "Harvest of",
    "supplier": "Supplier",
    "customer": "Customer",
    "place": "Sold at",
}


def asked(trace: Trace, words: Wording) -> str:
    """What a trace begins at: “Lot L26195AXR”."""
    start = trace.start
    return f"{words(ASKED[start.what]) if start.what in ASKED else start.what} {start.name}"
