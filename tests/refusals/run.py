"""Cases of the run room."""

from datetime import date

from labelkit.errors.run import NothingFilled, RunTakesTooMuch
from labelkit.lots.bucket import Bucket
from labelkit.measures import Declared, Mass
from labelkit.run import Filled, bottle

DAY = date(2026, 7, 14)
BUCKET = Bucket("B1", Mass.read("27 kg", "en_US"))
KILO = Mass.read("1 kg", "en_US")


def run(count, **more):
    return lambda: bottle(
        BUCKET, "L26195AXR", DAY, [Filled("kilo", Declared.read("1 kg", "en_US"), count, KILO)], **more
    )


CASES = [
    (RunTakesTooMuch, run(28), "holds 27 kg (59 lb 8.4 oz) by the record, but 28 kg"),
    (RunTakesTooMuch, run(20, left=Mass.read("28 kg", "en_US")), "is said to be left in it"),
    (NothingFilled, run(0), "No jar was filled from bucket B1"),
]
