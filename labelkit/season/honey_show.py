"""A honey show: which lots may be entered in which class of a schedule, and the list of entries to hand in."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING

from labelkit.measures.locales import show_day, show_number
from labelkit.sale.honey_show import YES, Entry, ShowClass, entries
from labelkit.season.known_jars import known_of
from labelkit.season.settings import settings_of
from labelkit.season.shelf import on_shelf

if TYPE_CHECKING:
    from labelkit.errors.sentence import Sentence
    from labelkit.measures.wording import Wording
    from labelkit.record.reading import Reading


@dataclass(frozen=True, slots=True)
class ShowAsked:
    """A show as its schedule says: its name, its day, its classes."""

    name: str
    day: date | None
    classes: tuple[ShowClass, ...]


@dataclass(frozen=True, slots=True)
class ShowEntries:
    """Each class with the lots that have jars of its size, and the name the entries are made in."""

    asked: ShowAsked
    classes: tuple[tuple[ShowClass, tuple[Entry, ...]], ...]
    exhibitor: str

    @property
    def questions(self) -> tuple[Sentence, ...]:
        """What the schedule, as it was typed, leaves open."""
        return tuple(question for of, _ in self.classes for question in of.questions)


def honey_show(state: Reading, asked: ShowAsked) -> ShowEntries:
    """Look which lots may be entered; nothing is booked. Raises :class:`~labelkit.errors.run.JarSizeUnknown`.

    A lot's moisture is that of its bucket. Colour, clarity and the comb are for the eye; the record does not know them.
    """
    season = settings_of(state)
    for each in asked.classes:
        season.size(each.jar)
    shelf = on_shelf(state)
    runs = known_of(state, {jar.lot for jar in shelf}).runs
    moisture = {lot: state.bucket(run.bucket).moisture for lot, run in runs.items()}
    found = tuple((each, entries(each, shelf, moisture)) for each in asked.classes)
    return ShowEntries(asked, found, season.maker.get("name", ""))


def entry_list_pdf(found: ShowEntries, paper: str, words: Wording, locale: str) -> bytes:
    """The entries to hand in: each class with the lot chosen for it (the first that may be), jar and height of label."""
    from labelkit.paper.document import Document

    asked = found.asked
    title = words("Entries for {show}", show=asked.name)
    document = Document(paper, title, lang=words.lang, author=found.exhibitor)
    document.title(title)
    day = [show_day(asked.day, locale)] if asked.day else []
    document.paragraph(" · ".join(filter(None, (found.exhibitor, *day))), "lead")
    head = [words(each) for each in ("Class", "Jar", "Jars", "Lot", "Water", "Label above the foot of the jar")]
    document.table([_row(of, lots, words, locale) for of, lots in found.classes], head=head, align="llrlrr")
    if found.questions:
        document.heading(words("Ask the show first"))
        for question in found.questions:
            document.paragraph(words(question.text, **question.facts))
    document.paragraph(
        words(
            "The schedule decides. Look at colour, clarity and the fill of each jar against the light before you enter it."
        ),
        "small",
    )
    return document.bytes()


def _row(of: ShowClass, lots: Sequence[Entry], words: Wording, locale: str) -> list[str]:
    chosen = next((each for each in lots if each.may == YES), None)
    water = f"{show_number(chosen.moisture, locale)} %" if chosen and chosen.moisture is not None else "–"
    return [
        f"{of.number} {of.name}".strip(),
        of.jar,
        str(of.jars) if of.jars is not None else words("ask"),
        chosen.lot if chosen else words("none"),
        water,
        f"{show_number(of.label_above.mm, locale)} mm" if of.label_above else words("ask"),
    ]
