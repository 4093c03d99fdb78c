"""What a nutrition label is made from: the panel's figures, the market, the package, and whether a panel is due at all."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from decimal import Decimal

from labelkit.errors.labels import AmountsClash
from labelkit.labels.case import LabelCase
from labelkit.labels.content import LabelContent, Words
from labelkit.labels.nutrition.need import need
from labelkit.labels.nutrition.panel import Nutrition
from labelkit.rules.checking.facts import panel_of
from labelkit.rules.figures.nutrition import panel
from labelkit.rules.label import PARTS, Label
from labelkit.rules.market import Market

TABLE = "nutrients of the panel"
DISPLAYS = "smallest type in the head of the panel"


def with_nutrition(content: LabelContent, case: LabelCase) -> LabelContent:
    """The content of a nutrition label, or of a wrap that bears the panel: the panel of the jar, and what is to be said
    about it.

    Raises :class:`~labelkit.errors.rules.NoRuleInForce` where no market of the label has its panel in the packs.
    """
    here = next((one for one in case.cases if one.market.holds(DISPLAYS)), case.cases[0])
    label, market, facts = case.label, here.market, here.facts
    market.value(TABLE)
    market.value(DISPLAYS)
    own = {key: value for key, value in label.nutrition.items() if key != "display"}
    if "sugars" in own:
        # All sugars of a jar of honey count as added (21 CFR 101.9(c)(6)(iii)); where something else is in it, this is
        # the most they can be.
        own.setdefault("added_sugars", own["sugars"])
    _must_agree(market, own)
    made = Nutrition(
        panel(label.weight.grams, market, facts.get("ingredients", 2), own),
        market,
        facts.get("label_surface"),
        label.nutrition.get("display", ""),
        (*need(here), *_sources(market, own), *_others(case.markets, market)),
        _side(label),
    )
    text = " · ".join(filter(None, (made.panel.servings_text, made.panel.serving, *map(_said, made.panel.rows))))
    # A wrap says everything and has the panel beside it; a label of its own has nothing but the panel.
    on_wrap = content.kind == "wrap"
    held = content.words if on_wrap else content.every("name", "maker")
    return replace(content, words=(*held, Words("nutrition", text, must=not on_wrap)), nutrition=made)


def _side(label: Label) -> Decimal:
    panel = panel_of(label)
    side = (panel.round_side_mm2 or panel.area_mm2) if panel else None
    return Decimal(int(side or 0))


def _must_agree(market: Market, own: Mapping[str, Decimal]) -> None:
    """Own and ready values together: a part is no more than what it is part of."""
    held = {row["key"]: row["per_100_g"] for row in market.value(TABLE).value} | dict(own)
    for part, whole in PARTS.items():
        if held[part] > held[whole]:
            raise AmountsClash(part, f"{held[part]:f}", whole, f"{held[whole]:f}", whole in own)


def _said(row) -> str:
    percent = "" if row.percent_dv is None else f" {row.percent_dv:f}%"
    return f"{row.name} {row.whole}{percent}"


def _sources(market: Market, own: Mapping[str, Decimal]) -> tuple[str, ...]:
    """Where the amounts come from: the producer's own values, the ready ones, or both."""
    ready = [row["name"] for row in market.value(TABLE).value if row["key"] not in own]
    table = "the USDA food composition database"
    if not own:
        return (
            f"The amounts are the usual ones of honey from {table}; a laboratory’s values of your own go into [nutrition] of the label file.",
        )
    if ready:
        return (
            f"From your own values, per 100 g: {', '.join(own)}. The rest is usual for honey ({table}): {', '.join(ready)}.",
        )
    return ("All amounts are your own values.",)


def _others(markets: Sequence[Market], market: Market) -> tuple[str, ...]:
    others = [
        one.name for one in markets if one.code not in (market.code, *market.packs) and market.code not in one.packs
    ]
    return (f"This is the panel of {market.name}; for {', '.join(others)} ask which one is due.",) if others else ()
