"""How the terminal shows a table: plain, aligned, no wider than it must be."""

from __future__ import annotations

from collections.abc import Iterable, Sequence


def table(heads: Sequence[str], rows: Iterable[Sequence[str]], *, right: Iterable[int] = ()) -> str:
    """Rows under their heads, columns aligned; ``right`` names the columns set flush right.

    >>> print(table(("bucket", "holds"), [("B1", "27.3 kg"), ("B12", "9 kg")], right=[1]))
    bucket    holds
    B1      27.3 kg
    B12        9 kg
    """
    from io import StringIO

    from rich.console import Console
    from rich.table import Table
    from rich.text import Text

    right = set(right)
    shown = Table(box=None, pad_edge=False, padding=(0, 2, 0, 0), show_edge=False, header_style="")
    for column, head in enumerate(heads):
        shown.add_column(Text(head), justify="right" if column in right else "left", no_wrap=True)
    for row in rows:
        shown.add_row(*(Text(cell) for cell in row))
    out = StringIO()
    Console(file=out, width=200, color_system=None, legacy_windows=False).print(shown)
    return "\n".join(line.rstrip() for line in out.getvalue().rstrip("\n").splitlines())


def phone_missing(customer: str | None) -> str:
    """What is asked for once jars went to somebody a recall could not call."""
    return (
        f"\n\nNo phone number of {customer} is known; a recall calls it. "
        f'Note it: labelkit record customer "{customer}" --phone NUMBER'
    )
