"""On which line of a TOML text a key stands, so that a refusal can point at it.

The standard reader gives values without their places; this finds the place of a key that is known to be there. It is only
used for messages: where a text is written in a way not foreseen here, the line is 0 and the message names the file alone.
"""

from __future__ import annotations

import re
from functools import lru_cache

_HEADER = re.compile(r"^\s*\[{1,2}\s*([^\]]+?)\s*\]{1,2}\s*(?:#.*)?$")


@lru_cache(maxsize=256)
def _key(key: str) -> re.Pattern[str]:
    name = rf"[\"']?{re.escape(key)}[\"']?"
    return re.compile(rf"(?:^\s*(?:[\w\"'.-]+\s*\.\s*)?|[{{,]\s*){name}\s*[=.]")


def line_of(text: str, key: str, table: str = "") -> int:
    """The line a key of a table stands on, counted from 1; 0 when it is not found.

    >>> line_of('name = "x"\\n[maker]\\nname = "y"\\n', "name", "maker"), line_of("a = 1", "b")
    (3, 0)
    """
    now, inline = "", 0
    for number, line in enumerate(text.splitlines(), 1):
        header = _HEADER.match(line)
        if header:
            now = header[1].strip("\"' ")
            if now == key and not table:
                return number
            continue
        if now == table and _key(key).search(line):
            return number
        if table and now == "" and _key(table).search(line):
            inline = number
        if inline and _key(key).search(line):
            return number
    return inline
