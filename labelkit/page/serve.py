"""Serving the page to this machine alone, and to its local network where that was asked for."""

from __future__ import annotations

import errno
import socket
import threading
import webbrowser
from collections.abc import Callable
from dataclasses import replace
from datetime import date
from pathlib import Path

from labelkit.errors.page import NoLocalNetwork, PortTaken
from labelkit.page import security
from labelkit.page.app import make_app
from labelkit.page.lan import Gate, Lan
from labelkit.page.request_context import Station
from labelkit.page.samples import Samples
from labelkit.season import SeasonContext

HOST = "127.0.0.1"
THREADS = 6


class Server:
    """A bound server; :meth:`run` serves until it is closed. On the network ``ip`` too where there is a passphrase."""

    def __init__(self, context: SeasonContext, port: int, ip: str = "", passphrase: str = "") -> None:
        from waitress.server import create_server

        gate = Gate(passphrase) if ip else None
        self._sockets = [_bound(HOST, port)]
        self.port = self._sockets[0].getsockname()[1]
        if ip:
            self._sockets.append(_bound(ip, self.port, beside=self._sockets[0]))
        self.lan = Lan(ip, self.port, gate) if gate else None
        self.address = f"http://{HOST}:{self.port}/"
        self.samples = Samples()
        self._ended = threading.Event()
        context = replace(context, record=_absolute(context.where))
        station = Station(context, context.day != date.today(), self.port, self.samples, self.lan)
        self.jobs = station.jobs
        self._map: dict = {}
        self._server = create_server(
            make_app(station),
            map=self._map,
            sockets=self._sockets,
            threads=THREADS,
            ident=None,
            clear_untrusted_proxy_headers=True,
            max_request_body_size=security.LARGEST_COPY,
            channel_timeout=60,
        )

    def run(self) -> None:
        """Serve until :meth:`close` or an interrupt; sample seasons are thrown away at the end."""
        from waitress import wasyncore

        try:
            while not self._ended.is_set():
                wasyncore.loop(timeout=0.2, map=self._map, count=1)
        except KeyboardInterrupt:
            pass
        finally:
            # Who still works on an answer is waited for; only then is let go of what they write to.
            self._server.task_dispatcher.shutdown(cancel_pending=True, timeout=5)
            for held in list(self._map.values()):
                held.close()
            self.jobs.close()
            self.samples.close()

    def close(self) -> None:
        """Stop serving, from any thread."""
        self._ended.set()


def serve(
    context: SeasonContext,
    port: int,
    open_it: bool,
    tell: Callable[[Server], None],
    ip: str = "",
    passphrase: str = "",
) -> None:
    """Serve the page, say where, and open the browser if wished."""
    server = Server(context, port, ip, passphrase)
    tell(server)
    if open_it:
        threading.Timer(0.5, webbrowser.open, [server.address]).start()
    server.run()


def _bound(ip: str, port: int, beside: socket.socket | None = None) -> socket.socket:
    held = socket.socket(socket.AF_INET, socket.SOCK_STREAM)
    held.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
    try:
        held.bind((ip, port))
    except OSError as trouble:
        held.close()
        if beside:
            beside.close()
        if trouble.errno == errno.EADDRNOTAVAIL:
            raise NoLocalNetwork(f"{ip} is not an address of this machine") from None
        raise PortTaken(port, (trouble.strerror or "the system refused it").lower()) from None
    return held


def _absolute(where: str) -> str:
    return where if "://" in where else str(Path(where).absolute())
