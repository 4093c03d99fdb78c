"""Refusals of the lots room: a weigh-in, a blend or a lot code that cannot be."""

from __future__ import annotations

from labelkit.errors import AskedAbout, Refused
from labelkit.errors.sentence import Sentence


class GrossBelowTare(Refused):
    """A full bucket lighter than the empty one."""

    def __init__(self, bucket: str, gross: str, tare: str) -> None:
        super().__init__(
            what=Sentence(
                "Bucket {bucket}: the gross weight {gross} is not more than the tare {tare}.",
                bucket=bucket,
                gross=gross,
                tare=tare,
            ),
            why="A bucket with honey weighs more than the empty bucket. One of the two weights is wrong.",
            do="Weigh again, or check whether you swapped gross and tare.",
        )


class WeightMissing(Refused):
    """Neither a net weight nor a gross and a tare."""

    def __init__(self, bucket: str, given: str) -> None:
        super().__init__(
            what=Sentence("Bucket {bucket}: {given}.", bucket=bucket, given=given),
            why="Every later weight is calculated from the net weight.",
            do="Give either the net weight, or both the gross weight and the tare. Do not give all three.",
        )


class ReceiptUnclear(Refused):
    """Bought-in honey without a supplier, a lot of theirs, or a whole origin."""

    def __init__(self, bucket: str, reason: str, field: str) -> None:
        super().__init__(
            what=Sentence("Bucket {bucket}: {reason}.", bucket=bucket, reason=reason),
            why="A recall needs the supplier and their lot. The label needs an origin that adds up to 100%.",
            do="Copy the supplier, the lot and the origin from the delivery note. If they are missing, ask the supplier.",
        )
        self.field = field


class ContainerOverfilled(Refused):
    """More honey than the container can hold at honey's greatest density."""

    def __init__(self, bucket: str, net: str, container: str, most: str, meant: str) -> None:
        super().__init__(
            what=Sentence(
                "Bucket {bucket}: {net} of honey does not fit in a container of {container}. It holds at most {most}. Did you mean {meant}?",
                bucket=bucket,
                net=net,
                container=container,
                most=most,
                meant=meant,
            )
            if meant
            else Sentence(
                "Bucket {bucket}: {net} of honey does not fit in a container of {container}. It holds at most {most}.",
                bucket=bucket,
                net=net,
                container=container,
                most=most,
            ),
            why="Honey weighs at most about 1.44 kg per litre. The weight, the unit or the container is wrong.",
            do="Check whether you subtracted the tare, and whether you mixed up pounds and kilograms.",
        )


class BucketImplausible(AskedAbout):
    """More honey than any pail or drum holds, with no container named."""

    def __init__(self, bucket: str, net: str, most: str, meant: str) -> None:
        super().__init__(
            what=Sentence(
                "Bucket {bucket}: {net} of honey is more than a bucket can hold. Did you mean {meant}?",
                bucket=bucket,
                net=net,
                meant=meant,
            )
            if meant
            else Sentence("Bucket {bucket}: {net} of honey is more than a bucket can hold.", bucket=bucket, net=net),
            why=Sentence("Usually {most}. A wrong weight would plan jars for honey you do not have.", most=most),
            do="Check the decimal mark, the unit and the tare. For a larger tank, give its size as the container. If the weight is right, say why (--because WORDS).",
        )


class MoistureUnlikely(Refused):
    """A moisture that honey does not have; often solids or Brix typed in its place."""

    def __init__(self, bucket: str, given: str, guess: str) -> None:
        super().__init__(
            what=Sentence("Bucket {bucket}: {given}% is not a moisture of honey.", bucket=bucket, given=given),
            why=Sentence("Honey has about 13 to 25% water. {guess}", guess=guess),
            do="Give the moisture in percent. To calculate it: labelkit reckon moisture --brix 81.2",
        )


class HoldBackTooMuch(Refused):
    """More held back than the bucket holds."""

    def __init__(self, bucket: str, held: str, net: str) -> None:
        super().__init__(
            what=Sentence(
                "Bucket {bucket}: {held} should stay in the bucket, but it holds only {net}.",
                bucket=bucket,
                held=held,
                net=net,
            ),
            why="You cannot keep back more than the bucket holds.",
            do="Lower hold_back, or weigh the bucket again.",
        )


class BucketUnknown(Refused):
    """A bucket nobody weighed in."""

    def __init__(self, bucket: str, known: str) -> None:
        super().__init__(
            what=Sentence("There is no bucket {bucket} in this season.", bucket=bucket),
            why="Honey that was not weighed in cannot be traced to its yard and hives.",
            do=Sentence(
                "Weigh it in first (labelkit weigh --bucket {bucket} --net WEIGHT){known}.", bucket=bucket, known=known
            ),
        )


