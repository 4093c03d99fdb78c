"""The chain of hashes, and the seal: its head as a line short enough to write on paper.

Each event's hash is SHA-256 over the hash before it, a line feed, and the event in canonical JSON; the first follows
64 zeros. Changing, dropping, adding or reordering anything changes every hash after it. A chain alone cannot show that
its end was cut off or that all of it was written anew; the seal on paper can.
"""

from __future__ import annotations

import base64
import hashlib
from dataclasses import dataclass

from stdnum.iso7064 import mod_37_2

from labelkit.errors.record import SealUnreadable
from labelkit.record.codec import canonical

BEGINNING = "0" * 64


def digest(previous: str, text: str) -> str:
    """The hash of a canonical text after the hash before it.

    >>> digest(BEGINNING, canonical({"g": 40000, "lot": "B7", "seq": 1, "type": "received"}))[:16]
    '73b8b3312abc610e'
    """
    return hashlib.sha256(f"{previous}\n{text}".encode()).hexdigest()


def envelope(seq: int, kind: str, day: str, at: str, who: str, key: str | None, part: int, body: str) -> str:
    """The canonical JSON of a whole event. The body goes in as it is stored, so that not even a space can hide.

    >>> envelope(1, "weigh", "2026-07-14", "2026-07-14T18:00:00+02:00", "Ada", None, 0, '{"bucket":"B1"}')
    '{"at":"2026-07-14T18:00:00+02:00","body":{"bucket":"B1"},"day":"2026-07-14","key":null,"kind":"weigh","part":0,"seq":1,"who":"Ada"}'
    """
    rest = canonical({"day": day, "key": key, "kind": kind, "part": part, "seq": seq, "who": who})
    return f'{{"at":{canonical(at)},"body":{body},{rest[1:]}'


@dataclass(frozen=True, slots=True)
class Seal:
    """How many events, and the first 160 bits of the last one's hash."""

    seq: int
    head: str  # 40 hexadecimal digits

    def __str__(self) -> str:
        """As it is printed: base32 of RFC 4648 (no 0, 1, 8, 9 to mistake) and a check character by ISO/IEC 7064.

        >>> print(Seal(1204, "73b8b3312abc610e803f90b541a51bc6b2f091f1"))
        1204 OO4L-GMJK-XRQQ-5AB7-SC2U-DJI3-Y2ZP-BEPR-7
        """
        letters = base64.b32encode(bytes.fromhex(self.head)).decode()
        groups = "-".join(letters[i : i + 4] for i in range(0, 32, 4))
        return f"{self.seq} {groups}-{mod_37_2.calc_check_digit(str(self.seq) + letters)}"

    def fits(self, digest: str) -> bool:
        """Whether this is the seal over that hash."""
        return digest.startswith(self.head)


def seal_of(seq: int, head: str) -> Seal:
    """The seal over the events up to one."""
    return Seal(seq, head[:40])


_MISREAD = str.maketrans("018", "OIB")  # digits that base32 never has, and what they were


def read_seal(text: str) -> Seal:
    """Read a seal as typed from paper; a 0 among the letters is read as the O it was.

    Raises :class:`~labelkit.errors.record.SealUnreadable`.

    >>> read_seal("1204 oo4l-gmjk-xrqq-5ab7-sc2u-dji3-y2zp-bepr-7").head[:8]
    '73b8b331'
    """
    number, _, letters = text.strip().partition(" ")
    packed = "".join(c for c in letters.upper() if c.isalnum() or c == "*")
    if not number.isdigit() or len(packed) != 33:
        raise SealUnreadable(text.strip(), "it is not a number and eight groups of four with a check character")
    body = packed[:32].translate(_MISREAD)
    if not mod_37_2.is_valid(number + body + packed[32]):
        raise SealUnreadable(text.strip(), "the check character does not fit; something was misread")
    try:
        return Seal(int(number), base64.b32decode(body).hex())
    except ValueError:
        raise SealUnreadable(text.strip(), "it holds a character that seals never have") from None
