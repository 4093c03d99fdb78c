"""The labels of one jar as a set: what was drawn now, what the record knows of earlier prints, and what is still unsaid."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from labelkit.cli._runner import CommandContext

if TYPE_CHECKING:
    from labelkit.cli._labels import Choice, Drawn
    from labelkit.labels.content import LabelContent
    from labelkit.labels.label_set import Missing, Said
    from labelkit.labels.layout.placed import Placed
    from labelkit.rules.label import Label


@dataclass(frozen=True)
class SetCheck:
    """``missing`` stands on no label of the jar; ``whole`` is unknown (None) where the front may exist elsewhere."""

    kinds: tuple[str, ...]
    before: tuple[str, ...]
    missing: tuple[Missing, ...]
    whole: bool | None
    notes: tuple[str, ...]
    stops: tuple[str, ...]

    def as_dict(self) -> dict:
        return {
            "kinds": list(self.kinds),
            "printed_before": list(self.before),
            "whole": self.whole,
            "missing": list(self.missing),
        }


def check_set(
    context: CommandContext, drawn: Sequence[Drawn], size: str | None, choice: Choice, lots: Sequence[str] = ()
) -> SetCheck:
    """Hold the labels drawn for one jar, and those the record says were printed for it, to all that must be said.

    ``lots`` are the lots of a run that prints one label for many; otherwise it is the label's own. A back, a lid or a seal
    drawn by itself without a record is not the whole set and is not blamed for that; what it leaves to the others is
    said.
    """
    from labelkit.cli._labels import words_of
    from labelkit.labels.label_set import FRONTS, said_on

    first = drawn[0]
    jar = first.made.content
    if jar.nutrition is not None:
        jar = words_of(context, first.label, replace(choice, kind="front")).content
    said = [(said_on(one.printed.placed[0]), one.printed.placed[0].content.lot) for one in drawn]
    earlier = prints_of(context, size) if size else {}
    missing, before = _missing_of(jar, said, lots or [first.label.lot], earlier)
    kinds = tuple(one.kind for one, _ in said)
    known = bool(size) or any(kind in FRONTS for kind in kinds)
    notes, stops = _stuck(first.label, [one.printed.placed[0] for one in drawn])
    if missing:
        (stops if known else notes).append(_unsaid(missing, kinds, known, bool(size)))
    elif len(kinds) + len(before) > 1:
        printed = f" ({_and(before)} printed before)" if before else ""
        notes.append(f"The set is whole: {_and([*kinds, *before])} together say all that must be said{printed}.")
    whole = not missing if known or not missing else None
    return SetCheck(kinds, before, missing, whole, tuple(notes), tuple(stops))


def _missing_of(
    jar: LabelContent,
    said: Sequence[tuple[Said, str | None]],
    lots: Sequence[str],
    earlier: dict[str, tuple[Said, ...]],
) -> tuple[tuple[Missing, ...], tuple[str, ...]]:
    """What is unsaid on the jars of any of these lots, and the kinds that all of them had before.

    What was drawn is said of each lot in turn, since its labels differ in nothing else.
    """
    from labelkit.labels.label_set import missing_from

    found: dict[str, Missing] = {}
    before: list[str] | None = None
    drawn = {one.kind for one, _ in said}
    for lot in lots if earlier else lots[:1]:
        now = [replace(one, words=tuple(text.replace(old or lot, lot) for text in one.words)) for one, old in said]
        old = [one for one in earlier.get(lot, ()) if one.kind not in drawn]
        before = [one.kind for one in old if before is None or one.kind in before]
        for one in missing_from(jar.for_lot(lot) if jar.lot else jar, [*old, *now]):
            found.setdefault(one.text if one.role != "lot" else "lot", one)
    return tuple(found.values()), tuple(before or ())


def prints_of(context: CommandContext, size: str) -> dict[str, tuple[Said, ...]]:
    """What the last print of each kind for the jars of a size said, by lot, as far as any of it was kept."""
    from labelkit.labels.label_set import Said

    found: dict[str, dict[str, Said]] = {}
    with context.reading() as book:
        for booked in book.events(("print",)):
            event = booked.event
            if booked.stands and event.size == size and event.count > event.spoiled:
                found.setdefault(event.lot, {})[event.label] = Said(event.label, event.said)
    return {lot: tuple(kinds.values()) for lot, kinds in found.items()}


def _stuck(label: Label, placed: Sequence[Placed]) -> tuple[list[str], list[str]]:
    """How the front is to be stuck on the jar; what cannot be is the second."""
    from labelkit.labels.label_set import FRONTS, low_enough

    high = label.panel.get("height")
    told = [low_enough(one, high.um) for one in placed if high and one.content.kind in FRONTS]
    return [one.says for one in told if one.says and one.possible], [one.says for one in told if not one.possible]


def _unsaid(missing: Sequence[Missing], kinds: Sequence[str], known: bool, booked: bool) -> str:
    """One sentence for all words that go on the same kind of label."""
    from labelkit.labels.layout.placed import WHERE

    parts = []
    for kind in dict.fromkeys(_next(one, kinds) for one in missing):
        which = [one for one in missing if _next(one, kinds) == kind]
        roles = _and(dict.fromkeys(f"the {WHERE.get(one.role, one.role)}" for one in which))
        others = [other for other in which[0].kinds if other != kind]
        where = f"{roles} may stand on a {' or '.join(filter(None, (', '.join([kind, *others][:-1]), others[-1])))}"
        wanted = kind if booked else ",".join([*kinds, kind])
        how = "; take a larger label" if kind in kinds else f"; print a {kind} as well (--kind {wanted})"
        parts.append(where + how)
    begin = (
        "Required words stand on no label of this jar" if known else "Not on this label, so it needs others beside it"
    )
    return f"{begin}: {'. And '.join(parts)}."


def _next(one: Missing, kinds: Sequence[str]) -> str:
    """The kind to print for a word: the first that may carry it and is not drawn yet."""
    return next((kind for kind in one.kinds if kind not in kinds), one.kinds[0])


def _and(words) -> str:
    """Words in a row.

    >>> _and(["front", "back", "lid"])
    'front, back and lid'
    """
    *most, last = words
    return f"{', '.join(most)} and {last}" if most else last