class BucketTwice(Refused):
    """The same bucket id a second time."""

    def __init__(self, bucket: str, where: str) -> None:
        super().__init__(
            what=Sentence("Bucket {bucket} is already weighed in{where}.", bucket=bucket, where=where),
            why="A recall could not tell two buckets with the same name apart.",
            do="Give the new bucket its own name. A name is free again once its bucket is empty. Only cappings honey of the same harvest goes into the same bucket.",
        )


class DrainUnlikely(AskedAbout):
    """Cappings honey for a bucket whose own honey is long past or gone."""

    def __init__(self, bucket: str, reason: str) -> None:
        super().__init__(
            what=Sentence("Cappings honey for bucket {bucket}: {reason}.", bucket=bucket, reason=reason),
            why="Honey of another harvest under this name makes its trace and recall wrong.",
            do=Sentence(
                "Weigh it in as a new bucket: labelkit weigh --bucket ID. If it is cappings honey of {bucket}, say why.",
                bucket=bucket,
            ),
        )
        self.field = "because"


class BucketTooEmpty(Refused):
    """More to be taken than the bucket holds."""

    def __init__(self, bucket: str, wanted: str, holds: str, short: str) -> None:
        super().__init__(
            what=Sentence(
                "You cannot take {wanted} from bucket {bucket}. It holds {holds}: {short} too little.",
                wanted=wanted,
                bucket=bucket,
                holds=holds,
                short=short,
            ),
            why="Honey that comes from nowhere would break the trace. Nothing was changed.",
            do="Take less, weigh the bucket again, or enter the honey that was added first.",
        )


class BlendUnclear(Refused):
    """A blend without two parents, or into one of its own parts."""

    def __init__(self, into: str, reason: str) -> None:
        super().__init__(
            what=Sentence("Blend {into}: {reason}.", into=into, reason=reason),
            why="A blend keeps all its source buckets, so that a recall reaches the right hives.",
            do="Name at least two different buckets, the amount of each, and a new name for the blend.",
        )


class SeedUnclear(Refused):
    """Seed honey of a lot without its jars, or of a bucket with jars."""

    def __init__(self, name: str, what: str) -> None:
        of_lot = what == "lot"
        super().__init__(
            what=Sentence("{name} is a lot of jars: name the jars you opened.", name=name)
            if of_lot
            else Sentence("{name} is a bucket: name no jars.", name=name),
            why="Opened jars leave the stock. Their record shows what was in them.",
            do=Sentence('Name only the jars: --seed {name} --jar "one pound=2".', name=name)
            if of_lot
            else Sentence('Give the amount you took from the bucket: --seed "{name}=3 lb".', name=name),
        )


class SeedFromItself(Refused):
    """Seed that came from the very bucket it is to go into."""

    def __init__(self, bucket: str, seed: str) -> None:
        super().__init__(
            what=Sentence(
                "Bucket {seed} holds honey of bucket {bucket}, so it cannot be its seed.", seed=seed, bucket=bucket
            ),
            why="A trace back from this bucket would go round in a circle.",
            do=Sentence(
                "Put the two together under a new name: labelkit blend --into NEW-NAME --from {bucket} --from {seed}",
                bucket=bucket,
                seed=seed,
            ),
        )


class NothingMeasured(Refused):
    """A measuring without a weight and without a moisture."""

    def __init__(self, bucket: str) -> None:
        super().__init__(
            what=Sentence("Bucket {bucket}: you gave neither a weight nor a moisture.", bucket=bucket),
            why="A measurement needs a value.",
            do="Give what the scale or the refractometer showed.",
        )


class WeighedFarFromRecord(AskedAbout):
    """A bucket weighed again, far from what the record says it holds."""

    def __init__(self, bucket: str, found: str, held: str) -> None:
        super().__init__(
            what=Sentence(
                "Bucket {bucket} weighs {found} now. The record says {held}.",
                bucket=bucket,
                found=found,
                held=held,
            ),
            why="A difference this large is usually a typing error, a lid or tare on the scale, or an unrecorded step.",
            do="Weigh it again. Look for a run, a drain or a spill that is missing. If the weight is right, say why.",
        )
        self.field = "net"


class SkimUnclear(Refused):
    """A skimming with no weight, or with two that may contradict each other."""

    def __init__(self, bucket: str) -> None:
        super().__init__(
            what=Sentence(
                "Bucket {bucket}: give either the weight of the foam and wax or the weight of the bucket now.",
                bucket=bucket,
            ),
            why="Without a weight, the foam and wax would later show as missing honey.",
            do="Weigh either the foam and wax, or the bucket after skimming.",
        )


