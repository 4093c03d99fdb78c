"""Whether the names beside the chain are those the chain commits to, and nothing was taken out that was not forgotten."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from typing import Any

from labelkit.record.people import Forget, Kept, commitment, mentions_in


@dataclass(slots=True)
class Given:
    """What events give by number: by which event first, with which commitments; and what was forgotten, by which."""

    first: dict[int, int] = field(default_factory=dict)
    commitments: dict[int, set[str]] = field(default_factory=dict)
    forgotten: dict[int, int] = field(default_factory=dict)

    def note(self, seq: int, masked: Any) -> None:
        """Take one event into account, as it is written down."""
        if isinstance(masked, Forget):
            self.forgotten.update((number, seq) for number in masked.numbers)
        for number, commitments in mentions_in(masked).items():
            self.first.setdefault(number, seq)
            self.commitments.setdefault(number, set()).update(each for each in commitments if each)

    def left_out(self) -> Iterator[Kept]:
        """Empty places for all that is given, where an export left people out."""
        for number, commitments in sorted(self.commitments.items()):
            yield Kept(number, None, None, next(iter(commitments), None), "left out of the export")


def people_faults(kept: Iterable[Kept], given: Given) -> Iterator[tuple[int, str]]:
    """What is not as it was booked: by which event it was first given (0: by none), and what is wrong."""
    places = {each.number: each for each in kept}
    for number, seq in sorted(given.first.items()):
        if number not in places:
            yield (
                seq,
                f"what number {number} of event {seq} stands for was taken out, and no event says it was forgotten",
            )
        elif wrong := _wrong(places[number], given):
            yield seq, f"number {number}, first given by event {seq}, {wrong}"
    for number in sorted(places.keys() - given.first.keys()):
        if not places[number].gone:
            yield 0, f"number {number} stands for somebody no event gives"


def _wrong(place: Kept, given: Given) -> str:
    committed = given.commitments[place.number]
    if committed - {place.commitment}:
        return "stands for somebody else than the event committed to"
    if place.text is None:
        told = place.number in given.forgotten or place.gone
        return "" if told and place.salt is None else "was taken out, and no event says it was forgotten"
    if place.number in given.forgotten:
        return f"was forgotten by event {given.forgotten[place.number]}, and a name stands there again"
    return "" if _fits(place) else "stands for another name than it was given for"


def _fits(place: Kept) -> bool:
    try:
        return commitment(place.salt or "", place.text or "") == place.commitment
    except ValueError:  # a salt that is not hexadecimal
        return False


def withheld(kept: Iterable[Kept], given: Given) -> dict[int, str]:
    """Numbers whose names are not here though no event of this record forgot them, and why."""
    return {
        each.number: each.gone
        for each in kept
        if each.text is None and each.gone and each.number in given.first and each.number not in given.forgotten
    }
