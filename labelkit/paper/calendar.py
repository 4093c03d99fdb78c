"""Days as a calendar file (RFC 5545): the only module that enters icalendar, which folds and escapes the lines.

An entry lasts a whole day wherever its reader is, so no time zone is needed. Its UID is made of what it is about and
stays, and its SEQUENCE rises with the record: reading the file in again moves an entry and never doubles it (RFC 5545,
3.8.4.7 and 3.8.7.4, from memory).
"""

from __future__ import annotations

import uuid
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import UTC, date, datetime, timedelta

NAME = "labelkit"
_SPACE = uuid.uuid5(uuid.NAMESPACE_URL, "urn:labelkit:calendar")


@dataclass(frozen=True, slots=True)
class Appointment:
    """One day's entry; ``key`` names what it is about and stays the same whenever it is written."""

    key: str
    day: date
    title: str
    text: str


def calendar_file(entries: Iterable[Appointment], whose: str, made: datetime, sequence: int) -> bytes:
    """A calendar of these entries. ``whose`` sets two records apart, ``made`` has a zone, ``sequence`` only rises.

    >>> made = datetime(2026, 7, 14, 9, tzinfo=UTC)
    >>> entry = Appointment("drain B1", date(2026, 7, 15), "Drain the cappings of B1", "They drip for three days.")
    >>> lines = calendar_file([entry], "one record", made, 7).decode().split("\\r\\n")
    >>> [line for line in lines if line.startswith(("DTSTART", "DTEND", "DTSTAMP", "SEQUENCE"))]
    ['DTSTART;VALUE=DATE:20260715', 'DTEND;VALUE=DATE:20260716', 'DTSTAMP:20260714T090000Z', 'SEQUENCE:7']
    """
    from icalendar import Calendar, Event

    calendar = Calendar()
    calendar.add("prodid", f"-//{NAME}//EN")
    calendar.add("version", "2.0")
    calendar.add("calscale", "GREGORIAN")
    for entry in entries:
        event = Event()
        event.add("uid", f"{uuid.uuid5(_SPACE, f'{whose} {entry.key}')}@{NAME}")
        event.add("dtstamp", made.astimezone(UTC))
        event.add("sequence", sequence)
        event.add("dtstart", entry.day)
        event.add("dtend", entry.day + timedelta(days=1))
        event.add("summary", entry.title)
        event.add("description", entry.text)
        event.add("transp", "TRANSPARENT")  # it takes no time of the day
        calendar.add_component(event)
    return calendar.to_ical()
