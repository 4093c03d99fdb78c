"""Cases of the honey room."""

from decimal import Decimal

from labelkit.errors.honey import (
    BlendPartUnclear,
    BlendTargetOutOfReach,
    BottleWeighingsUnclear,
    DryingAddsWater,
    FigureUnlikely,
    FlowerUnknown,
    FreezerTooWarm,
    HeadspaceUnclear,
    HumidityOutsideTable,
    NotABrix,
    NotAMoisture,
    NotARefractiveIndex,
    OutsideDensityTable,
    ReadingMissing,
    SizeUnclear,
    TemperatureOutOfReach,
)
from labelkit.honey.blend import Mixed, dry, dry_honey_needed
from labelkit.honey.crystals import by_flower
from labelkit.honey.density import density, gravity_by_bottle
from labelkit.honey.freezing import freezing_hours
from labelkit.honey.humidity import moisture_in_air
from labelkit.honey.moisture import checked, from_brix, from_index
from labelkit.honey.settling import rise
from labelkit.honey.volume import fit
from labelkit.honey.warmth import hours_for
from labelkit.measures import Mass

D = Decimal
WET = Mixed(Mass.of_grams(20000), D("19.4"))


def say(refusal):
    def cause():
        raise refusal

    return cause


CASES = [
    (FreezerTooWarm, lambda: freezing_hours(D(4)), "At 4 °C wax moths survive."),
    (FlowerUnknown, lambda: by_flower("poppy"), "does not know when honey of “poppy” sets"),
    (NotAMoisture, lambda: checked(D(82)), "solids (then the moisture is 18 %)"),
    (NotARefractiveIndex, lambda: from_index(D("14915")), "decimal mark seems to be missing"),
    (NotABrix, lambda: from_brix(D("17.6")), "typed as Brix"),
    (ReadingMissing, say(ReadingMissing("No reading is")), "either --refractive-index or --brix"),
    (TemperatureOutOfReach, lambda: from_index(D("1.4915"), D(95)), "outside 10 to 40 °C"),
    (OutsideDensityTable, lambda: density(D("12.5")), "Weigh the honey instead"),
    (BlendPartUnclear, say(BlendPartUnclear("30 kg")), "30 kg @ 17.2"),
    (BlendTargetOutOfReach, lambda: dry_honey_needed(WET, D("18.5"), D("18.0")), "cannot blend to 18"),
    (DryingAddsWater, lambda: dry(WET, D("20")), "would add water"),
    (
        HeadspaceUnclear,
        lambda: fit(WET.mass, D(1000), D(18), headspace=D(70)),
        "A headspace of 70% leaves no room for honey, or none for air.",
    ),
    (SizeUnclear, lambda: rise(D(1), D(0), D(18), D(30)), "depth of a tank"),
    (FigureUnlikely, lambda: hours_for(D(-5), D(45)), "cannot be a budget of HMF"),
    (HumidityOutsideTable, lambda: moisture_in_air(D(40)), "air of 40 %"),
    (
        BottleWeighingsUnclear,
        lambda: gravity_by_bottle(D(28), D(55), D(40)),
        "Honey weighs 1.39 to 1.45 times as much as water.",
    ),
]
