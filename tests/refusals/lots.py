"""Cases of the lots room."""

from dataclasses import replace
from datetime import date
from decimal import Decimal

from labelkit.errors.lots import (
    BlendUnclear,
    BucketImplausible,
    BucketTooEmpty,
    BucketTwice,
    BucketUnknown,
    BuyerNotNamed,
    ContainerOverfilled,
    DrainUnlikely,
    DryingDoesNotBalance,
    DryingUnclear,
    FileColumnsUnclear,
    FileRowRefused,
    GrossBelowTare,
    HoldBackTooMuch,
    LotCodesUsedUp,
    LotCodeWrong,
    LotDateOutOfRange,
    MoistureUnlikely,
    NothingMeasured,
    ReceiptUnclear,
    SeasonFileUnclear,
    SeedFromItself,
    SeedUnclear,
    SkimUnclear,
    WeighedFarFromRecord,
    WeighsMoreAfter,
    WeightMissing,
    WhyNotSaid,
)
from labelkit.lots.bucket import Bucket, Part, check_blend
from labelkit.lots.code import lot_code, read_lot_code
from labelkit.lots.intake import Intake, Receipt, received, weigh_in
from labelkit.lots.plausible import check_plausible
from labelkit.lots.received import OriginShare
from labelkit.measures import Mass
from labelkit.reading.entry import Entry, read_intake
from labelkit.reading.season_file import read_season
from labelkit.reading.table_file import read_table
from labelkit.reading.tables import csv_table

DAY = date(2026, 7, 14)
US_60 = OriginShare("US", Decimal(60))


class EveryCode:
    """As if every code had been given out already."""

    def __contains__(self, code):
        return True


def weigh(**fields):
    return lambda: weigh_in(read_intake(Entry("B1", **fields), "en_US"), DAY, locale="en_US")


def receive(**said):
    bought = Receipt(Intake("R1", net=Mass(10**7)), "Brook apiary", "K7", (OriginShare("US", Decimal(100)),))
    return lambda: received(replace(bought, **said), DAY, locale="en_US")


def season(text):
    return lambda: read_season(text, "my.toml", DAY)


def table(text):
    return lambda: read_table(csv_table(text, "buckets.csv"), DAY, "en_US")


def say(refusal):
    def cause():
        raise refusal

    return cause


BUCKET = '[[bucket]]\nid = "B1"\nnet = "20 kg"\n'

