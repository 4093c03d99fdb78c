"""What a camera or a scanner that types reads leads to the lot; the camera is one page's, and nobody else's."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from labelkit.barcodes.elements import for_people
from labelkit.barcodes.matrix import digital_link
from labelkit.page.scanned import lot_in

LOT = "L26195AXR"
GTIN = "9521234543213"  # GS1's own prefix for examples
# The raw strings are laid out by hand from GS1 General Specifications 7.8: identifier, value, FNC1 (sign 29) behind a
# value of no fixed length; ]C1, ]d2, ]Q3 are the symbologies of ISO/IEC 15424.
READ = [
    LOT,
    f" {LOT}\r\n",
    f"https://example.com/{LOT}",
    f"https://example.com/l?lot={LOT}",
    f"HTTPS://EXAMPLE.COM/L/{LOT}",
    digital_link(GTIN, LOT),
    digital_link(GTIN, LOT, "https://example.com/honey"),
    for_people((("01", "0" + GTIN), ("10", LOT))),
    f"010{GTIN}10{LOT}",
    f"]C1010{GTIN}10{LOT}",
    f"]d2010{GTIN}1728063010{LOT}",
    f"\x1d010{GTIN}10{LOT}\x1d21A7",
    f"10{LOT}\x1d010{GTIN}",
]


@pytest.mark.parametrize("text", READ)
def test_the_lot_is_found_in_whatever_a_label_carries(text):
    assert lot_in(text).strip() == LOT


@pytest.mark.parametrize(
    "text", ["", "B1", "Bucket 10", "9521234543213", "https://example.com/", "http://[", "(10)", "honey"]
)
def test_what_holds_no_lot_comes_back_as_it_is(text):
    assert lot_in(text) == text


@given(st.text(max_size=80))
def test_nothing_scanned_makes_a_fault(text):
    assert isinstance(lot_in(text), str)


def test_what_the_camera_read_leads_to_the_trace(hand):
    lot = hand.begin().bottle()
    sent = hand.get(f"/trace/scanned?text=https%3A%2F%2Fexample.com%2F01%2F0{GTIN}%2F10%2F{lot}")
    assert sent.status_code == 303 and sent.headers["Location"] == f"/trace?code={lot}"


def test_a_scanner_that_types_the_whole_link_reaches_the_lot_too(hand):
    lot = hand.begin().bottle()
    for typed in (f"https://example.com/{lot}", f"(01)0{GTIN}(10){lot}"):
        page = hand.client.get("/trace", query_string={"code": typed}, headers={"Host": hand.host}).text
        assert "Mill meadow" in page
    assert (
        f'value="{lot}"'
        in hand.client.get(
            "/sell", query_string={"lot": f"https://example.com/{lot}"}, headers={"Host": hand.host}
        ).text
    )


def test_a_bucket_of_a_name_like_a_code_is_still_found(hand):
    hand.begin()
    hand.send("/weigh", {"bucket": "10A", "net": "5 kg", "gross": "", "tare": ""})
    assert "10A" in hand.get("/trace?code=10A").text and hand.get("/trace?code=10A").status_code == 200


def test_the_camera_may_be_asked_for_by_one_page_alone(hand):
    hand.begin()
    assert "camera=(self)" in hand.get("/trace").headers["Permissions-Policy"]
    for path in ("/", "/weigh", "/sell", "/start", "/record", "/nowhere"):
        assert "camera=()" in hand.get(path).headers["Permissions-Policy"], path
    assert "microphone=()" in hand.get("/trace").headers["Permissions-Policy"]


def test_nobody_is_sent_elsewhere_by_a_scanned_code(hand):
    hand.begin()
    for text in ("https://evil.example/", "//evil.example", "/\\evil.example"):
        sent = hand.client.get("/trace/scanned", query_string={"text": text}, headers={"Host": hand.host})
        assert sent.headers["Location"].startswith("/trace?code=")
