"""The label of one jar in every market the packs hold, each different one once.

Two markets whose law makes a label say the same, in the same heights, need one label placed and not two. All names are
invented; the words come from the packs by way of :func:`labelkit.labels.composed.compose`.
"""

from __future__ import annotations

from dataclasses import replace
from functools import lru_cache
from pathlib import Path

from labelkit.labels.case import label_case
from labelkit.labels.composed import compose
from labelkit.labels.content import LabelContent
from labelkit.labels.layout.lid import SMALL
from labelkit.reading.label_file import read_label
from labelkit.rules import market
from tests.labels.samples import DAY, LINK, LOT

PACKS = Path(__file__).parents[2] / "labelkit" / "rules" / "packs"
CODES = tuple(sorted(path.parent.name for path in PACKS.glob("*/pack.toml")))

#: Language: name of the honey, a free line.
NAMES = {
    "en": ("Wildflower Honey", "Raw"),
    "de": ("Lindenblütenhonig", "Kalt geschleudert"),
    "fr": ("Miel de tilleul", "Cru"),
    "es": ("Miel de tomillo", "Cruda"),
    "it": ("Miele di tiglio", "Grezzo"),
    "nl": ("Lindehoning", "Koud geslingerd"),
    "pl": ("Miód lipowy", "Na zimno"),
}
TEXT = """
market = "{code}"
name = "{name}"
declares = "{declares}"
lot = "{lot}"
lines = ["{line}"]
best_before = 2028-06-30
origin = [{{ country = "{country}", share = 100 }}]
{grade}maker = {{ name = "Pretend Hollow Apiary", street = "4 Pretend Lane", city = "Pretendton", region = "VA", postcode = "00000" }}
panel = {{ diameter = "70 mm", height = "85 mm" }}

[situation]
home_kitchen = true
own_hives = true
sells_to = ["stall"]
infused = false
pasteurized = false
"""
COUNTRY = {"us": "US", "ca": "CA", "uk": "GB", "au": "AU", "nz": "NZ"}


@lru_cache(maxsize=128)
def jar(code: str) -> LabelContent:
    """The front of a jar sold in one market."""
    where = market(code, DAY)
    name, line = NAMES.get(where.head.languages[0], NAMES["en"])
    home = code.partition("-")[0]
    text = TEXT.format(
        code=code,
        name=name,
        line=line,
        lot=LOT,
        declares="1 lb" if home == "us" else "500 g",
        country=COUNTRY.get(home, "DE"),
        grade='grade = "Canada No. 1"\n' if home == "ca" else "",
    )
    content = compose(label_case(read_label(text), [where], "en_US"), link=LINK).content
    if len(content.langs) > 1:
        # Whoever sells in a market of two languages writes the name in both.
        names = tuple(NAMES[lang][0] for lang in content.langs)
        lines = tuple(NAMES[lang][1] for lang in content.langs)
        content = said_in_both(content, name=names, line=lines)
    return content


def said_in_both(content: LabelContent, **texts: tuple[str, ...]) -> LabelContent:
    words = tuple(
        replace(words, text=texts[words.role][0], also=texts[words.role][1:]) if words.role in texts else words
        for words in content.words
    )
    return replace(content, words=words)


def of_kind(content: LabelContent, kind: str) -> LabelContent:
    """What a kind of label reads of a jar's content: a lid, for one, does not care for the law's sentences."""
    if kind in ("lid", "seal"):
        roles = ("maker", "name", "line", *SMALL)
        return replace(content, kind=kind, words=content.every(*roles), net_rule=type(content.net_rule)(), link=None)
    return replace(content, kind=kind, number="9521234543213" if kind in ("back", "wrap") else None)


def different(kind: str) -> dict[LabelContent, list[str]]:
    """Every different label of a kind, and the markets that have it."""
    found: dict[LabelContent, list[str]] = {}
    for code in CODES:
        found.setdefault(replace(of_kind(jar(code), kind), market=""), []).append(code)
    return found
