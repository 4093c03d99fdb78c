"""The use cases of a season, one verb a file, and the Python API.

Every verb takes a unit of work (or a reading) and values that were already read: a mass, a day, a count, never text. It gives a
frozen result and knows neither the command line nor the page, neither JSON nor HTML. The two rims do the same three
things: read, call, show.

A verb books nothing for good by itself. :meth:`Season.work` keeps what was booked when its block ends without a
refusal; :meth:`Season.rehearsal` is the same call and never keeps anything, so that what a form shows while it is typed
and what it books come from one function.
"""

from __future__ import annotations

from labelkit.season.context import DEFAULT_RECORD, Season, SeasonContext, open_season

__all__ = ["DEFAULT_RECORD", "Season", "SeasonContext", "open_season"]
