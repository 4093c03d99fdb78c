"""The labels of one jar taken together: whether all that must be said is said, and the front says its share.

One label may leave a word to another; the jar may not leave it out. So the check runs over the set as it was placed: it
reads the letters that stand on each label, not the list of what they were meant to say.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from types import MappingProxyType

from labelkit.labels.content import LabelContent, Words
from labelkit.labels.heights import upper
from labelkit.labels.layout.placed import WHERE, Placed, texts_of
from labelkit.measures import Length

#: These stand together in the field the buyer sees: 21 CFR 101.3(a) and 101.7(a); Regulation (EU) 1169/2011 Art. 13(5).
ON_THE_FRONT = ("name", "net")
FRONTS = ("front", "wrap")
#: What is stuck on the side of the jar, and has to lie flat there.
ON_THE_SIDE = (*FRONTS, "back", "nutrition")
PI = Decimal("3.14159265358979")
#: Which of the words that must be said each other kind of label has room for; a front and a wrap may say them all.
MAY_SAY = {
    "back": (
        "maker",
        "name",
        "grade",
        "origin",
        "ingredients",
        "caution",
        "wording",
        "storage",
        "address",
        "best_before",
        "lot",
    ),
    "lid": ("maker", "name", "best_before", "lot"),
    "seal": ("maker", "name", "best_before", "lot"),
    "nutrition": (),
}
_NOT_SPELLING = re.compile(r"[\s·/\-‐\u00ad]")


@dataclass(frozen=True, slots=True)
class Missing:
    """A required word that stands on no label of the set, or not where it has to; ``kinds`` may carry it."""

    role: str
    text: str
    says: str
    do: str
    kinds: tuple[str, ...]

    def as_dict(self) -> dict:
        return {"role": self.role, "text": self.text, "says": self.says, "do": self.do, "kinds": list(self.kinds)}


def may_carry(role: str) -> tuple[str, ...]:
    """The kinds of label a required word may stand on, the usual one first.

    >>> may_carry("net"), may_carry("best_before")
    (('front', 'wrap'), ('back', 'wrap', 'front', 'lid', 'seal'))
    """
    if role in ON_THE_FRONT:
        return FRONTS
    others = tuple(kind for kind, roles in MAY_SAY.items() if role in roles)
    return (*others[:1], *reversed(FRONTS), *others[1:])


def said_on(placed: Placed) -> tuple[str, ...]:
    """The words of a label's content that its letters spell, each in the form that was taken."""
    return tuple(text for words in placed.content.words for text in _spelt(words, placed))


@dataclass(frozen=True, slots=True)
class LabelSet:
    """The labels of one print taken together, as they were placed.

    ``whole`` is unknown (None) for a print without a front: what it leaves unsaid the other labels of the jar may say.
    ``stops`` must be put right before anything is printed, ``notes`` are to be known. ``dropped`` are free words, by role
    and text, that found no place.
    """

    kinds: tuple[str, ...]
    missing: tuple[Missing, ...]
    whole: bool | None
    notes: tuple[str, ...] = ()
    stops: tuple[str, ...] = ()
    dropped: tuple[tuple[str, str], ...] = ()

    @property
    def wanted(self) -> tuple[str, ...]:
        """The kinds that would say everything together: those of this print, and what each missing word wants."""
        return tuple(dict.fromkeys((*self.kinds, *(_next(one, self.kinds) for one in self.missing))))

    @property
    def unsaid(self) -> tuple[tuple[str, str], ...]:
        """Role and text of what a print that has a front says on none of its labels, the free lines among them."""
        if self.whole is None:
            return ()
        missing = ((one.role, one.text) for one in self.missing if one.role not in ON_THE_FRONT)
        return (*missing, *self.dropped)

    def as_dict(self) -> dict:
        return {"kinds": list(self.kinds), "whole": self.whole, "missing": list(self.missing)}


def set_of(
    jar: LabelContent,
    placed: Sequence[Placed],
    warnings: Sequence[str] = (),
    side: Mapping[str, Length] = MappingProxyType({}),
) -> LabelSet:
    """Hold the labels drawn for one jar to all that must be said on it.

    ``warnings`` are the texts that warn of infants, one of which must stand in every print whatever its kinds; ``side``
    is the straight side of the jar: its height, and its diameter or its width.
    """
    kinds = tuple(one.content.kind for one in placed)
    lot = next((one.content.lot for one in placed if one.content.lot), None)
    missing = missing_from(jar.for_lot(lot) if jar.lot and lot else jar, placed)
    fronted = any(kind in FRONTS for kind in kinds)
    stops = [says for one in placed if one.content.kind in ON_THE_SIDE and (says := too_large(one, side))]
    fronts = [one for one in placed if "height" in side and one.content.kind in FRONTS and not too_large(one, side)]
    notes = [says for one in fronts if (says := low_enough(one, side["height"].um))]
    if missing:
        (stops if fronted else notes).append(_unsaid(missing, kinds, fronted))
    elif len(kinds) > 1:
        notes.append(f"The set is whole: {_and(kinds)} together say all that must be said.")
    said = {text for one in placed for text in said_on(one)}
    if warnings and not said.intersection(warnings):
        stops.append(
            "The warning about infants stands on none of these labels, and it comes with every print; print a back, a wrap "
            "or a larger front in the same print."
        )
    free = tuple((one.role, one.text) for one in jar.words if not one.must and one.text not in said)
    whole = None if missing and not fronted else not missing
    return LabelSet(kinds, missing, whole, tuple(notes), tuple(stops), free)


