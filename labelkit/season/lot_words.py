"""The words of a lot: which product its jars are, and the words they were labelled with, which a reprint prints again.

A lot's product is that of its size; where a size is of every honey, what its labels were printed as, else the one product named
after the plant its bucket's honey is of, else the season's own honey. The words are those of the settings as they stood
when its labels were last printed; other words are a decision of their own, with its reason.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from typing import TYPE_CHECKING, Any

from labelkit.errors.labels import LotsUnclear
from labelkit.labels.design import USUAL_DESIGN
from labelkit.sale.product import Product, products_of, setting_of
from labelkit.season.known_jars import KnownJars, known_of
from labelkit.season.label_words import label_by
from labelkit.season.product_sizes import named_after_honey
from labelkit.season.settings import SeasonSettings, settings_of
from labelkit.season.shelf import lot_named

if TYPE_CHECKING:
    from labelkit.record.reading import Reading
    from labelkit.rules.label import Label
    from labelkit.trace.booked import Booked

#: What a buyer reads of a label's words, and what it is called.
_READ = {
    "kind": "kind",
    "name": "name",
    "floral_source": "plant",
    "grade": "grade",
    "lines": "other words",
    "story": "story",
    "ingredients": "ingredients",
    "best_before": "best-before date",
    "origin": "origin",
    "maker": "producer",
}


@dataclass(frozen=True, slots=True)
class LotLabel:
    """The label of a lot's jars: of which product, in which design, and how it differs from the words it bears.

    ``changed`` names what is different on these labels from those the lot bears; ``newer`` what is different in the words
    of today, where the lot's own are printed, which are those of the print ``words_of``.
    """

    label: Label
    product: str = ""
    design: str = USUAL_DESIGN
    changed: tuple[str, ...] = ()
    newer: tuple[str, ...] = ()
    words_of: int = 0


def label_of_lots(
    state: Reading,
    size: str,
    lots: Sequence[str],
    day: date,
    *,
    markets: tuple[str, ...] = (),
    product: str | None = None,
    new_words: bool = False,
) -> LotLabel:
    """The label of the jars of a size of these lots, every one of them; none named: as the words stand today.

    ``product`` is the one somebody chose, ``new_words`` that those of today are wanted. Raises what
    :func:`~labelkit.season.label_words.label_by` raises, :class:`~labelkit.errors.sale.ProductUnknown`, and
    :class:`~labelkit.errors.labels.LotsUnclear` where the lots do not bear the same words.
    """
    season = settings_of(state)
    chosen = season.product(product).name if product is not None else None
    made = [_of_lot(state, season, size, lot, day, markets, chosen, new_words) for lot in lots or ("",)]
    first = made[0]
    for lot, other in zip(lots, made, strict=False):
        if (other.label, other.product) != (first.label, first.product):
            apart = ", ".join(_apart(first.label, other.label)) or "product"
            raise LotsUnclear(f"Lots {lots[0]} and {lot}", f"they differ in {apart}; print them apart")
    changed, newer = (tuple(dict.fromkeys(w for m in made for w in getattr(m, name))) for name in ("changed", "newer"))
    return replace(first, changed=changed, newer=newer)


def product_of(state: Reading, season: SeasonSettings, lot: str, size: str, known: KnownJars | None = None) -> Product:
    """What the jars of a size of a lot are sold as."""
    own = season.sold_in(size)
    if own.name or not lot:
        return own
    known = known or known_of(state, [lot])
    last = _last_print(known, lot, size)
    if last is not None:
        return season.products.get(last.event.product, own)
    run = known.runs.get(known.first(lot, size)[0])
    named = named_after_honey(season, state.bucket(run.bucket)) if run else None
    # Jars that could have been filled as that product, and were not, are sold as what they cost.
    return own if named is None or season.own_size(size, named.name) else named


def _of_lot(
    state: Reading,
    season: SeasonSettings,
    size: str,
    lot: str,
    day: date,
    markets: tuple[str, ...],
    chosen: str | None,
    new_words: bool,
) -> LotLabel:
    lot = lot_named(state, lot) if lot else ""
    known = known_of(state, [lot] if lot else [])
    product = season.products[chosen] if chosen is not None else product_of(state, season, lot, size, known)
    run = known.runs.get(known.first(lot, size)[0])
    bottled = run.day if run else day
    now = state.settings()
    design = product.words.get("design") or USUAL_DESIGN
    label = label_by(season, now, size, product.name, markets=markets, bottled=bottled)
    # Of what is sold by weight the pieces were printed, each under its own weight.
    cut = (of for of_lot, of in known.made if of_lot == lot and season.is_of(of, size))
    last = _last_print(known, lot, next(cut, size))
    if last is None:
        return LotLabel(label, product.name, design)
    words_of = last.event.words_of or last.seq
    then = _as_labelled(now, state.settings(up_to=words_of), last.event.product)
    if not then.get(setting_of(last.event.product), {}).get("name"):
        return LotLabel(label, product.name, last.event.design)  # labelled from a file
    before = replace(season, products=products_of(then), maker=dict(then.get("maker", {})))
    kept = label_by(before, then, size, last.event.product, markets=markets, bottled=bottled)
    kept = replace(kept, panel=label.panel)
    differs = _apart(kept, label)
    other = chosen is not None and chosen != last.event.product
    if new_words or other:
        return LotLabel(label, product.name, design, (*(("product",) if other else ()), *differs))
    return LotLabel(kept, last.event.product, last.event.design, newer=differs, words_of=words_of if differs else 0)


def _last_print(known: KnownJars, lot: str, size: str) -> Booked | None:
    """The last print of these jars; of those they were relabelled from, where they have none of their own."""
    prints = known.prints.get((lot, size)) or known.prints.get(known.first(lot, size)) or ()
    return prints[-1] if prints else None


def _as_labelled(now: Mapping[str, Any], then: Mapping[str, Any], product: str) -> dict[str, Any]:
    """Today's settings with the words, the producer and the facts as they stood; what was answered since is known too."""
    kept = {name: then[name] for name in ("label", setting_of(product), "maker") if name in then}
    return {**now, **kept, "situation": {**now.get("situation", {}), **then.get("situation", {})}}


def _apart(one: Label, other: Label) -> tuple[str, ...]:
    """In which words two labels differ."""
    return tuple(called for name, called in _READ.items() if getattr(one, name) != getattr(other, name))