class WeighsMoreAfter(Refused):
    """A bucket heavier after something was taken out of it."""

    def __init__(self, bucket: str, before: str, after: str) -> None:
        super().__init__(
            what=Sentence(
                "Bucket {bucket} would hold {after} after and {before} before.",
                bucket=bucket,
                after=after,
                before=before,
            ),
            why="Skimming and drying make a bucket lighter. One of the two weights is wrong.",
            do="Weigh the bucket again. If it holds more than the record says, record that first.",
        )


class DryingUnclear(Refused):
    """A drying of which neither the weight nor both moistures are known."""

    def __init__(self, bucket: str) -> None:
        super().__init__(
            what=Sentence("Bucket {bucket}: labelkit cannot calculate how much water left it.", bucket=bucket),
            why="labelkit calculates the water from the weight after drying, or from the moisture before and after.",
            do="Weigh the bucket after drying, or measure its moisture before and after.",
        )


class DryingDoesNotBalance(AskedAbout):
    """Weights and moistures of a drying that contradict each other."""

    def __init__(self, bucket: str, moisture: str, expected: str, after: str) -> None:
        super().__init__(
            what=Sentence(
                "Bucket {bucket}: dried to {moisture}% it should weigh {expected}, but it weighs {after}.",
                bucket=bucket,
                moisture=moisture,
                expected=expected,
                after=after,
            ),
            why="Drying only removes water. The solids before and after must be the same.",
            do="Measure the moisture and weigh the bucket again. If both are right, say what else left the bucket.",
        )
        self.field = "after"


class BuyerNotNamed(Refused):
    """A bucket sold to nobody by name."""

    def __init__(self, bucket: str) -> None:
        super().__init__(
            what=Sentence("Bucket {bucket} is sold, but the buyer has no name.", bucket=bucket),
            why="The buyer may fill jars from the bucket. A recall must reach those jars.",
            do="Give the buyer's name.",
        )
        self.field = "customer"


class WhyNotSaid(Refused):
    """Honey discarded without a reason."""

    def __init__(self, bucket: str) -> None:
        super().__init__(
            what=Sentence("Bucket {bucket}: give a reason for the honey you discard.", bucket=bucket),
            why="A year later the reason shows whether other honey of that day was unsafe too.",
            do="Give the reason in a few words, for example “spilled” or “fermented”.",
        )
        self.field = "because"


class LotCodeWrong(Refused):
    """Something that is not a lot code of ours, or was mistyped."""

    def __init__(self, code: str, reason: str, near: str) -> None:
        super().__init__(
            what=Sentence("“{code}” is not a valid lot code: {reason}.", code=code, reason=reason),
            why="The last character checks all the others, so that a typing error never finds another lot.",
            do=Sentence("Read the code from the jar again{near}.", near=near),
        )


class LotCodesUsedUp(Refused):
    """More lots on one day from one bucket than codes."""

    def __init__(self, day: str, bucket: str) -> None:
        super().__init__(
            what=Sentence("Bucket {bucket} has no free lot code left on {day}.", bucket=bucket, day=day),
            why="labelkit never uses a lot code twice.",
            do="Record the remaining runs on the next day.",
        )


class LotDateOutOfRange(Refused):
    """A day of bottling that a lot code cannot say."""

    def __init__(self, day: str) -> None:
        super().__init__(
            what=Sentence(
                "Lot codes cover the years 2000 to 2099. {day} is outside that range.",
                day=day,
            ),
            why="The code would give another day, and a recall would find the wrong jars.",
            do="Check the day. It is the day you filled the jars, as year-month-day.",
        )


class FileRowRefused(Refused):
    """A line of a spreadsheet file, or a cell of a workbook, that cannot be understood; ``place`` names it."""

    def __init__(self, file: str, place: str, reason: str) -> None:
        super().__init__(
            what=Sentence("{file}, {place}: {reason}.", file=file, place=place, reason=reason),
            why="labelkit imports a row only when it understands all of it. Nothing was saved.",
            do="Correct it in the spreadsheet, save the file and run the command again.",
        )


class FileColumnsUnclear(Refused):
    """A spreadsheet file whose heading line does not name the columns needed."""

    def __init__(self, file: str, found: str, needed: str) -> None:
        super().__init__(
            what=Sentence("{file}: the heading line has {found}. {needed}.", file=file, found=found, needed=needed),
            why="labelkit reads the columns by their headings. A tare could be read as a gross weight.",
            do="Name the columns bucket, gross, tare (or net). Optional: harvested, yard, hives, plant, moisture.",
        )


class SeasonFileUnclear(Refused):
    """A TOML file that is not a season file."""

    def __init__(self, file: str, reason: str, do: str) -> None:
        super().__init__(
            what=Sentence("{file}: {reason}.", file=file, reason=reason),
            why="labelkit skips no key, because it could be the one that matters.",
            do=do,
        )
