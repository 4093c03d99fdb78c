"""What a request needs to know: whose record, which day, how numbers are written, which sample."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from datetime import date

from flask import current_app, g, session

from labelkit.cli._rim import Desk
from labelkit.cli._season import Season, record_exists, season_book, season_of
from labelkit.page.jobs import Jobs
from labelkit.page.lan import Lan
from labelkit.page.samples import SAMPLE_DAY, Samples

KEY = "labelkit"
OUR_NAMES = ("127.0.0.1", "localhost", "[::1]")


@dataclass(frozen=True)
class Station:
    """What the server was started with. ``day_is_fixed`` where the user named a day; otherwise each request's own."""

    desk: Desk
    day_is_fixed: bool
    port: int
    samples: Samples
    lan: Lan | None = None
    jobs: Jobs = field(default_factory=Jobs)
    begun: set[str | None] = field(default_factory=set)  # records on servers that are known to be there

    @property
    def hosts(self) -> frozenset[str]:
        """The names a request may ask for."""
        names = (*OUR_NAMES, *([self.lan.ip] if self.lan else []))
        return frozenset(f"{name}:{self.port}" for name in names)

    @property
    def address(self) -> str:
        """Where to open the page instead."""
        return self.lan.address if self.lan else f"http://127.0.0.1:{self.port}/"


def station() -> Station:
    """The one this request came to."""
    return current_app.extensions[KEY]


def desk() -> Desk:
    """The desk of this request: the season's own record, or the sample's that this browser is trying."""
    if "desk" not in g:
        here = station()
        sample = here.samples.find(session.get("sample"))
        if sample:
            found = replace(here.desk, record=sample.record, day=SAMPLE_DAY, clock=sample.clock, who="A visitor")
        else:
            found = here.desk if here.day_is_fixed else replace(here.desk, day=date.today())
        g.sample = sample is not None
        g.desk = found
        g.begun = _begun(found)
        if g.begun:
            g.desk = replace(found, locale=settings().get("numbers") or found.locale)
    return g.desk


def trying_a_sample() -> bool:
    """Whether this browser is in a sample season."""
    desk()
    return g.sample


def has_record() -> bool:
    """Whether a season was begun."""
    desk()
    return g.begun


def _begun(found: Desk) -> bool:
    # A server is asked until the season is there; a file may be taken away at any time.
    on_server = "://" in (found.record or "")
    if on_server and found.record in station().begun:
        return True
    there = record_exists(found)
    if there and on_server:
        station().begun.add(found.record)
    return there


def season() -> Season:
    """The season's settings and prices, read once a request."""
    _read()
    return g.season


def settings() -> dict:
    """Every setting, read once a request."""
    _read()
    return g.settings


def _read() -> None:
    if "settings" not in g:
        with season_book(g.get("desk") or desk(), to_read=True) as book, book.reading() as state:
            g.season, g.settings = season_of(state), state.settings()


def forget() -> None:
    """Read the settings anew: something was booked."""
    for name in ("desk", "season", "settings", "language"):
        g.pop(name, None)
