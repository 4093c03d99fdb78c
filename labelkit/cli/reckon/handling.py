"""Figures of handling honey: what warmth, time and a wall do to it, and what a crop gives."""

from __future__ import annotations

from decimal import Decimal
from typing import Any

from click import option

from labelkit.cli._options import (
    COUNT,
    LENGTH,
    MASS,
    NUMBER,
    PERCENT,
    TEMPERATURE,
    BySize,
)
from labelkit.cli._runner import Answer
from labelkit.cli.reckon._figure import (
    MOISTURE,
    WARM,
    Reader,
    as_typed,
    figure,
    needed,
    two_digits,
)
from labelkit.errors.cli import UsageUnclear
from labelkit.errors.sentence import written


@figure(
    needed("--budget", NUMBER, "How much HMF the warming may add, in mg/kg, for example 5."),
    WARM,
)
def warming_time(reader: Reader, budget: Decimal, temperature: Decimal) -> Answer:
    """How long honey may be kept warm.

    Until a budget of HMF is spent, calculated on the careful side.

    Example:  labelkit reckon warming-time --budget 5 --temperature "45 C"
    """
    from labelkit.honey.warmth import CAUTIONS, SOURCE, hours_for
    from labelkit.measures.rounding import DOWN, significant

    hours = significant(hours_for(budget, temperature), 2, DOWN)
    document: dict[str, Any] = {
        "hours": hours,
        "sure": "reckoned",
        "source": SOURCE.title,
        "notes": [SOURCE.caution, "Reckoned with three times the middle of the published times.", *CAUTIONS],
    }
    return reader.noted(document, f"No longer than {_time(reader, hours, days_from=72)}.")


def _time(reader: Reader, hours: Decimal, days_from: int) -> str:
    """Hours while there are few, days from there on.

    >>> from datetime import date
    >>> reader = Reader("en_US", date(2026, 7, 20))
    >>> _time(reader, Decimal("4.9"), 48), _time(reader, Decimal(120), 48)
    ('4.9 hours', '5 days')
    """
    return f"{reader.number(hours)} hours" if hours < days_from else f"{reader.number(round(hours / 24))} days"


@figure(
    needed(
        "--step",
        BySize(NUMBER, "45 C=12"),
        "“45 C=12” is twelve hours at 45 °C; as often as needed.",
        "steps",
        multiple=True,
        metavar="T=HOURS",
    )
)
def warmth(reader: Reader, steps: tuple[tuple[str, Decimal], ...]) -> Answer:
    """HMF that warming adds, an estimate.

    With its wide spread.

    Example:  labelkit reckon warmth --step "40 C=48" --step "50 C=2"
    """
    from labelkit.honey.warmth import SOURCE, Warming, hmf_added

    found = hmf_added(Warming(TEMPERATURE.read(warmth, reader.locale), hours) for warmth, hours in steps)
    low, middle, high = (two_digits(value) if value else Decimal(0) for value in (found.low, found.middle, found.high))
    document: dict[str, Any] = {
        "hmf_mg_per_kg": middle,
        "hmf_low": low,
        "hmf_high": high,
        "sure": found.sure,
        "source": SOURCE.title,
        "notes": [SOURCE.caution, *found.notes],
    }
    return reader.noted(
        document,
        f"About {reader.number(middle)} mg/kg of HMF added; reckon with {reader.number(low)} to {reader.number(high)}.",
    )


@figure(
    MOISTURE,
    WARM,
    option("--depth", default="30 cm", show_default=True, type=as_typed(LENGTH), help="How deep the honey stands."),
    option(
        "--size", default="0.2 mm", show_default=True, type=as_typed(LENGTH), help="Of the bubbles or specks of wax."
    ),
)
def settle(
    reader: Reader, moisture: Decimal, temperature: Decimal, depth: tuple[Any, str], size: tuple[Any, str]
) -> Answer:
    """Time for foam and wax to rise in a tank.

    Example:  labelkit reckon settle --moisture 17.5 --temperature "35 C" --depth "40 cm"
    """
    from labelkit.honey.settling import AIR, WAX, rise

    air, wax = (rise(size[0].mm, depth[0].mm / 1000, moisture, temperature, inside) for inside in (AIR, WAX))
    bubbles, specks = two_digits(air.hours), two_digits(wax.hours)
    document: dict[str, Any] = {
        "hours_bubbles": bubbles,
        "hours_wax": specks,
        "viscosity_pa_s": two_digits(air.viscosity),
        "sure": air.sure,
        "notes": list(air.notes),
    }
    return reader.noted(
        document,
        f"Bubbles of {size[0].show(reader.locale)} rise {depth[1]} in about {_time(reader, bubbles, days_from=48)}, "
        f"specks of wax in about {_time(reader, specks, days_from=48)}.",
    )


