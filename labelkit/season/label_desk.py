"""The label desk: words and look of a label changed together, and kept with its print.

The fields begin with the words the jars bear, or with those of today. Only what differs is kept, for every label of the
product from then on; it is kept in the step that books the print, so that a label looked at changes nothing.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING, Any

from labelkit.errors import LabelkitError
from labelkit.sale.product import setting_of
from labelkit.season.label_words import LabelWords, keep_words
from labelkit.season.lot_words import label_of_lots
from labelkit.season.settings import settings_of
from labelkit.season.start import SeasonStart, start

if TYPE_CHECKING:
    from labelkit.record.reading import Reading
    from labelkit.record.work import Work

#: The words of a label that are one line each.
TEXTS = ("name", "floral_source", "grade", "origin", "best_before")
LISTS = ("lines", "ingredients")


@dataclass(frozen=True, slots=True)
class Saying:
    """What the fields say, as pairs, those that were sent: one-line ``texts``, ``lists`` of lines, the ``maker``, ``facts``, the side of the jar."""

    texts: tuple[tuple[str, str], ...] = ()
    lists: tuple[tuple[str, tuple[str, ...]], ...] = ()
    maker: tuple[tuple[str, str], ...] = ()
    facts: tuple[tuple[str, Any], ...] = ()
    jar: tuple[tuple[str, str], ...] = ()


@dataclass(frozen=True, slots=True)
class Borne:
    """The words the fields of a label begin with: of which product, as they stand in the settings, and who made it."""

    product: str
    words: Mapping[str, Any]
    maker: Mapping[str, str]


def borne_words(
    state: Reading, lots: Sequence[str], size: str, day: date, product: str | None = None, *, new_words: bool = False
) -> Borne:
    """The words these jars bear; where they bear none, or ``new_words`` are wanted, those of today."""
    season, now = settings_of(state), state.settings()
    try:
        found = label_of_lots(state, size, lots, day, product=product, new_words=new_words)
        of, then = found.product, state.settings(up_to=found.words_of) if found.words_of else now
    except LabelkitError:  # nothing is said yet, or what is said cannot be read: the fields are there to say it
        of, then = season.product(product).name if product is not None else season.sold_in(size).name, now
    return Borne(of, then.get(setting_of(of), {}), then.get("maker", {}))


def keep_saying(work: Work, borne: Borne, said: Saying, size: str, day: date) -> bool:
    """Keep what differs from the words that are borne; whether a buyer reads anything else than before.

    Raises what :func:`~labelkit.season.start.start` and :func:`~labelkit.season.label_words.keep_words` raise.
    """
    texts = {key: text for key, text in said.texts if text != borne.words.get(key, "")}
    lists = {key: lines for key, lines in said.lists if list(lines) != _held(borne, key)}
    maker = {key: text for key, text in said.maker if text and text != borne.maker.get(key, "")}
    jar = {key: text for key, text in said.jar if text}
    if maker:
        start(work, SeasonStart(maker=maker), day)
    if texts or lists or said.facts or jar:
        changed = bool(texts or lists)
        # What the jars bear may be older than the words of today: a label that changes takes all of its fields along.
        words = LabelWords(
            {**{key: borne.words.get(key, "") for key in TEXTS}, **dict(said.texts)} if changed else {},
            lines=tuple(dict(said.lists).get("lines", _held(borne, "lines"))) if changed else None,
            ingredients=tuple(dict(said.lists).get("ingredients", _held(borne, "ingredients"))) if changed else None,
            jars={settings_of(work).jar_of(size): jar} if jar else {},
            facts={fact: list(value) if isinstance(value, tuple) else value for fact, value in said.facts},
            product=borne.product,
        )
        keep_words(work, words, day)
    return bool(texts or lists or maker)


def _held(borne: Borne, key: str) -> list[str]:
    return list(borne.words.get(key, ()))
