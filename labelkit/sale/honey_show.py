"""A honey show: what a schedule asks of each class, and which lots may be entered in it.

Schedules differ, so nothing of one is assumed: what a class does not say becomes a question to the show.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal

from labelkit.errors.sentence import Figure, Sentence
from labelkit.measures import Length
from labelkit.measures.locales import show_number
from labelkit.sale.load import OnShelf

YES, NO, ASK = "yes", "no", "ask"


@dataclass(frozen=True, slots=True)
class ShowClass:
    """One class of a schedule; ``None`` where the schedule, as it was typed, does not say.

    ``moisture_at_most`` in per cent water; ``label_above`` from the foot of the jar to the lower edge of the label.
    """

    number: str
    name: str
    jar: str
    jars: int | None = None
    moisture_at_most: Decimal | None = None
    label_above: Length | None = None

    @property
    def questions(self) -> tuple[Sentence, ...]:
        """What to ask the show before anything is entered in this class."""
        asked = (
            (self.jars, Sentence("Ask the show how many jars class {number} wants.", number=self.number)),
            (
                self.moisture_at_most,
                Sentence("Ask the show how much water honey in class {number} may have.", number=self.number),
            ),
            (
                self.label_above,
                Sentence(
                    "Ask the show how far above the foot of the jar the label of class {number} goes.",
                    number=self.number,
                ),
            ),
        )
        return tuple(question for said, question in asked if said is None)


@dataclass(frozen=True, slots=True)
class Entry:
    """A lot in a class: whether it may be entered (``yes``, ``no``, ``ask``), and why not or what is to be found out."""

    lot: str
    jars: int
    moisture: Decimal | None
    may: str
    why: tuple[Sentence, ...] = ()


def entries(of: ShowClass, shelf: Iterable[OnShelf], moisture: dict[str, Decimal | None]) -> tuple[Entry, ...]:
    """Every lot with jars of the class's size, those that may be entered first; ``moisture`` is by lot, in per cent.

    >>> from labelkit.measures import Mass
    >>> jars = [OnShelf("L1", "pound", 3, Mass.of_grams(454), ""), OnShelf("L2", "pound", 1, Mass.of_grams(454), "")]
    >>> light = ShowClass("1", "Light honey", "pound", 2, Decimal("18"), None)
    >>> [(one.lot, one.may) for one in entries(light, jars, {"L1": Decimal("17.4"), "L2": Decimal("17.4")})]
    [('L1', 'yes'), ('L2', 'no')]
    """
    found = [_entry(of, jar, moisture.get(jar.lot)) for jar in shelf if jar.size == of.jar]
    return tuple(sorted(found, key=lambda one: ((YES, ASK, NO).index(one.may), one.lot)))


def _entry(of: ShowClass, jar: OnShelf, moisture: Decimal | None) -> Entry:
    against, unknown = [], []
    if of.jars is None:
        unknown.append(Sentence("the class does not say how many jars"))
    elif jar.count < of.jars:
        against.append(Sentence("{n} of {wanted} jars in stock", n=jar.count, wanted=of.jars))
    if moisture is None:
        unknown.append(Sentence("its moisture was not measured"))
    elif of.moisture_at_most is None:
        unknown.append(Sentence("the class names no moisture limit"))
    elif moisture > of.moisture_at_most:
        against.append(
            Sentence(
                "{moisture} % water, {limit} % allowed",
                moisture=Figure(show_number, moisture),
                limit=Figure(show_number, of.moisture_at_most),
            )
        )
    may = NO if against else ASK if unknown else YES
    return Entry(jar.lot, jar.count, moisture, may, (*against, *unknown))
