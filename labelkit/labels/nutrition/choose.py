"""Which display a label takes: the first that is lawful on the package and fits the room, as large as the room allows."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from decimal import Decimal
from functools import partial

from labelkit.errors.labels import DisplayNotLawful, PanelTooLarge
from labelkit.labels.nutrition import linear, tabular, vertical
from labelkit.labels.nutrition.panel import Nutrition
from labelkit.labels.nutrition.pen import Laid, Sizes
from labelkit.labels.nutrition.words import Said, said
from labelkit.rules.figures.nutrition_displays import (
    LINEAR,
    SMALL_TABULAR,
    TABULAR,
    VERTICAL,
    Display,
    TypeSizes,
    displays,
    may_be_simplified,
    type_sizes,
)

#: How wide a panel looks right: the upright one and the running text in tenths of the nutrients' type size, a table in
#: hundredths of the least it can be set in. Our own eye, no source.
UPRIGHT_WIDE, LINE_WIDE, TABLE_SPREAD = 184, 320, 118
LARGER = (160, 150, 140, 130, 120, 115, 110, 105)
FAMILIES = ("sans", "narrow")
CALLED = {VERTICAL: "upright", TABULAR: "tabular", SMALL_TABULAR: "small tabular", LINEAR: "linear"}


@dataclass(frozen=True, slots=True)
class Form:
    """One way to say the panel: whole or simplified, with or without the voluntary footnote, wide or narrow letters."""

    simplified: bool
    dagger: bool
    family: str


@dataclass(frozen=True)
class Chosen:
    """The panel a room takes."""

    laid: Laid
    display: Display
    form: Form
    said: Said
    sizes: TypeSizes


def choose(nutrition: Nutrition, wide: int, high: int) -> Chosen:
    """The panel for a room so wide and high, in micrometres.

    Raises :class:`~labelkit.errors.labels.PanelTooLarge` with the millimetres that are wanting and the display that would
    be lawful, and :class:`~labelkit.errors.labels.DisplayNotLawful` for a display asked for that the package may not bear.
    """
    every = displays(nutrition.market, nutrition.surface, Decimal(high) / 1000, nutrition.panel.dual_column)
    wanted = [one for one in every if one.name == nutrition.display] if nutrition.display else every
    if nutrition.display and not wanted[0].allowed:
        raise DisplayNotLawful(CALLED[wanted[0].name], wanted[0].because, wanted[0].allowed is None)
    for display in wanted:
        if display.allowed and (found := _fitting(nutrition, display, wide, high)):
            return found
    short = {one: _closest(nutrition, one, wide, high) for one in wanted}
    raise PanelTooLarge(
        (wide, high),
        [(CALLED[one.name], laid.wide - wide, laid.high - high) for one, laid in short.items() if one.allowed],
        [
            (CALLED[one.name], laid.wide, laid.high, one.because, laid.wide <= wide and laid.high <= high)
            for one, laid in short.items()
            if one.allowed is None
        ],
        min(((laid.wide, laid.high) for one, laid in short.items() if one.allowed), key=lambda size: size[0] * size[1]),
    )


def _fitting(nutrition: Nutrition, display: Display, wide: int, high: int) -> Chosen | None:
    least = type_sizes(nutrition.market, display.name, nutrition.surface)
    for form in forms(nutrition):
        words = _words(nutrition, display, form)
        at_least = _fits(words, display, Sizes.of(least), form.family, wide, high)
        if at_least is None:
            continue
        grown = (_fits(words, display, Sizes.of(least, percent), form.family, wide, high) for percent in LARGER)
        return Chosen(next((one for one in grown if one), at_least), display, form, words, least)
    return None


def forms(nutrition: Nutrition) -> Iterator[Form]:
    """The fullest first. The footnote on sugars is voluntary, so it goes last of all that may go."""
    simple = (False, True) if may_be_simplified(nutrition.market, nutrition.panel.rows) else (False,)
    for dagger in (True, False) if nutrition.panel.dagger else (True,):
        for simplified in simple:
            for family in FAMILIES:
                yield Form(simplified, dagger, family)


def _words(nutrition: Nutrition, display: Display, form: Form) -> Said:
    return said(
        nutrition.panel,
        nutrition.market,
        simplified=form.simplified,
        short=display.name in (SMALL_TABULAR, LINEAR),
        dual=display.needs_second_column,
        dagger=form.dagger,
    )


def _fits(words: Said, display: Display, sizes: Sizes, family: str, wide: int, high: int) -> Laid | None:
    found = (lay() for lay in layouts(words, display, sizes, family, wide))
    return next((laid for laid in found if laid.wide <= wide and laid.high <= high), None)


def layouts(words: Said, display: Display, sizes: Sizes, family: str, wide: int) -> Iterator[Callable[[], Laid]]:
    """Every way to lay a display out in so much width, the handsomest first."""
    if display.name == VERTICAL:
        ideal = sizes.nutrients * UPRIGHT_WIDE // 10
        for most in dict.fromkeys((min(wide, ideal), min(wide, ideal * 130 // 100))):
            yield partial(vertical.lay, words, sizes, family, most)
    elif display.name == LINEAR:
        yield partial(linear.lay, words, sizes, family, min(wide, sizes.nutrients * LINE_WIDE // 10))
    else:
        for beside in (True, False) if display.name == TABULAR and not words.none_of else (False,):
            least = tabular.lay(words, sizes, family, 0, foot_beside=beside).wide
            most = min(wide, least * TABLE_SPREAD // 100)
            yield partial(tabular.lay, words, sizes, family, most, foot_beside=beside)


def _closest(nutrition: Nutrition, display: Display, wide: int, high: int) -> Laid:
    """The layout at the least sizes that lacks least of the room."""
    sizes = Sizes.of(type_sizes(nutrition.market, display.name, nutrition.surface))
    laid = [
        lay()
        for form in forms(nutrition)
        for lay in layouts(_words(nutrition, display, form), display, sizes, form.family, wide)
    ]
    return min(laid, key=lambda one: max(0, one.wide - wide) + max(0, one.high - high))
