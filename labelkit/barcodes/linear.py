"""Linear barcodes: Code 128 for lots, EAN and UPC for tills, GS1-128 for cases. The one door to python-barcode.

python-barcode makes the pattern of modules; how wide a module is, how much quiet it needs on either side and how high
the bars stand is decided here, from:

* GS1 General Specifications, section 5.12.3, as printed in GS1 Sweden, "Guidelines for size", and GS1 Ireland, "EAN-13
  bar code symbol specifications": module widths, bar heights and quiet zones of EAN, UPC and GS1-128;
* GS1 General Specifications, section 5.4.4: GS1-128 holds 48 characters in 165.10 mm at most;
* ISO/IEC 15417 (second-hand): ten modules of quiet on either side of a Code 128. The module width of a plain Code 128
  is the user's own affair; 0.25 mm is what still read at 600 dpi with 0.08 mm of blur in our own trials;
* the 30 degree rule for curved packs (GS1 General Specifications 6.2.3.2, from memory): the angle between the middle
  of the bars and their end stays under 30 degrees, so bars may cover a sixth of the way round.
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from functools import lru_cache

from labelkit.barcodes.dots import Module
from labelkit.barcodes.gs1 import checked
from labelkit.errors.labels import BarsTooLong, CharactersNotEncodable, TooWideForJar
from labelkit.measures import Length

_START_C, _STOP, _TO_C, _TO_B = 105, 106, 99, 100
_PATTERN = {code: "0" if 48 <= code < 58 else "A" for code in range(32, 127)}
PI = Decimal("3.14159265358979")


@dataclass(frozen=True, slots=True)
class Kind:
    """The sizes one kind of symbol may have: module width, bar height, quiet modules left and right."""

    name: str
    least_x: Length
    usual_x: Length
    most_x: Length
    least_height: Length
    usual_height: Length
    quiet: tuple[int, int]
    source: str


def _kind(name, least, usual, most, low, height, quiet, source) -> Kind:
    mm = Length.of_mm
    return Kind(name, mm(least), mm(usual), mm(most), mm(low), mm(height), quiet, source)


_TILL = "GS1 General Specifications 5.12.3 as given by GS1 Sweden"
KINDS = {
    kind.name: kind
    for kind in (
        _kind(
            "Code 128",
            "0.25",
            "0.254",
            "1.016",
            "5",
            "8",
            (10, 10),
            "ISO/IEC 15417 (second-hand); width and height by trial",
        ),
        _kind("EAN-13", "0.264", "0.330", "0.660", "18.28", "22.85", (11, 7), _TILL),
        _kind("UPC-A", "0.264", "0.330", "0.660", "18.28", "22.85", (9, 9), _TILL),
        _kind("EAN-8", "0.264", "0.330", "0.660", "14.58", "18.23", (7, 7), _TILL),
        _kind("GS1-128", "0.495", "0.495", "1.016", "31.75", "31.75", (10, 10), "GS1 General Specifications 5.4.4"),
    )
}


@dataclass(frozen=True, slots=True)
class TillText:
    """How a till symbol is written below its bars: the modules of the guard bars, which are longer, and groups of figures,
    each with the modules it stands under. A figure outside the bars has modules of the quiet zone.

    Source: GS1 General Specifications 5.2.2 and 5.2.5 (from memory).
    """

    guards: tuple[tuple[int, int], ...]
    groups: tuple[tuple[int, int], ...]  # first module, number of figures
    outside: tuple[int, ...] = ()  # groups beside the bars, by their place


TILL_TEXT = {
    "EAN-13": TillText(((0, 3), (45, 50), (92, 95)), ((-11, 1), (3, 6), (50, 6)), (0,)),
    "EAN-8": TillText(((0, 3), (31, 36), (64, 67)), ((3, 4), (36, 4))),
    "UPC-A": TillText(((0, 10), (45, 50), (85, 95)), ((-9, 1), (10, 5), (50, 5), (97, 1)), (0, 3)),
}
#: So many modules the guard bars reach down beside the figures.
GUARD = 5
SPARE = 1


@dataclass(frozen=True, slots=True)
class Barcode:
    """A linear symbol: its kind, its modules (1 is a bar), and the text for people."""

    kind: Kind
    modules: str
    text: str

    @property
    def quiet(self) -> tuple[int, int]:
        """Modules of quiet left and right: the standard's, and one to spare beside a till symbol."""
        spare = SPARE if self.kind.name in TILL_TEXT else 0
        return self.kind.quiet[0] + spare, self.kind.quiet[1] + spare

    @property
    def across(self) -> int:
        """Modules from quiet zone to quiet zone, both included."""
        return len(self.modules) + sum(self.quiet)

    def runs(self) -> list[tuple[int, int]]:
        """Each bar as (first module, modules wide), counted from the first bar.

        >>> code128("L1").runs()[:3]
        [(0, 2), (3, 1), (6, 1)]
        """
        bars, start = [], None
        for place, module in enumerate(self.modules + "0"):
            if module == "1" and start is None:
                start = place
            elif module == "0" and start is not None:
                bars.append((start, place - start))
                start = None
        return bars


