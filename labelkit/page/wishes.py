"""What a form wishes of a plan, read; the plan's page, filling day and long work ask in one way."""

from __future__ import annotations

from flask import request

from labelkit.page.forms import amount, by_size, count, number, typed
from labelkit.plan.wishes import GOALS, WET, Planning


def planning() -> Planning:
    """The wishes that were typed; what is the plan's usual way is no wish."""
    goal, wet = typed("goal"), typed("wet")
    return Planning(
        goal=GOALS.get(goal) if goal != "money" else None,
        first=typed("first") or None,
        mix=by_size("mix", number),
        wet=WET.get(wet) if wet != "leave-out" else None,
        without=tuple(request.values.getlist("without")),
        prices=by_size("price", amount),
        at_least=by_size("at-least", count),
        at_most=by_size("at-most", count),
    )
