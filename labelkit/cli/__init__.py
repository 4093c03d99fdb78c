"""The command line: one file per command, found by its name, loaded only when it is run."""

from __future__ import annotations

import sys

from labelkit.cli._runner import run


def main() -> None:
    """The ``labelkit`` program."""
    sys.exit(run(sys.argv[1:]))
