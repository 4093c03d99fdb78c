"""A recall by plain forms: how far, hold, begin, whom to call, what came back, and every jar to the last."""

from __future__ import annotations

import html
import re

import pytest

from labelkit.lots.movement import Account
from labelkit.record import open_record
from tests.page.test_forms import words


@pytest.fixture
def sold(hand):
    """Twelve jars: five at a shop by name, two at the stall, five in stock; the second half of the bucket is another lot."""
    hand.lot = hand.begin().bottle()
    hand.sister = hand.send("/bottle", {"bucket": "B1", "jar:one pound": "6"}).headers["Location"].rpartition("/")[2]
    for count, more in (
        ("5", {"to": "shop", "customer": "Made-up Corner Shop", "place": "1 Nowhere Road"}),
        ("2", {"place": "Saturday market"}),
    ):
        sent = hand.send(
            "/sell", {"lot": hand.lot, "jar:one pound": count, "as": "sold", **more}, f"/sell?lot={hand.lot}"
        )
        assert sent.status_code == 303
    return hand


def words_of(markup: str) -> str:
    return html.unescape(re.sub(r"<[^>]+>", " ", markup))


def scope(hand) -> str:
    return f"/recall/scope?code={hand.lot}&cause=foreign-body"


def begin(hand, **more):
    fields = {"take": [hand.lot], "bucket": ["B1"], "why": "a splinter of glass was found", **more}
    return hand.send("/recall/begin", fields, scope(hand))


def stock(hand, *accounts) -> dict:
    with open_record(hand.record, to_read=True) as book:
        return {(s.lot, s.account): s.count for s in book.stock(*accounts) if s.count}


def test_the_first_step_names_the_authority_and_books_nothing(sold):
    page = words(sold.get("/recall"))
    assert "department of agriculture" in page and "check your local rules" in page
    assert "a foreign body" in page and not sold.events("recall", "hold")


def test_the_scope_proposes_sister_lots_and_buckets_with_boxes_ticked(sold):
    answer = sold.get(scope(sold))
    page = words(answer)
    assert "named" in page and "from the same buckets" in page and "Made-up Corner Shop" in page
    for lot in (sold.lot, sold.sister):
        assert re.search(rf'name="take" value="{lot}" checked', answer.text)
    assert re.search(r'name="bucket" value="B1" checked', answer.text)
    assert "2 jars went to people nobody wrote down" in page and not sold.events("hold")


def test_a_running_recall_stands_on_top_of_every_page_with_whom_to_call_next(sold):
    assert "A recall is running" not in sold.get("/").text
    begin(sold)
    for path in ("/", "/weigh", "/plan", f"/labels?lot={sold.lot}&size=one+pound", "/record", "/nowhere"):
        band = re.search(r'<aside class="band".*?</aside>', sold.get(path).text, re.DOTALL)
        assert bool(band) == (path != "/nowhere"), path
        assert not band or ("call Made-up Corner Shop next" in words_of(band[0]) and "/recall/run?name=" in band[0])


def test_an_unknown_cause_or_code_goes_back_to_the_first_step(sold):
    for query in (
        "code=L26195AXX&cause=ferment",
        f"code={sold.lot}&cause=witchcraft",
        "code=&cause=ferment",
        "code=B2&cause=ferment",
    ):
        assert "What is wrong, and with which jars?" in words(sold.get(f"/recall/scope?{query}")), query


def test_a_hold_at_once_is_in_force_and_shown(sold):
    form = sold.hidden(scope(sold), "/recall/begin")
    sent = sold.post("/recall/hold", {**form, "take": [sold.lot], "why": "a splinter"})
    assert sent.status_code == 303
    page = words(sold.get(html.unescape(sent.headers["Location"])))
    assert "on hold since 2026-07-14" in page and "free to go" in page
    refused = sold.send("/sell", {"lot": sold.lot, "jar:one pound": "1", "as": "sold"}, f"/sell?lot={sold.lot}")
    assert refused.status_code in (409, 422) and "on hold" in words(refused)


def test_what_is_ticked_is_called_back_and_held_and_nothing_else(sold):
    sent = begin(sold)
    assert sent.status_code == 303 and sent.headers["Location"] == "/recall/run?name=R2026-07-14"
    (recall,) = sold.events("recall")
    assert recall.event.lots == (sold.lot,) and recall.event.cause == "foreign-body"
    with open_record(sold.record, to_read=True) as book, book.reading() as state:
        assert set(state.holds()) == {sold.lot, "B1"}
    assert stock(sold) == {(sold.lot, Account.HELD): 5, (sold.sister, Account.JARS): 6}
    bottled = sold.send("/bottle", {"bucket": "B1", "jar:one pound": "1"})
    assert bottled.status_code in (409, 422)


