"""The maker's own artwork as the ground of a label: a PNG, a JPEG or the first page of a PDF, covering label and bleed.

What is taken in is pixels alone, as of a logo: a page of a PDF is drawn by PDFium at the printer's dots, so that nothing
that runs or links in it goes on.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from functools import lru_cache
from io import BytesIO
from typing import TYPE_CHECKING

from labelkit.errors.labels import ArtworkRefused
from labelkit.labels.outline import Outline
from labelkit.paper.fonts import Box
from labelkit.paper.marks import Clipped, Colour, Picture
from labelkit.paper.pdf_operators import POINTS_PER_UM
from labelkit.paper.preview import RENDERING

if TYPE_CHECKING:
    from PIL.Image import Image

MOST_BYTES = 60_000_000
MOST_PIXELS = 120_000_000
#: Finer than this no office printer lays down a picture; coarser than 150 dots an inch shows. Common practice, no source.
FINEST, COARSE = 600, 150
INCH = 25_400


@dataclass(frozen=True, slots=True)
class WordBox:
    """A box the maker places: what it says, and where; from the left and the upper edge of the label, micrometres.

    ``words`` are roles, ``codes`` for symbols, ``rest`` for what no other box says. ``ground`` is laid under it; without
    an ``ink`` one is taken that can be read.
    """

    words: tuple[str, ...]
    left: int
    top: int
    wide: int
    high: int
    ground: Colour | None = None
    ink: Colour | None = None
    align: str = ""

    def on(self, outline: Outline) -> Box:
        """The box on a label, counted from its lower left corner."""
        top = outline.high - self.top
        return Box(self.left, top - self.high, self.left + self.wide, top)


@dataclass(frozen=True)
class Backdrop:
    """Artwork that was found whole. ``wide`` and ``high`` are pixels, of a PDF micrometres of its trimmed page;
    ``over`` is how far a page goes on beyond its trim: left, bottom, right, top."""

    name: str
    sort: str
    wide: int
    high: int
    data: bytes = field(repr=False)
    over: tuple[int, int, int, int] = (0, 0, 0, 0)
    boxes: tuple[WordBox, ...] = ()
    ground: Colour | None = None  # laid under all words where no boxes are placed


@dataclass(frozen=True)
class Laid:
    """Artwork as it lies on a label: the mark that draws it, how far it runs over the edges at the sides and at top and
    bottom (micrometres), and how many of its dots come to an inch."""

    mark: Clipped
    over: tuple[int, int]
    dots: int
    data: bytes = field(repr=False)  # the picture itself: PNG, or JPEG


def read_backdrop(data: bytes, name: str) -> Backdrop:
    """Artwork out of a file's bytes. Raises :class:`~labelkit.errors.labels.ArtworkRefused`."""
    if len(data) > MOST_BYTES:
        raise ArtworkRefused(name, f"the file has {len(data) / 1e6:.0f} MB, and {MOST_BYTES / 1e6:.0f} MB is the most")
    if data.startswith((b"\x89PNG\r\n\x1a\n", b"\xff\xd8\xff")):
        wide, high = _pixels(data, name).size
        return Backdrop(name, "png" if data.startswith(b"\x89") else "jpeg", wide, high, data)
    if b"%PDF-" in data[:1024]:
        return _page(data, name)
    raise ArtworkRefused(name, "it is neither PNG nor JPEG nor PDF")


def _pixels(data: bytes, name: str) -> Image:
    """The picture, upright and on white where it lets the paper through."""
    from PIL import Image, ImageOps, UnidentifiedImageError

    try:
        picture: Image.Image = Image.open(BytesIO(data))
        if picture.width * picture.height > MOST_PIXELS:
            most = f"{MOST_PIXELS / 1e6:.0f} million"
            raise ArtworkRefused(name, f"it has {picture.width:,} × {picture.height:,} pixels, more than {most}")
        picture.load()
    except Image.DecompressionBombError as trouble:
        raise ArtworkRefused(name, f"it has more than {MOST_PIXELS / 1e6:.0f} million pixels") from trouble
    except (UnidentifiedImageError, OSError, SyntaxError, ValueError) as trouble:
        raise ArtworkRefused(name, f"the picture is damaged or cut off ({trouble})") from trouble
    picture = ImageOps.exif_transpose(picture)
    if "A" not in picture.getbands() and "transparency" not in picture.info:
        return picture.convert("RGB")
    clear = picture.convert("RGBA")
    paper = Image.new("RGBA", clear.size, (255, 255, 255, 255))
    return Image.alpha_composite(paper, clear).convert("RGB")


