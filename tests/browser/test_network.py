"""The page over the local network in a real browser: the passphrase, two telephones, the session's end."""

from __future__ import annotations

import json
import threading

import pytest

from labelkit.page.serve import Server
from tests.browser.visitor import DESK, PHONE, Visit, barriers, begin_in
from tests.page.conftest import desk_at

pytestmark = pytest.mark.browser

NETWORK = "127.0.0.2"  # an address of this machine that stands for the network
WORDS = "bottle lantern gravel seven"


@pytest.fixture
def guest(browser, tmp_path):
    """Visits by the network's address."""
    server = Server(desk_at(tmp_path), 0, NETWORK, WORDS)
    thread = threading.Thread(target=server.run, daemon=True)
    thread.start()
    begun = []

    def begin(**context) -> Visit:
        visit = Visit(browser, server, str(tmp_path / "season.labelkit"), **(context or DESK))
        visit.address = server.lan.address
        visit.troubles.clear()
        visit.lan = server.lan
        begun.append(visit)
        return visit

    yield begin
    for each in begun:
        each.context.close()
    server.close()
    thread.join(10)


def come_in(at: Visit, words: str = WORDS) -> None:
    at.tab.locator("#passphrase").fill(words)
    at.press("Come in")


def test_a_guest_comes_in_with_the_passphrase_and_no_script_can_read_the_session(guest):
    at = guest(**PHONE)
    tab = at.go("weigh")
    assert tab.url == f"{at.address}enter" and tab.locator("nav").count() == 0
    come_in(at, "a guess")
    assert "This is not the passphrase" in tab.locator(".refusal").inner_text()
    assert tab.locator("#passphrase").input_value() == ""
    come_in(at)
    assert tab.url == f"{at.address}start" and tab.evaluate("document.cookie") == ""
    (cookie,) = at.context.cookies()
    assert cookie["httpOnly"] and cookie["sameSite"] == "Strict"


def test_two_guests_book_into_one_record_and_one_leaves(guest):
    one, other = guest(**DESK), guest(**PHONE)
    for at in (one, other):
        at.go("")
        come_in(at)
    begin_in(one, "us")
    for at, bucket in ((one, "A1"), (other, "Z1")):
        at.go("weigh")
        at.fill(bucket=bucket, gross="40 lb", tare="2 lb")
        at.press("Weigh it in")
    assert [each.bucket for each in one.events("weigh")] == ["A1", "Z1"]
    one.go("telephone")
    one.press("Leave, and ask for the passphrase again")
    assert one.tab.url.endswith("/enter")
    one.go("weigh")
    assert one.tab.url.endswith("/enter")
    other.go("weigh")
    assert other.tab.url.endswith("/weigh")


def test_a_session_that_ended_is_met_by_the_question_and_by_no_half_page(guest):
    at = guest()
    at.go("")
    come_in(at)
    begin_in(at, "us")
    tab = at.go("weigh")
    at.lan.gate._sessions.clear()
    with tab.expect_response(lambda answer: "/weigh/look" in answer.url) as told:
        at.fill(bucket="B1", gross="40 lb", tare="2 lb")
    assert told.value.status == 401 and tab.locator("#look #passphrase").count() == 0
    at.press("Weigh it in")
    assert tab.url.endswith("/enter") and at.events("weigh") == []


@pytest.mark.exhaustive(one_in=20)
@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_the_question_and_the_telephones_page_have_no_barrier(guest, scheme):
    at = guest(color_scheme=scheme, **DESK)
    found = []
    for path in ("enter", "telephone", "work-that-is-not"):
        tab = at.go(path)
        if path == "enter":
            found += barriers(tab, path)
            come_in(at)
            at.follow(tab.get_by_role("button", name="Try a sample season"))
            continue
        found += barriers(tab, path)
    assert found == [], json.dumps(found, indent=1)
