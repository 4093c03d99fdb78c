"""The file around the objects of a PDF: small objects are packed together and compressed, and so is the table of all.

A page of labels takes a few hundred bytes of operators, and once as many again of dictionaries and table entries. PDF
1.5 (ISO 32000-1, 7.5.7 object streams, 7.5.8 cross-reference streams) compresses those too, a third of a long run's
size. Nothing of the clock is in the file: equal objects, equal bytes.
"""

from __future__ import annotations

import hashlib
import zlib
from collections.abc import Sequence
from struct import pack

#: So many objects are packed together: a reader that wants one of them unpacks them all.
TOGETHER = 200


def packed_file(bodies: Sequence[bytes], root: int, info: int) -> bytes:
    """The bytes of a PDF from its objects, numbered from 1; ``root`` and ``info`` are the numbers of two of them.

    >>> made = packed_file([b"<</Type/Catalog/Pages 2 0 R>>", b"<</Type/Pages/Kids[]/Count 0>>", b"<<>>"], 1, 3)
    >>> made[:8], made[-6:]
    (b'%PDF-1.5', b'%%EOF\\n')
    """
    small = [number for number, body in enumerate(bodies, 1) if not body.endswith((b"endstream", b"endstream\n"))]
    single = sorted({*range(1, len(bodies) + 1)} - {*small})
    file, where = _File(), {0: (0, 0, 65535)}
    for number in single:
        where[number] = 1, file.add(number, bodies[number - 1]), 0
    holder = len(bodies)
    for start in range(0, len(small), TOGETHER):
        part = small[start : start + TOGETHER]
        holder += 1
        where[holder] = 1, file.add(holder, _together(part, [bodies[number - 1] for number in part])), 0
        where.update((number, (2, holder, index)) for index, number in enumerate(part))
    table = holder + 1
    where[table] = 1, file.length, 0
    mark = hashlib.sha256(b"".join(file.parts)).hexdigest()[:32].encode()
    entries = b"".join(pack(">BIH", *where[number]) for number in range(table + 1))
    start = file.add(
        table,
        stream(
            entries,
            b"/Type/XRef/W[1 4 2]/Size %d/Root %d 0 R/Info %d 0 R/ID[<%b><%b>]" % (table + 1, root, info, mark, mark),
        ),
    )
    return b"".join([*file.parts, b"startxref\n%d\n%%%%EOF\n" % start])


def stream(content: bytes, entries: bytes = b"") -> bytes:
    """A compressed stream, with further entries of its dictionary.

    >>> stream(b"q Q ")[:29]
    b'<</Filter/FlateDecode/Length '
    """
    content = zlib.compress(content, 9)
    return b"<</Filter/FlateDecode/Length %d%b>>stream\n%b\nendstream" % (len(content), entries, content)


def _together(numbers: Sequence[int], bodies: Sequence[bytes]) -> bytes:
    """An object stream: the number of each object and where it begins, then the objects."""
    places, at = [], 0
    for number, body in zip(numbers, bodies, strict=True):
        places.append(b"%d %d" % (number, at))
        at += len(body) + 1
    head = b" ".join(places) + b"\n"
    return stream(head + b"\n".join(bodies), b"/Type/ObjStm/N %d/First %d" % (len(bodies), len(head)))


class _File:
    """Objects one behind the other."""

    def __init__(self) -> None:
        self.parts = [b"%PDF-1.5\n%\xe2\xe3\xcf\xd3\n"]
        self.length = len(self.parts[0])

    def add(self, number: int, body: bytes) -> int:
        """Add an object; where it begins."""
        start = self.length
        self.parts.append(b"%d 0 obj\n%b\nendobj\n" % (number, body))
        self.length += len(self.parts[-1])
        return start
