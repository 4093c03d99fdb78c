"""Figures of the water in honey: read, blended, kept, and what it lets the honey do."""

from __future__ import annotations

from decimal import Decimal
from typing import Any

from click import option

from labelkit.cli._options import (
    MASS,
    NUMBER,
    PERCENT,
    TEMPERATURE,
    Quantity,
)
from labelkit.cli._runner import Answer
from labelkit.cli.reckon._figure import (
    MOISTURE,
    Reader,
    figure,
    needed,
    step,
)
from labelkit.errors.cli import UsageUnclear
from labelkit.errors.sentence import written


@figure(
    option("--refractive-index", type=NUMBER, help="The refractive index the instrument shows, for example 1.4915."),
    option("--brix", type=NUMBER, help="A reading on a sucrose (Brix) scale, for example 80.3."),
    option(
        "--temperature",
        type=TEMPERATURE,
        help="Temperature of the reading, “15 C” or “68 F”; not for self-correcting instruments.",
    ),
)
def moisture(
    reader: Reader, refractive_index: Decimal | None, brix: Decimal | None, temperature: Decimal | None
) -> Answer:
    """Moisture from a refractometer reading.

    Example:  labelkit reckon moisture --refractive-index 1.4915 --temperature "24 C"
    """
    from labelkit.errors.honey import ReadingMissing
    from labelkit.honey.moisture import from_brix, from_index

    if brix is not None and refractive_index is None:
        found = from_brix(brix, temperature)
    elif refractive_index is not None and brix is None:
        found = from_index(refractive_index, temperature)
    else:
        raise ReadingMissing("Both readings are" if brix is not None else "No reading is")
    document: dict[str, Any] = {
        "moisture_percent": f"{found.percent:.1f}",  # one decimal always: it says how fine the figure is
        "moisture_unrounded": found.unrounded,
        "method": found.method,
        "refractive_index_20c": found.index_20c,
        "sure": found.sure,
        "notes": list(found.notes),
    }
    return reader.noted(document, f"{reader.number(found.percent, 1)} % water", f"  by {found.method}")


@figure(MOISTURE)
def refractive_index(reader: Reader, moisture: Decimal) -> Answer:
    """Refractive index of honey of a known moisture.

    What a refractometer must show at 20 °C, to set or to check it.

    Example:  labelkit reckon refractive-index --moisture 18.6
    """
    from labelkit.honey.moisture import brix_at, index_at

    index, brix = step(index_at(moisture), "0.0001"), step(brix_at(moisture), "0.01")
    source = (
        "the table of AOAC 969.38 after Chataway, in Bogdanov, Book of Honey, ch. 4; Brix by the ICUMSA scale of 1974"
    )
    document: dict[str, Any] = {
        "refractive_index_20c": index,
        "brix": brix,
        "solids_percent": 100 - moisture,
        "sure": "seen",
        "source": source,
        "notes": [
            "Solids are 100 less the moisture; a Brix reading is not solids, and 100 − Brix is not the moisture.",
            "Set an instrument at 20 °C, and with the liquid its maker names: honey of a known moisture is hard to come by.",
        ],
    }
    head = f"Refractive index {reader.number(index, 4)} at 20 °C, {reader.number(brix, 2)} °Brix on a sucrose scale."
    return reader.noted(document, head, source=source)


def _mixed(text: str, locale: str) -> Any:
    from labelkit.errors.honey import BlendPartUnclear
    from labelkit.honey.blend import Mixed

    weight, at, moisture = text.partition("@")
    if not at or not weight.strip() or not moisture.strip():
        raise BlendPartUnclear(text)
    return Mixed(MASS.read(weight, locale), PERCENT.read(moisture, locale))


