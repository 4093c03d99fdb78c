"""The market day by plain forms: loaded, given to the telephone, settled by hand or by its file, with what it came to."""

from __future__ import annotations

import io
import json

import pytest

from labelkit.lots.movement import Account
from labelkit.reading.day_file import check_of
from labelkit.record import open_record
from tests.page.test_forms import words

PLACE = "Imaginary Square market"
KEY = f"2026-07-14 {PLACE}"


def stock(hand) -> dict:
    with open_record(hand.record, to_read=True) as book:
        return {s.account: s.count for s in book.stock() if s.count}


@pytest.fixture
def loaded(hand):
    hand.lot = hand.begin().bottle()
    sent = hand.send("/stall/load", {"place": PLACE, "jar:one pound": "10", "change": "50"}, "/stall")
    assert sent.status_code == 303, words(sent)
    return hand


def test_what_to_take_is_the_commands_proposal_and_nothing_is_booked_by_looking(hand):
    lot = hand.begin().bottle()
    assert "Name the market" in words(hand.get("/stall"))
    page = words(hand.get(f"/stall/look?place={PLACE}"))
    assert lot in page and "not taken there before" in page
    assert 'placeholder="12"' in hand.get(f"/stall?place={PLACE}").text
    assert hand.get(f"/stall/list.pdf?place={PLACE}&jar%3Aone+pound=4").data.startswith(b"%PDF")
    assert not hand.events("load")


def test_a_load_without_counted_change_is_refused_with_what_was_typed(hand):
    hand.begin().bottle()
    answer = hand.send("/stall/load", {"place": PLACE, "jar:one pound": "10"}, "/stall")
    assert answer.status_code == 422 and "cash float" in words(answer) and 'value="10"' in answer.text
    assert not hand.events("load")


def test_a_loaded_day_has_its_papers_and_its_file_for_the_telephone(loaded):
    page = loaded.get("/stall")
    assert PLACE in words(page) and "Loaded" in words(page) and stock(loaded) == {Account.JARS: 2, Account.STALL: 10}
    for which in ("list", "cards", "tally", "sign"):
        assert loaded.get(f"/stall/{which}.pdf?day={KEY}").data.startswith(b"%PDF"), which
    file = loaded.get(f"/stall/day.html?day={KEY}")
    assert file.headers["Content-Disposition"] == 'attachment; filename="stall-2026-07-14-imaginary-square-market.html"'
    assert loaded.lot in file.text and file.text.lstrip().lower().startswith("<!doctype html>")


def test_a_day_settled_by_hand_says_what_it_came_to(loaded):
    item = f"one pound@{loaded.lot}"
    sent = loaded.send(
        "/stall/settle",
        {
            f"sold:{item}": "6",
            f"tasted:{item}": "1",
            f"given:{item}": "1",
            f"back:{item}": "1",
            "cash": "120",
            "fee": "8",
        },
        "/stall",
    )
    assert sent.status_code == 303, words(sent)
    page = words(loaded.get(sent.headers["Location"]))
    # 6 × 12.00 = 72.00 should have come in; 120 less 50 of change came in: 2.00 too little.
    assert "$72.00" in page and "$70.00" in page and "-$2.00" in page
    # Nine jars are gone (6 sold, 1 tasted, 1 given, 1 missing), each cost 1.35: 12.15; 72 − 2 − 8 − 12.15 = 49.85.
    assert "$12.15" in page and "$49.85" in page and "1 jar is missing" in page
    assert stock(loaded) == {Account.JARS: 3}
    (day,) = loaded.events("unload")
    assert sum(line.count for line in day.event.missing) == 1 and day.event.cash_counted.minor == 12000


def test_nobody_sells_more_than_was_loaded(loaded):
    answer = loaded.send("/stall/settle", {f"sold:one pound@{loaded.lot}": "11", "cash": "1"}, "/stall")
    assert answer.status_code == 422 and 'value="11"' in answer.text and not loaded.events("unload")


def the_file(lot: str, sold: int = 4) -> bytes:
    """What the market page gives back, as docs of the format say: with its check figure."""
    core = {
        "labelkit": "stall-day-1",
        "key": KEY,
        "mark": "x",
        "currency": "USD",
        "items": [[lot, "one pound", sold, 0, 0, 0, 10 - sold]],
        "cash_sales": 1200 * sold,
        "cards": 0,
        "off": 0,
        "round": 0,
        "cash": 5000 + 1200 * sold,
        "fee": None,
        "sales": sold,
    }
    return json.dumps({**core, "check": check_of(core)}, separators=(",", ":")).encode()


def test_a_day_is_settled_by_its_file_once(loaded):
    for _ in range(2):
        if loaded.events("unload"):
            loaded.send("/stall/load", {"place": "Another market", "jar:one pound": "1", "change": "1"}, "/stall")
        sent = loaded.send("/stall/settle/file", {"file": (io.BytesIO(the_file(loaded.lot)), "../../x.json")}, "/stall")
        assert sent.status_code == 303, words(sent)
    assert "settled before" in words(loaded.get(sent.headers["Location"]))
    (day,) = loaded.events("unload")
    assert day.event.lines[0].count == 4 and "it fits" in words(loaded.get(f"/stall/outcome?day={KEY}"))


def test_the_files_text_can_be_pasted_and_a_changed_or_empty_one_is_refused(loaded):
    changed = the_file(loaded.lot).replace(b'"cards":0', b'"cards":9')
    for content, says in (
        (changed, "check figure"),
        (b"{}", "market page"),
        (b"\xff\xfe", "UTF-8"),
        (b"[" * 100_000, "breaks off"),
    ):
        answer = loaded.send("/stall/settle/file", {"file": (io.BytesIO(content), "day.json")}, "/stall")
        assert answer.status_code == 422 and says in words(answer) and "Your file" in words(answer), says
    assert loaded.send("/stall/settle/file", {"file": (io.BytesIO(b""), "")}, "/stall").status_code == 422
    sent = loaded.send("/stall/settle/file", {"text": the_file(loaded.lot).decode()}, "/stall")
    assert sent.status_code == 303 and len(loaded.events("unload")) == 1


def test_a_settled_day_can_be_taken_back(loaded):
    loaded.send("/stall/settle", {f"sold:one pound@{loaded.lot}": "6", "cash": "122"}, "/stall")
    assert (
        loaded.send(
            "/correct",
            {"because": "counted another day", "do": "strike"},
            f"/correct?event={loaded.events('unload')[0].seq}",
        ).status_code
        == 303
    )
    assert stock(loaded)[Account.STALL] == 10


def test_what_is_not_there_is_no_page(loaded):
    assert loaded.get("/stall/outcome?day=never").status_code == 404
    assert loaded.get("/stall/cards.pdf?day=never").status_code == 422
    assert loaded.get("/stall/anything.pdf").status_code == 404
