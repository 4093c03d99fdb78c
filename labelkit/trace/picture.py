"""The picture of a trace as SVG: a band for each flow, as wide as its honey is heavy, from the yards to the jars."""

from __future__ import annotations

from labelkit.measures.locales import DEFAULT_LOCALE
from labelkit.shipped import render
from labelkit.trace.follow import Trace
from labelkit.trace.layout import layout
from labelkit.trace.terms import ASKED


def picture(trace: Trace, locale: str = DEFAULT_LOCALE) -> str:
    """The trace as one SVG document, the same bytes for the same trace."""
    page = layout(trace, locale)
    return render(
        "trace/flow.svg",
        title=f"{ASKED.get(trace.start.what, trace.start.what)} {trace.start.name}",
        subtitle=_subtitle(trace),
        width=page.width,
        height=round(page.bottom + 62, 1),
        nodes=page.nodes,
        bands=page.ribbons,
        heads=page.heads,
        bar=page.bar,
        shared=page.shared,
        sisters=page.sisters,
    )


def _subtitle(trace: Trace) -> str:
    made = sum(balance.jars_to_find for balance in trace.balances)
    lots = f"{len(trace.lots)} jar lot{'' if len(trace.lots) == 1 else 's'}"
    return (
        f"{lots} · {made} jars · {len(trace.intakes)} weighing{'' if len(trace.intakes) == 1 else 's'} from the hives"
    )