def _unsaid(missing: Sequence[Missing], kinds: Sequence[str], fronted: bool) -> str:
    """One sentence for all words that go on the same kind of label."""
    parts = []
    for kind in dict.fromkeys(_next(one, kinds) for one in missing):
        which = [one for one in missing if _next(one, kinds) == kind]
        roles = _and(dict.fromkeys(f"the {WHERE.get(one.role, one.role)}" for one in which))
        others = [other for other in which[0].kinds if other != kind]
        where = f"{roles} may stand on a {' or '.join(filter(None, (', '.join([kind, *others][:-1]), others[-1])))}"
        how = "; take a larger label" if kind in kinds else f"; print a {kind} as well, in the same print"
        parts.append(where + how)
    begin = (
        "Required words found no place on these labels"
        if fronted
        else "Not on this label, so it needs others beside it"
    )
    return f"{begin}: {'. And '.join(parts)}."


def _next(one: Missing, kinds: Sequence[str]) -> str:
    """The kind to print for a word: the first that may carry it and is not drawn yet."""
    return next((kind for kind in one.kinds if kind not in kinds), one.kinds[0])


def _and(words: Iterable[str]) -> str:
    """Words in a row.

    >>> _and(["front", "back", "lid"])
    'front, back and lid'
    """
    *most, last = words
    return f"{', '.join(most)} and {last}" if most else last


def missing_from(content: LabelContent, labels: Sequence[Placed]) -> tuple[Missing, ...]:
    """What the labels of one jar leave unsaid of its content.

    >>> from labelkit.labels.content import Words
    >>> missing_from(LabelContent("front", (Words("lot", "Lot L26195AXR", must=True),)), ())[0].says
    'The lot mark “Lot L26195AXR” stands on none of the labels.'
    """
    said = [(one.content.kind, frozenset(said_on(one))) for one in labels]
    found: list[Missing] = []
    for words in content.words:
        if not words.must:
            continue
        saying = [kind for kind, texts in said if any(texts.issuperset(form) for form in _forms(words))]
        what, kinds = WHERE.get(words.role, words.role), may_carry(words.role)
        if not saying:
            found.append(
                Missing(
                    words.role,
                    words.text,
                    f"The {what} “{words.text}” stands on none of the labels.",
                    f"Print a {kinds[0]} as well; it may also stand on a {' or a '.join(kinds[1:])}.",
                    kinds,
                )
            )
        elif words.role in ON_THE_FRONT and not set(saying) & set(FRONTS):
            found.append(
                Missing(
                    words.role,
                    words.text,
                    f"The {what} stands only on the {saying[0]}.",
                    "Name and net quantity belong together on the front; print a front label or a wrap as well.",
                    kinds,
                )
            )
    return tuple(found)


def _forms(words: Words) -> list[tuple[str, ...]]:
    """The wordings any of which will do: its own, in all its languages, or another lawful one."""
    return [words.all, *((form,) for form in words.instead)]


def _spelt(words: Words, placed: Placed) -> tuple[str, ...]:
    letters = _plain("".join(mark.text for mark in texts_of(placed.marks, words.role)))
    return next((form for form in _forms(words) if letters and all(_plain(text) in letters for text in form)), ())


def _plain(text: str) -> str:
    """A text without capitals, blanks, and what setting it in lines may add or take away."""
    return _NOT_SPELLING.sub("", upper(text)).casefold()


def around(diameter: Length) -> Length:
    """The way round a jar.

    >>> around(Length.of_mm(70)).um
    219911
    """
    return Length(int(PI * diameter.um))


def too_large(placed: Placed, side: Mapping[str, Length]) -> str:
    """Why a label cannot be stuck on the straight side of its jar, with the millimetres; empty where it can."""
    wide, high = placed.outline.wide, placed.outline.high
    room = side["width"] if "width" in side else around(side["diameter"]) if "diameter" in side else None
    if "height" in side and high > side["height"].um:
        short, what = f"{high / 1000:.1f} mm high and the jar's side {side['height'].um / 1000:.1f} mm", "lower"
    elif room is not None and wide - _closing(placed) > room.um:
        way = "side" if "width" in side else "way round it"
        short, what = f"{wide / 1000:.1f} mm wide and the jar's {way} {room.um / 1000:.1f} mm", "narrower"
    else:
        return ""
    return (
        f"The {placed.content.kind} label is {short}: choose a {what} label, or correct the jar's size if more of its side "
        "is straight."
    )


def _closing(placed: Placed) -> int:
    """How far a wrap may close over its own beginning: as far as nothing stands there."""
    if placed.content.kind != "wrap":
        return 0
    return min(mark.box.left for mark in placed.marks if not getattr(mark, "behind", False))


def low_enough(placed: Placed, panel_high_um: int) -> str:
    """How low the front has to be stuck for its net quantity to stand in the bottom share of the whole panel.

    The share is that of the container's panel, not of the paper (21 CFR 101.7(f)). Empty where the law sets none or where
    the label can be stuck anywhere.
    """
    share = placed.content.net_rule.bottom_share
    net = texts_of(placed.marks, "net")
    if share is None or not net:
        return ""
    top = max(mark.box.top for mark in net)
    # Placed within the same share of the label, it is within that of the panel, which is no lower.
    highest = max(0, int(panel_high_um * share) - top)
    if panel_high_um - placed.outline.high <= highest:
        return ""
    return (
        f"Stick the front with its lower edge at most {highest // 1000} mm above the foot of the jar's side, so that the "
        f"net quantity stands in the bottom {share:.0%} of the panel."
    )
