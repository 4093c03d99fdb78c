"""Designs: typefaces, colours and ornaments of a label family. Each is one TOML file in ``templates/labels/designs``.

A design never decides a height: it says which face and which relation between sizes; how large things come out is the
placer's work, under the law's least heights. Contrast is reckoned by the formula of the Web Content Accessibility
Guidelines 2.2 (relative luminance; W3C Recommendation), whose least for text is 4.5 to 1.
"""

from __future__ import annotations

import tomllib
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import lru_cache
from types import MappingProxyType
from typing import Any

from labelkit.errors.labels import ContrastTooLow, DesignUnclear
from labelkit.labels.heights import upper
from labelkit.paper.fonts import Face
from labelkit.paper.marks import Colour
from labelkit.shipped import names_in, template_text

NAMES = names_in("labels/designs", ".toml")
#: The design taken where none is named.
USUAL_DESIGN = "press"
LEAST_CONTRAST = 4.5
#: From line to line of a name, in hundredths of its size.
USUAL_LEADING = 92
#: How a design may be printed: as drawn, with less ink, or with one ink alone.
INKS = ("full", "less", "one")
ROLES = ("maker", "name", "line", "net", "info", "caution")
_KEYS = {
    "name",
    "title",
    "says",
    "prints",
    "paper",
    "ground",
    "base",
    "side",
    "align",
    "ornament",
    "leading",
    "fills",
    "lines",
    "ink",
    "palette",
    "type",
}


@dataclass(frozen=True, slots=True)
class Type:
    """How one role is set: face, colour, capitals, tracking in thousandths of the size."""

    face: str
    colour: Colour
    capitals: bool = False
    tracking: int = 0
    on_base: Colour | None = None
    on_side: Colour | None = None

    def cased(self, text: str) -> str:
        return upper(text) if self.capitals else text


@dataclass(frozen=True)
class Design:
    """One design. ``ground`` None leaves the paper bare; ``base`` and ``side`` are colours words may stand on, or None.

    ``ornament`` names the file that draws it, ``leading`` is the name's from line to line in hundredths of its size. ``fills``
    sets every line of the title as wide as its room; ``lines`` draws the ornament in lines and leaves its areas bare.
    """

    name: str
    title: str
    says: str
    prints: str
    paper: Colour
    ground: Colour | None
    base: Colour | None
    side: Colour | None
    align: str
    ornament: str
    leading: int
    fills: bool
    lines: bool
    palette: tuple[Colour, ...]
    type: MappingProxyType = field(repr=False)

    @property
    def under(self) -> Colour:
        """What the words in the open stand on."""
        return self.ground or self.paper


def colour_of(text: str) -> Colour:
    """A colour from ``#rrggbb``.

    >>> colour_of("#C8A472")
    (200, 164, 114)
    """
    if len(text) != 7 or text[0] != "#":
        raise ValueError(text)
    return int(text[1:3], 16), int(text[3:5], 16), int(text[5:7], 16)


def contrast(one: Colour, other: Colour) -> float:
    """The contrast ratio of two colours (WCAG 2.2, "contrast ratio"); black on white is 21.

    >>> round(contrast((0, 0, 0), (255, 255, 255)), 1), round(contrast((119, 119, 119), (255, 255, 255)), 2)
    (21.0, 4.48)
    """
    return ratio(luminance(one), luminance(other))


def ratio(one: float, other: float) -> float:
    """The contrast ratio of two relative luminances."""
    dark, light = sorted((one, other))
    return (light + 0.05) / (dark + 0.05)


def luminance(colour: Colour) -> float:
    """The relative luminance of a colour."""
    red, green, blue = (light(part) for part in colour)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def light(part: int) -> float:
    """How much of its light a part of a colour gives back, of one."""
    return part / 255 / 12.92 if part / 255 <= 0.04045 else ((part / 255 + 0.055) / 1.055) ** 2.4


def designs() -> dict[str, Design]:
    """The shipped designs, by name."""
    return {name: design(name) for name in NAMES}


@lru_cache(maxsize=32)
def design(name: str, ink: str = "full") -> Design:
    """One shipped design, in full or in one of its other inks. Raises :class:`~labelkit.errors.labels.DesignUnclear`.

    >>> design("ember").ground, design("ember", "less").ground
    ((36, 20, 11), None)
    """
    if name not in NAMES:
        raise DesignUnclear(name, "there is none of that name", list(NAMES))
    return read_design(template_text(f"labels/designs/{name}.toml"), name, ink)


