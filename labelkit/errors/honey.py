"""Refusals of the honey room: a reading that honey cannot give, or a wish its physics cannot grant."""

from __future__ import annotations

from labelkit.errors import Refused
from labelkit.errors.sentence import Sentence


class NotAMoisture(Refused):
    """A moisture honey does not have: solids, Brix or a fraction typed in its place."""

    def __init__(self, given: str, guess: str) -> None:
        super().__init__(
            what=Sentence("{given} is not a moisture of honey in percent: {guess}.", given=given, guess=guess),
            why="Most honey is 16 to 18.5% water. A reading on the wrong scale can hide an unsafe lot.",
            do="Give the water content in percent. To calculate it: labelkit reckon moisture --refractive-index 1.4915",
        )


class NotARefractiveIndex(Refused):
    """A refractive index honey does not have."""

    def __init__(self, given: str, guess: str) -> None:
        super().__init__(
            what=Sentence("{given} is not a refractive index of honey: {guess}.", given=given, guess=guess),
            why="Honey of 13 to 25% water reads 1.4740 to 1.5044. One wrong digit changes the result by several percent.",
            do="Read the instrument again. Give the index with four decimals, for example --refractive-index 1.4915.",
        )


class NotABrix(Refused):
    """A Brix reading honey does not give."""

    def __init__(self, given: str, guess: str) -> None:
        super().__init__(
            what=Sentence("{given} is not a Brix reading of honey: {guess}.", given=given, guess=guess),
            why="Honey of 13 to 25% water reads 73.5 to 85.2 on a Brix scale. 100 minus Brix is not its moisture.",
            do="Check which scale the instrument shows. Give --brix for a sucrose scale, or use its honey moisture scale.",
        )


class ReadingMissing(Refused):
    """Neither a refractive index nor a Brix reading, or both."""

    def __init__(self, given: str) -> None:
        super().__init__(
            what=Sentence("{given} given.", given=given),
            why="labelkit calculates moisture from one reading. If you have two, choose the one you trust.",
            do="Give either --refractive-index or --brix.",
        )


class TemperatureOutOfReach(Refused):
    """A temperature at which the published rule does not hold."""

    def __init__(self, given: str, low: str, high: str, what_for: str) -> None:
        super().__init__(
            what=Sentence(
                "{given} °C is outside {low} to {high} °C, the range of the rule for {what_for}.",
                given=given,
                low=low,
                high=high,
                what_for=what_for,
            ),
            why="Outside that range the correction is a guess. A few tenths of a percent decide whether a lot keeps.",
            do="Bring the honey and the instrument nearer to 20 °C (68 °F) and read again. Write Fahrenheit as “95 F”.",
        )


class OutsideDensityTable(Refused):
    """A moisture for which no density of honey is published."""

    def __init__(self, given: str, low: str, high: str) -> None:
        super().__init__(
            what=Sentence(
                "No density of honey is published for {given}% water. The table runs from {low} to {high}%.",
                given=given,
                low=low,
                high=high,
            ),
            why="A density outside the table would give a wrong weight.",
            do="Weigh the honey instead of calculating its weight from the volume.",
        )


class BlendPartUnclear(Refused):
    """A part of a blend that is not so much honey at so much moisture."""

    def __init__(self, text: str) -> None:
        super().__init__(
            what=Sentence("“{text}” is not a part of a blend.", text=text),
            why="labelkit calculates a blend by mass. Each part needs its weight and its moisture.",
            do='Write each part as weight @ moisture, for example --part "30 kg @ 17.2".',
        )


class BlendTargetOutOfReach(Refused):
    """A target moisture that these two honeys cannot give together."""

    def __init__(self, wet: str, dry: str, target: str) -> None:
        super().__init__(
            what=Sentence(
                "Honey of {wet}% and honey of {dry}% cannot blend to {target}%.", wet=wet, dry=dry, target=target
            ),
            why="The moisture of a blend always lies between its parts.",
            do="Use a drier honey, choose another target, or dry the wet lot before you blend.",
        )


