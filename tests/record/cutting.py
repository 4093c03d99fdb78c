"""A wire between labelkit and a real PostgreSQL server that is cut at the very moment of booking."""

from __future__ import annotations

import contextlib
import socket
import tempfile
import threading
from pathlib import Path
from urllib.parse import parse_qs, urlsplit

_NAME = ".s.PGSQL.5432"
_WRITING = b"INSERT INTO event"
_BOOKING = b"COMMIT\x00"  # so it is asked for, and so it is answered


class Wire:
    """Passes everything on both ways, until the first ``COMMIT`` of a connection that wrote an event.

    ``cut`` says where it is cut: ``before`` the server hears of it, ``after`` the server did it and before labelkit
    hears so, or ``never``. ``mended`` says whether the next connection gets through.
    """

    def __init__(self, where: str, cut: str, mended: bool = True) -> None:
        self._server = str(Path(parse_qs(urlsplit(where).query)["host"][0]) / _NAME)
        self._folder = tempfile.TemporaryDirectory(prefix="lk-wire-")
        self.where = where.partition("?")[0] + f"?host={self._folder.name}"
        self.cut, self.mended, self.cuts = cut, mended, 0
        self._listens = socket.socket(socket.AF_UNIX)
        self._listens.bind(f"{self._folder.name}/{_NAME}")
        self._listens.listen()
        threading.Thread(target=self._accept, daemon=True).start()

    def __enter__(self) -> Wire:
        return self

    def __exit__(self, *trouble) -> None:
        self._listens.close()
        self._folder.cleanup()

    def mend(self) -> None:
        """Let everything through from now on."""
        self.mended = True

    def _accept(self) -> None:
        while True:
            try:
                client, _ = self._listens.accept()
            except OSError:
                return
            if self.cuts and not self.mended:
                client.close()
                continue
            server = socket.socket(socket.AF_UNIX)
            server.connect(self._server)
            threading.Thread(target=self._asks, args=(client, server), daemon=True).start()
            threading.Thread(target=self._answers, args=(client, server), daemon=True).start()

    def _asks(self, client: socket.socket, server: socket.socket) -> None:
        wrote = False
        while data := _heard(client):
            wrote = wrote or _WRITING in data
            if self.cut != "never" and wrote and not self.cuts and _BOOKING in data:
                self.cuts += 1
                if self.cut == "before":
                    _end(client, server)
                    return
            if not _said(server, data):
                return
        _end(client, server)

    def _answers(self, client: socket.socket, server: socket.socket) -> None:
        while data := _heard(server):
            if self.cut == "after" and self.cuts == 1 and _BOOKING in data:
                self.cuts += 1
                break
            if not _said(client, data):
                return
        _end(client, server)


def _heard(end: socket.socket) -> bytes:
    try:
        return end.recv(65536)
    except OSError:
        return b""


def _said(end: socket.socket, data: bytes) -> bool:
    try:
        end.sendall(data)
        return True
    except OSError:
        return False


def _end(*ends: socket.socket) -> None:
    for end in ends:
        with contextlib.suppress(OSError):
            end.shutdown(socket.SHUT_RDWR)
        end.close()