@lru_cache(maxsize=4096)
def code128(text: str) -> Barcode:
    """A Code 128 of printable ASCII. Raises :class:`~labelkit.errors.labels.CharactersNotEncodable`.

    Eleven modules a sign, the start, the check and a stop of thirteen:

    >>> len(code128("L26195K").modules), code128("L26195K").across
    (112, 132)
    """
    odd = sorted({sign for sign in text if not " " <= sign <= "~"})
    if odd or not text:
        raise CharactersNotEncodable(text, "Code 128", odd)
    return Barcode(KINDS["Code 128"], _encoder()(text).build()[0], text)


@lru_cache(maxsize=1)
def _encoder():
    """python-barcode's encoder, but that a text may begin with the figures 99.

    It takes 99 behind the start for a change to set C, which has that value too, and drops it with the two figures.
    """
    from barcode.codex import Code128

    class Encoder(Code128):
        def _try_to_optimize(self, encoded):
            return encoded if encoded[1] == 99 else super()._try_to_optimize(encoded)

    return Encoder


def code128_values(text: str) -> bytes:
    """The symbol characters of a Code 128 by their values, from the start to the stop.

    ISO/IEC 15417 (second-hand): in set B a character is its ASCII code less 32, in set C two digits are their number; the
    check is the sum of the values, each times its place, over 103. Start B, three letters, the check, the stop:
    104 + 1 x 33 + 2 x 34 + 3 x 35 is 310, over 103 leaves 1.

    Raises :class:`~labelkit.errors.labels.CharactersNotEncodable`.

    >>> list(code128_values("ABC"))
    [104, 33, 34, 35, 1, 106]
    """
    if not (text.isascii() and text.isprintable() and text):
        code128(text)
    values = [
        fixed if at == end else ord(text[at]) - 32 if end - at == 1 else int(text[at:end])
        for fixed, at, end in _code128_layout(text.translate(_PATTERN))
    ]
    check = sum([max(1, place) * value for place, value in enumerate(values)]) % 103
    return bytes([*values, check, _STOP])


@lru_cache(maxsize=512)
def _code128_layout(pattern: str) -> tuple[tuple[int, int, int], ...]:
    """What each symbol character before the check holds: a value of its own, or the characters of the text between two places.

    Which set the characters are written in depends on where digits are, not on which they are. So python-barcode
    encodes each pattern of digits and other characters once, and the texts of the pattern fill in the same places.
    """
    start, *values = _encoder()(code128(pattern).text).encoded
    held, at, in_c = [(start, 0, 0)], 0, start == _START_C
    for value in values:
        if value == (_TO_B if in_c else _TO_C):
            held.append((value, 0, 0))
            in_c = not in_c
        else:
            held.append((0, at, at + 1 + in_c))
            at += 1 + in_c
    return tuple(held)


