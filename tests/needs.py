"""What some tests need from the machine, where to find it, and the one line that brings it.

On a bare machine those tests step aside and say so at the end of the run. Where ``LABELKIT_NOTHING_LEFT_OUT`` is set,
as in CI, stepping aside is a failure.
"""

from __future__ import annotations

import os
import shutil
import subprocess
from pathlib import Path
from typing import NoReturn

import pytest

BRING = {
    "Chromium": "sudo apt-get install chromium chromium-headless-shell && pip install playwright",
    "PostgreSQL": "sudo apt-get install postgresql",
    "strace": "sudo apt-get install strace",
    "ZBar": "sudo apt-get install zbar-tools",
    "qpdf": "sudo apt-get install qpdf",
    "Poppler": "sudo apt-get install poppler-utils",
    "axe-core": "sudo apt-get install npm (it is fetched into a folder for passing things)",
    "the EPCIS schema": "lay GS1's EPCIS-JSON-Schema.json into ../shared/epcis/schema (a second check; ours always runs)",
}
LEFT_OUT = "left out: "


def step_aside(what: str) -> NoReturn:
    """Skip the running test because ``what`` is not on this machine; a failure where nothing may be left out."""
    reason = f"{LEFT_OUT}{what}; to bring it: {BRING[what]}"
    if os.environ.get("LABELKIT_NOTHING_LEFT_OUT") and what != "the EPCIS schema":
        pytest.fail(reason)
    pytest.skip(reason)


def chromium(*, camera: bool = False) -> str:
    """The browser's path, or step aside.

    The one without windows comes first, since it draws a page for a third of the work; it has no picture for a camera.
    """
    names = ("chromium", "chromium-browser", "google-chrome")
    found = next(filter(None, map(shutil.which, names if camera else ("chromium-headless-shell", *names))), None)
    if not found:
        step_aside("Chromium")
    return found


def strace() -> str:
    """The path of the program that lets system calls of a running process fail, or step aside."""
    found = shutil.which("strace")
    # Some containers have the program and forbid what it does.
    if not found or subprocess.run([found, "-o", os.devnull, "true"], capture_output=True).returncode:
        step_aside("strace")
    return found


def zbar() -> str:
    """The path of the second decoder of bars and squares, or step aside."""
    return shutil.which("zbarimg") or step_aside("ZBar")


def qpdf() -> str:
    """The path of the second reader of PDF files, or step aside."""
    return shutil.which("qpdf") or step_aside("qpdf")


def pdftotext() -> str:
    """The path of Poppler's reader of text, or step aside."""
    return shutil.which("pdftotext") or step_aside("Poppler")


def postgres_programs() -> Path:
    """The folder of initdb and pg_ctl, or step aside."""
    versions = sorted(Path("/usr/lib/postgresql").glob("*/bin"), key=lambda p: int(p.parent.name), reverse=True)
    for folder in (*versions, *(Path(p) for p in os.environ.get("PATH", "").split(os.pathsep))):
        if (folder / "initdb").exists() and (folder / "pg_ctl").exists():
            return folder
    step_aside("PostgreSQL")
    raise AssertionError("unreachable")