def _page(data: bytes, name: str) -> Backdrop:
    import pypdfium2

    try:
        with RENDERING, pypdfium2.PdfDocument(data) as document:
            page = document[0]
            left, bottom, right, top = page.get_cropbox()
            trim = page.get_trimbox() if not page.get_rotation() else (left, bottom, right, top)
            wide, high = page.get_size()
    except (pypdfium2.PdfiumError, IndexError, ValueError) as trouble:
        raise ArtworkRefused(name, f"its first page cannot be drawn ({trouble})") from trouble
    around = (trim[0] - left, trim[1] - bottom, right - trim[2], top - trim[3])
    over = (
        tuple(max(0, round(side / POINTS_PER_UM)) for side in around)
        if not page_turned(wide, right - left)
        else (0,) * 4
    )
    wide_um, high_um = (round(side / POINTS_PER_UM) for side in (wide, high))
    wide_um, high_um = wide_um - over[0] - over[2], high_um - over[1] - over[3]
    if min(wide_um, high_um) < 5_000 or max(wide_um, high_um) > 2_000_000:
        raise ArtworkRefused(name, f"its page of {wide_um / 1000:.1f} × {high_um / 1000:.1f} mm is not that of a label")
    return Backdrop(name, "pdf", wide_um, high_um, data, (over[0], over[1], over[2], over[3]))


def page_turned(shown: float, kept: float) -> bool:
    """Whether a page is shown in another width than it is kept in."""
    return abs(shown - kept) > 0.5


@lru_cache(maxsize=16)
def laid(artwork: Backdrop, outline: Outline, bleed: tuple[int, int], dpi: int) -> Laid:
    """The artwork over a whole label and its bleed, in the middle and undistorted; what is too much runs over the edge."""
    room = Box(-bleed[0], -bleed[1], outline.wide + bleed[0], outline.high + bleed[1])
    left, bottom, right, top = artwork.over
    whole = artwork.wide + left + right, artwork.high + bottom + top
    # The trimmed page fills the label, and the whole page the bleed as well.
    scale = max(
        outline.wide / artwork.wide,
        outline.high / artwork.high,
        room.width / whole[0],
        room.height / whole[1],
    )
    wide, high = artwork.wide * scale, artwork.high * scale
    x, y = (outline.wide - wide) / 2 - left * scale, (outline.high - high) / 2 - bottom * scale
    # What of it is seen, as shares of the whole from its left and upper edge.
    seen = (
        max(0.0, (room.left - x) / (whole[0] * scale)),
        max(0.0, 1 - (room.top - y) / (whole[1] * scale)),
        min(1.0, (room.right - x) / (whole[0] * scale)),
        min(1.0, 1 - (room.bottom - y) / (whole[1] * scale)),
    )
    per_um = min(FINEST, dpi) / INCH
    picture = _drawn(artwork, seen, (round(room.width * per_um), round(room.height * per_um)))
    out = BytesIO()
    if artwork.sort == "jpeg":
        picture.save(out, "JPEG", quality=95, subsampling=0)
    else:
        picture.save(out, "PNG")
    mark = Picture(out.getvalue(), room.left, room.bottom, room.width, room.height, role="ground")
    over = round((wide - outline.wide) / 2), round((high - outline.high) / 2)
    dots = FINEST if artwork.sort == "pdf" else round(INCH / scale)
    return Laid(Clipped(outline.path(bleed[1], bleed[0]), (mark,), role="ground"), over, dots, mark.data)


def _drawn(artwork: Backdrop, seen: tuple[float, float, float, float], most: tuple[int, int]) -> Image:
    """The part of it that is seen, in as many dots as print at the most."""
    if artwork.sort == "pdf":
        return _drawn_page(artwork, seen, most)
    picture = _pixels(artwork.data, artwork.name)
    wide, high = picture.size
    box = round(seen[0] * wide), round(seen[1] * high), round(seen[2] * wide), round(seen[3] * high)
    part = picture.crop(box)
    return part.resize(most) if part.width > most[0] else part


def _drawn_page(artwork: Backdrop, seen: tuple[float, float, float, float], most: tuple[int, int]) -> Image:
    import pypdfium2

    with RENDERING, pypdfium2.PdfDocument(artwork.data) as document:
        page = document[0]
        wide, high = page.get_size()
        edges = (seen[0] * wide, (1 - seen[3]) * high, (1 - seen[2]) * wide, seen[1] * high)
        scale = most[0] / ((seen[2] - seen[0]) * wide)
        return page.render(scale=scale, crop=edges).to_pil().convert("RGB")
