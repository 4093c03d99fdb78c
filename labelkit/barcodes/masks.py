"""Which mask a QR Code takes: the eight of ISO/IEC 18004, weighed for many symbols at once.

The standard has the encoder draw a symbol under each of eight masks, charge every one with penalties for what may
mislead a reader, and keep the cheapest. Here a line of modules is the bits of one whole number, so that one operation
of numpy looks at a whole line, and at some hundred symbols under all their masks together.

Sources: ISO/IEC 18004:2015, 7.8 (second-hand, as segno's and zint's sources quote it): masks, features and weights; 7.9
and Annex C: format information. Where the text leaves room the reading is zint's, which made the single symbols: the
whole symbol is weighed, format information included; a light border counts as the light beside a finder; k of the
fourth feature is rounded down. Of two masks that cost the same the lower number wins.
"""

from __future__ import annotations

from functools import lru_cache

LEVELS = "MLHQ"  # by the two bits that stand for them


@lru_cache(maxsize=16)
def masks(size: int):
    """The eight masks of a symbol so many modules wide: an array of 8 by rows by columns, True where modules turn."""
    import numpy as np

    i, j = np.indices((size, size))
    product = i * j
    return np.array(
        [
            (i + j) % 2 == 0,
            i % 2 == 0,
            j % 3 == 0,
            (i + j) % 3 == 0,
            (i // 2 + j // 3) % 2 == 0,
            product % 2 + product % 3 == 0,
            (product % 2 + product % 3) % 2 == 0,
            ((i + j) % 2 + product % 3) % 2 == 0,
        ]
    )


def format_bits(level: str, mask: int) -> int:
    """The fifteen bits that say level and mask, their check included.

    The example is the one of Annex C: level M, mask 5.

    >>> f"{format_bits('M', 5):015b}"
    '100000011001110'
    """
    said = LEVELS.index(level) << 3 | mask
    rest = said << 10
    for place in range(14, 9, -1):
        if rest >> place & 1:
            rest ^= 0b10100110111 << place - 10
    return (said << 10 | rest) ^ 0b101010000010010


def format_places(size: int) -> tuple[list[tuple[int, int]], list[tuple[int, int]]]:
    """Where the fifteen bits stand, first bit first; they stand twice. Rows and columns count from the top left."""
    round_corner = [(8, j) for j in (0, 1, 2, 3, 4, 5, 7, 8)] + [(i, 8) for i in (7, 5, 4, 3, 2, 1, 0)]
    along_edges = [(size - 1 - n, 8) for n in range(7)] + [(8, size - 8 + n) for n in range(8)]
    return round_corner, along_edges


def level_and_mask(modules) -> tuple[str, int]:
    """What the format information of a symbol says; ``modules`` are rows of 0 and 1."""
    bits = 0
    for i, j in format_places(len(modules))[0]:
        bits = bits << 1 | int(modules[i][j])
    said = (bits ^ 0b101010000010010) >> 10
    return LEVELS[said >> 3], said & 7


def penalties(lines, size: int):
    """What symbols are charged, as an array of whole numbers: one for each of ``lines`` but its first axis.

    The first axis holds a symbol's rows, then its columns, each one word; a word's bits are the line's modules, 1 where
    dark, and no others. Counts of one line stay under 256 up to version 10.
    """
    import numpy as np

    one, counted = lines.dtype.type, np.bitwise_count
    rows = lines[:size]

    def down(words, by):
        return words >> one(by)

    # Five neighbours or more of one colour: three, and one for each module over five.
    alike = ~(lines ^ down(lines, 1))
    alike &= one((1 << size - 1) - 1)
    fives = alike & down(alike, 1)
    fives &= down(fives, 2)
    charged = counted(fives) + 2 * counted(fives & ~(fives << one(1)))
    # Two by two of one colour: three each, overlapping ones too.
    square = ~(rows[1:] ^ rows[:-1])
    square &= alike[1:size]
    square &= alike[: size - 1]
    charged[1:size] += 3 * counted(square)
    # The finder's 1:1:3:1:1 with four light modules before or behind it: forty.
    finder = lines & down(lines, 2)
    for dark in (3, 4, 6):
        finder &= down(lines, dark)
    finder &= ~(down(lines, 1) | down(lines, 5))
    finder &= ~(_dark_before(lines, one) & _dark_behind(lines, one))
    # Dark modules further than five parts in a hundred from half: ten for each five.
    whole, dark = size * size, counted(rows).sum(0, dtype=np.int32)
    cost = charged.sum(0, dtype=np.int32) + 40 * counted(finder).sum(0, dtype=np.int32)
    return cost + 10 * (abs(2 * dark - whole) * 10 // whole)


def _dark_before(lines, one):
    """Where one of the four modules beside the finder's low end is dark."""
    near = lines | lines << one(1)
    near |= near << one(2)
    return near << one(1)


def _dark_behind(lines, one):
    """Where one of the four modules beside its high end is dark."""
    far = lines | lines >> one(1)
    far |= far >> one(2)
    return far >> one(7)
