"""What a label file tells about the facts rules hang on; what it leaves open stays open."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from labelkit.rules.checking.presence import names_an_addition
from labelkit.rules.checking.said import Said
from labelkit.rules.figures.letter_height import Panel
from labelkit.rules.label import Label
from labelkit.rules.market import Market

_FLOWERS = ("heather", "citrus", "acacia", "lavender", "chestnut", "honeydew")
_HOME = "home country"
_TWO = 2


def told(label: Label, market: Market) -> dict[str, Any]:
    """The facts a label file tells by its fields, by their names in the glossary; ``[situation]`` goes first."""
    with_something = label.kind in ("infused", "blend")
    facts: dict[str, Any] = {
        "kind": label.kind,
        "honey": honey_of(label),
        "infused": with_something,
        # A list of one thing does not tell what was added to it.
        "ingredients": None if with_something and len(label.ingredients) < _TWO else len(label.ingredients) or 1,
        # A jar with a printed label and a declared weight is a consumer's, filled before it is sold, all alike.
        "bulk": False,
        "consumer_pack": True,
        "weighed_before_buyer": False,
        "random_weight": False,
        "graded": bool(label.grade),
        "names_plant": bool(label.floral_source or label.story.get("flower")),
        "name_tells_additions": names_an_addition(label),
        "nutrition_claim": False,
        "contact_printed": True if label.maker.get("phone") else None,
        "date_shows": label.best_before.shows if label.best_before else "nothing",
        "declared": label.declares.grams if label.declares else None,
        **_own(label),
        **_jar(label, market),
        **_origin(label, market),
        **label.situation,
    }
    return {name: value for name, value in facts.items() if value is not None}


def facts_of(label: Label, known: Mapping[str, Any], said: Said) -> dict[str, Any]:
    """The facts of a label in one market: what the file tells (see :func:`told`), and what its words make true."""
    facts = dict(known)
    facts["infant_warning"] = "infant_caution" in said.reading.elements
    if "nutrition_contact" in said.reading.elements:
        facts["contact_printed"] = True
    return {**facts, **said.means, **label.situation}


def honey_of(label: Label) -> str:
    """The sort of honey as composition rules tell them apart.

    >>> honey_of(Label(("us",), "Heather Honey", None, floral_source="heather"))
    'heather'
    """
    if label.kind != "honey":
        return label.kind
    return next((flower for flower in _FLOWERS if flower in label.floral_source.casefold()), "honey")


def panel_of(label: Label) -> Panel | None:
    """The jar's main side, as far as the file describes it."""
    panel = label.panel
    if "diameter" in panel and "height" in panel:
        return Panel.cylinder(panel["diameter"], panel["height"])
    if "width" in panel and "height" in panel:
        return Panel.flat(panel["width"], panel["height"])
    return None


def _jar(label: Label, market: Market) -> dict[str, Any]:
    panel = panel_of(label)
    if panel is None:
        return {}
    return {"panel_area": panel.area(market, []), "longest_side": panel.longest_mm}


def _own(label: Label) -> dict[str, Any]:
    """What follows from bottling one's own honey: it was not bought in, and nobody else made it."""
    return {"imported": False, "importer": False, "not_the_maker": False} if label.situation.get("own_hives") else {}


def _origin(label: Label, market: Market) -> dict[str, Any]:
    if not label.origin:
        return {}
    home = market.value(_HOME).value if market.holds(_HOME) else None
    countries = {share.country for share in label.origin}
    imported = bool(countries - {home}) if home else None
    return {"blended_origins": len(countries) > 1, "imported": imported}
