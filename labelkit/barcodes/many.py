"""Many QR Codes at once: the symbols :func:`.matrix.qr` makes, a dozen in the time of one.

Links of one run differ in their lot and in nothing else, so their symbols cut the text into modes alike. For each
pattern of signs the first symbol is made by zxing-cpp and taken apart: version, level, modes. The others of the pattern
are that symbol with some planes flipped (:mod:`.modules`), under the mask that costs least (:mod:`.masks`). A pattern
whose symbol cannot be taken apart, or not put together again to the last module, has each of its symbols made singly.

Modes and their bits: ISO/IEC 18004:2015, 7.4 and tables 2 to 5 (second-hand: as segno gives them).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

from labelkit.barcodes.masks import format_bits, format_places, level_and_mask, masks, penalties
from labelkit.barcodes.matrix import Squares, qr
from labelkit.barcodes.modules import MOST, Planes, function_modules, interleaved, order, planes, words_of

#: So many symbols at a time: their words under eight masks stay within a processor's own memory.
AT_ONCE = 64
NUMERIC, ALPHANUMERIC, BYTES = 1, 2, 4
#: Bits of one sign, two and three signs written together.
GROUPS = {NUMERIC: (4, 7, 10), ALPHANUMERIC: (6, 11), BYTES: (8,)}
#: Bits of a mode's count in versions 1 to 9, and from 10 on.
COUNTS = {NUMERIC: (10, 12), ALPHANUMERIC: (9, 11), BYTES: (8, 16)}
SIGNS = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ $%*+-./:"
_PATTERN = {code: "0" if 48 <= code < 58 else "A" if chr(code) in SIGNS else "a" for code in range(128)}


@dataclass(frozen=True, eq=False, slots=True)
class Form:
    """How the texts of a pattern become symbols: the modes they are cut into, and one symbol to change."""

    planes: Planes
    modes: tuple[tuple[int, int], ...]
    data: object
    words: object

    def codewords(self, texts: Sequence[str]):
        """The data of each text, one row of codewords each."""
        import numpy as np

        signs = np.frombuffer("".join(texts).encode("ascii"), np.uint8).reshape(len(texts), -1)
        bits = np.unpackbits(self.data)[None].repeat(len(texts), 0)
        at = first = 0
        for mode, count in self.modes:
            at += 4 + COUNTS[mode][self.planes.version > 9]
            values = _values(mode)[signs[:, first : first + count]]
            for start, stop, together in _groups(mode, count):
                number = values[:, start:stop:together]
                for n in range(1, together):
                    number = number * (45 if mode == ALPHANUMERIC else 10) + values[:, start + n : stop : together]
                wide = GROUPS[mode][together - 1]
                said = number[..., None] >> np.arange(wide - 1, -1, -1, dtype=np.uint16) & 1
                bits[:, at : at + said[0].size] = said.reshape(len(texts), -1)
                at += said[0].size
            first += count
        return np.packbits(bits, axis=1)

    def unmasked(self, texts: Sequence[str]):
        """The words of each text's symbol before masking, without format information."""
        return self.planes.flipped(self.words, self.codewords(texts), self.data)


def pictures(texts: Sequence[str], level: str = "M") -> list[tuple[int, bytes]]:
    """The symbol of each text: how many modules wide it is, and its modules as :func:`laid_on_side` gives them.

    Columns of 25 modules take four bytes each, and the first begins with the side of a finder:

    >>> wide, modules = pictures(["HTTPS://EXAMPLE.COM/L/L26195K"])[0]
    >>> wide, len(modules), f"{modules[0]:08b}"
    (25, 100, '11111110')
    """
    import numpy as np

    made: list[tuple[int, bytes] | None] = [None] * len(texts)
    together: dict[Planes, dict[tuple, tuple[Form, list[int]]]] = {}
    for place, text in enumerate(texts):
        form = form_of(text, level)
        if form is None:
            made[place] = picture(qr(text, level))
        else:
            together.setdefault(form.planes, {}).setdefault(form.modes, (form, []))[1].append(place)
    for plane, forms in together.items():
        places = [place for _, held in forms.values() for place in held]
        words = np.concatenate([form.unmasked([texts[place] for place in held]) for form, held in forms.values()])
        for start in range(0, len(places), AT_ONCE):
            part = masked(words[start : start + AT_ONCE], plane)
            for place, modules in zip(places[start : start + AT_ONCE], laid_on_side(part, plane.size), strict=True):
                made[place] = plane.size, modules
    return made


