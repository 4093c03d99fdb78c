"""The plan as a picture on paper: each bucket a bar as long as its honey, divided into the jars it fills.

Honey that stays unbottled and honey poured over into a blend have colours of their own; blends stand below the buckets.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from labelkit.measures import NOTHING, Mass, show_metric, total
from labelkit.plan.picture import KEPT, LIGHT_ON, TAIL, jars, set_aside, tints

if TYPE_CHECKING:
    from labelkit.paper.marks import Colour, Mark
    from labelkit.plan import JarPlan, JarSize

MOST_BARS = 12  # more would push the buckets themselves off the first page
_NAME, _LEFT_ROOM = 22_000, 26_000  # micrometres beside a bar: the bucket's name, what is left
ON_PAPER = {KEPT: "#5d7c8c", TAIL: "#7d5a7e"}  # the screen's patterns in one colour each
DARK = (*LIGHT_ON, *ON_PAPER)
_BAR, _ROW, _TYPE = 6_000, 8_600, 2_900
_INK: Colour = (28, 27, 25)
_QUIET: Colour = (108, 103, 96)
_PALE: Colour = (255, 250, 240)


def plan_marks(plan: JarPlan, sizes: Sequence[JarSize], width: int, locale: str) -> tuple[list[Mark], int, int] | None:
    """Marks, width and height in micrometres; nothing where the plan fills nothing. ``width`` is the paper's column."""
    from labelkit.paper.fonts import Box, face_for
    from labelkit.paper.marks import Shape, Text, rectangle

    buckets = [bucket for bucket in plan.buckets if any(bucket.jars.values())][:MOST_BARS]
    if not buckets:
        return None
    bars = [(b.id, b.usable, [*jars(sizes, b.jars), *set_aside(plan, b.id, locale)]) for b in buckets]
    bars += [(b.id, total(mass for _, mass in b.parts), jars(sizes, b.jars)) for b in plan.blends[:MOST_BARS]]
    room, longest = width - _NAME - _LEFT_ROOM, max(bucket.usable.mg for bucket in buckets)
    high = _ROW * (len(bars) + 1)
    marks: list[Mark] = []

    def say(text: str, x: int, y: int, colour: Colour) -> int:
        face = face_for("sans-Regular", text)
        marks.append(Text(face, _TYPE, text, x, y, colour))
        return face.width(text, _TYPE)

    for n, (name, holds, parts) in enumerate(bars):
        base = high - _ROW * (n + 1) + (_ROW - _BAR)
        line = base + (_BAR - _TYPE) // 2 + 400
        say(_short(name, _NAME, face_for), 0, line, _INK)
        x, used = _NAME, NOTHING
        for part in parts:
            wide = part.mass.mg * room // longest
            marks.append(Shape(rectangle(Box(x, base, x + wide, base + _BAR)), fill=_colour(part.fill)))
            ink = _PALE if part.fill in DARK else _INK
            for words in part.words:
                if face_for("sans-Regular", words).width(words, _TYPE) < wide - 1_500:
                    say(words, x + 800, line, ink)
                    break
            x, used = x + wide, used + part.mass
        left = holds - used
        say(f"{show_metric(left if left.mg > 0 else Mass(0), locale)} left", x + 1_200, line, _QUIET)
    x = _NAME
    shown = {
        size: tint for size, tint in tints(sizes).items() if any(b.jars.get(size) for b in (*buckets, *plan.blends))
    }
    shown |= {"kept unbottled": KEPT} if plan.kept else {}
    shown |= {"poured into a blend": TAIL} if plan.blends else {}
    for name, tint in shown.items():
        marks.append(Shape(rectangle(Box(x, 1_200, x + _TYPE, 1_200 + _TYPE)), fill=_colour(tint)))
        x += _TYPE + 1_500 + say(name, x + _TYPE + 1_000, 1_500, _QUIET) + 4_000
    return marks, width, high


def _colour(tint: str) -> Colour:
    """A tint as it is written in pictures on the screen.

    >>> _colour("#6b3f14")
    (107, 63, 20)
    """
    tint = ON_PAPER.get(tint, tint)
    return int(tint[1:3], 16), int(tint[3:5], 16), int(tint[5:7], 16)


def _short(name: str, room: int, face_for) -> str:
    """A bucket's name, cut where it would run into its bar."""
    cut = name
    while cut and face_for("sans-Regular", cut).width(cut, _TYPE) > room - 1_500:
        cut = cut[:-1]
    return cut if cut == name else f"{cut[:-1]}…"
