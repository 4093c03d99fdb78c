"""Bottling: what was filled, and whether it was filled enough."""

from labelkit.run.bottling import Filled, Run, bottle

__all__ = ["Filled", "Run", "bottle"]
