"""QR Code and Data Matrix for links and lots. zxing-cpp makes the pattern of modules.

Sizes: GS1 General Specifications ask for four modules of quiet around a QR Code (ISO/IEC 18004, second-hand) and one
around a Data Matrix (ISO/IEC 16022, second-hand). At a till a QR Code or Data Matrix with a GS1 Digital Link has
modules of 0.396 mm at least (GS1 General Specifications, symbol specification table 1, second-hand); so has every
square here, whatever it says, since a shop does not know which one its scanner will be held to. Set are 0.423 mm,
which are 5 dots at 300 dpi and 10 at 600.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from typing import Any
from urllib.parse import quote

from labelkit.barcodes.elements import Elements, encoded, for_people
from labelkit.barcodes.gs1 import checked
from labelkit.errors.labels import MatrixCodeRefused
from labelkit.measures import Length

LEAST_MODULE = Length.of_mm("0.396")
USUAL_MODULE = Length.of_mm("0.423")
QUIET = {"QR Code": 4, "Data Matrix": 1}
# Version 10 of a QR Code is 57 modules: 27 mm with its quiet zone at the usual module, as much as a jar label spares.
MOST_SIGNS = 271
# A picture's black is nought and its white 255; a module is one where dark.
_DARK = bytes([1]) + bytes(255)


@dataclass(frozen=True, slots=True)
class MatrixCode:
    """A matrix symbol: rows of modules, True where dark, without the quiet zone."""

    kind: str
    rows: tuple[bytes, ...]
    text: str

    @property
    def wide(self) -> int:
        """Modules across, without quiet zone."""
        return len(self.rows[0])

    @property
    def high(self) -> int:
        """Modules down, without quiet zone."""
        return len(self.rows)

    @property
    def quiet(self) -> int:
        """Modules of quiet on every side."""
        return QUIET[self.kind]

    def columns(self) -> bytes:
        """One bit a module, 1 where dark, column by column from the left, each filled up to whole bytes.

        Symbols of one run begin with the same characters, and those fill the same columns from the right; laid on its
        side a symbol has them in neighbouring bytes, which compress. A QR Code begins with the side of a finder:

        >>> f"{qr('HTTPS://EXAMPLE.COM/L/L26195K').columns()[0]:08b}"
        '11111110'
        """
        import numpy as np

        modules = np.frombuffer(b"".join(self.rows), np.uint8).reshape(self.high, self.wide)
        return np.packbits(modules.T, axis=1).tobytes()


@lru_cache(maxsize=4096)
def qr(text: str, level: str = "M") -> MatrixCode:
    """A QR Code of a link or a plain text; level L, M, Q or H restores about 7, 15, 25 or 30 per cent.

    >>> qr("HTTPS://EXAMPLE.COM/L/L26195K").wide
    25
    """
    import zxingcpp

    return _matrix_code("QR Code", text, zxingcpp.BarcodeFormat.QRCode, ec_level=level)


@lru_cache(maxsize=4096)
def data_matrix(text: str) -> MatrixCode:
    """A square Data Matrix of a link or a plain text.

    >>> data_matrix("L26195K").wide
    12
    """
    import zxingcpp

    return _matrix_code("Data Matrix", text, zxingcpp.BarcodeFormat.DataMatrix, force_square=True)


def gs1_data_matrix(elements: Elements) -> MatrixCode:
    """A GS1 DataMatrix: element strings behind a leading FNC1.

    >>> gs1_data_matrix((("01", "09521234543213"), ("10", "L26195AXR"))).text
    '(01)09521234543213(10)L26195AXR'
    """
    import zxingcpp

    encoded(elements)
    bracketed = "".join(f"[{ai}]{value}" for ai, value in elements)
    made = _matrix_code("Data Matrix", bracketed, zxingcpp.BarcodeFormat.DataMatrix, gs1=True, force_square=True)
    return MatrixCode(made.kind, made.rows, for_people(elements))


def digital_link(gtin: str, lot: str | None = None, domain: str = "https://id.gs1.org") -> str:
    """A GS1 Digital Link for a jar number and its lot (GS1 Digital Link: URI Syntax 1.2).

    The example is of the GS1 Barcode Syntax Engine's tests, shortened to what a jar has.

    >>> digital_link("12312312312333", "ABC+123", "https://example.com")
    'https://example.com/01/12312312312333/10/ABC%2B123'
    """
    number = checked(gtin).zfill(14)
    elements: Elements = (("01", number), *((("10", lot),) if lot else ()))
    encoded(elements)
    return "/".join([domain.rstrip("/"), *(f"{ai}/{quote(value, safe='')}" for ai, value in elements)])


def _matrix_code(kind: str, text: str, sort, **options) -> MatrixCode:
    import zxingcpp

    if not text or len(text.encode()) > MOST_SIGNS:
        raise MatrixCodeRefused(
            kind, text, f"it holds {len(text.encode())} bytes; a jar label has room for {MOST_SIGNS}"
        )
    try:
        image = zxingcpp.create_barcode(text, sort, **options).to_image(scale=1, add_quiet_zones=False)
    except ValueError as trouble:
        raise MatrixCodeRefused(kind, text, str(trouble)) from trouble
    # The package's own type stubs do not say that an image is a buffer of its dots.
    view: Any = memoryview(image)  # type: ignore[arg-type]
    high, wide = view.shape
    flat = view.tobytes()
    dark = flat.translate(_DARK)
    rows = tuple(dark[row * wide : (row + 1) * wide] for row in range(high))
    return MatrixCode(kind, rows, text)


def read_codes(picture: bytes) -> tuple[str, ...]:
    """What the codes on a photograph or a picture of the screen say; none where there is none to be read."""
    from io import BytesIO

    import zxingcpp
    from PIL import Image, UnidentifiedImageError

    try:
        with Image.open(BytesIO(picture)) as opened:
            grey = opened.convert("L")
    except (UnidentifiedImageError, OSError, ValueError, Image.DecompressionBombError):
        return ()
    return tuple(
        found.text
        for found in zxingcpp.read_barcodes(grey, formats=zxingcpp.BarcodeFormats(zxingcpp.BarcodeFormat.QRCode))
    )
