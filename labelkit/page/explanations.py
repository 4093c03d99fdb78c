"""Where a number comes from: the reckoning line by line, and the clauses it rests on.

Each function gives a :class:`Why` that the page shows behind the word "why?"; the figures are those the stages reckoned.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING, Any

from labelkit.lots.bucket import Blend, BucketStep
from labelkit.lots.bucket_life import Measured, Treated
from labelkit.lots.movement import Account
from labelkit.lots.received import CameIn
from labelkit.measures import NOTHING, Mass, total
from labelkit.page.language import later, say, told

if TYPE_CHECKING:
    from labelkit.lots.bucket import Bucket
    from labelkit.plan import JarPlan, PlanRequest
    from labelkit.run import Run
    from labelkit.season.settings import SeasonSettings

Show = Callable[[Mass], str]
_DOUBT = {
    "second-hand": "known from a second source only; read the text itself before you rely on it",
    "memory": "from memory, not read at the source; check it before you rely on it",
}


CAME = {
    "weigh": later("weighed in"),
    "receive": later("bought in"),
    "drain": later("drained from the cappings"),
}


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
        if isinstance(event, Blend):
            rows += [
                (say("{day}, from {bucket}", day=day_words(event.day), bucket=part.bucket), f"+ {show(part.mass)}")
                for part in event.parts
            ]
            continue
        if isinstance(event, BucketStep):
            rows += _step_rows(event, show, day_words)
            continue
        how = say(CAME[event.kind])
        if event.weighing:
            gross, tare = show(event.weighing.gross), show(event.weighing.tare)
            how += ": " + say("{gross} on the scale less {tare} empty", gross=gross, tare=tare)
        rows.append((f"{day_words(event.day)}, {how}", f"+ {show(event.net)}"))
    gone = bucket.came_in + total(_change(event) for event in bucket.history) - bucket.holds
    if gone:
        rows.append((say("bottled or blended since"), f"− {show(gone)}"))
    return Why(
        say("{bucket} holds {weight}", bucket=bucket.id, weight=show(bucket.holds)),
        (*rows, (say("in the bucket"), show(bucket.holds))),
    )


def _change(event: Any) -> Mass:
    """By how much a step made its bucket lighter or heavier, what came into it from other lots aside."""
    if not isinstance(event, BucketStep):
        return NOTHING
    return total(m.mass for m in event.movements() if m.account == Account.BUCKET and m.lot == event.bucket) - _seed(
        event
    )


def _seed(event: BucketStep) -> Mass:
    return event.seed.mass if isinstance(event, Treated) and event.seed else NOTHING


def _step_rows(event: BucketStep, show: Show, day_words: Callable[[date], str]) -> Iterator[tuple[str, str]]:
    if isinstance(event, Treated) and event.seed:
        yield f"{day_words(event.day)}, {say('seed of {bucket}', bucket=event.seed.bucket)}", f"+ {show(_seed(event))}"
    change = _change(event)
    if change:
        how = say("weighed again") if isinstance(event, Measured) else told(event.title)
        yield f"{day_words(event.day)}, {how}", f"{'+' if change.mg > 0 else '−'} {show(Mass(abs(change.mg)))}"


def of_moisture(bucket: Bucket, show: Show) -> Why | None:
    """The moisture of a bucket: by mass over what was measured, and what it means for keeping; None if unmeasured."""
    from labelkit.errors.honey import NotAMoisture
    from labelkit.honey.ferment import ferment_risk

    if bucket.moisture is None:
        return None

    rows: list[tuple[str, str]] = []
    for event in bucket.history:
        if not isinstance(event, CameIn | Measured | Treated) or event.moisture is None:
            continue
        if isinstance(event, CameIn):
            by = f"{say(CAME[event.kind])}, {show(event.net)}"
        else:
            rows = []  # the latest measure rules from its day on
            by = told(event.title)
            if isinstance(event, Measured) and event.instrument:
                by = say("measured by {instrument}", instrument=event.instrument)
        rows.append((by, f"{event.moisture.normalize():f} %"))
    if bucket.parents:
        rows += [(say("from its parents, each by its mass"), "")]
    try:
        risk = ferment_risk(bucket.moisture, blended=bool(bucket.parents))
    except NotAMoisture as unlikely:
        return Why(say("the moisture of {bucket}", bucket=bucket.id), tuple(rows), (told(unlikely.what),))
    notes = [told(risk.says), *map(told, risk.notes)]
    if not bucket.moisture_is_whole:
        notes.insert(
            0,
            say(
                "Measured for {part} of {whole} that came in.",
                part=show(bucket.moisture_known_for),
                whole=show(bucket.moisture_of),
            ),
        )
    laws = (f"Table after A. G. Lochhead (1933), USDA Agriculture Handbook 335: {_DOUBT.get(risk.sure, risk.sure)}.",)
    return Why(
        say("the moisture of {bucket}", bucket=bucket.id),
        (*rows, (say("weighted by mass"), f"{bucket.moisture:.2f} %")),
        tuple(notes),
        laws,
    )


def of_fill(season: SeasonSettings, size: str, day: date, show: Show) -> Why:
    """What a jar must hold: the larger of the two declared weights in every market it is sold in."""
    from labelkit.rules import market
    from labelkit.rules.figures import net_weight

    declares = season.size(size).weight
    rows: list[tuple[str, str]] = []
    laws: list[Any] = []
    for name in season.markets:
        here = market(name, day)
        found = net_weight.net_quantity(declares, here)
        rows.append((f"{here.name}: “{found.statements[0]}”", f"{found.fill_at_least_g:f} g"))
        laws += found.laws
    if not rows:
        rows.append((say("declares {weight}; no market is set", weight=declares), ""))
    return Why(
        say("the fill of {size}", size=size),
        (*rows, (say("fill at least"), show(season.fill(size, day)))),
        (say("Of the two weights on a label the larger is owed. A kitchen scale is not legal for trade."),),
        law_words(laws),
    )


def of_plan(request: PlanRequest, plan: JarPlan, locale: str) -> Why:
    """What a plan brings: price less cost of every jar, and why nothing brings more."""
    rows = [
        (
            f"{plan.jars[size.id]} × {size.id}: {size.price.show(locale)} − {size.cost.show(locale)}",
            (plan.jars[size.id] * (size.price - size.cost)).show(locale),
        )
        for size in request.sizes
        if plan.jars.get(size.id)
    ]
    if plan.proved:
        note = say(
            "Proved: every other way to fill these buckets was ruled out, and this one was counted again in whole milligrams."
        )
    else:
        note = say("Not proved the best: nothing can bring more than {money}.", money=plan.bound.show(locale))
    return Why(say("what the plan brings"), (*rows, (say("together"), plan.value.show(locale))), (note,))


def of_run(run: Run, show: Show, percent: Callable[..., str]) -> Why:
    """What became of the honey a run took, to the last gram."""
    rows = [
        (say("bucket {bucket} held", bucket=run.bucket), show(run.held)),
        (say("Left in it, weighed") if run.left_was_weighed else say("Left in it, reckoned"), f"− {show(run.left)}"),
    ]
    for word, kinds in ((say("jars"), run.jars), (say("broken"), run.broken), (say("samples"), run.samples)):
        rows += [
            (
                say("{n} × {size}, {what}, each {weight}", n=f.count, size=f.size, what=word, weight=show(f.fill)),
                f"− {show(f.mass)}",
            )
            for f in kinds
        ]
    rows += [(say("lost, with a name"), f"− {show(run.lost)}")] if run.lost else []
    note = say("{share} of what was taken.", share=percent(run.unexplained_percent, 2))
    if not run.left_was_weighed:
        note += " " + say("What is left was reckoned, so nothing can be missing; weigh it and the difference shows.")
    return Why(say("what is unexplained"), (*rows, (say("unexplained"), show(run.unexplained))), (note,))


def law_words(laws: Iterable) -> tuple[str, ...]:
    """Citations, each text once with its clauses, the day it was read, and the doubt."""
    from labelkit.rules.findings import law_lines

    found = list(laws)
    return tuple(law_lines(found).splitlines()) if found else ()


def of_margin(size: str, price, cost, money: Callable) -> Why:
    """What a jar brings: its price less what it costs to make."""
    rows = (
        (say("{size} sells for", size=size), money(price)),
        (say("it costs you"), f"− {money(cost)}"),
        (say("it brings"), money(price - cost)),
    )
    notes = (
        say(
            "What it costs is what you said: jar, lid, label, and whatever else you counted. Your hours are in it only if you did."
        ),
    )
    return Why(say("what one {size} brings", size=size), rows, notes)


def of_season(found: dict, money: Callable[[Any], str]) -> tuple[Why, Why]:
    """The money of the season as ``labelkit result`` answers it: what came in, and what is left of it."""
    sizes = [row for row in found["by_size"] if row["sold"] or row["size"] not in ("stall fee", "cash difference")]
    rows = [(f"{row['sold']} × {row['size']}", money(row["money"])) for row in sizes]
    came = Why(say("the money in"), (*rows, (say("money in"), money(found["money_in"]))))
    left = [(say("money in"), money(found["money_in"]))]
    left += [(say("what stalls cost"), f"− {money(found['stall_fees'])}")] if found["stall_fees"] else []
    left += (
        [(say("differences in the cash box"), money(found["cash_differences"]))] if found["cash_differences"] else []
    )
    left += [(say("what the jars cost that are gone"), f"− {money(found['cost_of_jars'])}")]
    left += [(say("tax in the money"), f"− {money(found['tax_in_money'])}")] if found["tax_stated"] else []
    notes = () if found["tax_stated"] else (say("Nobody has said how tax stands to the prices, so none is set aside."),)
    return came, Why(
        say("what is left"),
        (*left, (say("left"), money(found["left"]))),
        (*notes, say("This lists what was booked. It is no tax advice.")),
    )


def of_price(size: str, units: Sequence, locale: str) -> Why:
    """The unit price each market asks for beside the price."""
    rows = tuple(
        (say("price by the weight declared, {market}", market=code), unit.text(locale)) for code, unit in units
    )
    return Why(
        say("the unit price of {size}", size=size), rows, (), law_words(law for _, unit in units for law in unit.laws)
    )


def of_cash(day, balance, money: Callable) -> Why:
    """The money of a market day: what should be there by the price cards, what is, and the difference."""
    rows = [
        (f"{line.count} × {line.size}, {line.lot}, {money(line.price)}", money(line.count * line.price))
        for line in day.lines
        if line.price
    ]
    rows += [(say("let off on prices"), f"− {money(balance.rebates)}")] if balance.rebates.minor else []
    rows += [(say("rounding of cash"), money(balance.rounding))] if balance.rounding.minor else []
    rows.append((say("should have come in"), money(balance.expected)))
    if balance.found is None:
        return Why(
            say("the money of the day"),
            tuple(rows),
            (say("The cash was not counted, so nothing says whether it fits."),),
        )
    rows.append((say("cash in the box"), money(day.cash_counted)))
    rows += [(say("less the change it began with"), f"− {money(day.change)}")] if day.change else []
    rows += [(say("paid by card"), f"+ {money(day.cards)}")] if day.cards else []
    rows += [(say("came in"), money(balance.found)), (say("difference"), money(balance.difference))]
    return Why(say("the money of the day"), tuple(rows))


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
    notes = (
        say("Money less what the jars cost to make, as the price list says; your hours and the drive are not in it."),
    )
    return Why(say("what the day left"), (*rows, (say("left"), money(whole.left))), notes)
