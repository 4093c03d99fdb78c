"""``labelkit page``."""

from __future__ import annotations

import click

from labelkit.cli._rim import Answer, Desk, answering


@click.command()
@click.option("--port", type=click.IntRange(0, 65535), default=8765, show_default=True,
              help="The port on this machine; 0 takes any that is free.")  # fmt: skip
@click.option("--no-browser", is_flag=True, help="Only serve; do not open the browser.")
@answering
def command(desk: Desk, port: int, no_browser: bool) -> Answer:
    """Serve the season as a page in the browser of this machine, and of no other.

    Everything the commands do with the record, by fields and buttons. Stop it with Ctrl-C; what was booked is booked.

    Example:  labelkit --record season.labelkit page
    """
    from labelkit.page.serve import serve

    def tell(address: str) -> None:
        click.echo(f"Your season is at {address} – stop with Ctrl-C.", err=True)

    serve(desk, port, not no_browser, tell)
    return Answer({"served": True}, "The page is closed. The record keeps what was booked.")