@figure(
    needed("--height", LENGTH, "How high the honey stood in the pail, “36 cm” or “14 in”."),
    needed("--diameter", LENGTH, "Inside diameter of the pail."),
    MOISTURE,
    WARM,
    option("--minutes", default="30", show_default=True, type=NUMBER, help="How long the pail is left to drain."),
)
def hang_up(
    reader: Reader, height: Any, diameter: Any, moisture: Decimal, temperature: Decimal, minutes: Decimal
) -> Answer:
    """Honey left on the wall of an emptied pail.

    For a careful plan (labelkit plan --hang-up).

    Example:  labelkit reckon hang-up --height "36 cm" --diameter "29 cm" --moisture 17.5 --temperature "25 C"
    """
    from labelkit.honey.settling import hang_up
    from labelkit.measures import Mass

    kept = hang_up(height.mm / 1000, diameter.mm / 1000, moisture, temperature, minutes)
    mass = Mass.of_grams(two_digits(kept * 1000))
    source = "the draining film of Jeffreys (from memory), over a viscosity fitted to published series"
    document: dict[str, Any] = {
        "g": mass.g,
        "sure": "reckoned",
        "source": source,
        "notes": [
            "An estimate for the wall alone: foam, the bottom and the tap hold more. No published figure for pails was found.",
            "Weigh an emptied pail of your own once, and use that.",
            "Warmth makes it run: no hotter than 40 °C for long, and lift a full pail with two people.",
        ],
    }
    return reader.noted(document, f"About {reader.both(mass)} stay on the wall.", source=source)


@figure(
    needed("--received", MASS, "The honey weighed in, “60 lb” or “27.3 kg”."),
    option("--loss", default="2", show_default=True, type=PERCENT, help="Lost on walls, in strainer, tap and foam."),
)
def usable(reader: Reader, received: Any, loss: Decimal) -> Answer:
    """How much of a bucket gets into jars.

    Until you know your own loss.

    Example:  labelkit reckon usable --received "60 lb"
    """
    from labelkit.honey.yields import usable

    left = usable(received, loss / Decimal(100))
    document: dict[str, Any] = {
        "g": left.g,
        "loss_percent": loss,
        "sure": "practice",
        "notes": [
            "Common practice, no source; your own runs know better: labelkit run-result shows what was lost and unexplained.",
            "The record plans with all that was weighed in; give a plan its loss with --hang-up.",
        ],
    }
    return reader.noted(document, f"{reader.both(left)} to plan with, {reader.number(loss)} % off.")


@figure(needed("--crop", MASS, "The honey extracted so far, “100 lb” or “45 kg”."))
def cappings(reader: Reader, crop: Any) -> Answer:
    """Honey and wax the cappings may hold.

    Practice, not a figure to book.

    Example:  labelkit reckon cappings --crop "100 lb"
    """
    from labelkit.honey.yields import cappings_share, wax_from

    honey, wax = cappings_share(crop), wax_from(crop)
    document: dict[str, Any] = {
        "honey_to_g": honey.high.g,
        "wax_from_g": wax.low.g,
        "wax_to_g": wax.high.g,
        "sure": honey.sure,
        "notes": [
            *(f"{row.source} ({row.sure})" for row in (honey, wax)),
            "Let them drain one to three days, warm but not hot; wax melts at 63 to 65 °C and burns like oil: a water bath, never a flame.",
            "Drained honey is wetter or drier than the rest: measure it. Book what the scale says (labelkit drain), never this.",
        ],
    }
    most, least_wax, most_wax = (
        f"{reader.customary(mass)} ({reader.metric(mass)})" for mass in (honey.high, wax.low, wax.high)
    )
    return reader.noted(document, f"Up to {most} of honey or more to drain, and {least_wax} to {most_wax} of wax.")


@figure(needed("--temperature", TEMPERATURE, "Of the freezer, “-18 C”."))
def freezing(reader: Reader, temperature: Decimal) -> Answer:
    """How long comb is frozen against wax moths.

    Example:  labelkit reckon freezing --temperature "-18 C"
    """
    from labelkit.season import reckon

    found = reckon.freezing(temperature)
    document: dict[str, Any] = {
        "hours": found.hours,
        "temperature_c": temperature,
        "sure": found.sure,
        "source": found.source,
        "notes": list(found.notes),
    }
    return reader.noted(document, written(found.says, reader.locale), source=f"{found.source} ({found.sure})")


_SUPERS = BySize(COUNT, "medium=2")


@figure(
    option("--supers", type=_SUPERS, multiple=True, metavar="NAME=COUNT", help="Full boxes, “medium=2”, “zander=1”."),
    option("--frames", type=_SUPERS, multiple=True, metavar="NAME=COUNT", help="Full, capped frames, “deep=10”."),
    option("--own", type=MASS, help="What one full frame of yours gives on average; in place of the table."),
)
def expected_yield(
    reader: Reader, supers: tuple[tuple[str, int], ...], frames: tuple[tuple[str, int], ...], own: Any
) -> Answer:
    """What supers and frames usually give.

    Before anything is weighed. Practice, not a figure to book. shallow, medium and deep are a ten-frame Langstroth hive;
    other hives: langstroth8-medium, dadant-super, national-super, zander, deutsch-normal, warre.

    \b
    Example:  labelkit reckon expected-yield --supers medium=2 --frames deep=3
              labelkit reckon expected-yield --supers zander=2 --own "2.1 kg"
    """
    from labelkit.season import reckon

    if not (supers or frames):
        raise UsageUnclear("Neither supers nor frames are given.", "labelkit reckon expected-yield --help")
    for name, _ in (*supers, *frames):
        if name not in reckon.BOXES:
            known = ", ".join(reckon.BOXES)
            raise UsageUnclear(f"“{name}” is no box or frame labelkit knows; use {known}.", "labelkit --help")
    found = reckon.expected_yield(supers, frames, own)
    notes = [f"{source} ({sure})" for source, sure in found.sources]
    document = {
        "low_g": found.low.g,
        "high_g": found.high.g,
        "wax_to_g": found.wax.g,
        "notes": notes,
        "sure": "practice",
    }
    lines = [written(found.says, reader.locale), *(f"  {note}" for note in notes)]
    return Answer(document, "\n".join((*lines, "  Book what the scale says, never this.")))
