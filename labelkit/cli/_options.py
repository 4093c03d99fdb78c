"""Option types: what is typed on the command line is read here, once, as whoever types it writes numbers.

A command receives values (a mass, a count, a day) and never text to understand. A refusal learns which option it is about.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable
from typing import Any

import click

from labelkit.cli._said import clock_option
from labelkit.errors import LabelkitError
from labelkit.errors.cli import UsageUnclear

Reader = Callable[[str, str], Any]


class Quantity(click.ParamType):
    """A value read by ``read(text, locale)``; ``name`` is what the help calls it.

    A ``blank`` may be none given, but where one must be given or several may be.
    """

    def __init__(self, name: str, read: Reader, *, blank: bool = True) -> None:
        self.name = name
        self.read = read
        self.blank = blank

    def convert(self, value: Any, param: click.Parameter | None, ctx: click.Context | None) -> Any:
        """The value of what was typed."""
        if not isinstance(value, str):
            return value
        try:
            may_be_none = self.blank and not (param and (param.required or getattr(param, "multiple", False)))
            return None if may_be_none and not value.strip() else self.read(value, _locale(ctx))
        except LabelkitError as refusal:
            refusal.field = refusal.field or (param.name or "" if param else "")
            raise


class Amount(click.ParamType):
    """Money in the season's currency, with or without its sign."""

    name = "AMOUNT"

    def convert(self, value: Any, param: click.Parameter | None, ctx: click.Context | None) -> Any:
        """The money of what was typed; blank is not given."""
        return Quantity(self.name, lambda text, locale: _money(text, _currency(ctx), locale)).convert(value, param, ctx)


class ReadSeasonFile(click.ParamType):
    """A season file, read as on the day of the command; its currency is that of every amount beside it.

    The argument is eager, so that it is read before they are.
    """

    name = "SEASON.toml"

    def convert(self, value: Any, param: click.Parameter | None, ctx: click.Context | None) -> Any:
        """The season of the file."""
        if not isinstance(value, str) or not ctx:
            return value
        from labelkit.cli._files import read_text
        from labelkit.cli._runner import CommandContext
        from labelkit.reading.season_file import read_season

        context = ctx.ensure_object(CommandContext)
        season = read_season(read_text(value), value, context.day)
        ctx.meta["currency"] = season.currency
        return season


class Market(click.ParamType):
    """A place where honey is sold, with its law as of the day of the command."""

    name = "MARKET"

    def convert(self, value: Any, param: click.Parameter | None, ctx: click.Context | None) -> Any:
        """The market of what was typed."""
        if not isinstance(value, str) or not ctx:
            return value
        from labelkit.cli._runner import CommandContext
        from labelkit.rules import market

        return market(value, ctx.ensure_object(CommandContext).day)


class Amounts(click.ParamType):
    """Several amounts in the season's currency, parted by commas, semicolons or spaces."""

    name = "AMOUNT,AMOUNT"

    def convert(self, value: Any, param: click.Parameter | None, ctx: click.Context | None) -> Any:
        """The amounts."""
        if not isinstance(value, str):
            return value
        # A comma may be this reader's decimal mark, so prices are also told apart by semicolons and spaces.
        parts = value.split(";") if ";" in value else value.split() if " " in value else value.split(",")
        return tuple(AMOUNT.convert(part, param, ctx) for part in parts if part.strip())


class PriceStep(click.ParamType):
    """``COUNT@AMOUNT``: after so many sold, one more brings only that."""

    name = "COUNT@AMOUNT"

    def convert(self, value: Any, param: click.Parameter | None, ctx: click.Context | None) -> Any:
        """The step of the price."""
        if not isinstance(value, str):
            return value
        from labelkit.plan import Step

        after, at, price = value.partition("@")
        if not at or not after.strip().isdigit():
            raise UsageUnclear(
                f"“{value}” does not say after how many jars which price holds; write --then 'one pound=30@11.00'.",
                "labelkit plan --help",
            )
        return Step(int(after), AMOUNT.convert(price.strip(), param, ctx))


class BySize(click.ParamType):
    """``SIZE=VALUE``: a jar size and a value of another type; the option may be repeated, ``alone`` a value of no size."""

    def __init__(self, value: click.ParamType, example: str, *, alone: bool = False) -> None:
        self.name = f"[SIZE=]{value.name}" if alone else f"SIZE={value.name}"
        self.value = value
        self.example = example
        self.alone = alone

    def convert(self, value: Any, param: click.Parameter | None, ctx: click.Context | None) -> tuple[str, Any]:
        """The pair; a name may hold the sign, a count or a weight does not."""
        if not isinstance(value, str):
            return value
        size, equals, text = value.rpartition("=")
        if self.alone and not equals:
            return "", self.value.convert(text, param, ctx)
        if not equals or not size.strip() or not text.strip():
            option = param.opts[0] if param else "--jar"
            raise UsageUnclear(
                f"“{option} {value}” is not a name and a value; write {option} '{self.example}'.", "labelkit --help"
            )
        return size.strip(), self.value.convert(text.strip(), param, ctx)


