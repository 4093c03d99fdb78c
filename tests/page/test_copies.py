"""Copies on the page: made, downloaded, and brought back once it was shown what would be lost."""

from __future__ import annotations

import re
from io import BytesIO
from pathlib import Path

from labelkit.record import open_record
from labelkit.record.verify import verify
from tests.page.test_forms import words


def copy_of(hand) -> str:
    assert hand.send("/copies", {}, "/copies").status_code == 303
    return re.findall(r"copy=(season\.[\w.-]+\.copy)", hand.get("/copies").text)[0]


def events(hand) -> int:
    with open_record(hand.record, to_read=True) as book, book.reading() as state:
        assert verify(book).clean
        return state.head().seq


def test_what_would_be_lost_is_shown_first_and_then_the_file_is_set_aside(hand, tmp_path):
    hand.begin()
    name, before = copy_of(hand), events(hand)
    hand.send("/weigh", {"bucket": "B7", "net": "5 kg", "gross": "", "tare": ""})
    page = words(hand.get(f"/copies?copy={name}"))
    lost = events(hand) - before
    assert f"{lost} event" in page and "would be lost" in page and "B7" in page
    assert hand.send("/copies/restore", {}, f"/copies?copy={name}").status_code == 303
    assert events(hand) == before
    assert "set-aside" in words(hand.get("/record"))
    assert len(list(tmp_path.glob("season.labelkit.set-aside.*"))) == 1


def test_a_copy_that_was_downloaded_can_be_brought_back_from_elsewhere(hand):
    hand.begin()
    before = events(hand)
    downloaded = hand.get("/copies/now").data
    hand.send("/weigh", {"bucket": "B7", "net": "5 kg", "gross": "", "tare": ""})
    brought = hand.send("/copies/bring", {"file": (BytesIO(downloaded), "mine.copy")}, "/copies")
    assert brought.status_code == 303
    assert "would be lost" in words(hand.get(brought.headers["Location"]))
    name = brought.headers["Location"].partition("copy=")[2]
    hand.send("/copies/restore", {}, f"/copies?copy={name}")
    assert events(hand) == before


def test_what_is_no_copy_is_refused_and_is_not_kept(hand, tmp_path):
    hand.begin()
    refused = hand.send("/copies/bring", {"file": (BytesIO(b"no copy at all" * 90), "mine.copy")}, "/copies")
    assert refused.status_code == 422 and "not a database file" in words(refused)
    assert not list((tmp_path / "copies").iterdir())
    elsewhere = hand.hidden("/copies", "/copies") | {"copy": "../season.labelkit"}
    assert hand.post("/copies/restore", elsewhere).status_code == 422


def test_a_copy_of_another_record_is_called_that(hand, tmp_path):
    hand.begin()
    with open_record(tmp_path / "other.labelkit", create=True):
        pass
    data = (tmp_path / "other.labelkit").read_bytes()
    brought = hand.send("/copies/bring", {"file": (BytesIO(data), "other.copy")}, "/copies")
    assert "of another record" in words(hand.get(brought.headers["Location"]))


def test_a_damaged_record_is_brought_back_on_the_page_though_nothing_else_of_it_is_shown(hand):
    hand.begin()
    name, before = copy_of(hand), events(hand)
    spoiled = bytearray(Path(hand.record).read_bytes())
    at = spoiled.rfind(b"Pretend") if b"Pretend" in spoiled else spoiled.rfind(b'"market"')
    spoiled[at + 1] ^= 1
    Path(hand.record).write_bytes(spoiled)
    assert hand.get("/").status_code == 409 and 'href="/copies"' in hand.get("/").text
    page = hand.get(f"/copies?copy={name}")
    assert page.status_code == 200 and "cannot be read" in words(page)
    assert hand.send("/copies/restore", {}, f"/copies?copy={name}").status_code == 303
    assert events(hand) == before and hand.get("/").status_code == 200
