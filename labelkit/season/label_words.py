"""Label words: what the labels of a season's products say, kept in the record, and the label file that means.

Settings hold it: ``label`` (the words of the season's own honey, and the jar of each size) and ``situation`` (the facts
the rules hang on), and a table like ``label`` for each product beside it, with the facts that are its own. All go
through the one reader of label files, so that a word typed here is refused as a word in a file is.
"""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import dataclass, field, replace
from datetime import date
from typing import TYPE_CHECKING, Any

from labelkit.errors.labels import LabelNameUnsaid
from labelkit.errors.sale import BestBeforeRuleUnclear, NoLabelRules, SeasonsHoneyStays
from labelkit.labels.design import design
from labelkit.measures import Length
from labelkit.reading.label_file import label_of, read_panel
from labelkit.record.settings import Setting
from labelkit.rules.figures.origin import known_country
from labelkit.rules.label import STORY, Label
from labelkit.sale.product import KINDS, WAX, Product, best_before_on, products_of, setting_of
from labelkit.season.settings import SeasonSettings, settings_of

if TYPE_CHECKING:
    from labelkit.record.work import Work

WORDS = ("name", "floral_source", "grade")
SHOWN_AS = "the label words in the record"


@dataclass(frozen=True, slots=True)
class LabelWords:
    """What somebody says of every label of a product: only what is given changes, and an empty text takes a word away.

    ``lines`` replaces the other words and ``ingredients`` what is in it (``None``: as they were), ``jars`` the side of each
    size's jar, ``volumes`` what it holds, ``facts`` answers what rules hang on, ``unsay`` opens such questions again.
    ``product`` names what is sold, the season's own honey unless named; ``retired`` that it is made no longer.
    """

    texts: Mapping[str, str] = field(default_factory=dict)
    lines: tuple[str, ...] | None = None
    jars: Mapping[str, Mapping[str, str]] = field(default_factory=dict)
    volumes: Mapping[str, str] = field(default_factory=dict)
    facts: Mapping[str, Any] = field(default_factory=dict)
    unsay: Collection[str] = ()
    ingredients: tuple[str, ...] | None = None
    product: str = ""
    retired: bool | None = None


def keep_words(work: Work, asked: LabelWords, day: date) -> tuple[dict[str, Any], dict[str, Any]]:
    """Keep what the labels of a product say; its words and the situation as they stand now.

    Raises what the reader of a label file refuses, where a label of any of its sizes could not be read from these words,
    :class:`~labelkit.errors.sale.BestBeforeRuleUnclear` and :class:`~labelkit.errors.sale.SeasonsHoneyStays`.
    """
    now = work.settings()
    name = _name_of(now, asked.product)
    if asked.texts.get("design"):
        design(asked.texts["design"])
    if asked.texts.get("origin"):
        known_country(asked.texts["origin"])
    label = _words_after(now.get(setting_of(name), {}), asked, day)
    facts = {**(label.get("facts", {}) if name else now.get("situation", {})), **asked.facts}
    facts = {fact: value for fact, value in facts.items() if value not in ("", []) and fact not in asked.unsay}
    if name:
        label = {**label, "name": label.get("name") or name, "facts": facts}
    elif asked.retired:
        raise SeasonsHoneyStays()
    label = {key: value for key, value in label.items() if value not in ("", [], {})}
    kept = {setting_of(name): label} if name else {"label": label, "situation": facts}
    _check(work, {**now, **kept}, name)
    work.add_all(Setting(day, setting, value) for setting, value in kept.items())
    return label, facts


def _name_of(settings: Mapping[str, Any], product: str) -> str:
    """The product that is meant, in the spelling of the record; a new one as it is typed."""
    wanted = product.strip().casefold()
    known = products_of(settings)
    if wanted == known[""].called.casefold():
        return ""
    return next((name for name in known if name.casefold() == wanted), product.strip())


def _words_after(words: Mapping[str, Any], asked: LabelWords, day: date) -> dict[str, Any]:
    """A product's words with what is said now."""
    label = {**words, **asked.texts}
    for key, given in (("lines", asked.lines), ("ingredients", asked.ingredients)):
        if given is not None:
            label[key] = [each.strip() for each in given if each.strip()]
    label["jars"] = {**label.get("jars", {}), **asked.jars}
    label["volumes"] = {**label.get("volumes", {}), **asked.volumes}
    if asked.retired is not None:
        label["retired"] = (label.get("retired") or day.isoformat()) if asked.retired else ""
    return label