def read_design(text: str, name: str, ink: str = "full") -> Design:
    """A design out of its TOML text; unknown keys, colours that cannot be read and poor contrast are refused."""
    try:
        held = _in_ink(tomllib.loads(text), ink)
        odd = sorted(set(held) - _KEYS) + sorted(set(held["type"]) - set(ROLES))
        if odd or set(held["type"]) != set(ROLES):
            raise DesignUnclear(name, f"unknown or missing: {', '.join(odd) or 'a role of [type]'}", list(NAMES))
        types = {role: _type(entry) for role, entry in held["type"].items()}
        made = Design(
            held["name"],
            held["title"],
            held["says"],
            held["prints"],
            colour_of(held["paper"]),
            _maybe(held, "ground"),
            _maybe(held, "base"),
            _maybe(held, "side"),
            held["align"],
            held["ornament"],
            held.get("leading", USUAL_LEADING),
            held.get("fills", False),
            held.get("lines", False),
            tuple(map(colour_of, held["palette"])),
            MappingProxyType(types),
        )
    except (tomllib.TOMLDecodeError, KeyError, ValueError, TypeError) as trouble:
        raise DesignUnclear(name, f"it cannot be read ({type(trouble).__name__}: {trouble})", list(NAMES)) from trouble
    _must_stand_out(made)
    return made


def _in_ink(held: dict[str, Any], ink: str) -> dict[str, Any]:
    """The tables of a design as one of its inks changes them; an ink it does not name is its other one.

    ``words`` is the colour of every role, ``on_base`` and ``on_side`` what they have there; the rest are keys of a design.
    """
    inks = held.pop("ink", {})
    if ink == "full" or not inks:
        return held
    own = dict(inks[ink] if ink in inks else next(iter(inks.values())))
    words, typed = own.pop("words", ""), own.pop("type", {})
    on = {key: own.pop(key) for key in ("on_base", "on_side") if key in own}
    types = {
        role: entry
        | ({"colour": words} if words else {})
        | {key: colour for key, colour in on.items() if key in entry}
        | typed.get(role, {})
        for role, entry in held["type"].items()
    }
    return held | own | {"type": types}


def with_colours(base: Design, colours: Mapping[str, str]) -> Design:
    """A design in the user's colours: ``paper``, ``ground``, ``base``, ``side``, ``ornament`` or a role such as ``name``.

    Refused when words would no longer stand out from what they stand on.

    >>> with_colours(design("press"), {"name": "#3A1206"}).type["name"].colour
    (58, 18, 6)
    """
    made, types = base, dict(base.type)
    for what, text in colours.items():
        try:
            colour = colour_of(text)
        except ValueError:
            raise DesignUnclear(base.name, f"“{text}” is not a colour like #7A4A12", list(NAMES)) from None
        if what in types:
            types[what] = replace(types[what], colour=colour)
        elif what == "ornament":
            made = replace(made, palette=(colour, *made.palette[1:]))
        elif what in ("paper", "ground", "base", "side"):
            own: dict[str, Any] = {what: colour}
            made = replace(made, **own)
        else:
            raise DesignUnclear(base.name, f"there is no “{what}” to colour", list(NAMES))
    made = replace(made, type=MappingProxyType(types))
    _must_stand_out(made)
    return made


def with_face(base: Design, which: Face, roles: Sequence[str] = ("name",)) -> Design:
    """A design with a typeface of the user's for these roles."""
    types = {role: replace(held, face=which.key) if role in roles else held for role, held in base.type.items()}
    return replace(base, type=MappingProxyType(types))


def _type(entry: dict) -> Type:
    return Type(
        entry["face"],
        colour_of(entry["colour"]),
        entry.get("capitals", False),
        entry.get("tracking", 0),
        _maybe(entry, "on_base"),
        _maybe(entry, "on_side"),
    )


def _maybe(held: dict, key: str) -> Colour | None:
    return colour_of(held[key]) if held.get(key) else None


def _must_stand_out(made: Design) -> None:
    """Every role on everything it may stand on."""
    for role, held in made.type.items():
        pairs = [(held.colour, made.under)]
        if made.base is not None and held.on_base is not None:
            pairs.append((held.on_base, made.base))
        if made.side is not None and held.on_side is not None:
            pairs.append((held.on_side, made.side))
        worst = min(contrast(ink, under) for ink, under in pairs)
        if worst < LEAST_CONTRAST:
            raise ContrastTooLow(made.name, role, f"{worst:.1f}", f"{LEAST_CONTRAST}")
