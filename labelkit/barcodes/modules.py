"""Where the bits of a QR Code stand, and the bits that mend it: versions 1 to 10, as much as a jar label spares.

Both are linear over two values: flip one bit of the data, and the same modules flip whatever the other bits are. So a
symbol is another one of its version and level, changed by a plane for each bit in which their data differ. The planes
of one version and level are reckoned once; drawing a symbol is then a handful of exclusive ors.

Sources: ISO/IEC 18004:2015 (second-hand: as segno's tables give it, with which a test compares): 6.3 function patterns,
7.5 error correction and table 9, 7.6 the order of codewords, 7.7.3 their placing.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

MOST = 10
#: By level, for versions 1 to 10: error correction codewords of a block, and how many blocks.
CORRECTION = {
    "L": ((7, 10, 15, 20, 26, 18, 20, 24, 30, 18), (1, 1, 1, 1, 1, 2, 2, 2, 2, 4)),
    "M": ((10, 16, 26, 18, 24, 16, 18, 22, 22, 26), (1, 1, 1, 2, 2, 4, 4, 4, 5, 5)),
    "Q": ((13, 22, 18, 26, 18, 24, 18, 22, 20, 24), (1, 1, 2, 2, 4, 4, 6, 6, 8, 8)),
    "H": ((17, 28, 22, 16, 22, 28, 26, 26, 24, 28), (1, 1, 2, 4, 4, 4, 5, 6, 8, 8)),
}


def function_modules(version: int):
    """True where a module carries no data: finders, timing, alignment, format and version information."""
    import numpy as np

    size = 17 + 4 * version
    held = np.zeros((size, size), bool)
    held[:9, :9] = held[:9, -8:] = held[-8:, :9] = True
    held[6] = held[:, 6] = True
    last = size - 7
    centres = [6, last] if version < 7 else [6, (size - 1) // 2, last]
    for i in centres if version > 1 else ():
        for j in centres:
            if (i, j) not in ((6, 6), (6, last), (last, 6)):
                held[i - 2 : i + 3, j - 2 : j + 3] = True
    if version >= 7:
        held[:6, -11:] = held[-11:, :6] = True
    return held


def order(version: int):
    """Row and column of each data module in the order bits are placed: up and down in pairs of columns from the right."""
    import numpy as np

    held, places = function_modules(version), []
    size = len(held)
    rights = [*range(size - 1, 6, -2), 5, 3, 1]
    for turn, right in enumerate(rights):
        rows = range(size) if turn % 2 else range(size - 1, -1, -1)
        places += [(i, j) for i in rows for j in (right, right - 1) if not held[i, j]]
    return tuple(np.array(places).T)


def blocks(version: int, level: str) -> tuple[list[int], int]:
    """How many data codewords each block of a symbol has, and how many more mend it.

    >>> blocks(5, "Q")
    ([15, 15, 16, 16], 18)
    """
    mending, count = (held[version - 1] for held in CORRECTION[level])
    data = len(order(version)[0]) // 8 - mending * count
    short, longer = divmod(data, count)
    return [short] * (count - longer) + [short + 1] * longer, mending


def interleaved(version: int, level: str) -> list[int]:
    """For each codeword of the data, in the order it is written, its place among all codewords of the symbol."""
    lengths, _ = blocks(version, level)
    turns = [(n, block) for n in range(lengths[-1]) for block in range(len(lengths)) if n < lengths[block]]
    place = {turn: where for where, turn in enumerate(turns)}
    return [place[n, block] for block, length in enumerate(lengths) for n in range(length)]


def mends(data: int, mending: int) -> list[list[int]]:
    """For each codeword of a block, were it 1 and the others 0, the codewords that mend the block.

    They are the rest of x**place over the generator, whose roots are the first powers of 2 in the field of 256 made by
    x**8 + x**4 + x**3 + x**2 + 1.
    """
    generator = [1]
    root = 1
    for _ in range(mending):
        generator = [high ^ times(low, root) for high, low in zip([*generator, 0], [0, *generator], strict=True)]
        root = times(root, 2)
    rests = [generator[1:]]
    for _ in range(data - 1):
        first, *others = rests[-1]
        rests.append([other ^ times(first, part) for other, part in zip([*others, 0], generator[1:], strict=True)])
    return rests[::-1]


def times(one: int, other: int) -> int:
    """The product of two codewords in that field.

    >>> times(0x80, 2) == 0x1D
    True
    """
    made = 0
    while other:
        if other & 1:
            made ^= one
        one <<= 1
        if one & 0x100:
            one ^= 0x11D
        other >>= 1
    return made


def words_of(modules):
    """Rows, then columns, each the bits of one word, the first module highest; over the last two axes of an array."""
    import numpy as np

    size = modules.shape[-1]
    kind = _kind(size)
    weights = kind(1) << np.arange(size - 1, -1, -1, dtype=kind)
    lines = np.concatenate([modules, modules.swapaxes(-1, -2)], axis=-2)
    return (lines * weights).sum(-1, dtype=kind)


def _kind(size: int):
    import numpy as np

    return np.uint32 if size <= 32 else np.uint64


@dataclass(frozen=True, eq=False, slots=True)
class Planes:
    """A version and level: where codewords of the data lie in the symbol, and what flipping their bits flips.

    ``halves[2 * n]`` holds the words of :func:`words_of` for each value of the high half of codeword ``n``, the next
    one those of its low half.
    """

    version: int
    level: str
    halves: object

    @property
    def size(self) -> int:
        """Modules across."""
        return 17 + 4 * self.version

    def flipped(self, words, codewords, base):
        """The words of symbols whose data are ``codewords`` (a row each), from those of one whose data are ``base``."""
        made = words[None].repeat(len(codewords), 0)
        differ = codewords ^ base
        for n in differ.any(0).nonzero()[0]:
            made ^= self.halves[2 * n].take(differ[:, n] >> 4, 0)
            made ^= self.halves[2 * n + 1].take(differ[:, n] & 15, 0)
        return made


@lru_cache(maxsize=8)
def planes(version: int, level: str) -> Planes:
    """The planes of a version and level."""
    import numpy as np

    lengths, mending = blocks(version, level)
    i, j = order(version)
    size, data, total = 17 + 4 * version, sum(lengths), len(i) // 8
    mended = [(block, rest) for block, length in enumerate(lengths) for rest in mends(length, mending)]
    halves = np.zeros((2 * data, 16, 2 * size), _kind(size))
    for n, (place, (block, rest)) in enumerate(zip(interleaved(version, level), mended, strict=True)):
        codewords = np.zeros((8, total), np.uint8)
        for bit in range(8):
            codewords[bit, place] = 128 >> bit
            codewords[bit, data + block :: len(lengths)] = [times(part, 128 >> bit) for part in rest]
        modules = np.zeros((8, size, size), np.uint8)
        modules[:, i[: total * 8], j[: total * 8]] = np.unpackbits(codewords, axis=1)
        single = words_of(modules).reshape(2, 4, 2 * size)
        for value in range(16):
            halves[2 * n : 2 * n + 2, value] = np.bitwise_xor.reduce(
                single[:, [bit for bit in range(4) if value & 8 >> bit]], 1
            )
    return Planes(version, level, halves)
