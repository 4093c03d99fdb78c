"""How much ink a full sheet of labels takes, and how much less it would take in the design's form for little ink."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from labelkit.labels.design import design
from labelkit.labels.layout.kinds import place
from labelkit.labels.layout.placed import Placed
from labelkit.paper.pdf import PdfWriter
from labelkit.paper.preview import page_picture

if TYPE_CHECKING:
    from labelkit.labels.sheets import Sheet
    from labelkit.season.label import Drawn, LabelLook

#: From this share of the paper on a form with less ink is spoken of, in hundredths. Our own eye, no source.
MUCH = 20
#: Dots to an inch the label is looked at with: enough for a share in whole hundredths.
DPI = 72
#: The mark of a proof is on no jar, and is not counted.
PROOF = "proof"


@dataclass(frozen=True)
class InkUse:
    """Ink in hundredths of what would cover the whole sheet once; ``less`` with ``--ink less``, where that is much less."""

    kind: str
    percent: int
    less: int | None = None

    @property
    def says(self) -> str:
        """The same in words."""
        other = f" With less ink (--ink less) it is {self.less} %." if self.less is not None else ""
        return f"Ink: a full sheet takes as much as covers {self.percent} % of its paper once.{other}"


def ink_use(one: Drawn, look: LabelLook) -> InkUse:
    """The ink of a kind of label as it is printed."""
    placed, sheet = one.printed.placed[0], one.paper.sheet
    percent, less = _percent(placed, sheet), None
    if (
        percent >= MUCH
        and placed.on is None
        and look.design in (design(look.design.name), design(look.design.name, "one"))
    ):
        frugal = place(one.made.content, placed.outline, design(look.design.name, "less"), dpi=look.printer.dpi)
        found = _percent(frugal, sheet)
        less = found if found * 2 <= percent else None
    return InkUse(one.paper.kind, percent, less)


def _percent(placed: Placed, sheet: Sheet) -> int:
    """The share of a sheet's paper in hundredths: what every dot takes of cyan, magenta, yellow and black, the grey part of a
    colour as black alone (grey component replacement, as drivers do it; how much one really takes is its own)."""
    from PIL import ImageChops, ImageStat

    wide, high = placed.outline.wide, placed.outline.high
    writer = PdfWriter("")
    writer.page(wide, high)
    writer.draw([mark for mark in placed.marks if getattr(mark, "role", "") != PROOF])
    picture = page_picture(writer.finish(), 1, DPI).convert("RGB")
    red, green, blue = picture.split()
    light = ImageChops.lighter(ImageChops.lighter(red, green), blue)
    # Black is what is missing of the lightest part; of the others what is missing against it.
    mean = [ImageStat.Stat(one).mean[0] for one in (light, red, green, blue)]
    ink = (255 - mean[0]) + sum(mean[0] - one for one in mean[1:])
    return round(ink / 255 * 100 * sheet.count * wide * high / (sheet.page_wide * sheet.page_high))