@figure(
    needed(
        "--part", Quantity("WEIGHT@MOISTURE", _mixed), "“30 kg @ 17.2”; as often as needed.", "parts", multiple=True
    ),
    option("--target", type=PERCENT, help="Ask how to bring the blend down to this moisture."),
    option("--with", "drier", type=PERCENT, help="Moisture of the drier honey at hand, with --target."),
)
def blend(reader: Reader, parts: tuple[Any, ...], target: Decimal | None, drier: Decimal | None) -> Answer:
    """Weight and moisture of a blend.

    And how much drier honey a wet lot needs.

    \b
    Example:  labelkit reckon blend --part "30 kg @ 17.2" --part "20 kg @ 19.4"
              labelkit reckon blend --part "20 kg @ 19.4" --target 18 --with 16.5
    """
    from labelkit.honey.blend import blend, dry, dry_honey_needed
    from labelkit.honey.ferment import ferment_risk

    mixed = blend(parts)
    risk = ferment_risk(mixed.moisture, blended=len(parts) > 1)
    document: dict[str, Any] = {
        "g": mixed.mass.g,
        "moisture_percent": step(mixed.moisture, "0.0001"),
        "ferment_risk": risk.risk,
        "notes": list(risk.notes),
    }
    lines = [
        f"{reader.both(mixed.mass)} at {reader.number(step(mixed.moisture, '0.01'), 2)} % water; "
        f"fermentation risk {risk.risk}"
    ]
    if target is not None and drier is not None:
        more = dry_honey_needed(mixed, drier, target)
        document["needed_g"] = more.g
        lines.append(
            f"  {reader.both(more)} of honey at {reader.number(drier)} % brings it down to {reader.number(target)} %"
        )
    elif target is not None:
        left = dry(mixed, target)
        document |= {"dried_g": left.mass.g, "water_g": left.water.g}
        lines.append(
            f"  dried to {reader.number(target)} %: {reader.metric(left.mass)} of honey left, "
            f"{reader.metric(left.water)} of water gone"
        )
    return reader.noted(document, *lines)


@figure(
    option("--humidity", type=PERCENT, help="Relative humidity of the room, for example 58."),
    option("--moisture", type=PERCENT, help="Instead: moisture of the honey in percent, for example 17.6."),
)
def humidity(reader: Reader, humidity: Decimal | None, moisture: Decimal | None) -> Answer:
    """Moisture open honey comes to in a room's air.

    Or how damp a room must be before honey takes up water.

    \b
    Example:  labelkit reckon humidity --humidity 58
              labelkit reckon humidity --moisture 17.6
    """
    from labelkit.honey.humidity import EQUILIBRIUM, NOTES, SOURCE, dries_in, humidity_for, moisture_in_air

    below = humidity is not None and moisture is None and dries_in(humidity)
    air: Decimal
    water: Decimal
    if below and humidity is not None:
        air, water = humidity, EQUILIBRIUM[0][1]
        says = "Air of {air} % relative humidity is drier than the table begins: open honey dries there, to less than {water} % water."
    elif humidity is not None and moisture is None:
        air, water = humidity, step(moisture_in_air(humidity), "0.1")
        says = "Open honey comes to {water} % water in air of {air} % relative humidity."
    elif moisture is not None and humidity is None:
        air, water = step(humidity_for(moisture), "1"), moisture
        says = "Open honey of {water} % water takes up more in air damper than {air} % relative humidity."
    else:
        raise UsageUnclear(
            "Give either --humidity of the air or --moisture of the honey.", "labelkit reckon humidity --help"
        )
    document: dict[str, Any] = {
        "moisture_percent": None if below else water,
        "dries_below_percent": water if below else None,
        "humidity_percent": air,
        "sure": SOURCE.sure,
        "source": SOURCE.title,
        "notes": [SOURCE.caution, *NOTES],
    }
    return reader.noted(document, says.format(water=reader.number(water), air=reader.number(air)))


