"""Figures of the weight and the room of honey, and of its colour."""

from __future__ import annotations

from decimal import Decimal
from typing import Any

from click import option

from labelkit.cli._options import (
    MASS,
    NUMBER,
    VOLUME,
    Market,
    Quantity,
)
from labelkit.cli._runner import Answer
from labelkit.cli.reckon._figure import (
    GRAMS,
    MOISTURE,
    SOLD_IN,
    WARMTH,
    Reader,
    as_typed,
    by_law,
    figure,
    needed,
    step,
)
from labelkit.errors.cli import UsageUnclear


@figure(MOISTURE, WARMTH)
def density(reader: Reader, moisture: Decimal, temperature: Decimal) -> Answer:
    """Density by moisture and temperature.

    Example:  labelkit reckon density --moisture 17.6 --temperature "35 C"
    """
    from labelkit.honey.density import density

    found = density(moisture, temperature)
    document: dict[str, Any] = {
        "kg_per_l": step(found.kg_per_l, "0.0001"),
        "lb_per_us_gal": step(found.lb_per_us_gal, "0.001"),
        "us_fl_oz_per_lb": step(found.us_fl_oz_per_lb, "0.001"),
        "uncertainty_percent": found.uncertainty * 100,
        "sure": found.sure,
        "notes": list(found.notes),
    }
    return reader.noted(
        document,
        f"{reader.number(document['kg_per_l'], 3)} kg per litre, {reader.number(document['lb_per_us_gal'], 2)} lb per US gallon",
        f"  one pound takes {reader.number(document['us_fl_oz_per_lb'], 2)} US fl oz; "
        f"good to {reader.number(found.uncertainty * 100)} %",
    )


@figure(
    needed("--volume", VOLUME, "“5 gal”, “375 ml”, “9 fl oz” (US measures unless marked imp)."),
    MOISTURE,
    WARMTH,
    option("--holds", type=as_typed(MASS), help="Ask whether a jar of that brimful volume takes this net weight."),
    option("--headspace", default="7", show_default=True, type=NUMBER, help="Kept free in the jar, with --holds."),
)
def weight(
    reader: Reader,
    volume: Decimal,
    moisture: Decimal,
    temperature: Decimal,
    holds: tuple[Any, str] | None,
    headspace: Decimal,
) -> Answer:
    """Weight of a volume of honey.

    And whether a jar takes a net weight at bottling temperature.

    \b
    Example:  labelkit reckon weight --volume "5 gal" --moisture 18.0
              labelkit reckon weight --volume "12 fl oz" --moisture 17.6 --temperature "40 C" --holds "1 lb"
    """
    from labelkit.honey.volume import fit, weight_of

    found = weight_of(volume, moisture, temperature)
    document: dict[str, Any] = {
        "g": step(found.mass.g, "0.1"),
        "oz": step(found.mass.oz, "0.01"),
        "lb": step(found.mass.lb, "0.001"),
        "plus_minus_g": step(found.plus_minus.g, "0.1"),
        "sure": found.density.sure,
        "notes": [*found.density.notes, "A volume is never a legal weight: sell by the scale."],
    }
    lines = [f"{reader.both(found.mass)}, give or take {reader.metric(found.plus_minus)}"]
    if holds is not None:
        net, typed = holds
        jar = fit(net, volume, moisture, temperature, headspace)
        document["jar"] = {
            "fits": jar.fits,
            "brimful_ml": step(jar.brimful_ml, "0.1"),
            "brimful_needed_ml": step(jar.jar_needs_ml, "0.1"),
            "most_g": step(jar.most.g, "0.1"),
            "headspace_left_percent": step(jar.headspace_left, "0.1"),
        }
        lines.append(
            f"  {typed} {'fits' if jar.fits else 'does not fit'}: it needs a jar of "
            f"{reader.number(document['jar']['brimful_needed_ml'])} ml to the brim, this one has "
            f"{reader.number(document['jar']['brimful_ml'])} ml and takes {reader.both(jar.most)}"
        )
    return reader.noted(document, *lines)


@figure(needed("--weight", MASS, "How much honey, “60 lb”, “500 g”."), MOISTURE, WARMTH)
def volume(reader: Reader, weight: Any, moisture: Decimal, temperature: Decimal) -> Answer:
    """Volume of a weight of honey: which pail, which jar.

    Example:  labelkit reckon volume --weight "60 lb" --moisture 18.0
    """
    from labelkit.honey.density import ML_PER_US_FLUID_OUNCE, ML_PER_US_GALLON, density
    from labelkit.honey.volume import volume_of

    room, honey = volume_of(weight, moisture, temperature), density(moisture, temperature)
    document: dict[str, Any] = {
        "ml": step(room, "0.1"),
        "us_gal": step(room / ML_PER_US_GALLON, "0.001"),
        "us_fl_oz": step(room / ML_PER_US_FLUID_OUNCE, "0.001"),
        "plus_minus_ml": step(room * honey.uncertainty, "0.1"),
        "sure": honey.sure,
        "notes": [*honey.notes, "Leave headspace in a jar, and fill by the scale: a volume is never a legal weight."],
    }
    litres = f"{reader.number(room / 1000, 3)} litres" if room >= 1000 else f"{reader.number(room, 1)} ml"
    return reader.noted(
        document,
        f"{litres} ({reader.number(document['us_gal'], 3)} US gal, {reader.number(document['us_fl_oz'], 2)} US fl oz), "
        f"give or take {reader.number(document['plus_minus_ml'], 1)} ml",
    )


