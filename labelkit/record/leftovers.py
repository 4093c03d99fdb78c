"""What is not whole yet, and what a killed command left of it: under hidden names that say which process is at it.

The next command that works in the folder takes away what no living process is making.
"""

from __future__ import annotations

import os
import re
import shutil
import threading
from contextlib import suppress
from pathlib import Path
from time import time

SIDE_FILES = ("-wal", "-shm", "-journal")  # what SQLite keeps beside a file while it is open
_NAME = re.compile(r"\..+\.(\d+)-\d+\.(?:new|restored|import|part)(?:-wal|-shm|-journal)?")
_SURELY_DEAD = 24 * 3600  # seconds; where the system does not say which processes live


def unfinished_name(path: Path, end: str) -> Path:
    """A name beside a file for what is not whole yet, no other process or thread's; ``end``: new, restored, import, part."""
    return path.with_name(f".{path.name}.{os.getpid()}-{threading.get_ident()}.{end}")


def remove_unfinished(making: Path) -> None:
    """Take away what was being made, and the engine's files beside it; a disk that will not let go keeps them."""
    for left in (making, *(making.with_name(making.name + end) for end in SIDE_FILES)):
        with suppress(OSError):
            if left.is_dir() and not left.is_symlink():
                shutil.rmtree(left, ignore_errors=True)
            else:
                left.unlink(missing_ok=True)


def private_file(path: Path) -> None:
    """Make an empty file that only its owner may read and write; SQLite gives its side files the same rights."""
    os.close(os.open(path, os.O_CREAT | os.O_EXCL | os.O_WRONLY, 0o600))


def leftovers(folder: Path) -> list[Path]:
    """What killed commands left in a folder."""
    try:
        names = [each for each in os.listdir(folder) if each.startswith(".")]
    except OSError:
        return []
    return sorted(
        folder / name for name in names if (found := _NAME.fullmatch(name)) and _dead(folder / name, int(found[1]))
    )


def sweep(folder: Path) -> list[Path]:
    """Take them away; those that are gone now."""
    found = leftovers(folder)
    for each in found:
        remove_unfinished(each)
    return [each for each in found if not each.exists()]


def _dead(path: Path, process: int) -> bool:
    if process == os.getpid():
        return False
    if os.name != "posix":
        with suppress(OSError):
            return time() - path.stat().st_mtime > _SURELY_DEAD
        return False
    try:
        os.kill(process, 0)
    except ProcessLookupError:
        return True
    except (OSError, OverflowError):
        pass
    return False
