"""A served page with a record of its own, and somebody who fills in its forms without any script."""

from __future__ import annotations

import html
import re
import threading
from dataclasses import dataclass
from datetime import UTC, date, datetime
from pathlib import Path

import pytest

from labelkit.page.app import make_app
from labelkit.page.request_context import Station
from labelkit.page.samples import Samples
from labelkit.page.serve import Server
from labelkit.record import open_record
from labelkit.season.context import SeasonContext

DAY = date(2026, 7, 14)
PORT = 8765


def desk_at(folder: Path, day: date = DAY) -> SeasonContext:
    """A season's desk in a folder, with its clock stopped at nine."""
    return SeasonContext(
        record=str(folder / "season.labelkit"),
        day=day,
        who="Robin",
        clock=datetime(day.year, day.month, day.day, 9, tzinfo=UTC),
    )


#: The record of a season begun, kept from the first time it was played so that others begin with a copy of it.
BEGUN: list[bytes] = []


@dataclass
class Hand:
    """Somebody with a browser that runs no script: gets pages, fills in the fields of their forms, sends them."""

    client: object
    record: str
    host: str = f"127.0.0.1:{PORT}"
    copies: bool = False  # whether a season is begun by a copy of one that was

    def get(self, path: str, **headers):
        return self.client.get(path, headers={"Host": self.host, **headers})

    def hidden(self, path: str, action: str) -> dict[str, str]:
        """What the form of a page carries unseen."""
        page = self.get(path).text
        form = re.search(rf'<form[^>]*method="post" action="{re.escape(action)}".*?</form>', page, re.DOTALL)
        assert form, f"{path} has no form for {action}"
        found = re.findall(r'<input type="hidden" name="([^"]+)" value="([^"]*)"', form[0])
        return {name: html.unescape(value) for name, value in found}

    def send(self, action: str, fields: dict, path: str | None = None, **headers):
        """Fill in the form for ``action`` that stands on ``path``, and send it."""
        return self.post(action, {**self.hidden(path or action, action), **fields}, **headers)

    def post(self, action: str, fields: dict, **headers):
        return self.client.post(action, data=fields, headers={"Host": self.host, **headers})

    def begin(self) -> Hand:
        """A season with a maker, two buckets and a jar size."""
        if self.copies and BEGUN and not Path(self.record).exists():
            Path(self.record).write_bytes(BEGUN[0])
            return self
        self._play()
        if self.copies and not Path(f"{self.record}-wal").exists():
            BEGUN[:] = [Path(self.record).read_bytes()]
        return self

    def _play(self) -> None:
        self.send(
            "/start",
            {
                "market": "us-va",
                "name": "Pretend Hollow Honey",
                "street": "12 Sample Lane",
                "city": "Pretend Hollow",
                "region": "VA",
                "postcode": "00000",
            },
        )
        self.send("/prices", {"size": "one pound", "declares": "1 lb", "price": "12.00", "cost": "1.35"})
        self.send(
            "/weigh",
            {
                "bucket": "B1",
                "gross": "41 lb 3 oz",
                "tare": "2 lb 7 oz",
                "moisture": "17.4",
                "yards": "Mill meadow: H1, H2",
            },
        )
        self.send("/weigh", {"bucket": "B2", "net": "12 kg", "gross": "", "tare": "", "moisture": "17.1"})

    def bottle(self) -> str:
        """Twelve jars out of the first bucket; their lot code."""
        sent = self.send("/bottle", {"bucket": "B1", "jar:one pound": "12"})
        assert sent.status_code == 303, sent.text
        return sent.headers["Location"].rpartition("/")[2]

    def events(self, *kinds: str) -> list:
        with open_record(self.record, to_read=True) as book:
            return list(book.events(kinds))


@pytest.fixture
def hand(tmp_path) -> Hand:
    context = desk_at(tmp_path)
    app = make_app(Station(context, True, PORT, Samples()))
    return Hand(app.test_client(), context.record, copies=True)


@pytest.fixture
def served(tmp_path):
    """A server that really listens; its address."""
    server = Server(desk_at(tmp_path), 0)
    serving = threading.Thread(target=server.run, daemon=True)
    serving.start()
    yield server
    server.close()
    serving.join(10)
