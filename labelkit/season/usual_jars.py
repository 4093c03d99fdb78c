"""Jar sizes that are usual where the honey is sold, ready to take or to change; the catalogue is ``templates/jars``."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING, Any

from labelkit.measures import Declared, Length
from labelkit.measures.locales import DEFAULT_LOCALE
from labelkit.measures.toml import read_toml
from labelkit.season.label_words import LabelWords, keep_words
from labelkit.season.price import SizePrice, set_price
from labelkit.shipped import template_text

if TYPE_CHECKING:
    from labelkit.record.work import Work


@dataclass(frozen=True, slots=True)
class Jar:
    """A jar size: what its label declares, and the straight side of the glass, where the label goes.

    Without a side the largest letters that may be due are printed. ``ticked`` is whether most people begin with it.
    """

    name: str
    declares: Declared
    diameter: Length | None
    height: Length | None
    ticked: bool = False


def usual_jars(market: str) -> tuple[Jar, ...]:
    """The sizes usual in a market; common practice without a source, so whoever takes them looks at them first.

    >>> [jar.name for jar in usual_jars("us-va")]
    ['one pound', 'twelve ounces', 'half pound', 'two pounds']
    >>> [jar.name for jar in usual_jars("eu-de") if jar.ticked]
    ['500 g', '250 g']
    """
    entries = read_toml(template_text("jars/usual.toml"))["size"]
    known = {entry["place"] for entry in entries}
    place = next(each for each in (market, market.partition("-")[0], "") if each in known)
    return tuple(_read(entry) for entry in entries if entry["place"] == place)


def _read(entry: dict[str, Any]) -> Jar:
    return Jar(
        entry["name"],
        Declared.read(entry["declares"], DEFAULT_LOCALE),
        Length.read(entry["diameter"], DEFAULT_LOCALE),
        Length.read(entry["height"], DEFAULT_LOCALE),
        entry.get("ticked", False),
    )


def keep_jars(work: Work, jars: Iterable[Jar], day: date) -> None:
    """Keep sizes with the side of their jars; prices they had stay, new ones have none yet.

    Raises what :func:`~labelkit.season.price.set_price` and :func:`~labelkit.season.label_words.keep_words` raise.
    """
    sides = {}
    for jar in jars:
        set_price(work, SizePrice(jar.name, None, jar.declares, price_later=True), day)
        if jar.diameter and jar.height:
            sides[jar.name] = {"diameter": f"{jar.diameter.mm} mm", "height": f"{jar.height.mm} mm"}
    keep_words(work, LabelWords(jars=sides), day)
