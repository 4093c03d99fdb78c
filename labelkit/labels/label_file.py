"""LABEL.toml: what one jar's label is to say, as its maker writes it down."""

from __future__ import annotations

import tomllib
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from labelkit.errors.labels import LabelFileUnclear
from labelkit.labels.content import LabelContent, front_label_content
from labelkit.labels.lawful import Asked, asked
from labelkit.measures import Length, read_area
from labelkit.measures.units import MASS, read_quantity
from labelkit.rules.figures import net_weight
from labelkit.rules.figures.letter_height import Panel
from labelkit.rules.market import Market

_TEXTS = ("kind", "name", "floral_source", "declares", "net_statement", "grade", "lot")
_LISTS = ("market", "lines", "ingredients", "origin")
_TABLES = ("maker", "panel", "situation")
_KEYS = {*_TEXTS, *_LISTS, *_TABLES, "best_before"}
_MAKER = ("name", "street", "city", "region", "postcode", "phone", "registration", "country", "web")


@dataclass(frozen=True)
class LabelFile:
    """A label file that has been read: plain values, nothing reckoned yet."""

    markets: tuple[str, ...]
    name: str
    declares: str
    net_statement: str
    lines: tuple[str, ...]
    ingredients: tuple[str, ...]
    grade: str
    lot: str
    best_before: date | None
    origin: tuple[dict, ...]
    maker: dict[str, str]
    panel: dict[str, str]
    situation: dict

    @property
    def address(self) -> tuple[str, ...]:
        """The maker's address in lines, as post is addressed where the postcode follows the town."""
        held = self.maker
        town = " ".join(filter(None, (", ".join(filter(None, (held.get("city"), held.get("region")))), held.get("postcode"))))
        return tuple(filter(None, (held.get("street"), town, held.get("country"), held.get("phone"), held.get("web"))))

    def panel_of_jar(self) -> Panel | None:
        """The side of the jar, if it was given."""
        if {"diameter", "height"} <= set(self.panel):
            return Panel.cylinder(Length.read(self.panel["diameter"]), Length.read(self.panel["height"]))
        if {"width", "height"} <= set(self.panel):
            return Panel.flat(Length.read(self.panel["width"]), Length.read(self.panel["height"]))
        if "area" in self.panel:
            return Panel.of_area(read_area(self.panel["area"]))
        return None


def read_label_file(text: str, file: str = "LABEL.toml") -> LabelFile:
    """Read a label file. Raises :class:`~labelkit.errors.labels.LabelFileUnclear`.

    >>> read_label_file('name = "Clover Honey"\\ndeclares = "1 lb"\\n[maker]\\nname = "Hazel Bank"').name
    'Clover Honey'
    """
    try:
        held = tomllib.loads(text)
    except tomllib.TOMLDecodeError as trouble:
        raise LabelFileUnclear(file, str(trouble)) from trouble
    odd = sorted(set(held) - _KEYS)
    if odd:
        raise LabelFileUnclear(file, f"it holds the unknown {', '.join(odd)}")
    _must_be(file, held, _TEXTS, str, "a text in quotation marks")
    _must_be(file, held, _LISTS, list, "a list in square brackets")
    _must_be(file, held, _TABLES, dict, "a table with a heading in square brackets")
    maker = held.get("maker", {})
    for needed, where in (("name", held), ("declares", held), ("name", maker)):
        if not where.get(needed):
            raise LabelFileUnclear(file, f"it does not say {'the maker’s ' if where is maker else ''}{needed}")
    if set(maker) - set(_MAKER):
        raise LabelFileUnclear(file, f"[maker] holds the unknown {', '.join(sorted(set(maker) - set(_MAKER)))}")
    best_before = held.get("best_before")
    if best_before is not None and type(best_before) is not date:
        raise LabelFileUnclear(file, "best_before is not a day like 2028-06-30 without quotation marks")
    return LabelFile(
        tuple(held.get("market", ())), held["name"], held["declares"], held.get("net_statement", ""),
        tuple(held.get("lines", ())), tuple(held.get("ingredients", ())), held.get("grade", ""), held.get("lot", ""),
        best_before, tuple(held.get("origin", ())), maker, held.get("panel", {}), held.get("situation", {}),
    )  # fmt: skip


def _must_be(file: str, held: dict, keys: Sequence[str], kind: type, said: str) -> None:
    for key in keys:
        if key in held and not isinstance(held[key], kind):
            raise LabelFileUnclear(file, f"{key} is not {said}")


def content_of(
    held: LabelFile, markets: Sequence[Market], *, locale: str, date_text: str = "", origin_text: str = "",
    caution: str = "", wording: Sequence[str] = (), lot: str = "", link: str | None = None, number: str | None = None,
    kind: str = "front", lang: str = "en",
) -> tuple[LabelContent, Asked]:  # fmt: skip
    """The label's content and what the markets ask of it.

    ``date_text``, ``origin_text``, ``caution`` and ``wording`` are sentences another room has worded; this one only
    joins them to what the maker wrote and to the declared weight, which it has reckoned for the first market.
    """
    statements = [held.net_statement] if held.net_statement else []
    grams = read_quantity(held.declares, MASS, locale)
    if markets and not statements:
        statements = list(net_weight.declared(held.declares, markets[0], locale).statements)
    rules = asked(markets, held.panel_of_jar(), grams)
    diameter = held.panel.get("diameter")
    content = front_label_content(
        name=held.name, statement=statements[0] if statements else held.declares, other_statements=statements[1:],
        maker=held.maker["name"], address=held.address, lot=lot or held.lot or None, best_before=date_text,
        caution=caution, origin=origin_text, grade=held.grade, lines=held.lines, wording=wording,
        ingredients="" if held.ingredients in ((), ("honey",)) else "Ingredients: " + ", ".join(held.ingredients),
        net_height=rules.net, text_height=rules.text, net_rule=rules.net_rule, langs=(lang,), link=link, number=number,
        diameter=Length.read(diameter) if diameter else None, market=",".join(market.code for market in markets), kind=kind,
    )  # fmt: skip
    return content, rules
