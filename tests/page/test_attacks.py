"""Attacks on the page as a list: where it may send a browser, what is sent twice, damaged, or under a stolen name."""

from __future__ import annotations

import pytest

from tests.page.conftest import PORT, Hand

#: Ways to make a browser leave the page. Tabs and line breaks vanish from an address, a backslash is a slash
#: (WHATWG URL Standard, 4.4 URL parsing); the others are those of the OWASP cheat sheet on unvalidated redirects.
AWAY = (
    "https://evil.invalid",
    "//evil.invalid",
    "///evil.invalid",
    "/\\evil.invalid",
    "\\\\evil.invalid",
    "/\t/evil.invalid",
    "/\n/evil.invalid",
    "/\r\n/evil.invalid",
    "/\t\\evil.invalid",
    "\t//evil.invalid",
    "/%0d%0aLocation:%20https://evil.invalid",
    "/.evil.invalid",
    "/@evil.invalid",
    "@evil.invalid",
    "javascript:alert(1)",
    "data:text/html,x",
    "/nowhere",
    "/language",  # takes nothing but a form
    "/weigh\x00",
    "/weigh?x=" + "x" * 2000,
    "",
)


@pytest.mark.parametrize("back", AWAY)
def test_no_address_sends_a_browser_away_from_the_pages_that_are_there(hand, back):
    sent = hand.send("/language", {"language": "de", "back": back}, "/start")
    assert sent.status_code == 303 and sent.headers["Location"] == "/"


@pytest.mark.parametrize("back", ["/", "/start", "/weigh?bucket=B9", "/lot/L26195AXR", "/first/jars"])
def test_a_page_that_is_there_is_come_back_to(hand, back):
    hand.begin()
    assert hand.send("/language", {"language": "de", "back": back}, "/start").headers["Location"] == back


def test_a_form_sent_again_books_nothing_and_one_with_other_words_is_refused(hand):
    hand.begin()
    form = {**hand.hidden("/weigh", "/weigh"), "bucket": "R1", "net": "5 kg", "gross": "", "tare": ""}
    assert hand.post("/weigh", form).status_code == 303
    before = len(hand.events())
    hand.post("/weigh", form)
    assert hand.post("/weigh", {**form, "net": "6 kg"}).status_code == 409
    assert len(hand.events()) == before


def test_a_session_somebody_else_chose_takes_no_form(hand):
    hand.begin()
    form = hand.hidden("/weigh", "/weigh")
    thief = Hand(hand.client.application.test_client(), hand.record)
    thief.client.set_cookie(f"labelkit-{PORT}", "chosen-by-somebody-else", domain="127.0.0.1")
    sent = thief.post("/weigh", {**form, "bucket": "X1", "net": "5 kg"})
    assert sent.status_code == 403 and not [each for each in hand.events("weigh") if each.event.bucket == "X1"]


@pytest.mark.parametrize(
    ("kind", "body"),
    [
        ("multipart/form-data; boundary=b", b"--b\r\nContent-Disposition: form-data; name="),
        ("multipart/form-data", b"--b\r\n\r\n"),
        ("multipart/form-data; boundary=" + "b" * 300, b"--b--"),
        ("multipart/form-data; boundary=b", b"--b\r\n" * 5000),
        ("application/json", b'{"bucket": "B1"}'),
        ("application/x-www-form-urlencoded; charset=utf-7", b"bucket=B1&net=5+kg"),
    ],
)
def test_a_damaged_form_is_refused_and_books_nothing(hand, kind, body):
    hand.begin()
    before = len(hand.events())
    sent = hand.client.post("/weigh", data=body, headers={"Host": hand.host, "Content-Type": kind})
    assert 400 <= sent.status_code < 500 and len(hand.events()) == before
