"""The maker's address as it is written on labels and papers."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any


def address_lines(maker: Mapping[str, Any], *more: str) -> tuple[str, ...]:
    """Street, town and country, as far as they are known, then what stands under ``more`` (``phone``, ``email`` …).

    The region and the postcode follow the town, as is the custom of most countries' post.

    >>> address_lines({"street": "12 Sample Lane", "city": "Pretend Hollow", "region": "VA", "postcode": "00000"})
    ('12 Sample Lane', 'Pretend Hollow, VA 00000')
    >>> address_lines({"city": "Little Sampling", "postcode": "ZZ99 9ZZ", "phone": "555-0100"}, "phone")
    ('Little Sampling ZZ99 9ZZ', '555-0100')
    """
    held = {key: str(value) for key, value in maker.items() if value}
    place = ", ".join(held[key] for key in ("city", "region") if key in held)
    town = " ".join(filter(None, (place, held.get("postcode"))))
    return tuple(filter(None, (held.get("street"), town, *(held.get(key) for key in ("country", *more)))))
