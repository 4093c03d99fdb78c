"""What a season file wishes of the jar plan: its ``[plan]`` table, and the keys of a jar or a bucket that only plan.

[plan]
goal       = "mix"                          # money, least-left, mix or first
mix        = { "one pound" = 2, "half pound" = 1 }
first      = "one pound"                    # with goal = "first"
keep       = { "winter feed" = "5 kg" }     # honey that stays unbottled
wet        = "leave-out"                    # or "allow": buckets over the moisture ceiling
join_tails = true                           # what is left of alike buckets may become a blend
bucket_step = "50 g"                        # the step of the scale the buckets were weighed on
jar_step    = "1 g"
hang_up     = "80 g"                        # what stays on the walls of an emptied bucket

[[jar]]
reserve   = 6                               # jars for helpers, family, gifts or a show
may_buy   = true                            # more empty jars than in_stock may be bought,
buy_pack  = 12                              # in packs of so many
then      = [{ after = 30, price = "11.00" }]
only_from = ["clover"]                      # plant sources or tags the bucket must carry

[[bucket]]
use_first = true                            # older or wetter than the rest
tags      = ["organic"]                     # keeps its honey apart from honey without
"""

from __future__ import annotations

from decimal import Decimal
from typing import Any

from labelkit.lots.season import JarWishes, PlanWishes
from labelkit.measures import Mass, Money

PLAN = ("goal", "first", "mix", "keep", "wet", "join_tails", "bucket_step", "jar_step", "hang_up")
JAR_WISHES = ("reserve", "may_buy", "buy_pack", "then", "only_from")
BUCKET_WISHES = ("use_first", "tags")
GOALS = ("money", "least-left", "mix", "first")
WET = ("leave-out", "allow")


def read_plan(reader: Any, table: dict[str, Any], sizes: tuple[str, ...], locale: str) -> PlanWishes:
    """The ``[plan]`` table; ``reader`` names the file and the line in a refusal."""
    reader.known(table, PLAN, "the plan")
    goal, first = _one_of(reader, table, "goal", GOALS), table.get("first")
    mix = _named(reader, table, "mix", sizes)
    if first is not None:
        _size(reader, "first", first, sizes)
    if goal == "first" and first is None:
        raise reader.unclear('goal is "first", but no size is named', 'Name it, for example first = "one pound".')
    if goal == "mix" and not mix:
        raise reader.unclear('goal is "mix", but no mix is given', 'Give it, for example mix = { "one pound" = 2 }.')
    return PlanWishes(
        goal=goal,
        first=first,
        mix=tuple((size, _share(reader, size, share)) for size, share in mix.items()),
        keep=tuple((name, _mass(reader, "keep", mass, locale)) for name, mass in _named(reader, table, "keep").items()),
        wet=_one_of(reader, table, "wet", WET),
        join_tails=yes_or_no(reader, table, "join_tails", "the plan"),
        **{
            key: _mass(reader, key, table[key], locale)
            for key in ("bucket_step", "jar_step", "hang_up")
            if key in table
        },
    )


def read_jar_wishes(reader: Any, jar: str, table: dict[str, Any], currency: str, locale: str) -> JarWishes:
    """What a ``[[jar]]`` asks of the plan."""
    counts = {key: reader.count(jar, key, table[key]) for key in ("reserve", "buy_pack") if key in table}
    return JarWishes(
        may_buy=yes_or_no(reader, table, "may_buy", f"jar {jar}"),
        then=tuple(_step(reader, jar, step, currency, locale) for step in _list(reader, table, "then", f"jar {jar}")),
        only_from=read_words(reader, table, "only_from", f"jar {jar}"),
        **counts,
    )


def read_words(reader: Any, table: dict[str, Any], key: str, where: str) -> frozenset[str]:
    """A list of words; one alone may stand without its brackets."""
    words = _list(reader, table, key, where)
    if not all(isinstance(word, str) and word.strip() for word in words):
        raise reader.unclear(
            f"line {reader.line_of(key)}: {key} of {where} is “{table[key]}”", f'Write {key} = ["clover"].'
        )
    return frozenset(word.strip() for word in words)


def yes_or_no(reader: Any, table: dict[str, Any], key: str, where: str) -> bool:
    """``true`` or ``false``, and nothing else."""
    value = table.get(key, False)
    if not isinstance(value, bool):
        raise reader.unclear(
            f"line {reader.line_of(key)}: {key} of {where} is “{value}”", f"Write {key} = true or {key} = false."
        )
    return value


def _list(reader: Any, table: dict[str, Any], key: str, where: str) -> list[Any]:
    value = table.get(key, [])
    return value if isinstance(value, list) else [value]


def _one_of(reader: Any, table: dict[str, Any], key: str, words: tuple[str, ...]) -> str:
    value: str = table.get(key, words[0])
    if value not in words:
        raise reader.unclear(f"line {reader.line_of(key)}: {key} is “{value}”", f"Use one of: {', '.join(words)}.")
    return value


def _named(reader: Any, table: dict[str, Any], key: str, sizes: tuple[str, ...] | None = None) -> dict[str, Any]:
    value = table.get(key, {})
    if not isinstance(value, dict):
        example = 'mix = { "one pound" = 2 }' if key == "mix" else 'keep = { "winter feed" = "5 kg" }'
        raise reader.unclear(f"line {reader.line_of(key)}: {key} is “{value}”", f"Write {example}.")
    if sizes is not None:
        for name in value:
            _size(reader, key, name, sizes)
    return value


def _size(reader: Any, key: str, name: Any, sizes: tuple[str, ...]) -> None:
    if name not in sizes:
        raise reader.unclear(
            f"line {reader.line_of(key)}: {key} names the jar “{name}”, which the file does not have",
            f"Use one of: {', '.join(sizes)}." if sizes else "Add it as a [[jar]].",
        )


def _share(reader: Any, size: str, share: Any) -> Decimal:
    if isinstance(share, bool) or not isinstance(share, int | Decimal) or not Decimal(share).is_finite() or share < 0:
        raise reader.unclear(
            f"line {reader.line_of('mix')}: the share of {size} is “{share}”",
            'Give a number of 0 or more, for example mix = { "one pound" = 2, "half pound" = 1 }.',
        )
    return Decimal(share)


def _mass(reader: Any, key: str, value: Any, locale: str) -> Mass:
    mass = Mass.read(value if isinstance(value, str) else str(value), locale)
    if mass.mg < 0:
        raise reader.unclear(
            f"line {reader.line_of(key)}: {key} is below nothing", f'Give a weight, as in {key} = "50 g".'
        )
    return mass


def _step(reader: Any, jar: str, step: Any, currency: str, locale: str) -> tuple[int, Money]:
    if not isinstance(step, dict) or set(step) != {"after", "price"}:
        raise reader.unclear(
            f"line {reader.line_of('then')}: then of jar {jar} does not say after how many jars which price holds",
            'Write then = [{ after = 30, price = "11.00" }].',
        )
    return reader.count(jar, "after", step["after"]), reader.money(jar, step, "price", currency, locale)
