"""The first evening: from buckets that are weighed to labelled jars, with the one plan that needs no price.

Nothing here is a verb of its own: the jars are filled as the plan kept by :mod:`labelkit.season.kept_plan` has them, and
the labels are those of :mod:`labelkit.season.label`, of every size at once.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from datetime import date
from decimal import Decimal
from typing import TYPE_CHECKING

from labelkit.errors.rules import FactMissing, NoRuleInForce
from labelkit.labels.design import design
from labelkit.lots.movement import Account
from labelkit.paper.preview import joined
from labelkit.plan.request import Goal
from labelkit.plan.wishes import Planning
from labelkit.season.bottle import Bottled, Bottling, bottle
from labelkit.season.kept_plan import keep_plan
from labelkit.season.label import DrawnLabels, LabelLook, LabelPaper, LabelPrint, book_labels, draw_labels
from labelkit.season.label_desk import Borne, Saying, keep_saying
from labelkit.season.label_paper import sheet_named, usual_sheet
from labelkit.season.label_words import jar_of
from labelkit.season.lot_words import label_of_lots
from labelkit.season.settings import SeasonSettings, settings_of
from labelkit.season.start import country_of

if TYPE_CHECKING:
    from labelkit.record.reading import Reading
    from labelkit.record.work import Work
    from labelkit.rules.market import Market


def as_many_of_each(season: SeasonSettings, day: date) -> Planning:
    """What to wish of a plan while the jars have no price: about as many of each size; once one has, the most money."""
    sizes = season.planned(day)
    if any(price.is_priced for price in sizes.values()) or len(sizes) < 2:
        return Planning()
    return Planning(goal=Goal.MIX, mix=dict.fromkeys(sizes, Decimal(1)))


def fill_as_planned(work: Work, day: date, locale: str) -> tuple[Bottled, ...]:
    """Keep the best plan of what there is and book that its jars are filled, each bucket as a lot.

    Raises what :func:`~labelkit.season.kept_plan.keep_plan` and :func:`~labelkit.season.bottle.bottle` raise.
    """
    planned, _ = keep_plan(work, as_many_of_each(settings_of(work), day), day)
    filled = ((each.id, {size: n for size, n in each.jars.items() if n}) for each in planned.plan.buckets)
    return tuple(bottle(work, Bottling(bucket, jars), day, locale) for bucket, jars in filled if jars)


def further_languages(place: Market) -> tuple[str, ...]:
    """The languages a label of this place must speak beside its first, where the law names several.

    >>> from labelkit.rules import market
    >>> [further_languages(market(code, date(2026, 7, 14))) for code in ("ca", "us-va", "eu-de")]
    [('fr',), (), ()]
    """
    try:
        named = place.value("languages the label must speak").value
    except (NoRuleInForce, FactMissing):
        return ()
    spoken = [language for language in place.head.languages if language in named]
    return tuple(spoken[1:])


def say_label(work: Work, said: Saying, day: date) -> None:
    """Keep the words of the first label. The honey was weighed in from the hives, so its origin is the place's own country.

    Raises what :func:`~labelkit.season.label_desk.keep_saying` raises.
    """
    settings = work.settings()
    words = settings.get("label", {})
    if not words.get("origin") and (country := country_of(settings_of(work).first_market)):
        said = replace(said, texts=(("origin", country), *said.texts))
    keep_saying(work, Borne("", words, settings.get("maker", {})), said, "", day)


def first_labels(state: Reading, day: date, locale: str, because: str = "", *, one: bool = False) -> list[DrawnLabels]:
    """The labels of every jar that is filled, size by size; with ``one`` a single label of each, to look at.

    Raises what :func:`~labelkit.season.label.draw_labels` raises.
    """
    season, settings = settings_of(state, day), state.settings(day)
    lots: dict[str, list[str]] = {}
    for jars in state.stock(Account.JARS):
        if jars.count:
            lots.setdefault(jars.size, []).append(jars.lot)
    drawn = []
    for size, codes in lots.items():
        words = label_of_lots(state, size, codes, day)
        paper = LabelPaper("front", sheet_named(state, usual_sheet("front", season.markets, jar_of(settings, size))))
        asked = tuple((code, 1 if one else 0) for code in (codes[:1] if one else codes))
        wanted = LabelPrint(
            words.label, (paper,), LabelLook(design(words.design)), size, lots=asked, because=because, words=words
        )
        drawn.append(draw_labels(state, wanted, day, locale))
    return drawn


def print_first_labels(work: Work, said: Saying, because: str, day: date, locale: str) -> list[DrawnLabels]:
    """Keep the words, draw the labels of every jar that is filled, and book them. Raises what each of these raises."""
    say_label(work, said, day)
    drawn = first_labels(work, day, locale, because)
    for each in drawn:
        book_labels(work, each, day)
    return drawn


def labels_pdf(drawn: Iterable[DrawnLabels]) -> bytes:
    """All these labels as one file."""
    return joined([one.printed.pdf for each in drawn for one in each.drawn])
