"""Refusals of the honey room: a reading that honey cannot give, or a wish its physics cannot grant."""

from __future__ import annotations

from labelkit.errors import Refused


class NotAMoisture(Refused):
    """A moisture honey does not have: solids, Brix or a fraction typed in its place."""

    def __init__(self, given: str, guess: str) -> None:
        super().__init__(
            what=f"{given} is not a moisture of honey in percent: {guess}.",
            why="A good lot holds about 16 to 18.5 % water; the wrong scale turns a safe lot into a fermenting one on paper, or the other way round.",
            do="Give the water content in percent, or reckon it first: labelkit reckon moisture --refractive-index … or --brix ….",
        )


class NotARefractiveIndex(Refused):
    """A refractive index honey does not have."""

    def __init__(self, given: str, guess: str) -> None:
        super().__init__(
            what=f"{given} is not a refractive index of honey: {guess}.",
            why="Honey between 13 and 25 % water reads 1.4740 to 1.5044; one wrong digit is worth several percent of water.",
            do="Read the instrument again and give the index with four decimals, for example --refractive-index 1.4915.",
        )


class NotABrix(Refused):
    """A Brix reading honey does not give."""

    def __init__(self, given: str, guess: str) -> None:
        super().__init__(
            what=f"{given} is not a Brix reading of honey: {guess}.",
            why="Honey between 13 and 25 % water reads about 73.5 to 85.2 on a sucrose (Brix) scale, and 100 minus Brix is not its moisture.",
            do="See which scale the instrument prints, and give --brix for a sucrose scale or use its honey moisture scale directly.",
        )


class ReadingMissing(Refused):
    """Neither a refractive index nor a Brix reading, or both."""

    def __init__(self, given: str) -> None:
        super().__init__(
            what=f"{given} given.",
            why="One reading gives one moisture; two readings of two scales would have to be reconciled by you, not by labelkit.",
            do="Give either --refractive-index or --brix.",
        )


class TemperatureOutOfReach(Refused):
    """A temperature at which the published rule does not hold."""

    def __init__(self, given: str, low: str, high: str, what_for: str) -> None:
        super().__init__(
            what=f"{given} °C is outside {low} to {high} °C, where the rule for {what_for} can be trusted.",
            why="Beyond that the correction is a guess, and a guess of a few tenths of a percent decides whether a lot keeps.",
            do="Bring the honey and the instrument nearer to 20 °C (68 °F) and read again; mark Fahrenheit as “95 F”.",
        )


class OutsideDensityTable(Refused):
    """A moisture for which no density of honey is published."""

    def __init__(self, given: str, low: str, high: str) -> None:
        super().__init__(
            what=f"No density of honey is published for {given} % water (the refractometer table ends at {low} and {high} %).",
            why="A density carried far beyond its table would put a wrong weight on the bucket.",
            do="Weigh the honey instead of reckoning it from its volume.",
        )


class BlendPartUnclear(Refused):
    """A part of a blend that is not so much honey at so much moisture."""

    def __init__(self, text: str) -> None:
        super().__init__(
            what=f"“{text}” is not a part of a blend.",
            why="A blend is reckoned by mass: each part needs its weight and its moisture.",
            do='Write each part as weight @ moisture, for example --part "30 kg @ 17.2".',
        )


class BlendTargetOutOfReach(Refused):
    """A target moisture that these two honeys cannot give together."""

    def __init__(self, wet: str, dry: str, target: str) -> None:
        super().__init__(
            what=f"Honey of {wet} % and honey of {dry} % cannot blend to {target} %.",
            why="A blend always lies between its parts: the target must be above the drier honey and below the wetter one.",
            do="Take a drier honey, choose another target, or dry the wet lot before blending.",
        )


class DryingAddsWater(Refused):
    """A drying that would add water."""

    def __init__(self, start: str, end: str) -> None:
        super().__init__(
            what=f"Drying from {start} % to {end} % would add water.",
            why="Drying only takes water away; the solids stay what they are.",
            do="Give a target below the moisture the honey has now.",
        )


class HeadspaceUnclear(Refused):
    """A headspace that is not a share of the jar."""

    def __init__(self, given: str) -> None:
        super().__init__(
            what=f"A headspace of {given} % leaves no jar, or no headspace.",
            why="Honey filled warm needs a little air under the lid and room for the lid itself.",
            do="Give a headspace from 0 to 50 %, for example 7.",
        )


class FigureUnlikely(Refused):
    """A figure no honey and no honey house has."""

    def __init__(self, what_is_it: str, given: str, low: str, high: str, unit: str = "") -> None:
        unit = f" {unit}" if unit else ""
        super().__init__(
            what=f"{given}{unit} cannot be {what_is_it}; it lies between {low} and {high}{unit}.",
            why="A figure of another scale, or with its decimal mark in the wrong place, gives an answer that looks right.",
            do="Read it again, and give it in the unit that is asked for.",
        )


class HumidityOutsideTable(Refused):
    """Air so dry or honey so wet that nobody published where the two meet."""

    def __init__(self, given: str, low: str, high: str) -> None:
        super().__init__(
            what=f"No equilibrium of honey and air is published for {given} (the table runs from {low} to {high}).",
            why="Carried beyond its rows it would promise that open honey stays dry where nobody has measured it.",
            do="Keep the honey closed, and measure its moisture again before you bottle.",
        )


class BottleWeighingsUnclear(Refused):
    """Three weighings of a specific-gravity bottle that do not belong together."""

    def __init__(self, empty: str, water: str, honey: str) -> None:
        super().__init__(
            what=f"A bottle of {empty} empty, {water} with water and {honey} with honey was not filled with honey.",
            why="Honey weighs 1.39 to 1.45 times what water does; these three weighings say otherwise, so one is a slip.",
            do="Weigh the same bottle empty, full of water and full of honey, at one temperature, and give the three in that order.",
        )


class SizeUnclear(Refused):
    """A length, height or time for settling that is not above zero."""

    def __init__(self, what_is_it: str, given: str) -> None:
        super().__init__(
            what=f"{given} cannot be {what_is_it}.",
            why="Settling is reckoned from how far and how large; both are more than zero.",
            do="Give a size above zero, for example a bubble of 0.2 mm rising 30 cm.",
        )


class FlowerUnknown(Refused):
    """A flower nobody told labelkit about."""

    field = "flower"

    def __init__(self, flower: str, known: str) -> None:
        super().__init__(
            what=f"labelkit does not know when honey of “{flower}” sets.",
            why="Honey that sets in the bucket cannot be filled; a guess would not help you.",
            do=f"Use one of: {known}. Or give --glucose and --moisture from a laboratory.",
        )


class FreezerTooWarm(Refused):
    """A freezer that does not freeze."""

    field = "temperature"

    def __init__(self, temperature: str) -> None:
        super().__init__(
            what=f"At {temperature} °C wax moths are not killed.",
            why="Eggs in the comb hatch later, in the buyer's piece.",
            do="Use a freezer at 0 °C or colder; a household freezer at -18 °C needs 2 hours once the comb is cold through.",
        )
