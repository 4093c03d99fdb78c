"""Refusals of the lots room: a weigh-in, a blend or a lot code that cannot be."""

from __future__ import annotations

from labelkit.errors import AskedAbout, Refused
from labelkit.errors.sentence import Sentence


class GrossBelowTare(Refused):
    """A full bucket lighter than the empty one."""

    def __init__(self, bucket: str, gross: str, tare: str) -> None:
        super().__init__(
            what=f"Bucket {bucket}: the gross weight {gross} is not more than the tare {tare}.",
            why="A bucket with honey in it weighs more than the same bucket empty; one of the two readings is wrong.",
            do="Weigh again, or see whether gross and tare were swapped.",
        )


class WeightMissing(Refused):
    """Neither a net weight nor a gross and a tare."""

    def __init__(self, bucket: str, given: str) -> None:
        super().__init__(
            what=f"Bucket {bucket}: {given}.",
            why="The net weight is what everything after it is reckoned from.",
            do="Give either the net weight, or both the gross weight and the tare, but not all three.",
        )


class ReceiptUnclear(Refused):
    """Bought-in honey without a supplier, a lot of theirs, or a whole origin."""

    def __init__(self, bucket: str, reason: str, field: str) -> None:
        super().__init__(
            what=f"Bucket {bucket}: {reason}.",
            why="A recall reaches one step back through the supplier and their lot, and a label's origin adds up to 100 %.",
            do="Copy the supplier, the lot and the origin from the delivery note. If it is silent, ask the supplier.",
        )
        self.field = field


class ContainerOverfilled(Refused):
    """More honey than the container can hold at honey's greatest density."""

    def __init__(self, bucket: str, net: str, container: str, most: str, meant: str) -> None:
        super().__init__(
            what=f"Bucket {bucket}: {net} of honey does not fit into a container of {container}; brimful holds about {most}."
            + (f" Was {meant} meant?" if meant else ""),
            why="Honey is never denser than about 1.44 kg per litre, so the weight, the unit or the container is wrong.",
            do="Check whether the tare was taken off, and whether pounds and kilograms were mixed up.",
        )


class BucketImplausible(AskedAbout):
    """More honey than any pail or drum holds, with no container named."""

    def __init__(self, bucket: str, net: str, most: str, meant: str) -> None:
        super().__init__(
            what=f"Bucket {bucket}: {net} of honey is more than a bucket can hold."
            + (f" Was {meant} meant?" if meant else ""),
            why=f"As a rule {most}. A slip in the weight would plan jars for honey that is not there.",
            do="Check the decimal mark, the unit and the tare. If it stands in a larger tank, give what the tank can hold as its "
            "container; or say why it is right (--because WORDS).",
        )


class MoistureUnlikely(Refused):
    """A moisture that honey does not have; often solids or Brix typed in its place."""

    def __init__(self, bucket: str, given: str, guess: str) -> None:
        super().__init__(
            what=f"Bucket {bucket}: moisture {given} % is not a moisture of honey.",
            why=f"Honey lies between about 13 and 25 % water; {guess}",
            do="Give the moisture in percent, or reckon it first: labelkit reckon moisture --brix … or --refractive-index ….",
        )


class HoldBackTooMuch(Refused):
    """More held back than the bucket holds."""

    def __init__(self, bucket: str, held: str, net: str) -> None:
        super().__init__(
            what=f"Bucket {bucket}: {held} is to stay in the bucket, but it holds only {net}.",
            why="What stays in the bucket cannot be more than what is in it.",
            do="Lower hold_back, or weigh the bucket again.",
        )


class BucketUnknown(Refused):
    """A bucket nobody weighed in."""

    def __init__(self, bucket: str, known: str) -> None:
        super().__init__(
            what=f"There is no bucket {bucket} in this season.",
            why="Honey without a weigh-in cannot be traced to its yard and hives.",
            do=f"Weigh it in first (labelkit weigh --bucket {bucket} …){known}.",
        )


class BucketTwice(Refused):
    """The same bucket id a second time."""

    def __init__(self, bucket: str, where: str) -> None:
        super().__init__(
            what=f"Bucket {bucket} is already weighed in{where}.",
            why="Two buckets under one name could never be told apart in a recall.",
            do="Give the new bucket its own name. Once a bucket is empty its name can come again: bottle, blend or take out "
            "the rest first. Only cappings honey of the same harvest is added to it, with “drain”.",
        )


