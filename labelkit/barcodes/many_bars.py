"""Many Code 128 at once: the symbol characters :func:`.linear.code128` draws, one byte each.

Which set of Code 128 the signs of a text are written in hangs on where its figures stand, not on which they are. So
python-barcode encodes each pattern of figures and other signs once, and that says what every symbol character holds:
a sign, two figures, or a change of set. The texts of the pattern fill in the same places and reckon their own check.

ISO/IEC 15417 (second-hand): in set B a sign is its ASCII code less 32, in set C two figures are their number; the check
is the sum of the values, each times its place, over 103.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache

from labelkit.barcodes.linear import code128, code128_signs

START_C, STOP, TO_C, TO_B = 105, 106, 99, 100
_PATTERN = {code: "0" if 48 <= code < 58 else "A" for code in range(32, 127)}


def signs_of(texts: Sequence[str]) -> list[bytes]:
    """The symbol characters of each text by their values, from the start to the stop.

    Raises :class:`~labelkit.errors.labels.CharactersNotEncodable`.

    >>> list(signs_of(["ABC"])[0])
    [104, 33, 34, 35, 1, 106]
    """
    import numpy as np

    made, alike = [b""] * len(texts), {}
    for place, text in enumerate(texts):
        if not text or not text.isascii() or not text.isprintable():
            code128(text)
        alike.setdefault(text.translate(_PATTERN), []).append(place)
    for pattern, places in alike.items():
        codes = np.frombuffer("".join([texts[place] for place in places]).encode("ascii"), np.uint8)
        codes = codes.reshape(len(places), -1).astype(np.int32)
        columns = [held(codes) for held in _layout(pattern)]
        check = sum(max(1, place) * column for place, column in enumerate(columns)) % 103
        rows = np.stack([*columns, check, np.full(len(places), STOP)], 1).astype(np.uint8)
        for place, row in zip(places, rows, strict=True):
            made[place] = row.tobytes()
    return made


@lru_cache(maxsize=512)
def _layout(pattern: str) -> tuple:
    """What each symbol character before the check holds, as functions of an array with a text's ASCII codes in a row."""

    def always(value):
        return lambda codes: codes[:, 0] * 0 + value

    def sign(at):
        return lambda codes: codes[:, at] - 32

    def figures(at):
        return lambda codes: codes[:, at] * 10 + codes[:, at + 1] - 11 * 48

    start, *values = code128_signs(pattern)[:-1]
    held, at, in_c = [always(start)], 0, start == START_C
    for value in values:
        if value == (TO_B if in_c else TO_C):
            held.append(always(value))
            in_c = not in_c
        else:
            held.append(figures(at) if in_c else sign(at))
            at += 2 if in_c else 1
    return tuple(held)
