"""The table of figures: what every row shares.

A row is a function with its options: its name is the figure's name, its docstring the help, its values are read before
it is called, and it gives the document and the text. What a row imports beyond this it imports when it is asked for.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from typing import Any

import click

from labelkit.cli._group import HintingGroup
from labelkit.cli._options import PERCENT, TEMPERATURE, Market, Quantity
from labelkit.cli._runner import Answer, CommandContext, answering

TOPICS = {
    "water": "Water",
    "room": "Weight, volume, colour",
    "handling": "Handling",
    "filling": "Filling",
    "label": "Label",
}


@click.command(cls=HintingGroup, order=dict.fromkeys(TOPICS.values(), ()))
def command() -> None:
    """Calculate one figure, without a record.

    Example:  labelkit reckon check-digit --digits 629104150021
    """


@dataclass(frozen=True, slots=True)
class Reader:
    """Whoever asked: the day it is for them, and figures as they write them."""

    locale: str
    day: date

    def number(self, value: Decimal | int, digits: int | None = None) -> str:
        """A number, to so many decimals at most."""
        from labelkit.measures.locales import show_number

        return show_number(value, self.locale, digits=digits)

    def metric(self, mass: Any) -> str:
        """A mass, or a number of grams, in grams or kilograms."""
        from labelkit.measures import Mass, show_metric

        return show_metric(mass if isinstance(mass, Mass) else Mass.of_grams(mass), self.locale)

    def customary(self, mass: Any) -> str:
        """A mass in pounds and ounces."""
        from labelkit.measures import show_customary

        return show_customary(mass, self.locale)

    def both(self, mass: Any) -> str:
        """A mass in both systems, the metric first."""
        return f"{self.metric(mass)} ({self.customary(mass)})"

    def noted(self, document: dict[str, Any], *lines: str, source: str = "") -> Answer:
        """An answer whose notes, and source, follow its lines."""
        from labelkit.errors.sentence import written

        told = ([source] if source else []) + document["notes"]
        return Answer(document, "\n".join([*lines, *(f"  {written(note, self.locale)}" for note in told)]))


def figure(*options: Callable) -> Callable:
    """Put a function into the table as ``labelkit reckon NAME``."""

    def row(function: Callable[..., Answer]) -> Callable[..., Answer]:
        @answering
        def reckoned(context: CommandContext, **values: Any) -> Answer:
            return function(Reader(context.locale, context.day), **values)

        for option in reversed(options):
            reckoned = option(reckoned)
        name = function.__name__.replace("_", "-")
        command.order[TOPICS[function.__module__.rpartition(".")[2]]] += (name,)
        for given in command.command(name, help=function.__doc__)(reckoned).params:
            if isinstance(given.type, Quantity):  # a blank would be passed over without a word
                given.type = Quantity(given.type.name, given.type.read, blank=False)
        return function

    return row


def by_law(document: dict[str, Any], lines: Iterable[str], laws: Sequence[Any], *, parted: bool = True) -> Answer:
    """An answer that ends in the law it is of."""
    from labelkit.rules.findings import law_lines

    return Answer(document, "\n".join([*lines, *([""] if parted else []), law_lines(laws)]))


def step(value: Decimal, to: str) -> Decimal:
    """Rounded to the nearest step, halves upwards."""
    from labelkit.measures.rounding import HALF_UP, to_step

    return to_step(value, Decimal(to), HALF_UP)


def two_digits(value: Decimal) -> Decimal:
    """Rounded to two significant digits."""
    from labelkit.measures.rounding import HALF_UP, significant

    return significant(value, 2, HALF_UP)


def needed(name: str, type: click.ParamType, help: str, *names: str, **more: Any) -> Callable:
    """An option that must be given."""
    return click.option(name, *names, type=type, required=True, help=help, **more)


def _grams(text: str, locale: str) -> Decimal:
    from labelkit.measures.units import MASS as OF_MASS
    from labelkit.measures.units import read_quantity

    return read_quantity(text, OF_MASS, locale)


def as_typed(of: Quantity) -> Quantity:
    """Values of a type beside the words they were typed in."""
    return Quantity(of.name, lambda text, locale: (of.read(text, locale), text))


GRAMS = Quantity("WEIGHT", _grams)  # exact, since legal figures are cut from it and not from the milligram
MOISTURE = needed("--moisture", PERCENT, "Moisture in percent, for example 17.6.")
WARMTH = click.option(
    "--temperature", default="20 C", show_default=True, type=TEMPERATURE, help="Of the honey, “35 C” or “95 F”."
)
WARM = needed("--temperature", TEMPERATURE, "Of the honey, “35 C” or “95 F”.")
WHERE = "Where it is sold: us, us-va, eu, eu-de, uk, ca, au, nz ..."
SOLD_IN = needed("--market", Market(), WHERE, "place")
US_UNLESS_SAID = click.option(
    "--market", "place", default="us", show_default=True, type=Market(), help="Whose rules: us, ca, eu ..."
)
NET = needed("--net", GRAMS, "Net weight of the jar, for example “12 oz”.")
