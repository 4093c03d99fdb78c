"""Whether the words of a label can be read on what is behind them, and in which colours."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal

from labelkit.labels.backdrop.boxes import NET, TITLE
from labelkit.labels.backdrop.measure import Ground, ground_of
from labelkit.labels.design import LEAST_CONTRAST
from labelkit.labels.heights import height_of
from labelkit.labels.layout.placed import WHERE, Placed, Row, mm, net_box, texts_of
from labelkit.paper.fonts import Box
from labelkit.paper.marks import WHITE, Colour, Mark, Shape, Text

DARK: Colour = (22, 18, 14)
#: So many lines are named in a refusal.
WORST = 3


@dataclass(frozen=True)
class Judged:
    """A label as placed, the colours of its letters chosen and its clear space measured; ``short`` says what is not met,
    with the figures, ``least`` which line stands out least and by how much."""

    placed: Placed
    short: tuple[str, ...]
    least: tuple[str, Decimal]


def judged(placed: Placed, fixed: Sequence[Box], dpi: int) -> Judged:
    """The colours chosen by what is behind the letters; those in ``fixed`` boxes stay as they are."""
    ground = ground_of(placed.marks, placed.outline, dpi)
    patches = [mark.box for mark in placed.marks if isinstance(mark, Shape) and mark.role == "patch"]
    inked = _inked(placed.marks, ground, (*patches, *fixed))
    contrasts = {text: ground.contrast(text) for text in inked if isinstance(text, Text)}
    clear = tuple(_clear_rows(placed, ground))
    short = (
        *_faint(contrasts),
        *(
            f"{row.item[0].upper()}{row.item[1:]}: {row.placed:.2f} mm of {row.required:.2f} mm ({row.clause})."
            for row in clear
            if not row.ok
        ),
    )
    worst = min(contrasts, key=contrasts.__getitem__)
    least = _what(worst), Decimal(f"{contrasts[worst]:.2f}")
    return Judged(replace(placed, marks=inked, rows=(*placed.rows, *clear)), short, least)


def _faint(contrasts: dict[Text, float]) -> Iterator[str]:
    faint = sorted((text for text in contrasts if contrasts[text] < LEAST_CONTRAST), key=contrasts.__getitem__)
    for text in faint[:WORST]:
        yield (
            f"{_what(text)} stands out from what is behind it by {contrasts[text]:.1f} to 1 at the least, and "
            f"{LEAST_CONTRAST} to 1 is asked."
        )
    if len(faint) > WORST:
        yield f"So do {len(faint) - WORST} more of {len(contrasts)} lines."


def _what(text: Text) -> str:
    return f"“{text.text}” ({WHERE.get(text.role.split('+')[0], text.role)})"


def _inked(marks: Sequence[Mark], ground: Ground, fixed: Sequence[Box]) -> tuple[Mark, ...]:
    """The lines of each group in its own colours where they can be read, else all dark or all white; in ``fixed`` boxes
    as they are."""
    chosen: dict[Text, Text] = {}
    free = [mark for mark in marks if isinstance(mark, Text) and not any(box.holds(mark.box) for box in fixed)]
    rest = [text for text in free if text.role not in (*TITLE, *NET)]
    for group in ([t for t in free if t.role in TITLE], [t for t in free if t.role in NET], rest):
        ways = (group, *([replace(text, colour=ink) for text in group] for ink in (DARK, WHITE)))
        best = max(ways, key=lambda way: (_readable(way, ground), -ways.index(way)))
        if not _readable(best, ground):
            best = max(ways, key=lambda way: min((ground.contrast(text) for text in way), default=0))
        chosen |= dict(zip(group, best, strict=True))
    return tuple(chosen.get(mark, mark) if isinstance(mark, Text) else mark for mark in marks)


def _readable(texts: Iterable[Text], ground: Ground) -> bool:
    return all(ground.contrast(text) >= LEAST_CONTRAST for text in texts)


def _clear_rows(placed: Placed, ground: Ground) -> Iterator[Row]:
    """How far the artwork keeps clear of the net quantity, where a law asks for room round it."""
    rule, box = placed.content.net_rule, net_box(placed.marks)
    if box is None:
        return
    plates = (mark.box for mark in placed.marks if isinstance(mark, Shape) and mark.role == "plate")
    own = next((plate for plate in plates if plate.holds(box)), placed.outline.box)
    line = texts_of(placed.marks, "net")[0]
    letter = height_of(line.face, line.text, line.size, "letters")
    wide = line.face.letter_width("N") * line.size / line.face.units
    for where, needed, beside in (
        ("above and below", int(letter * rule.clear_heights), False),
        ("left and right", int(rule.clear_n_widths * Decimal(wide)), True),
    ):
        if needed:
            found = ground.clear(box, beside, own)
            yield Row(
                f"net quantity, clear of the artwork {where}",
                line.text,
                mm(needed),
                mm(found),
                "to what stands out of the ground by 3 to 1",
                "round the net quantity",
                rule.clause,
                rule.sure,
                found >= needed,
            )
