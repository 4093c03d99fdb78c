"""A function run in a process of its own while strace stands beside it."""

from __future__ import annotations

import contextlib
import os
import subprocess
from collections.abc import Callable, Sequence
from pathlib import Path

from tests.needs import step_aside, strace


def watched(work: Callable[[], int], seen: Path, options: Sequence[str], only: Sequence[Path] = ()) -> int:
    """How the process ended that ran ``work``: its exit code, or below zero the signal that killed it.

    ``work`` gives the exit code; what it raises is 99. strace gets these options and writes what it saw into ``seen``,
    limited to calls on the files in ``only``. Without options nothing stands beside the process.
    """
    program = strace() if options else ""
    waits, goes = os.pipe()
    child = os.fork()
    if child == 0:
        os.close(goes)
        code = 99
        with contextlib.suppress(BaseException):
            os.read(waits, 1)
            code = work()
        os._exit(code)
    os.close(waits)
    told = "attached"
    if options:
        line = [program, "-f", "-o", str(seen), *options, "-p", str(child)]
        line += [part for path in only for part in ("-P", str(path))]
        with subprocess.Popen(line, stderr=subprocess.PIPE, text=True) as watcher:
            told = watcher.stderr.readline()
            with contextlib.suppress(BrokenPipeError):
                os.write(goes, b"!")
            os.close(goes)
            _, status = os.waitpid(child, 0)
            watcher.stderr.read()
    else:
        os.close(goes)
        _, status = os.waitpid(child, 0)
    if "attached" not in told:
        step_aside("strace")  # it is here, and may not watch a process
    return os.waitstatus_to_exitcode(status)
