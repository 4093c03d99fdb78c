"""The labels of one jar taken together: whether all that must be said is said, and the front says its share.

One label may leave a word to another; the jar may not leave it out. So the check runs over the set as it was placed.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from labelkit.labels.content import LabelContent
from labelkit.labels.place.placed import WHERE, Placed, texts_of

#: These stand together in the field the buyer sees: 21 CFR 101.3(a) and 101.7(a); Regulation (EU) 1169/2011 Art. 13(5).
ON_THE_FRONT = ("name", "net")
FRONTS = ("front", "wrap")


@dataclass(frozen=True, slots=True)
class Missing:
    """A required word that stands on no label of the set, or not where it has to."""

    role: str
    text: str
    says: str
    do: str


def missing_from(content: LabelContent, labels: Sequence[Placed]) -> tuple[Missing, ...]:
    """What the labels of one jar leave unsaid of its content.

    >>> from labelkit.labels.content import Words
    >>> missing_from(LabelContent("front", (Words("lot", "Lot L26195AXR", must=True),)), ())[0].says
    'The lot mark “Lot L26195AXR” stands on none of the labels.'
    """
    found: list[Missing] = []
    for words in content.words:
        if not words.must:
            continue
        saying = [placed for placed in labels if texts_of(placed.marks, words.role)]
        what = WHERE.get(words.role, words.role)
        if not saying:
            found.append(Missing(
                words.role, words.text, f"The {what} “{words.text}” stands on none of the labels.",
                "Add a back label or choose a larger one, and print the set again.",
            ))  # fmt: skip
        elif words.role in ON_THE_FRONT and not any(placed.content.kind in FRONTS for placed in saying):
            found.append(Missing(
                words.role, words.text, f"The {what} stands only on the {saying[0].content.kind}.",
                "Name and net quantity belong together on the front; print a front label or a wrap as well.",
            ))  # fmt: skip
    return tuple(found)


def low_enough(placed: Placed, panel_high_um: int) -> str:
    """How low the front has to be stuck for its net quantity to stand in the bottom share of the whole panel.

    The share is that of the container's panel, not of the paper. Returns an empty text where the law sets none or where
    the label can be stuck anywhere.
    """
    share = placed.content.net_rule.bottom_share
    net = texts_of(placed.marks, "net")
    if share is None or not net:
        return ""
    top = max(mark.box.top for mark in net)
    highest = int(panel_high_um * share) - top
    if 0 <= panel_high_um - placed.outline.high <= highest:
        return ""
    if highest < 0:
        return (
            f"On a panel {panel_high_um / 1000:.0f} mm high the net quantity has to stand in the lowest "
            f"{panel_high_um * share / 1000:.1f} mm, and on this label it stands {top / 1000:.1f} mm high: choose a lower label."
        )
    return (
        f"Stick the front with its lower edge at most {highest // 1000} mm above the foot of the jar's side, so that the "
        f"net quantity stands in the bottom {share:.0%} of the panel."
    )