def test_a_recall_without_words_is_refused_and_nothing_is_held(sold):
    answer = begin(sold, why="")
    assert answer.status_code == 422 and not sold.events("recall", "hold")
    assert re.search(rf'name="take" value="{sold.lot}" checked', answer.text)
    assert not re.search(rf'name="take" value="{sold.sister}" checked', answer.text)


def test_a_recall_is_followed_to_the_last_jar(sold):
    begin(sold)
    run = "/recall/run?name=R2026-07-14"
    page = words(sold.get(run))
    assert "0 of 1 told" in page and "5 jars" in page and "Made-up Corner Shop" in page
    tell = sold.send(
        "/recall/tell", {"customer": "Made-up Corner Shop", "how": "phone", "has": "3", "note": "sold two"}, run
    )
    assert tell.status_code == 303
    page = words(sold.get(run))
    assert "1 of 1 told, 1 answered" in page and "still holds 3 jars" in page and "sold two" in page
    back = sold.send(
        "/recall/returned", {"customer": "Made-up Corner Shop", "jars": f"{sold.lot}@one pound", "count": "3"}, run
    )
    assert back.status_code == 303, words(back)
    assert stock(sold)[sold.lot, Account.HELD] == 8, "what came back is set apart at once"
    gone = sold.send("/recall/destroyed", {"lot": sold.lot, "jar:one pound": "8"}, run)
    assert gone.status_code == 303, words(gone)
    page = words(sold.get(run))
    # Twelve made: 8 destroyed, 2 with the shop's buyers, 2 at the stall; all of them known.
    assert "50 % could still be fetched" in page and "None of these jars is with you" in page
    assert (
        re.search(r"destroyed 8", page)
        and re.search(r"with customers by name 2", page)
        and re.search(r"sold without a name 2", page)
    )
    assert "No jar is unexplained" in page


def test_whom_to_call_comes_with_the_number_to_dial(sold):
    begin(sold)
    run = "/recall/run?name=R2026-07-14"
    assert "No telephone number was written down" in words(sold.get(run)) and "1 Nowhere Road" in words(sold.get(run))
    kept = sold.send("/recall/reach", {"customer": "Made-up Corner Shop", "phone": "555 0101"}, run)
    assert kept.status_code == 303, words(kept)
    assert re.search(r'href="tel:5550101">555 0101</a>', sold.get(run).text)
    assert "555 0101" in words(sold.get(scope(sold)))


def test_more_coming_back_than_was_sold_is_refused(sold):
    begin(sold)
    run = "/recall/run?name=R2026-07-14"
    answer = sold.send(
        "/recall/returned", {"customer": "Made-up Corner Shop", "jars": f"{sold.lot}@one pound", "count": "80"}, run
    )
    assert answer.status_code == 422 and not sold.events("return")


def test_letters_notice_and_sign_are_papers_and_texts(sold):
    begin(sold)
    for which in ("letter-1", "shop-notice", "stall-sign"):
        query = f"name=R2026-07-14&which={which}"
        assert sold.get(f"/recall/notice.pdf?{query}").data.startswith(b"%PDF")
        text = sold.get(f"/recall/notice.txt?{query}")
        assert sold.lot in text.text and text.mimetype == "text/plain"
    assert "Made-up Corner Shop" in sold.get("/recall/notice.txt?name=R2026-07-14&which=letter-1").text
    assert sold.get("/recall/notice.pdf?name=R2026-07-14&which=letter-9").status_code == 404
    assert sold.get("/recall/notice.exe?name=R2026-07-14&which=letter-1").status_code == 404


def test_a_drill_is_filed_with_its_figures(sold):
    sent = sold.send("/recall/drill", {"lot": sold.lot}, "/recall")
    assert sent.status_code == 303
    assert "10 of 12 jars found" in words(sold.get("/recall")) and sold.events("drill")[0].event.jars_found == 10
    assert sold.send("/recall/drill", {"lot": "L99"}, "/recall").status_code == 422


def test_a_recall_nobody_began_is_told_apart(sold):
    assert sold.get("/recall/run?name=never").status_code == 422
