"""A trace in words: short tables a producer or an inspector reads from top to bottom."""

from __future__ import annotations

from io import StringIO

from labelkit.measures.wording import ENGLISH
from labelkit.trace.alarms import Limits
from labelkit.trace.follow import Trace
from labelkit.trace.sections import Section, headline, sections


def words(trace: Trace, locale: str, limits: Limits | None = None) -> str:
    """The whole trace as text."""
    parts = [f"{part.title}\n{table(part)}" for part in sections(trace, locale, ENGLISH, limits)]
    return "\n\n".join((headline(trace, ENGLISH), *parts)) + "\n"


def table(part: Section) -> str:
    """A section set in plain text: columns as wide as their contents, figures to the right."""
    from rich.console import Console
    from rich.table import Table
    from rich.text import Text

    grid = Table(box=None, padding=(0, 3, 0, 0), show_edge=False, pad_edge=False, header_style="")
    for column, word in enumerate(part.heads):
        grid.add_column(Text(word), justify="right" if column in part.right else "left", no_wrap=True)
    for row in part.rows:
        grid.add_row(*(Text(cell) for cell in row))
    out = StringIO()
    page = Console(file=out, width=400, color_system=None, highlight=False)
    page.print(grid)
    return "\n".join(f"  {line.rstrip()}" for line in out.getvalue().rstrip("\n").split("\n"))
