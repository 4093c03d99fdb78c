"""``labelkit page``."""

from __future__ import annotations

import sys
from typing import TYPE_CHECKING

import click

from labelkit.cli._runner import Answer, CommandContext, answering

if TYPE_CHECKING:
    from labelkit.page.serve import Server


@click.command()
@click.option(
    "--port",
    type=click.IntRange(0, 65535),
    default=8765,
    show_default=True,
    help="The port on this machine; 0 takes any that is free.",
)
@click.option("--no-browser", is_flag=True, help="Only serve; do not open the browser.")
@click.option(
    "--lan",
    is_flag=False,
    flag_value="here",
    default=None,
    metavar="[=ADDRESS]",
    help="Serve the local network too, at this machine's address there, behind a passphrase.",
)
@click.option(
    "--passphrase",
    envvar="LABELKIT_PASSPHRASE",
    metavar="WORDS",
    help="The passphrase for --lan, at least 8 characters. Left out, it is asked for, so that nobody can read it "
    "in the list of programs; LABELKIT_PASSPHRASE is read too.",
)
@answering
def command(context: CommandContext, port: int, no_browser: bool, lan: str | None, passphrase: str | None) -> Answer:
    """Open labelkit in your web browser.

    The page is for this machine and no other.

    Everything the commands do with the record, by fields and buttons. Stop it with Ctrl-C; what was booked is booked.
    With --lan telephones on the same network can come in with the passphrase. It is plain HTTP: who shares the network
    could read along, so use one you trust.

    Example:  labelkit --record season.labelkit page
    """
    from labelkit.page.lan import local_address
    from labelkit.page.serve import serve

    ip = local_address("" if lan == "here" else lan) if lan is not None else ""
    serve(context.for_many_steps(), port, not no_browser, _tell, ip, (passphrase or _asked()) if ip else "")
    return Answer({"served": True}, "The page is closed. The record keeps what was booked.")


def _asked() -> str:
    from labelkit.errors.page import PassphraseNeeded

    if not sys.stdin.isatty():
        raise PassphraseNeeded()
    return click.prompt("Passphrase for the local network", hide_input=True, confirmation_prompt="Once more", err=True)


def _tell(server: Server) -> None:
    click.echo(f"Your season is at {server.address} – stop with Ctrl-C.", err=True)
    if not server.lan:
        return
    from labelkit.barcodes.matrix import qr
    from labelkit.page.lan import in_blocks

    code = qr(server.lan.address)
    click.echo(f"On the local network it is at {server.lan.address}, behind the passphrase.\n", err=True)
    for line in in_blocks(code.rows, code.quiet).splitlines():
        click.secho(line, fg="bright_white", bg="black", err=True)
    click.echo("\nIt is plain HTTP: whoever shares the network could read along. Use a network you trust.", err=True)
