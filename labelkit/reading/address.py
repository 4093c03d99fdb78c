"""An address as people write it in one box, read into street, town, region and postcode."""

from __future__ import annotations

import re

# Postcodes as they stand first (Europe) and last (elsewhere) in the line of the town: shapes alone, as libaddressinput
# has them for these countries. Whether a code exists is not asked.
_FIRST = re.compile(r"(?:[A-Z]{1,3}-)?(\d{4} ?[A-Z]{2}|\d{3} ?\d{2}|\d{2}-\d{3}|\d{4,6})\s+(\D.*)", re.DOTALL)
_END = (
    r"(?:\b([A-Z]{2,3})[,\s]+)?"
    r"(\d{5}(?:[ -]\d{4})?|\d{4}|[A-Z]\d[A-Z] ?\d[A-Z]\d|[A-Z]{1,2}\d[A-Z\d]? ?\d[A-Z]{2}|[A-Z]\d[\dW] ?[A-Z\d]{4})"
)
_LAST, _END_ALONE = re.compile(rf"(.*?)[,\s]+{_END}", re.DOTALL), re.compile(_END)


def read_address(text: str) -> dict[str, str]:
    """Street, city, region and postcode, as far as they are found; what is not understood stays with the city.

    Lines are parted by line breaks, or by commas where all stands in one line.

    >>> read_address("12 Sample Lane, Pretend Hollow, VA 00000")
    {'street': '12 Sample Lane', 'city': 'Pretend Hollow', 'region': 'VA', 'postcode': '00000'}
    >>> read_address("Am Anger 3\\n00000 Musterstadt")
    {'street': 'Am Anger 3', 'city': 'Musterstadt', 'region': '', 'postcode': '00000'}
    >>> read_address("Little Sampling ZZ99 9ZZ")
    {'street': '', 'city': 'Little Sampling', 'region': '', 'postcode': 'ZZ99 9ZZ'}
    """
    said = text.strip()
    parts = [part.strip(" ,\t") for part in re.split(r"\n" if "\n" in said else ",", said) if part.strip(" ,\t")]
    if len(parts) > 1 and _END_ALONE.fullmatch(parts[-1]):
        parts[-2:] = [f"{parts[-2]}, {parts[-1]}"]  # the town, then its region and postcode
    town = parts.pop() if parts else ""
    found = {"street": ", ".join(parts), "city": town, "region": "", "postcode": ""}
    if first := _FIRST.fullmatch(town):
        return found | {"postcode": first[1], "city": first[2].strip()}
    if last := _LAST.fullmatch(town):
        return found | {"city": last[1].strip(" ,"), "region": last[2] or "", "postcode": last[3]}
    return found