class DryingAddsWater(Refused):
    """A drying that would add water."""

    def __init__(self, start: str, end: str) -> None:
        super().__init__(
            what=Sentence("Drying from {start}% to {end}% would add water.", start=start, end=end),
            why="Drying only removes water.",
            do="Give a target below the moisture the honey has now.",
        )


class HeadspaceUnclear(Refused):
    """A headspace that is not a share of the jar."""

    def __init__(self, given: str) -> None:
        super().__init__(
            what=Sentence("A headspace of {given}% leaves no room for honey, or none for air.", given=given),
            why="Warm honey needs a little air under the lid, and the lid needs room.",
            do="Give a headspace from 0 to 50%, for example 7.",
        )


class FigureUnlikely(Refused):
    """A figure no honey and no honey house has."""

    def __init__(self, what_is_it: str, given: str, low: str, high: str, unit: str = "") -> None:
        super().__init__(
            what=Sentence(
                "{given} {unit} cannot be {what_is_it}. The range is {low} to {high} {unit}.",
                given=given,
                unit=unit,
                what_is_it=what_is_it,
                low=low,
                high=high,
            )
            if unit
            else Sentence(
                "{given} cannot be {what_is_it}. The range is {low} to {high}.",
                given=given,
                what_is_it=what_is_it,
                low=low,
                high=high,
            ),
            why="A value on another scale, or with a wrong decimal mark, gives a result that looks right.",
            do="Read it again, and give it in the unit asked for.",
        )


class HumidityOutsideTable(Refused):
    """Air so dry or honey so wet that nobody published where the two meet."""

    def __init__(self, given: str, low: str, high: str) -> None:
        super().__init__(
            what=Sentence(
                "No equilibrium of honey and air is published for {given}. The table runs from {low} to {high}.",
                given=given,
                low=low,
                high=high,
            ),
            why="Outside the table nobody has measured whether open honey stays dry.",
            do="Keep the honey closed. Measure its moisture again before you bottle.",
        )


class BottleWeighingsUnclear(Refused):
    """Three weighings of a specific-gravity bottle that do not belong together."""

    def __init__(self, empty: str, water: str, honey: str) -> None:
        super().__init__(
            what=Sentence(
                "The weights {empty} empty, {water} with water and {honey} with honey do not fit honey.",
                empty=empty,
                water=water,
                honey=honey,
            ),
            why="Honey weighs 1.39 to 1.45 times as much as water. One of these three weights is wrong.",
            do="Weigh one bottle empty, full of water and full of honey, at one temperature. Give the weights in that order.",
        )


class SizeUnclear(Refused):
    """A length, height or time for settling that is not above zero."""

    def __init__(self, what_is_it: str, given: str) -> None:
        super().__init__(
            what=Sentence("{given} cannot be {what_is_it}.", given=given, what_is_it=what_is_it),
            why="labelkit calculates settling from distance and size. Both are more than zero.",
            do="Give a size above zero, for example a bubble of 0.2 mm rising 30 cm.",
        )


class FlowerUnknown(Refused):
    """A flower nobody told labelkit about."""

    field = "flower"

    def __init__(self, flower: str, known: str) -> None:
        super().__init__(
            what=Sentence("labelkit does not know when honey of “{flower}” sets.", flower=flower),
            why="Honey that sets in the bucket cannot be filled. A guess would not help you.",
            do=Sentence("Use one of: {known}. Or give --glucose and --moisture from a laboratory.", known=known),
        )


class FreezerTooWarm(Refused):
    """A freezer that does not freeze."""

    field = "temperature"

    def __init__(self, temperature: str) -> None:
        super().__init__(
            what=Sentence("At {temperature} °C wax moths survive.", temperature=temperature),
            why="Moth eggs in the comb hatch later, in the piece you sold.",
            do="Use a freezer at 0 °C or colder. At -18 °C the comb needs 2 hours once it is cold all through.",
        )