@figure(
    MOISTURE,
    option("--crystallised", is_flag=True, help="The honey has set."),
    option("--blended", is_flag=True, help="The honey is a blend."),
)
def ferment(reader: Reader, moisture: Decimal, crystallised: bool, blended: bool) -> Answer:
    """Whether honey this moist is likely to ferment in a year.

    Example:  labelkit reckon ferment --moisture 18.4
    """
    from labelkit.honey.ferment import ferment_risk

    found = ferment_risk(moisture, crystallised=crystallised, blended=blended)
    document: dict[str, Any] = {
        "risk": found.risk,
        "yeast_below_per_g": found.yeast_below_per_g,
        "moisture_percent": found.moisture,
        "says": found.says,
        "source": "after Lochhead 1933, as printed in A Practical Manual of Beekeeping, table 2",
        "sure": found.sure,
        "notes": list(found.notes),
    }
    head = f"{reader.number(found.moisture, 1)} % water: risk {found.risk}. {found.says}"
    return reader.noted(document, head, source=f"{document['source']} ({found.sure})")


@figure(
    needed("--honey", MASS, "The honey before it is dried, “30 kg”."),
    MOISTURE,
    needed("--to", PERCENT, "The moisture you want, in percent."),
)
def drying(reader: Reader, honey: Any, moisture: Decimal, to: Decimal) -> Answer:
    """Water that drying takes out of honey, and what is left.

    Its solids stay. How long it takes depends on air, surface and stirring; no published rate is general enough to give.

    Example:  labelkit reckon drying --honey "30 kg" --moisture 19.4 --to 17.8
    """
    from labelkit.season import reckon

    found = reckon.drying(honey, moisture, to)
    document: dict[str, Any] = {
        "left_g": found.left.mass.g,
        "water_g": found.left.water.g,
        "hours": None,
        "sure": "reckoned",
        "notes": list(found.notes),
    }
    return reader.noted(document, written(found.says, reader.locale))


@figure(
    option("--glucose", type=NUMBER, help="Glucose in g/100 g, from a laboratory."),
    option("--moisture", type=PERCENT, help="Moisture in percent, with the glucose."),
    option("--flower", metavar="NAME", help="Instead: what the bees mostly visited, for example clover."),
    option("--fructose", type=NUMBER, help="Fructose in g/100 g; adds two more indices."),
)
def crystals(
    reader: Reader, glucose: Decimal | None, moisture: Decimal | None, flower: str | None, fructose: Decimal | None
) -> Answer:
    """Whether honey will set soon, by its sugars or by its flower.

    \b
    Example:  labelkit reckon crystals --glucose 31.3 --fructose 38.2 --moisture 17.2
              labelkit reckon crystals --flower clover
    """
    from labelkit.cli._show import table
    from labelkit.honey.crystals import FASTEST_C, NOTES, setting

    if flower:
        return _by_flower(reader, flower)
    if glucose is None or moisture is None:
        raise UsageUnclear(
            "Give --glucose and --moisture from a laboratory, or --flower.", "labelkit reckon crystals --help"
        )
    found = setting(glucose, moisture, fructose)
    rows: list[dict[str, Any]] = [
        {"index": row.index, "value": step(row.value, "0.01"), "says": row.says, "sure": row.sure} for row in found
    ]
    shown = [(row["index"], reader.number(row["value"], 2), row["says"], row["sure"]) for row in rows]
    document: dict[str, Any] = {
        "says": found[0].says,
        "indices": rows,
        "fastest_c": FASTEST_C,
        "sure": found[0].sure,
        "notes": list(NOTES),
    }
    return reader.noted(document, table(("index", "value", "says", "how sure"), shown, right=[1]))


def _by_flower(reader: Reader, flower: str) -> Answer:
    """The forecast the trade goes by, marked as what it is."""
    from labelkit.honey.crystals import FASTEST_C
    from labelkit.season import reckon

    forecast = reckon.setting(flower)
    found = forecast.found
    document: dict[str, Any] = {
        "says": found.says,
        "flower": found.flower,
        "usually": found.usually,
        "indices": [],
        "fastest_c": FASTEST_C,
        "sure": found.sure,
        "notes": list(forecast.notes),
    }
    return reader.noted(document, found.sentence)