def code128_patterns() -> tuple[str, ...]:
    """The modules of every symbol character of Code 128, by its value, and those of the stop as number 106.

    >>> code128_patterns()[104]
    '11010010000'
    """
    from barcode.charsets import code128 as table

    return (*table.CODES[:106], table.STOP + "11")


@lru_cache(maxsize=1024)
def ean13(number: str) -> Barcode:
    """An EAN-13 of a whole number, check digit included and checked.

    >>> ean13("9521234543213").modules[:13]
    '1010110001001'
    """
    from barcode.ean import EuropeanArticleNumber13

    digits = checked(number)
    return Barcode(KINDS["EAN-13"], EuropeanArticleNumber13(_of_length(digits, 13, "EAN-13")).build()[0], digits)


@lru_cache(maxsize=1024)
def ean8(number: str) -> Barcode:
    """An EAN-8 of a whole number, check digit included and checked."""
    from barcode.ean import EuropeanArticleNumber8

    digits = checked(number)
    return Barcode(KINDS["EAN-8"], EuropeanArticleNumber8(_of_length(digits, 8, "EAN-8")).build()[0], digits)


@lru_cache(maxsize=1024)
def upca(number: str) -> Barcode:
    """A UPC-A of a whole number, check digit included and checked."""
    from barcode.upc import UniversalProductCodeA

    digits = checked(number)
    return Barcode(KINDS["UPC-A"], UniversalProductCodeA(_of_length(digits, 12, "UPC-A")).build()[0], digits)


def gs1_128(elements: tuple[tuple[str, str], ...], beside: tuple[tuple[str, str], ...] = ()) -> Barcode:
    """A GS1-128 of application identifiers and their values, in order; see :mod:`.elements` for the rules.

    ``beside`` holds what another symbol of the same label says.

    >>> gs1_128((("01", "09521234543213"), ("10", "L26195AXR"))).text
    '(01)09521234543213(10)L26195AXR'
    """
    from barcode.codex import Gs1_128

    from labelkit.barcodes.elements import SEPARATOR, encoded, for_people

    data = encoded(elements, beside)
    bars = Barcode(
        KINDS["GS1-128"], Gs1_128(data.replace(SEPARATOR, Gs1_128.FNC1_CHAR)).build()[0], for_people(elements)
    )
    if len(data) > 48:
        raise BarsTooLong(bars.text, f"{len(data)} characters", "48 characters")
    return bars


def for_number(number: str) -> Barcode:
    """The till symbol of a whole number: EAN-8, UPC-A or EAN-13 by its length."""
    digits = checked(number)
    encode = {8: ean8, 12: upca, 13: ean13}.get(len(digits))
    if encode is None:
        raise CharactersNotEncodable(number, "a till symbol (8, 12 or 13 digits)", [])
    return encode(digits)


def widest_on_jar(diameter: Length) -> Length:
    """How wide a field of upright bars may be on a jar of that diameter: a sixth of the way round.

    >>> widest_on_jar(Length.of_mm(63)).mm.quantize(Decimal("0.1"))
    Decimal('33.0')
    """
    return Length(int(PI * diameter.um / 6))


def must_fit_jar(bars: Barcode, module: Module, diameter: Length) -> None:
    """Refuse upright bars that bend too far round the jar, with what would fit."""
    field = Length(module.um(len(bars.modules)))
    widest = widest_on_jar(diameter)
    if field > widest:
        fits = widest.mm / len(bars.modules)
        raise TooWideForJar(bars.kind.name, str(field.mm), str(diameter.mm), f"{widest.mm:.1f}", f"{fits:.3f}")


def _of_length(digits: str, length: int, name: str) -> str:
    if len(digits) != length:
        raise CharactersNotEncodable(digits, f"{name} ({length} digits)", [])
    return digits