class DrainUnlikely(AskedAbout):
    """Cappings honey for a bucket whose own honey is long past or gone."""

    def __init__(self, bucket: str, reason: str) -> None:
        super().__init__(
            what=f"Cappings honey for bucket {bucket}: {reason}.",
            why="Cappings drip for days. Honey of another harvest under this name makes its trace and recall false.",
            do="Weigh it in as honey of its own: labelkit weigh --bucket ID. An empty bucket's name can come again. "
            f"If it is cappings honey of {bucket}, say why.",
        )
        self.field = "because"


class BucketTooEmpty(Refused):
    """More to be taken than the bucket holds."""

    def __init__(self, bucket: str, wanted: str, holds: str, short: str) -> None:
        super().__init__(
            what=Sentence(
                "{wanted} cannot be taken from bucket {bucket}: it holds {holds}, which is {short} too little.",
                wanted=wanted,
                bucket=bucket,
                holds=holds,
                short=short,
            ),
            why="A jar that came from nowhere would break the trace; nothing was changed.",
            do="Take less, weigh the bucket again, or enter the honey that was added to it first.",
        )


class BlendUnclear(Refused):
    """A blend without two parents, or into one of its own parts."""

    def __init__(self, into: str, reason: str) -> None:
        super().__init__(
            what=f"Blend {into}: {reason}.",
            why="A blend keeps every parent, so that a recall reaches all the hives in it and no others.",
            do="Name at least two different buckets, how much of each, and a new name for the blend.",
        )


class SeedUnclear(Refused):
    """Seed honey of a lot without its jars, or of a bucket with jars."""

    def __init__(self, name: str, what: str) -> None:
        of_lot = what == "lot"
        super().__init__(
            what=f"{name} is a {'lot of jars' if of_lot else 'bucket'}: say {'which jars were opened' if of_lot else 'no jars'}.",
            why="Jars that were opened are no longer in stock, and how they were filled says what was in them.",
            do=f'Name the jars alone: --seed {name} --jar "one pound=2".'
            if of_lot
            else f'Say how much of the bucket went in: --seed "{name}=3 lb".',
        )


class SeedFromItself(Refused):
    """Seed that came from the very bucket it is to go into."""

    def __init__(self, bucket: str, seed: str) -> None:
        super().__init__(
            what=f"Bucket {seed} holds honey of bucket {bucket}, so it cannot be its seed.",
            why="A bucket would be its own parent, and a trace back would go round in a circle.",
            do=f"Put the two together under a new name (labelkit blend --into NEW-NAME --from {bucket} --from {seed}).",
        )


class NothingMeasured(Refused):
    """A measuring without a weight and without a moisture."""

    def __init__(self, bucket: str) -> None:
        super().__init__(
            what=f"Bucket {bucket}: neither a weight nor a moisture is given.",
            why="A measuring without a figure would say that somebody looked, and not what was found.",
            do="Give what the scale or the refractometer showed.",
        )


class WeighedFarFromRecord(AskedAbout):
    """A bucket weighed again, far from what the record says it holds."""

    def __init__(self, bucket: str, found: str, held: str) -> None:
        super().__init__(
            what=f"Bucket {bucket} weighs {found} now; by the record it holds {held}.",
            why="So great a difference is mostly a slip, a lid or tare on the scale, or a step that was not booked.",
            do="Weigh it again and look for a run, a drain or a spill that was not booked. If it is right, say why.",
        )
        self.field = "net"


class SkimUnclear(Refused):
    """A skimming with no weight, or with two that may contradict each other."""

    def __init__(self, bucket: str) -> None:
        super().__init__(
            what=f"Bucket {bucket}: give either the weight of what was skimmed off or what the bucket weighs now.",
            why="The foam and wax leave the bucket by name; otherwise they would be missing later without one.",
            do="Weigh the foam and wax, or the bucket afterwards, and give one of the two.",
        )


