"""What a request needs to know: whose record, which day, how numbers are written, which sample."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from datetime import date

from flask import current_app, g, request, session

from labelkit.measures.locales import in_units
from labelkit.page.jobs import Jobs
from labelkit.page.lan import Lan
from labelkit.page.samples import SAMPLE_DAY, Samples
from labelkit.season import SeasonContext
from labelkit.season.due import Due, recalls_running
from labelkit.season.settings import SeasonSettings, settings_of

KEY = "labelkit"
OUR_NAMES = ("127.0.0.1", "localhost", "[::1]")


@dataclass(frozen=True)
class Station:
    """What the server was started with. ``day_is_fixed`` where the user named a day; otherwise each request's own."""

    context: SeasonContext
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


def context() -> SeasonContext:
    """The context of this request: the season's own record, or the sample's that this browser is trying."""
    if "context" not in g:
        here = station()
        sample = here.samples.find(session.get("sample"))
        if sample:
            found = replace(here.context, record=sample.record, day=SAMPLE_DAY, clock=sample.clock, who="A visitor")
        else:
            found = here.context if here.day_is_fixed else replace(here.context, day=date.today())
        g.sample = sample is not None
        g.context = found
        g.begun = _begun(found)
        if g.begun:
            g.context = replace(found, locale=in_units(settings().get("numbers") or found.locale, season().units))
        g.context = replace(g.context, because=request.form.get("because", ""))
    return g.context


def trying_a_sample() -> bool:
    """Whether this browser is in a sample season."""
    context()
    return g.sample


def has_record() -> bool:
    """Whether a season was begun."""
    context()
    return g.begun


def _begun(found: SeasonContext) -> bool:
    # A server is asked until the season is there; a file may be taken away at any time.
    on_server = "://" in (found.record or "")
    if on_server and found.record in station().begun:
        return True
    there = found.has_record()
    if there and on_server:
        station().begun.add(found.record)
    return there


def season() -> SeasonSettings:
    """The season's settings and prices, read once a request."""
    _read()
    return g.season


def settings() -> dict:
    """Every setting, read once a request."""
    _read()
    return g.settings


def recalls() -> tuple[Due, ...]:
    """What is to be done next of every recall that is running, read once a request."""
    _read()
    return g.recalls


def _read() -> None:
    if "settings" not in g:
        here = g.get("context") or context()
        with here.reading() as state:
            g.season, g.settings = settings_of(state, here.day), state.settings(here.day)
            g.recalls = tuple(recalls_running(state))


def forget() -> None:
    """Read the settings anew: something was booked."""
    for name in ("context", "season", "settings", "recalls", "language"):
        g.pop(name, None)