def _locale(ctx: click.Context | None) -> str:
    from labelkit.cli._runner import CommandContext

    found = ctx.find_object(CommandContext) if ctx else None
    return found.locale if found else CommandContext.locale


def _currency(ctx: click.Context | None) -> str:
    """The season's currency, asked of the record once a command."""
    from labelkit.cli._runner import CommandContext
    from labelkit.season.settings import currency_of

    if ctx is None:
        return currency_of(None)
    if "currency" not in ctx.meta:
        ctx.meta["currency"] = currency_of(ctx.find_object(CommandContext))
    return ctx.meta["currency"]


def _money(text: str, currency: str, locale: str) -> Any:
    from labelkit.measures import Money

    return Money.read(text, currency, locale)


def _mass(text: str, locale: str) -> Any:
    from labelkit.measures import Mass

    return Mass.read(text, locale)


def _division(text: str, locale: str) -> Any:
    from labelkit.measures.division import Division

    return Division.read(text, locale)


def _length(text: str, locale: str) -> Any:
    from labelkit.measures import Length

    return Length.read(text, locale)


def _volume(text: str, locale: str) -> Any:
    from labelkit.measures import read_volume

    return read_volume(text, locale)


def _number(text: str, locale: str) -> Any:
    from labelkit.measures.numerals import read_number

    return read_number(text, locale)


def _chance(text: str, locale: str) -> Any:
    from labelkit.season.past_fills import chance_of

    return chance_of(_percent(text, locale))


def _declared(text: str, locale: str) -> Any:
    from labelkit.measures import Declared

    return Declared.read(text, locale)


def _tax(text: str, locale: str) -> Any:
    from labelkit.reading.tax import read_tax

    return read_tax(text, locale)


def _period(text: str, locale: str) -> Any:
    from labelkit.reading.period import read_period

    return read_period(text, locale)


def _tare(text: str, locale: str) -> Any:
    from labelkit.errors.filling import TareImpossible
    from labelkit.errors.measures import NotPositive

    try:
        return _mass(text, locale)
    except NotPositive:
        raise TareImpossible(text, "an empty jar weighs more than nothing") from None


def _percent(text: str, locale: str) -> Any:
    from labelkit.measures.numerals import read_percent

    return read_percent(text, locale)


def _temperature(text: str, locale: str) -> Any:
    from labelkit.measures import read_temperature

    return read_temperature(text, locale)


def _source(text: str, locale: str) -> Any:
    from labelkit.reading.entry import read_source

    return read_source(text)


def _share(text: str, locale: str) -> Any:
    from labelkit.reading.shares import read_share

    return read_share(text, locale)


def _left(text: str, locale: str) -> Any:
    from labelkit.measures import Mass

    return Mass.read(text, locale, nought=True)


def _part(text: str, locale: str) -> Any:
    name, _, weight = (piece.strip() for piece in text.partition("="))
    return name, _mass(weight, locale) if weight else None


def _part_as_it_was(text: str, locale: str) -> Any:
    name, _, weight = (piece.strip() for piece in text.partition("="))
    return name, _left(weight, locale) if weight else None


def _day(text: str, locale: str) -> Any:
    from labelkit.measures.numerals import read_day

    return read_day(text, locale)


def _count(text: str, locale: str) -> int:
    from labelkit.measures.numerals import read_count

    return read_count(text, locale, least=1)


def _limit(text: str, locale: str) -> int:
    from labelkit.measures.numerals import read_count

    return read_count(text, locale)


def _address(text: str, locale: str) -> tuple[str, ...]:
    return tuple(part.strip() for part in text.split(";") if part.strip())


MASS = Quantity("WEIGHT", _mass)
LEFT = Quantity("WEIGHT", _left)  # of what may be empty
DIVISION = Quantity("WEIGHT", _division)  # the step of a scale, in the unit it shows
LENGTH = Quantity("LENGTH", _length)
VOLUME = Quantity("VOLUME", _volume)  # millilitres
TEMPERATURE = Quantity("TEMPERATURE", _temperature)  # degrees Celsius
NUMBER = Quantity("NUMBER", _number)
PERCENT = Quantity("PERCENT", _percent)
CHANCE = Quantity("PERCENT", _chance)  # how sure a lot is to pass, between 0 and 1
TARE = Quantity("WEIGHT", _tare)
DECLARED = Quantity("WEIGHT", _declared)
TAX = Quantity("WORDS", _tax)
DAY = Quantity("DATE", _day)
PERIOD = Quantity("YEAR", _period)
SOURCE = Quantity("'YARD: HIVE, HIVE'", _source)
SHARE = Quantity("ES=60", _share)  # a country and its per cent
PART_AS_IT_WAS = Quantity("BUCKET[=WEIGHT]", _part_as_it_was)  # nothing of a bucket that was no part
BUCKET_PART = Quantity("BUCKET[=WEIGHT]", _part)  # all of the bucket where no weight is said
ADDRESS = Quantity("'STREET; TOWN'", _address)
AMOUNT = Amount()
COUNT = Quantity("COUNT", _count)
LIMIT = Quantity("COUNT", _limit)  # nought is a limit too
SEASON_FILE = ReadSeasonFile()
JAR_COUNT = BySize(COUNT, "one pound=57")
JAR_LIMIT = BySize(LIMIT, "one pound=57")
JAR_MASS = BySize(MASS, "one pound=455 g")
JAR_NUMBER = BySize(Quantity("GTIN", lambda text, _: text), "one pound=9521234543213")
WORDS = Quantity("WORDS", lambda text, _: text)
JAR_AMOUNT = BySize(AMOUNT, "one pound=12.00")
SOLD_AT = BySize(AMOUNT, "one pound=12.00", alone=True)
JAR_TARE = BySize(TARE, "one pound=212.7 g")
JAR_AMOUNTS = BySize(Amounts(), "one pound=11.00,12.50")
JAR_STEP = BySize(PriceStep(), "one pound=30@11.00")


