"""What is short when the jars asked for cannot all be filled: the smallest shortfall, line by line."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from labelkit.errors.plan import TogetherAboveHoney
from labelkit.errors.sentence import Figure
from labelkit.measures import Mass, show_metric
from labelkit.plan.build_packing import BuiltPacking
from labelkit.plan.search.packing import Item, Packing, Solution, totals_of


def floors_alone(packing: Packing) -> Packing:
    """The same bins, to be filled with as much as possible (by weight) of what must be filled and nothing else."""
    items = tuple(
        Item(i.weight, 0, i.minimum, i.case, 0, ((i.minimum, i.weight),) if i.minimum else ()) for i in packing.items
    )
    return Packing(tuple(replace(bin_, minimum=0) for bin_ in packing.bins), items)


def shortage(built: BuiltPacking, search: Callable[[Packing], Solution]) -> TogetherAboveHoney | None:
    """The refusal that names the smallest shortfall, or none where the floors can be met after all.

    ``search`` finds the best loads of a packing.
    """
    found = search(floors_alone(built.packing))
    names = [size.id for size in built.request.sizes] + [keep.id for keep in built.request.keep]
    totals = totals_of(found.packed, len(names))
    lines, short = [], 0
    for name, item, total in zip(names, built.packing.items, totals, strict=True):
        if total < item.minimum:
            lines.append(f"“{name}” {item.minimum - total} short ({total} of {item.minimum} can be filled)")
            short += (item.minimum - total) * item.weight
    if not lines:
        return None
    return TogetherAboveHoney("; ".join(lines), Figure(show_metric, Mass(short)), found.proved)
