"""Commands run for real while the system calls under them fail.

strace stands between a living process and the kernel and lets its n-th write, sync or rename fail with a chosen error,
or kills the process right there. Nothing of labelkit or of the engine is replaced.
"""

from __future__ import annotations

import os
import re
import sys
from dataclasses import dataclass
from pathlib import Path

from tests.record.watching import watched

KILLED = -9


@dataclass(frozen=True)
class Ended:
    """How a command ended: its exit code (below zero: killed by that signal), what it said, what was done to it."""

    code: int
    said: str
    calls: int  # how many calls of the kind it made
    failed: int  # how many of them were made to fail


def run_with_fault(
    arguments: list[str], notes: Path, call: str = "", fault: str = "", *, when: str = "1", only: tuple[Path, ...] = ()
) -> Ended:
    """Run a labelkit command in a process of its own; from its ``when``-th ``call`` on it meets the fault.

    ``fault`` is what strace injects: ``error=EIO``, ``error=ENOSPC``, ``signal=KILL``; none just counts the calls.
    No ``call``: nothing stands between. ``only`` limits it to calls on these files.
    """
    said, seen = notes / "said", notes / "seen"
    options = ["-e", f"trace={call}"] if call else []
    options += ["-e", f"inject={call}:{fault}:when={when}"] if fault else []
    code = watched(lambda: _command(arguments, said), seen, options, only)
    lines = seen.read_text(errors="replace").splitlines() if call else []
    lines = [each for each in lines if re.search(rf"\b{call}\(", each)]
    failed = sum("INJECTED" in each for each in lines)
    return Ended(code, said.read_text() if said.exists() else "", len(lines), failed)


def _command(arguments: list[str], said: Path) -> int:
    from labelkit.cli._runner import run

    out = os.open(said, os.O_WRONLY | os.O_CREAT | os.O_TRUNC, 0o644)
    os.dup2(out, 1)
    os.dup2(out, 2)
    sys.stdout, sys.stderr = os.fdopen(1, "w"), os.fdopen(2, "w")
    code = run(arguments)
    sys.stdout.flush()
    sys.stderr.flush()
    return code
