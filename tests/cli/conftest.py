"""The command line as a person uses it: arguments in, two streams and an exit code out."""

from __future__ import annotations

import json
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

import pytest

from labelkit.cli._runner import run
from tests.record.season import begin

#: The files of each beginning of a season, as its first playing left them.
PLAYED: dict[str, dict[str, bytes]] = {}


def played(name: str, play: Callable[[], None]) -> None:
    """Play the beginning of a season in this folder; the second time its files are laid down as the first left them."""
    if name not in PLAYED:
        before = _contents()
        play()
        PLAYED[name] = dict(_contents().items() - before.items())
        return
    for path, content in PLAYED[name].items():
        Path(path).write_bytes(content)


def _contents() -> dict[str, bytes]:
    return {str(path): path.read_bytes() for path in Path().iterdir() if path.is_file()}


@dataclass
class Ran:
    """One command that was run."""

    code: int
    out: str
    err: str

    @property
    def document(self):
        """The one JSON document on stdout."""
        return json.loads(self.out)

    @property
    def error(self):
        """The refusal on stderr as the command contract spells it."""
        return json.loads(self.err)["error"]


@pytest.fixture
def labelkit(capsys, tmp_path, monkeypatch):
    """Run labelkit in a folder of its own, in which a season is begun."""
    monkeypatch.chdir(tmp_path)
    if not (tmp_path / "season.labelkit").exists():
        begin(tmp_path / "season.labelkit")
    monkeypatch.setenv("LABELKIT_WHO", "tester")
    monkeypatch.delenv("LABELKIT_RECORD", raising=False)

    def call(*arguments: str) -> Ran:
        capsys.readouterr()
        code = run([str(argument) for argument in arguments])
        streams = capsys.readouterr()
        assert "Traceback" not in streams.out + streams.err
        return Ran(code, streams.out, streams.err)

    return call