def picture(squares: Squares) -> tuple[int, bytes]:
    """The same of one symbol made singly."""
    import numpy as np

    modules = np.array([list(row) for row in squares.rows], np.uint8)
    return squares.wide, np.packbits(modules.T, axis=1).tobytes()


def masked(words, plane: Planes):
    """The same symbols, each under the mask that costs least, with its format information."""
    import numpy as np

    tried = words.T[:, :, None] ^ _turned(plane.version, plane.level).T[:, None]
    best = penalties(tried, plane.size).argmin(1)
    return tried[:, np.arange(len(words)), best].T


def laid_on_side(words, size: int) -> list[bytes]:
    """One bit a module, column by column from the left, each filled up to whole bytes.

    Symbols of one batch begin with the same signs, and those fill the same columns from the right; laid on its side a
    symbol has them in neighbouring bytes, which compress.
    """
    room = -(-size // 8)
    columns = words[:, size:] << words.dtype.type(8 * room - size)
    highest_first = columns.astype(columns.dtype.newbyteorder(">")).view("u1")
    flat = highest_first.reshape(len(words), size, -1)[..., -room:].tobytes()
    return [flat[start : start + size * room] for start in range(0, len(flat), size * room)]


def form_of(text: str, level: str) -> Form | None:
    """The form of a text's pattern of signs; None where its symbol is to be made singly."""
    return _form(text.translate(_PATTERN), level) if text.isascii() else None


@lru_cache(maxsize=512)
def _form(pattern: str, level: str) -> Form | None:
    """A pattern's form. The pattern is a text of its own: what modes a text is cut into hangs on the sort of its signs."""
    import numpy as np

    modules = np.array([list(row) for row in qr(pattern, level).rows], np.uint8)
    version = (len(modules) - 17) // 4
    if version > MOST:
        return None
    given, mask = level_and_mask(modules)
    plane = planes(version, given)
    data = (modules ^ masks(len(modules))[mask])[order(version)]
    data = np.packbits(data[: len(data) // 8 * 8])[interleaved(version, given)]
    modes = _modes(data, version)
    if modes is None or sum(count for _, count in modes) != len(pattern):
        return None
    turned = words_of(modules[None])[0] ^ _turned(version, given)[mask]
    form = Form(plane, modes, data, turned)
    return form if (form.codewords([pattern]) == data).all() else None


def _modes(data, version: int) -> tuple[tuple[int, int], ...] | None:
    """The modes data are in, each with how many signs; None where there are others than those three."""
    import numpy as np

    bits = "".join(map(str, np.unpackbits(data)))
    found, at = [], 0
    while len(bits) - at >= 4 and (mode := int(bits[at : at + 4], 2)):
        if mode not in COUNTS:
            return None
        wide = COUNTS[mode][version > 9]
        count = int(bits[at + 4 : at + 4 + wide], 2)
        found.append((mode, count))
        at += 4 + wide
        at += sum((stop - start) // each * GROUPS[mode][each - 1] for start, stop, each in _groups(mode, count))
    return tuple(found)


def _groups(mode: int, count: int) -> list[tuple[int, int, int]]:
    """Signs of a mode that are written together: from where, to where, how many each."""
    most = len(GROUPS[mode])
    whole = count - count % most
    return [part for part in ((0, whole, most), (whole, count, count - whole)) if part[0] < part[1]]


@lru_cache(maxsize=3)
def _values(mode: int):
    """What each sign of ASCII counts in a mode."""
    import numpy as np

    codes = np.arange(128, dtype=np.uint16)
    if mode == NUMERIC:
        return codes - 48
    if mode == ALPHANUMERIC:
        return np.array([max(0, SIGNS.find(chr(code))) for code in range(128)], np.uint16)
    return codes


@lru_cache(maxsize=16)
def _turned(version: int, level: str):
    """For each mask the words of what it turns, and of the format information that names it."""
    import numpy as np

    size = 17 + 4 * version
    turned = (masks(size) & ~function_modules(version)).astype(np.uint8)
    for mask in range(8):
        for places in format_places(size):
            for n, place in enumerate(places):
                turned[mask][place] = format_bits(level, mask) >> 14 - n & 1
    return words_of(turned)