def _check(work: Work, after: dict[str, Any], product: str) -> None:
    """Refuse words that no label could be read from; goods that are no food have no label file."""
    season = replace(settings_of(work), products=products_of(after))
    words = season.products[product]
    rule = words.words.get("best_before", "")
    if "month" in rule and best_before_on(rule, None):
        raise BestBeforeRuleUnclear(rule)
    sizes = [size for size, price in season.prices.items() if price.product in ("", product) and price.declares]
    for size in sizes if words.words.get("name") and words.is_honey else ():
        label_of(label_document(season, after, size, product=product), SHOWN_AS)


def whom_to_ask(season: SeasonSettings, product: str, day: date) -> tuple[str, ...]:
    """What to ask before goods are sold that are no honey, by name of the office of each market."""
    sold = season.product(product)
    if sold.is_honey:
        return ()
    offices = ", ".join(dict.fromkeys(place.head.office for place in season.places(day))) or "your local authority"
    goods = f"{sold.called} is not honey: labelkit keeps its stock, prices and sales, and holds no rules for it."
    wax = f"Ask: does this beeswax touch food, or go into cosmetics? Then ask {offices} which rules apply to it first."
    ask = f"Ask {offices} what its label must say."
    return (goods, *((wax,) if sold.kind == WAX else ()), f"{ask} Check your local rules.")


def label_document(
    season: SeasonSettings,
    settings: dict[str, Any],
    size: str,
    lot: str = "",
    markets: tuple[str, ...] = (),
    *,
    product: str = "",
    bottled: date | None = None,
) -> dict[str, Any]:
    """What a label file of one jar size of a product would say, out of the record's settings.

    What a product does not say of its origin and its jars is as with the season's own honey. A best-before rule counts
    from the day it was ``bottled``.
    """
    own, held = settings.get("label", {}), settings.get(setting_of(product), {})
    jars, volumes = ({**own.get(key, {}), **held.get(key, {})} for key in ("jars", "volumes"))
    jar = season.jar_of(size)
    document: dict[str, Any] = {"market": list(markets or season.markets)}
    document |= {"kind": KINDS[held["kind"]]} if held.get("kind") else {}
    document |= {key: held[key] for key in WORDS if held.get(key)}
    if date_mark := best_before_on(held.get("best_before", ""), bottled):
        document["best_before"] = date_mark
    document |= {"declares": season.size(size).weight.show("en_US"), "lines": list(held.get("lines", []))}
    story = {key: held[key] for key in STORY if held.get(key)}
    document |= {"story": story} if story else {}
    document |= {"ingredients": list(held["ingredients"])} if held.get("ingredients") else {"ingredients": ["honey"]}
    document |= {"lot": lot} if lot else {}
    document |= {"volume": volumes[jar]} if jar in volumes else {}
    if origin := held.get("origin") or own.get("origin"):
        document["origin"] = [{"country": origin, "share": 100}]
    tables = {
        "maker": season.maker,
        "panel": jars.get(jar, {}),
        "situation": {**settings.get("situation", {}), **held.get("facts", {})},
    }
    return document | {name: table for name, table in tables.items() if table}


def jar_of(settings: Mapping[str, Any], size: str, product: Product | None = None) -> dict[str, Length]:
    """The straight side of the jar of a size, as the record's words have it; nothing where they do not say."""
    held = {**settings.get("label", {}).get("jars", {}), **(product.words.get("jars", {}) if product else {})}
    return read_panel(held.get(size, {}))


def label_by(
    season: SeasonSettings,
    settings: dict[str, Any],
    size: str,
    product: str | None = None,
    *,
    markets: tuple[str, ...] = (),
    lot: str = "",
    bottled: date | None = None,
) -> Label:
    """The label of a jar size by settings of whatever day: of a product, else of what is sold in that size.

    Raises what a label file's reader raises, :class:`~labelkit.errors.sale.NoLabelRules` and
    :class:`~labelkit.errors.labels.LabelNameUnsaid`.
    """
    sold = season.sold_in(size) if product is None else season.products[product]
    if not sold.is_honey or not season.sold_in(size).is_honey:
        raise NoLabelRules(sold.called if not sold.is_honey else season.sold_in(size).called, sold.kind)
    if not settings.get(setting_of(sold.name), {}).get("name"):
        raise LabelNameUnsaid(sold.name)
    document = label_document(season, settings, size, lot, markets, product=sold.name, bottled=bottled)
    return replace(label_of(document, SHOWN_AS), declares=season.size(size).declares)
