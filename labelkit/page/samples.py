"""Sample seasons to try and throw away: each in a folder of its own for passing things, gone with the server."""

from __future__ import annotations

import secrets
import subprocess
import sys
import tempfile
from dataclasses import dataclass, field
from datetime import date, datetime, timedelta, timezone
from pathlib import Path
from time import monotonic

from labelkit.errors.page import SampleFailed

# The invented season runs to this day; a visitor walks in the morning after.
SAMPLE_DAY = date(2026, 7, 28)
_ZONE = timezone(timedelta(hours=-4))


@dataclass
class Sample:
    """One sample season: its folder, and when it was begun by the machine's steady clock."""

    folder: tempfile.TemporaryDirectory
    begun: float = field(default_factory=monotonic)

    @property
    def record(self) -> str:
        return str(Path(self.folder.name) / "season" / "season.labelkit")

    @property
    def clock(self) -> datetime:
        """The sample's own time: its day from nine in the morning on, going as the machine's does."""
        nine = datetime(SAMPLE_DAY.year, SAMPLE_DAY.month, SAMPLE_DAY.day, 9, tzinfo=_ZONE)
        return nine + timedelta(seconds=monotonic() - self.begun)


class Samples:
    """The sample seasons this server keeps, by a name nobody guesses."""

    def __init__(self) -> None:
        self._held: dict[str, Sample] = {}

    def make(self) -> str:
        """Make one by the command ``labelkit demo``; its name. Raises :class:`~labelkit.errors.page.SampleFailed`."""
        folder = tempfile.TemporaryDirectory(prefix="labelkit-sample-")
        command = [sys.executable, "-m", "labelkit", "demo", "season"]
        try:
            done = subprocess.run(command, cwd=folder.name, capture_output=True, text=True, timeout=120)
        except (OSError, subprocess.TimeoutExpired) as trouble:
            folder.cleanup()
            raise SampleFailed(type(trouble).__name__) from None
        if done.returncode:
            folder.cleanup()
            raise SampleFailed((done.stderr.strip().splitlines() or ["no reason given"])[0].rstrip("."))
        name = secrets.token_urlsafe(12)
        self._held[name] = Sample(folder)
        return name

    def find(self, name: str | None) -> Sample | None:
        """The sample of this name, if it is still there."""
        return self._held.get(name or "")

    def throw_away(self, name: str | None) -> None:
        """Delete a sample with all its files."""
        sample = self._held.pop(name or "", None)
        if sample:
            sample.folder.cleanup()

    def close(self) -> None:
        """Delete them all."""
        for name in list(self._held):
            self.throw_away(name)