CASES = [
    (
        GrossBelowTare,
        weigh(gross="1 kg", tare="1.1 kg"),
        "the gross weight 1 kg (2 lb 3.3 oz) is not more than the tare",
    ),
    (GrossBelowTare, weigh(gross="1.1 kg", tare="1.1 kg"), "swapped"),
    (WeightMissing, weigh(gross="28.4 kg"), "only gross is given"),
    (WeightMissing, weigh(net="27 kg", gross="28.4 kg", tare="1.1 kg"), "net, gross, tare are all given"),
    (WeightMissing, weigh(), "no weight is given"),
    (WeightMissing, lambda: weigh_in(read_intake(Entry(" ", net="1 kg"), "en_US"), DAY, locale="en_US"), "has no name"),
    (ReceiptUnclear, receive(supplier=" "), "the supplier is not given"),
    (ReceiptUnclear, receive(their_lot=""), "the supplier's lot is not given"),
    (ReceiptUnclear, receive(origin=(US_60,)), "the origin shares add up to 60 % and not to 100 %"),
    (ReceiptUnclear, receive(origin=(US_60, US_60)), "a country of origin is named twice"),
    (ReceiptUnclear, receive(states=("tasty",)), "“tasty” is none of raw"),
    (
        ContainerOverfilled,
        weigh(net="90 lb", container="5 gal"),
        "40.823 kg (90 lb) of honey does not fit in a container of 18.9 l (5.0 US gal).",
    ),
    (
        BucketImplausible,
        lambda: check_plausible(
            weigh_in(read_intake(Entry("B1", net="1250 kg"), "en_US"), DAY, locale="en_US"), "en_US"
        ),
        "Did you mean 275.6 lb (125 kg)?",
    ),
    (MoistureUnlikely, weigh(net="20 kg", moisture="82"), "looks like the solids"),
    (MoistureUnlikely, weigh(net="20 kg", moisture="0.176"), "looks like a fraction"),
    (MoistureUnlikely, weigh(net="20 kg", moisture="55"), "belongs to something else"),
    (HoldBackTooMuch, season(BUCKET + 'hold_back = "21 kg"\n'), "21 kg"),
    (BucketTwice, season(BUCKET + BUCKET), "further up in my.toml"),
    (BucketUnknown, say(BucketUnknown("B9", "; known: B1, B2")), "labelkit weigh --bucket B9"),
    (
        BucketTooEmpty,
        lambda: Bucket("B1", Mass.read("1 kg", "en_US")).without(Mass.read("2 kg", "en_US")),
        "1 kg (2 lb 3.3 oz) too little",
    ),
    (
        DrainUnlikely,
        say(DrainUnlikely("B1", "the bucket is empty")),
        "Cappings honey for bucket B1: the bucket is empty",
    ),
    (BlendUnclear, lambda: check_blend("M1", (Part("B1", Mass(1)),)), "names only B1"),
    (BlendUnclear, lambda: check_blend("M1", (Part("B1", Mass(1)), Part("B2", Mass(1)), Part("B1", Mass(1)))), "twice"),
    (BlendUnclear, lambda: check_blend("B1", (Part("B1", Mass(1)), Part("B2", Mass(1)))), "own parts"),
    (SeedUnclear, say(SeedUnclear("L26201AXN", "lot")), "--jar"),
    (SeedUnclear, say(SeedUnclear("S1", "bucket")), "S1=3 lb"),
    (SeedFromItself, say(SeedFromItself("B1", "M1")), "blend --into"),
    (NothingMeasured, say(NothingMeasured("B1")), "neither a weight nor a moisture"),
    (WeighedFarFromRecord, say(WeighedFarFromRecord("B1", "10 kg", "20 kg")), "weighs 10 kg now"),
    (SkimUnclear, say(SkimUnclear("B1")), "Bucket B1:"),
    (
        WeighsMoreAfter,
        say(WeighsMoreAfter("B1", "20 kg", "21 kg")),
        "Bucket B1 would hold 21 kg after and 20 kg before.",
    ),
    (DryingUnclear, say(DryingUnclear("B1")), "labelkit cannot calculate how much water left it."),
    (DryingDoesNotBalance, say(DryingDoesNotBalance("B1", "17.9", "19.6 kg", "18 kg")), "it weighs 18 kg"),
    (BuyerNotNamed, say(BuyerNotNamed("B1")), "no name"),
    (WhyNotSaid, say(WhyNotSaid("B1")), "give a reason for the honey you discard."),
    (LotCodeWrong, lambda: read_lot_code("26195AXR"), "does not begin with L"),
    (LotCodeWrong, lambda: read_lot_code("L2619OAXR"), "O is never used, perhaps 0"),
    (LotCodeWrong, lambda: read_lot_code("L26195AX"), "8 characters instead of 9"),
    (LotCodeWrong, lambda: read_lot_code("L26366AXR"), "not a year and a day of that year"),
    (LotCodeWrong, lambda: read_lot_code("L26159AXR", near=["L26195AXR"]), "differ by one slip: L26195AXR"),
    (LotDateOutOfRange, lambda: lot_code(date(1926, 7, 14), "B1"), "1926-07-14 is outside that range."),
    (LotCodesUsedUp, lambda: lot_code(DAY, "B1", EveryCode()), "no free lot code"),
    (
        FileRowRefused,
        table("bucket,net\nB1,20 kg\n,5 kg\n"),
        "buckets.csv, line 3: there are figures but no bucket name",
    ),
    (FileRowRefused, table("bucket,gross,tare\nB1,1 kg,2 kg\n"), "buckets.csv, line 2: Bucket B1: the gross weight"),
    (FileRowRefused, table("bucket,net\nB1,20 kg\nTotal,21 kg\n"), "21 kg is not the sum of the rows above, 20 kg"),
    (FileRowRefused, table("bucket,net\nB1,20 kg\nB1,20 kg\n"), "line 3: bucket B1 stands twice"),
    (
        FileRowRefused,
        table("bucket,net\nB1,20\n"),
        "“20” has no unit (Write the unit after the number, for example “28.4 kg”).",
    ),
    (FileRowRefused, table("bucket,net\nB1,20 kg\nTotal,much\n"), "line 3: the total cannot be read"),
    (FileColumnsUnclear, table("name,weight\nB1,20 kg\n"), "none of them is the bucket"),
    (FileColumnsUnclear, table("bucket,gross\nB1,20 kg\n"), "neither a net column nor both gross and tare"),
    (FileColumnsUnclear, table("\n\n"), "the file is empty"),
    (SeasonFileUnclear, season("market = [\n"), "this is not TOML"),
    (SeasonFileUnclear, season(BUCKET + "moister = 17\n"), "line 4: “moister” is not a key of bucket B1"),
    (SeasonFileUnclear, season("[[bucket]]\nnet = '1 kg'\n"), "a bucket has no id"),
    (SeasonFileUnclear, season("bucket = 3\n"), "“bucket” is not a list of tables"),
    (
        SeasonFileUnclear,
        season('[[jar]]\nid = "a"\ndeclares = "1 lb"\nin_stock = -1\n'),
        "line 4: in_stock of jar a is “-1”",
    ),
    (SeasonFileUnclear, season('[[jar]]\nid = "a"\n'), "jar a has no declares"),
    (SeasonFileUnclear, season("market = 5\n"), "line 1: market is “5”"),
    (SeasonFileUnclear, season("currency = 5\n"), "line 1: currency is “5”"),
    (SeasonFileUnclear, season("day = 5\n"), "line 1: day is “5”"),
    (SeasonFileUnclear, season("plan = 5\n"), "line 1: plan is “5”"),
    (SeasonFileUnclear, season(BUCKET + "drained = 5\n"), "“drained” of bucket B1 is “5”"),
    (
        SeasonFileUnclear,
        season('[[jar]]\nid = "a"\ndeclares = "1 lb"\nprice = "-12.00"\n'),
        "line 4: price of jar a is -$12.00, less than nothing",
    ),
    (SeasonFileUnclear, season('[[jar]]\nid="a"\ndeclares="1 lb"\n[[jar]]\nid="a"\ndeclares="2 lb"\n'), "stands twice"),
]
