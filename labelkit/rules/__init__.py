"""The law as cited data: packs of dated values, one folder a jurisdiction, and the figures reckoned from them."""

from labelkit.rules.market import Market, market

__all__ = ["Market", "market"]
