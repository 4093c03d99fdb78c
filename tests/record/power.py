"""What may lie on a disk after the power failed at any moment: everything synced, and any part of what was not.

strace writes down every write, sync and cut of a real process that books. From these the disk is built up to some call,
and each write since the file's last sync is kept, dropped or torn in two by chance, as disks may do. The idea is that
of the power-loss tests in "How SQLite Is Tested".
"""

from __future__ import annotations

import random
import re
from collections import defaultdict
from dataclasses import dataclass
from pathlib import Path

from tests.record.watching import watched

_LINE = re.compile(r"^\d+ +(\w+)\((?:\d+<|\")([^>\"]+)[>\"](?:, )?(.*)\) = (-?\d+)")
_DATA = re.compile(r'"((?:\\x[0-9a-f]{2})*)"')
_CALLS = "pwrite64,write,fdatasync,fsync,ftruncate,unlink"


@dataclass(frozen=True)
class Call:
    """One call of the process: what it did to which file."""

    does: str  # write | sync | cut | gone | said
    name: str
    at: int = 0
    data: bytes = b""


def calls_of(work, folder: Path, names: tuple[str, ...], said: str) -> list[Call]:
    """Every call a function makes on these files of a folder; ``said`` is the file it tells what is booked."""
    seen = folder / "seen"

    def done() -> int:
        work()
        return 0

    options = ["-y", "-xx", "-s", "70000", "-e", f"trace={_CALLS}"]
    assert watched(done, seen, options, [folder / name for name in (*names, said)]) == 0
    return [call for text in seen.read_text().splitlines() if (call := _read(text, said))]


def _read(text: str, said: str) -> Call | None:
    found = _LINE.match(text)
    if not found or int(found[4]) < 0:
        return None
    does, path, rest = found[1], found[2], found[3]
    name = Path(_bytes(path).decode() if path.startswith("\\x") else path).name
    if does == "unlink":
        return Call("gone", name)
    if does == "ftruncate":
        return Call("cut", name, int(rest))
    if does in ("fdatasync", "fsync"):
        return Call("sync", name)
    data = _bytes(_DATA.search(rest)[1])
    if name == said:
        return Call("said", name, data=data)
    return Call("write", name, int(rest.rsplit(", ", 1)[1]), data)


def _bytes(escaped: str) -> bytes:
    return bytes.fromhex(escaped.replace("\\x", ""))


def disk_after(begun: dict[str, bytes], calls: list[Call], chance: random.Random) -> dict[str, bytes]:
    """The files as they may lie there when the power failed right after these calls."""
    safe = {name: bytearray(content) for name, content in begun.items()}
    unsafe: dict[str, list[Call]] = defaultdict(list)
    for call in calls:
        if call.does == "sync":
            for each in unsafe.pop(call.name, []):
                _do(safe, each)
        elif call.does == "gone":
            unsafe.pop(call.name, None)
            safe.pop(call.name, None)
        elif call.does != "said":
            unsafe[call.name].append(call)
    for waiting in unsafe.values():
        for each in waiting:
            fate = chance.choice(("kept", "dropped", "torn"))
            if fate == "torn" and each.data:
                half = chance.randrange(len(each.data))
                _do(safe, Call(each.does, each.name, each.at, each.data[:half]))
            elif fate == "kept":
                _do(safe, each)
    return {name: bytes(content) for name, content in safe.items()}


def _do(disk: dict[str, bytearray], call: Call) -> None:
    content = disk.setdefault(call.name, bytearray())
    if call.does == "cut":
        del content[call.at :]
        content.extend(bytes(call.at - len(content)))
        return
    content.extend(bytes(max(0, call.at - len(content))))
    content[call.at : call.at + len(call.data)] = call.data
