"""``labelkit stall days``."""

from __future__ import annotations

import click

from labelkit.cli._files import write_whole
from labelkit.cli._runner import Answer, CommandContext, answering
from labelkit.cli._show import table


@click.command()
@click.option("--place", metavar="NAME", help="Only this market.")
@click.option("--svg", "picture_file", metavar="FILE.svg", help="Draw how much of each size was sold.")
@answering
def command(context: CommandContext, place: str | None, picture_file: str | None) -> Answer:
    """Show past stall days.

    What was taken, what sold, whether the money fitted, and what sells best.

    Example:  labelkit stall days --place "Mill square market" --svg best-sellers.svg
    """
    from labelkit.sale.bars import Bar, bars_svg, picture
    from labelkit.sale.settlement import balance_of
    from labelkit.sale.year_report import sell_through
    from labelkit.season.stall import loads, stall_days

    with context.reading() as state:
        every, taken = stall_days(state), loads(state)
    days = [d for d in every if not place or d.place.casefold() == place.casefold()]
    settled = {d.key for d in every}
    waiting = sorted(
        {x.key for x in taken if x.key not in settled and (not place or x.place.casefold() == place.casefold())}
    )
    rows = []
    for d in sorted(days, key=lambda d: (d.day, d.place)):
        money = balance_of(d)
        difference = money.difference.show(context.locale) if money.difference else "not counted"
        sold, back = sum(x.count for x in d.lines), sum(x.count for x in d.back)
        rows.append((d.day.isoformat(), d.place, str(sold), str(back), money.expected.show(context.locale), difference))
    through = sell_through(days)
    text = (
        [table(("day", "market", "sold", "back", "takings", "difference"), rows, right=[2, 3, 4, 5])]
        if rows
        else ["No market day is settled yet."]
    )
    if through:
        sizes = [(r.name, str(r.taken), str(r.sold), f"{r.percent} %") for r in through]
        text += ["", table(("size", "taken", "sold", "of it"), sizes, right=[1, 2, 3])]
    text += [f"Loaded and not settled yet: {key}" for key in waiting]
    if picture_file:
        bars = [Bar(r.name, r.sold, f"{r.sold} / {r.taken} · {r.percent} %", r.taken) for r in through]
        text.append(
            f"Written: {write_whole(picture_file, bars_svg(picture('Sold of what was taken to market', bars)))}"
        )
    document = {
        "days": [
            {
                "key": d.key,
                "day": d.day,
                "place": d.place,
                "sold": sum(x.count for x in d.lines),
                "back": sum(x.count for x in d.back),
                "takings": balance_of(d).expected.amount,
            }
            for d in days
        ],
        "sizes": [{"size": r.name, "taken": r.taken, "sold": r.sold, "percent": r.percent} for r in through],
        "not_settled": waiting,
    }
    return Answer(document, "\n".join(text))
