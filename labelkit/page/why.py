"""Where a number comes from: the reckoning line by line, and the clauses it rests on.

Each function gives a :class:`Why` that the page shows behind the word "why?"; the figures are those the stages reckoned.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING, Any

from labelkit.measures import Mass

if TYPE_CHECKING:
    from labelkit.cli._season import Season
    from labelkit.lots.bucket import Bucket
    from labelkit.plan import JarPlan, PlanRequest
    from labelkit.run import Run

Show = Callable[[Mass], str]
_DOUBT = {"second-hand": "known from a second source only; read the text itself before you rely on it",
          "memory": "from memory, not read at the source; check it before you rely on it"}  # fmt: skip


@dataclass(frozen=True, slots=True)
class Why:
    """A reckoning: ``of`` names the number, ``rows`` are words and figures, the last one the sum."""

    of: str
    rows: tuple[tuple[str, str], ...]
    notes: tuple[str, ...] = ()
    laws: tuple[str, ...] = ()


def of_bucket(bucket: Bucket, show: Show, day_words: Callable[[date], str]) -> Why:
    """What is in a bucket: everything that came in, less what went out."""
    rows = []
    for event in bucket.history:
        if event.kind == "blend":
            rows += [(f"{day_words(event.day)}, from {part.bucket}", f"+ {show(part.mass)}") for part in event.parts]
            continue
        how = "drained from the cappings" if event.kind == "drain" else "weighed in"
        if event.weighing:
            how += f": {show(event.weighing.gross)} on the scale less {show(event.weighing.tare)} empty"
        rows.append((f"{day_words(event.day)}, {how}", f"+ {show(event.net)}"))
    gone = bucket.came_in - bucket.holds
    if gone:
        rows.append(("bottled or blended since", f"− {show(gone)}"))
    return Why(f"{bucket.id} holds {show(bucket.holds)}", (*rows, ("in the bucket", show(bucket.holds))))


def of_moisture(bucket: Bucket, show: Show) -> Why | None:
    """The moisture of a bucket: by mass over what was measured, and what it means for keeping; None if unmeasured."""
    from labelkit.errors.honey import NotAMoisture
    from labelkit.honey.ferment import ferment_risk

    if bucket.moisture is None:
        return None

    rows = [
        (
            f"{'from the cappings' if event.kind == 'drain' else 'weighed in'}, {show(event.net)} of",
            f"{event.moisture.normalize():f} %",
        )
        for event in bucket.history
        if event.kind != "blend" and event.moisture is not None
    ]
    if bucket.parents:
        rows += [("from its parents, each by its mass", "")]
    try:
        risk = ferment_risk(bucket.moisture, blended=bool(bucket.parents))
    except NotAMoisture as unlikely:
        return Why(f"the moisture of {bucket.id}", tuple(rows), (unlikely.what,))
    notes = [risk.says, *risk.notes]
    if not bucket.moisture_is_whole:
        notes.insert(0, f"Measured for {show(bucket.moisture_known_for)} of {show(bucket.came_in)} that came in.")
    laws = (f"Table after A. G. Lochhead (1933), USDA Agriculture Handbook 335: {_DOUBT.get(risk.sure, risk.sure)}.",)
    return Why(
        f"the moisture of {bucket.id}", (*rows, ("weighted by mass", f"{bucket.moisture:.2f} %")), tuple(notes), laws
    )


def of_fill(season: Season, size: str, day: date, show: Show) -> Why:
    """What a jar must hold: the larger of the two declared weights in every market it is sold in."""
    from labelkit.rules import market
    from labelkit.rules.figures import net_weight

    declares = season.size(size).declares
    rows, laws = [], []
    for name in season.markets:
        here = market(name, day)
        found = net_weight.declared(declares, here)
        rows.append((f"{here.name}: “{found.statements[0]}”", f"{found.fill_at_least_g:f} g"))
        laws += found.laws
    if not rows:
        rows.append((f"declares {declares}; no market is set", ""))
    return Why(
        f"the fill of {size}", (*rows, ("fill at least", show(season.fill(size, day)))),
        ("Of the two weights on a label the larger is owed. A kitchen scale is not legal for trade.",), law_words(laws),
    )  # fmt: skip


def of_plan(request: PlanRequest, plan: JarPlan, locale: str) -> Why:
    """What a plan brings: price less cost of every jar, and why nothing brings more."""
    rows = [
        (
            f"{plan.jars[size.id]} × {size.id}: {size.price.show(locale)} less {size.cost.show(locale)}",
            (plan.jars[size.id] * (size.price - size.cost)).show(locale),
        )
        for size in request.sizes
        if plan.jars.get(size.id)
    ]
    if plan.proved:
        note = "Proved: every other way to fill these buckets was ruled out, and this one was counted again in whole milligrams."
    else:
        note = f"Not proved the best: nothing can bring more than {plan.bound.show(locale)}."
    return Why("what the plan brings", (*rows, ("together", plan.value.show(locale))), (note,))


def of_run(run: Run, show: Show, percent: Callable[..., str]) -> Why:
    """What became of the honey a run took, to the last gram."""
    rows = [
        (f"bucket {run.bucket} held", show(run.held)),
        (f"left in it ({'weighed' if run.left_was_weighed else 'reckoned'})", f"− {show(run.left)}"),
    ]
    for word, kinds in (("jars", run.jars), ("broken", run.broken), ("samples", run.samples)):
        rows += [(f"{f.count} × {f.size}, {word}, each {show(f.fill)}", f"− {show(f.mass)}") for f in kinds]
    rows += [("lost, with a name", f"− {show(run.lost)}")] if run.lost else []
    note = f"{percent(run.unexplained_percent, 2)} of what was taken."
    if not run.left_was_weighed:
        note += " What is left was reckoned, so nothing can be missing; weigh it and the difference shows."
    return Why("what is unexplained", (*rows, ("unexplained", show(run.unexplained))), (note,))


def law_words(laws: Iterable) -> tuple[str, ...]:
    """Citations, each text once with its clauses, the day it was read, and the doubt."""
    from labelkit.rules.findings import law_lines

    found = list(laws)
    return tuple(law_lines(found).splitlines()) if found else ()


def of_margin(size: str, price, cost, money: Callable) -> Why:
    """What a jar brings: its price less what it costs to make."""
    rows = (
        (f"{size} sells for", money(price)),
        ("it costs you", f"− {money(cost)}"),
        ("it brings", money(price - cost)),
    )
    notes = (
        "What it costs is what you said: jar, lid, label, and whatever else you counted. Your hours are in it only if you did.",
    )
    return Why(f"what one {size} brings", rows, notes)


def of_season(found: dict, money: Callable[[Any], str]) -> tuple[Why, Why]:
    """The money of the season as ``labelkit result`` answers it: what came in, and what is left of it."""
    sizes = [row for row in found["by_size"] if row["sold"] or row["size"] not in ("stall fee", "cash difference")]
    rows = [(f"{row['sold']} × {row['size']}", money(row["money"])) for row in sizes]
    came = Why("the money in", (*rows, ("money in", money(found["money_in"]))))
    left = [("money in", money(found["money_in"]))]
    left += [("what stalls cost", f"− {money(found['stall_fees'])}")] if found["stall_fees"] else []
    left += [("differences in the cash box", money(found["cash_differences"]))] if found["cash_differences"] else []
    left += [("what the jars cost that are gone", f"− {money(found['cost_of_jars'])}")]
    left += [("tax in the money", f"− {money(found['tax_in_money'])}")] if found["tax_stated"] else []
    notes = () if found["tax_stated"] else ("Nobody has said how tax stands to the prices, so none is set aside.",)
    return came, Why(
        "what is left",
        (*left, ("left", money(found["left"]))),
        (*notes, "This lists what was booked. It is no tax advice."),
    )


def of_price(size: str, units: Sequence) -> Why:
    """The unit price each market asks for beside the price."""
    rows = tuple((f"price by the weight declared, {code}", unit.text()) for code, unit in units)
    return Why(f"the unit price of {size}", rows, (), law_words(law for _, unit in units for law in unit.laws))


def of_cash(day, balance, money: Callable) -> Why:
    """The money of a market day: what should be there by the price cards, what is, and the difference."""
    rows = [
        (f"{line.count} × {line.size} of {line.lot}, {money(line.price)} each", money(line.count * line.price))
        for line in day.lines
        if line.price
    ]
    rows += [("let off on prices", f"− {money(balance.rebates)}")] if balance.rebates.minor else []
    rows += [("rounding of cash", money(balance.rounding))] if balance.rounding.minor else []
    rows.append(("should have come in", money(balance.expected)))
    if balance.found is None:
        return Why("the money of the day", tuple(rows), ("The cash was not counted, so nothing says whether it fits.",))
    rows.append(("cash in the box", money(day.cash_counted)))
    rows += [("less the change it began with", f"− {money(day.change)}")] if day.change else []
    rows += [("paid by card", f"+ {money(day.cards)}")] if day.cards else []
    rows += [("came in", money(balance.found)), ("difference", money(balance.difference))]
    return Why("the money of the day", tuple(rows))


def of_market_day(entries: Iterable, whole, money: Callable) -> Why:
    """What a market day left: money in, less the stall, less what every jar that is gone cost to make."""
    rows = []
    for each in entries:
        if each.count:
            words = f"{each.count} × {each.size}, {each.what}"
            rows.append(
                (words, f"{money(each.money)} − {money(each.cost)}" if each.money.minor else f"− {money(each.cost)}")
            )
        else:
            rows.append((each.what, money(each.money)))
    notes = ("Money less what the jars cost to make, as the price list says; your hours and the drive are not in it.",)
    return Why("what the day left", (*rows, ("left", money(whole.left))), notes)
