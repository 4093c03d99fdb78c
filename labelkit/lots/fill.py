"""Fills: a bucket's name comes again once it is empty, and what is in it then is another lot.

The first fill of bucket B1 is called B1, the second B1.2, the third B1.3. In the record, on tags and in a trace each is a
lot of its own; a person who says B1 means the last.
"""

from __future__ import annotations

from typing import Any


def fill_id(name: str, fill: int) -> str:
    """What a fill of a bucket is called.

    >>> fill_id("B1", 1), fill_id("B1", 2)
    ('B1', 'B1.2')
    """
    return name if fill == 1 else f"{name}.{fill}"


def made_by(event: Any) -> str:
    """The fill a weigh-in, a delivery or a blend began."""
    return getattr(event, "into", "") or event.bucket


def name_on(event: Any) -> str:
    """The name on the bucket a weigh-in, a delivery or a blend filled.

    >>> from datetime import date
    >>> from labelkit.lots.bucket import WeighIn
    >>> from labelkit.measures import Mass
    >>> name_on(WeighIn("B1.2", date(2026, 7, 14), Mass(1), fill=2)), name_on(WeighIn("B1.2", date(2026, 7, 14), Mass(1)))
    ('B1', 'B1.2')
    """
    return made_by(event).removesuffix(f".{event.fill}") if event.fill > 1 else made_by(event)
