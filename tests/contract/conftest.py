"""labelkit as a program is used: words in, two streams and an exit code out. Nothing here looks inside it."""

from __future__ import annotations

import json
from dataclasses import dataclass
from datetime import datetime
from typing import Any

import pytest

from labelkit.cli._runner import run


@dataclass
class Ran:
    """One command that was run."""

    code: int
    out: str
    err: str

    @property
    def document(self) -> Any:
        """The one JSON document on stdout, with every number's spelling kept."""
        return json.loads(self.out, parse_float=_no_float)

    @property
    def error(self) -> dict[str, str]:
        """The refusal on stderr, after a look at its form."""
        assert self.out == ""
        whole = json.loads(self.err)
        assert set(whole) == {"error"}
        refusal = whole["error"]
        assert list(refusal) == ["name", "what", "why", "do"]
        assert all(isinstance(text, str) and text for text in refusal.values())
        assert refusal["name"] != "InternalError", refusal["what"]
        return refusal


def _no_float(text: str):
    raise AssertionError(f"{text} is a bare number with a point; exact numbers are spelt as strings")


@pytest.fixture
def labelkit(capsys, tmp_path, monkeypatch):
    """Run one command with ``--json`` in a folder of its own, as on a fixed day unless it names one."""
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("LABELKIT_WHO", "tester")
    monkeypatch.delenv("LABELKIT_RECORD", raising=False)

    def call(*arguments: str, day: str | datetime = "2026-11-25", json_too: bool = True) -> Ran:
        capsys.readouterr()
        words = ["--day", str(day), *map(str, arguments)]
        code = run([*words, "--json"] if json_too else words)
        streams = capsys.readouterr()
        assert "Traceback" not in streams.out + streams.err
        assert "InternalError" not in streams.err
        return Ran(code, streams.out, streams.err)

    return call
