"""``labelkit reckon lot-code``: the same command as ``labelkit lot-code``, among the other figures."""

from __future__ import annotations

from labelkit.cli.lot_code import command

__all__ = ["command"]