class WeighsMoreAfter(Refused):
    """A bucket heavier after something was taken out of it."""

    def __init__(self, bucket: str, before: str, after: str) -> None:
        super().__init__(
            what=Sentence(
                "Bucket {bucket} would hold {after} afterwards and {before} before.",
                bucket=bucket,
                after=after,
                before=before,
            ),
            why="Skimming and drying only take away; one of the two weights is wrong.",
            do="Weigh the bucket again, and book that first if it holds more than the record says.",
        )


class DryingUnclear(Refused):
    """A drying of which neither the weight nor both moistures are known."""

    def __init__(self, bucket: str) -> None:
        super().__init__(
            what=f"Bucket {bucket}: it cannot be said how much water went.",
            why="The water follows from the weight afterwards, or from the moisture before and after.",
            do="Weigh the bucket afterwards, or measure its moisture before and after.",
        )


class DryingDoesNotBalance(AskedAbout):
    """Weights and moistures of a drying that contradict each other."""

    def __init__(self, bucket: str, moisture: str, expected: str, after: str) -> None:
        super().__init__(
            what=f"Bucket {bucket}: dried to {moisture} % it would weigh {expected}, and it weighs {after}.",
            why="Drying takes water only, so the solids before and after must be the same.",
            do="Measure the moisture and weigh the bucket again. If both are right, say what else left it.",
        )
        self.field = "after"


class BuyerNotNamed(Refused):
    """A bucket sold to nobody by name."""

    def __init__(self, bucket: str) -> None:
        super().__init__(
            what=f"Bucket {bucket} is sold, and the buyer has no name.",
            why="Whoever buys a bucket fills jars from it, and a recall must reach those.",
            do="Give the buyer's name.",
        )
        self.field = "customer"


class WhyNotSaid(Refused):
    """Honey discarded without a reason."""

    def __init__(self, bucket: str) -> None:
        super().__init__(
            what=f"Bucket {bucket}: honey that is discarded needs a reason.",
            why="A year later the reason tells whether other honey of the day was in danger too.",
            do="Say why in a few words, for example “spilled” or “fermented”.",
        )
        self.field = "because"


class LotCodeWrong(Refused):
    """Something that is not a lot code of ours, or was mistyped."""

    def __init__(self, code: str, reason: str, near: str) -> None:
        super().__init__(
            what=f"“{code}” is not a valid lot code: {reason}.",
            why="The last character is a check on all the others, so that a mistyped code never points at another lot.",
            do=f"Read the code from the jar again{near}.",
        )


class LotCodesUsedUp(Refused):
    """More lots on one day from one bucket than codes."""

    def __init__(self, day: str, bucket: str) -> None:
        super().__init__(
            what=f"There is no free lot code left for bucket {bucket} on {day}.",
            why="A lot code is never used twice.",
            do="Book the rest of the runs on the next day.",
        )


class LotDateOutOfRange(Refused):
    """A day of bottling that a lot code cannot say."""

    def __init__(self, day: str) -> None:
        super().__init__(
            what=f"A lot code has two digits for the year and tells the years 2000 to 2099; {day} lies outside them.",
            why="The code would be read back as another day, and a recall would go after the wrong jars.",
            do="Look at the day again: it is the day the jars were filled, as year-month-day.",
        )


class FileRowRefused(Refused):
    """A line of a spreadsheet file, or a cell of a workbook, that cannot be understood; ``place`` names it."""

    def __init__(self, file: str, place: str, reason: str) -> None:
        super().__init__(
            what=f"{file}, {place}: {reason}.",
            why="A weigh-in that is half understood is worse than none. Nothing was saved.",
            do="Correct it in the spreadsheet, save the file again and repeat the command.",
        )


class FileColumnsUnclear(Refused):
    """A spreadsheet file whose heading line does not name the columns needed."""

    def __init__(self, file: str, found: str, needed: str) -> None:
        super().__init__(
            what=f"{file}: the heading line names {found}; {needed}.",
            why="The heading says which column is which; without it a tare could be read as a gross weight.",
            do="Name the columns bucket, gross, tare (or net), and as wished harvested, yard, hives, plant, moisture.",
        )


class SeasonFileUnclear(Refused):
    """A TOML file that is not a season file."""

    def __init__(self, file: str, reason: str, do: str) -> None:
        super().__init__(
            what=f"{file}: {reason}.",
            why="A key that is not understood may be the very one that mattered, so none is passed over.",
            do=do,
        )
