"""Worked cases: what goes in, what must come out, and who reckoned it, as TOML files beside this one."""

from __future__ import annotations

import tomllib
from pathlib import Path
from typing import Any


def worked(name: str) -> dict[str, Any]:
    """The worked cases of one file, for example ``worked("honey/density")``."""
    return tomllib.loads((Path(__file__).parent / f"{name}.toml").read_text(encoding="utf-8"))
