"""The panel in plain text, for a terminal: the same words and lines as on paper, in letters of one width."""

from __future__ import annotations

from collections.abc import Iterator
from textwrap import wrap

from labelkit.labels.nutrition.words import Line, Said

WIDE, FIGURES = 44, 15
HAIR, MEDIUM, HEAVY = "─", "━", "█"


def as_text(said: Said) -> str:
    """The panel in a box of its own.

    >>> from datetime import date
    >>> from decimal import Decimal
    >>> from labelkit.labels.nutrition.words import said
    >>> from labelkit.rules import market
    >>> from labelkit.rules.figures.nutrition import panel
    >>> us = market("us", date(2026, 11, 25))
    >>> print(as_text(said(panel(Decimal("340.194"), us), us, simplified=True)).splitlines()[1])
    │ Nutrition Facts                              │
    """
    wide = WIDE + (FIGURES if said.dual else 0)
    drawn = (line * wide if line in (HAIR, MEDIUM, HEAVY) else line for line in _lines(said, wide))
    return "\n".join((f"┌{HAIR * (wide + 2)}┐", *(f"│ {line:<{wide}} │" for line in drawn), f"└{HAIR * (wide + 2)}┘"))


def _lines(said: Said, wide: int) -> Iterator[str]:
    yield from (said.heading, HAIR, said.servings, _apart(said.serving_label, said.serving, wide), HEAVY)
    if said.dual:
        yield _columns("", said.per_serving, said.per_container)
        yield _columns(said.calories, said.number, said.jar_number)
    else:
        yield said.amount_per_serving
        yield _apart(said.calories, said.number, wide)
    yield MEDIUM
    yield _columns("", said.short_percent, said.short_percent) if said.dual else f"{said.percent:>{wide}}"
    yield HAIR
    yield from (_nutrient(line, said, wide) for line in said.lines)
    if said.vitamins:
        yield HEAVY
        yield from (_nutrient(line, said, wide) for line in said.vitamins)
    yield MEDIUM
    for text in filter(None, (said.none_of, *said.notes)):
        yield from wrap(text, wide)


def _nutrient(line: Line, said: Said, wide: int) -> str:
    name = "  " * line.level + line.name
    if not said.dual:
        return _apart(f"{name} {line.amount}".rstrip(), line.percent, wide)
    return _columns(name, f"{line.amount:<7}{line.percent:>6}", f"{line.jar_amount:<7}{line.jar_percent:>6}")


def _columns(name: str, one: str, other: str) -> str:
    names = WIDE - FIGURES + 2
    return f"{name:<{names}}{one:>{FIGURES - 2}}{other:>{FIGURES}}"


def _apart(left: str, right: str, wide: int) -> str:
    return f"{left}{right:>{wide - len(left)}}"
