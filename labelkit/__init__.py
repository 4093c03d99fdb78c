"""From weighed honey buckets to a lawful, printed, traceable jar."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from labelkit.season import open_season

__version__ = "0.1.0"
__all__ = ["__version__", "open_season"]


def __getattr__(name: str) -> Any:
    """The season is loaded when it is asked for, so that ``labelkit --version`` stays instant."""
    if name == "open_season":
        from labelkit.season import open_season

        return open_season
    raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
