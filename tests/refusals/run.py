"""Cases of the run room."""

from datetime import date

from labelkit.errors.run import (
    BatchLineEmpty,
    BreakageOfWhat,
    CombFillsTheJars,
    FewerBrokenThanNoted,
    InstrumentFarOff,
    MostIsMissing,
    NothingFilled,
    NothingInPeriod,
    PieceFarFromOthers,
    RestHeavierThanBucket,
    RunTakesTooMuch,
    SoldByWeight,
)
from labelkit.lots.bucket import Bucket
from labelkit.measures import Declared, Mass
from labelkit.run import Filled, bottle

DAY = date(2026, 7, 14)
BUCKET = Bucket("B1", Mass.read("27 kg", "en_US"))
KILO = Mass.read("1 kg", "en_US")


def run(count, **more):
    return lambda: bottle(
        BUCKET, "L26195AXR", DAY, [Filled("kilo", Declared.read("1 kg", "en_US"), count, KILO)], locale="en_US", **more
    )


def refuse(refusal):
    """What the batch sheet refuses needs a record; tests/season/test_batch.py brings it about."""

    def cause():
        raise refusal

    return cause


CASES = [
    (
        InstrumentFarOff,
        refuse(InstrumentFarOff("Thermometer in melting ice", "12 °C", "0 °C")),
        "it showed 12 °C, but should show 0 °C.",
    ),
    (NothingInPeriod, refuse(NothingInPeriod("May 1", "May 2")), "You filled no jar from May 1 to May 2."),
    (SoldByWeight, refuse(SoldByWeight("cut comb", by_weight=True)), "cut comb is sold by weight"),
    (SoldByWeight, refuse(SoldByWeight("one pound", by_weight=False)), "one pound is not sold by weight"),
    (
        CombFillsTheJars,
        refuse(CombFillsTheJars("2 kg", "1.5 kg")),
        "The comb weighs 2 kg. The jars take 1.5 kg in all",
    ),
    (
        PieceFarFromOthers,
        refuse(PieceFarFromOthers("cut comb", "4 g", "400 g")),
        "A piece of cut comb weighs 4 g, but the middle one of the list weighs 400 g.",
    ),
    (BreakageOfWhat, refuse(BreakageOfWhat(0)), "Broken jars belong to one bucket or one lot, but you named none."),
    (
        FewerBrokenThanNoted,
        refuse(FewerBrokenThanNoted("one pound", 1, 5)),
        "You gave 1 broken one pound jars, but the batch sheet has 5 broken or discarded.",
    ),
    (BatchLineEmpty, refuse(BatchLineEmpty("Glass broken", "the size and how many")), "The line “Glass broken”"),
    (RunTakesTooMuch, run(28), "Bucket B1 holds 27 kg (59 lb 8.4 oz)."),
    (
        RunTakesTooMuch,
        run(20, left=Mass.read("8 kg", "en_US")),
        "You entered 20 kg (44 lb 1.5 oz) filled and 8 kg (17 lb 10.2 oz) left:",
    ),
    (
        RestHeavierThanBucket,
        run(20, left=Mass.read("28 kg", "en_US")),
        "Bucket B1 held 27 kg (59 lb 8.4 oz) before the run, but you entered 28 kg (61 lb 11.7 oz) left in it.",
    ),
    (MostIsMissing, run(1, left=Mass.read("1 kg", "en_US")), "25 kg (55 lb 1.8 oz) of that is in no jar"),
    (NothingFilled, run(0), "You filled no jar from bucket B1."),
]