@figure(
    option("--empty", type=GRAMS, help="A specific-gravity bottle, empty and dry, “28.4773 g”."),
    option("--water", type=GRAMS, help="The same bottle full of water."),
    option("--honey", type=GRAMS, help="The same bottle full of honey, at the same temperature."),
    option("--weight", type=GRAMS, help="Instead: the net weight of a known volume, with --volume."),
    option("--volume", type=VOLUME, help="That volume at 20 °C, “1 gal” (US measures unless marked imp) or “1 l”."),
)
def gravity(
    reader: Reader,
    empty: Decimal | None,
    water: Decimal | None,
    honey: Decimal | None,
    weight: Decimal | None,
    volume: Decimal | None,
) -> Answer:
    """Specific gravity by a bottle, and the moisture it means.

    Or the density from a weight and a volume.

    \b
    Example:  labelkit reckon gravity --empty "28.4773 g" --water "54.8809 g" --honey "65.2718 g"
              labelkit reckon gravity --weight "12 lb" --volume "1 gal"
    """
    from labelkit.errors.honey import OutsideDensityTable
    from labelkit.honey.density import WATER_KG_PER_L, gravity_by_bottle, moisture_of

    bottle = [one for one in (empty, water, honey) if one is not None]
    if len(bottle) == 3 and weight is None and volume is None:
        found = gravity_by_bottle(*bottle)
    elif weight is not None and volume is not None and not bottle:
        found = weight / volume / WATER_KG_PER_L
    else:
        raise UsageUnclear(
            "Give the bottle three times (--empty, --water, --honey), or a --weight with its --volume.",
            "labelkit reckon gravity --help",
        )
    density = found * WATER_KG_PER_L
    document: dict[str, Any] = {
        "specific_gravity": step(found, "0.0001"),
        "kg_per_l": step(density, "0.0001"),
        "moisture_percent": None,
        "sure": "memory",
        "notes": [
            "A density is a poor moisture meter: one part in 500 is half a percent of water. Use a refractometer to decide.",
            "Gravity is at the temperature of the weighings; the moisture takes it as weighed at 20 °C.",
            "The table behind it (White 1975) is recalled from memory between 13 and 21 %; both ends are confirmed.",
        ],
    }
    head = f"Specific gravity {reader.number(document['specific_gravity'], 4)}"
    try:
        document["moisture_percent"] = moisture_of(density)
        head += f", about {reader.number(document['moisture_percent'], 1)} % water"
    except OutsideDensityTable:
        document["notes"].append(
            "This density is none that the table has: lighter than 21 % water, heavier than 13 %, or a slip."
        )
    return reader.noted(document, f"{head}.")


@figure(
    needed(
        "--pfund",
        Quantity("MM", lambda text, locale: NUMBER.read(text.strip().removesuffix("mm"), locale)),
        "Reading in millimetres on the Pfund scale.",
    ),
    SOLD_IN,
    option("--bulk", is_flag=True, help="Sold in bulk instead of in consumer jars."),
)
def colour(reader: Reader, pfund: Decimal, place: Any, bulk: bool) -> Answer:
    """Colour class of a Pfund reading.

    Example:  labelkit reckon colour --pfund 32 --market ca
    """
    from labelkit.rules.figures import colour

    found = colour.of(pfund, place, bulk=bulk)
    name = f"{found.name} / {found.french}" if found.french else found.name
    return by_law({"class": found.name}, [name], found.laws)


@figure(
    needed("--absorbance", NUMBER, "At 635 nm, 1 cm, of 50 g honey in 100 ml of solution."),
    option("--market", "place", type=Market(), help="Name the colour class of us, ca or au as well."),
)
def pfund(reader: Reader, absorbance: Decimal, place: Any) -> Answer:
    """Pfund millimetres from a photometer's absorbance.

    For those without a grader.

    Example:  labelkit reckon pfund --absorbance 0.25 --market us
    """
    from labelkit.honey.colour import pfund_from_absorbance
    from labelkit.rules.figures import colour

    found = pfund_from_absorbance(absorbance)
    reading = step(found.mm, "0.1")
    notes = list(found.notes)
    if found.raw < 0:
        notes.append("The equation falls below the scale here; the honey is taken to be at its pale end.")
    name = colour.of(reading, place).name if place is not None else None
    document = {"pfund_mm": reading, "class": name, "sure": found.sure, "notes": notes}
    return reader.noted(document, f"About {reader.number(reading)} mm Pfund{f': {name}' if name else ''}.")