def year_option(function: Callable) -> Callable:
    """``--year YEAR``: only what happened in a year, or in another stretch of days."""
    return click.option(
        "--year",
        "period",
        type=PERIOD,
        help="Only of 2026, of the year from 2026-04, or of 2026-03-01..2026-10-31.",
    )(function)


TALLIED = {
    "sold": "Jars sold, from the tally; SIZE@LOT=COUNT of two lots.",
    "given": "Given away.",
    "tasted": "Opened to taste.",
    "broken": "Broken.",
    "back": "Brought back, if you counted.",
}
_TILL = {
    "cash": "Cash in the box in the evening, the float included.",
    "cards": "Paid by card.",
    "off": "Let off on prices, all together.",
    "fee": "What the stall cost.",
}


def tally_options(function: Callable) -> Callable:
    """What became of the jars of a market day, and its money."""
    for name, says in reversed(_TILL.items()):
        function = click.option(f"--{name}", type=AMOUNT, help=says)(function)
    for name, says in reversed(TALLIED.items()):
        function = click.option(f"--{name}", type=JAR_LIMIT, multiple=True, help=says)(function)
    return function


def season_file(function: Callable) -> Callable:
    """``[SEASON.toml]``: a season file in place of the record, or nothing."""
    return click.argument("file", required=False, metavar="[SEASON.toml]", type=SEASON_FILE, is_eager=True)(function)


fill_system = click.option("--system", metavar="NAME", help="Another of the market's ways to judge: minimum, AQS.")


def fill_goal_options(function: Callable) -> Callable:
    """``--sure`` and ``--system``: how sure the next lots are to pass, and by which way to judge them."""
    function = fill_system(function)
    return click.option("--sure", type=CHANCE, help="How sure the next lots are to pass; 95 unless given.")(function)


def by_size(pairs: Iterable[tuple[str, Any]], option: str) -> dict[str, Any]:
    """Repeated ``SIZE=VALUE`` options as a table; the same size twice is refused, since only one can be meant."""
    found = list(pairs)
    twice = [size for size, times in Counter(size for size, _ in found).items() if times > 1]
    if twice:
        raise UsageUnclear(f"{option} names {twice[0]} more than once; say it once.", "labelkit --help")
    return dict(found)


paper_language = click.option(
    "--language", metavar="LOCALE", help="The language of the paper, for example fr_FR; yours unless given."
)


def paper_options(function: Callable) -> Callable:
    """``--page`` and ``--language`` for commands that print."""
    function = paper_language(function)
    return click.option("--page", type=click.Choice(["letter", "a4"]), help="Paper size; your country's unless given.")(
        function
    )


def grouped(pairs: Iterable[tuple[str, Any]]) -> dict[str, tuple[Any, ...]]:
    """Repeated ``NAME=VALUE`` options, all the values of a name together."""
    found: dict[str, tuple[Any, ...]] = {}
    for name, value in pairs:
        found[name] = (*found.get(name, ()), value)
    return found


def once_option(function: Callable) -> Callable:
    """``--once KEY``: repeating a step under its key books nothing twice; and the word for the clock."""
    function = clock_option(function)
    return click.option(
        "--once", metavar="KEY", help="A name for this step, so that repeating it books nothing twice."
    )(function)


def sheet_option(function: Callable) -> Callable:
    """``--sheet NAME``: which sheet of a workbook."""
    return click.option(
        "--sheet", default="", metavar="NAME", help="The sheet of the workbook, where more than one has a table."
    )(function)


def note_option(function: Callable) -> Callable:
    """``--note WORDS``: words kept with what is booked."""
    return click.option("--note", "words", metavar="WORDS", default="", help="A note to keep with it.")(function)


def because_option(function: Callable) -> Callable:
    """``--because WORDS``: why something that is asked about is right; kept with what is booked."""
    return click.option(
        "--because",
        default="",
        metavar="WORDS",
        help="Why it is right, where labelkit asks about it; kept in the record.",
    )(function)
