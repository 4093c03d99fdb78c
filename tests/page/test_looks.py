"""Looks of one's own on the page: made with artwork and boxes, changed, and printed in."""

from __future__ import annotations

from io import BytesIO

import pytest
from PIL import Image

from labelkit.record import open_record
from labelkit.season.kept_look import look_named


@pytest.fixture
def begun(hand):
    return hand.begin()


def picture(colour="#F6E8C8") -> BytesIO:
    out = BytesIO()
    Image.new("RGB", (408, 204), colour).save(out, "PNG")
    out.seek(0)
    return out


def keep(hand, path="/looks", **fields):
    form = hand.hidden(path, "/looks") | {"name": "stall", "design": "meadow"} | fields
    return hand.client.post("/looks", data=form, headers={"Host": hand.host}, content_type="multipart/form-data")


def kept(hand, name="stall"):
    with open_record(hand.record, to_read=True) as book:
        return look_named(book, name)


BOX = {"box:2:left": "4", "box:2:top": "4.5", "box:2:width": "9 cm", "box:2:height": "40", "box:2:ground": "#FFFFFF"}


def test_a_look_is_kept_with_its_artwork_and_the_page_shows_both(begun):
    sent = keep(begun, artwork=(picture(), "sky.png"), artwork_ground="#FFF8E7", lot_bars="datamatrix")
    assert (sent.status_code, sent.headers["Location"]) == (303, "/looks?look=stall")
    page = begun.get("/looks?look=stall").text
    assert "Leave out sky.png" in page and 'value="#FFF8E7"' in page
    shown = Image.open(BytesIO(begun.get("/looks/artwork.png?look=stall").data))
    assert shown.width / shown.height == pytest.approx(2, rel=0.01)
    assert kept(begun)["lot_bars"] == "datamatrix"


def test_boxes_are_read_once_in_millimetres_and_come_back_in_their_fields(begun):
    keep(begun, artwork=(picture(), "sky.png"))
    keep(begun, "/looks?look=stall", **(BOX | {"box:2:words": "rest"}))
    (box,) = kept(begun)["artwork_boxes"]["front"]
    assert (box.words, box.left, box.top, box.wide, box.high, box.ground) == (
        ("rest",),
        4_000,
        4_500,
        90_000,
        40_000,
        (255, 255, 255),
    )
    page = begun.get("/looks?look=stall").text
    assert 'name="box:0:top" type="text" value="4.5"' in page


def test_what_the_form_does_not_show_stays(begun):
    keep(begun, artwork=(picture(), "sky.png"), **{"colour:name": "#3A1206"})
    keep(begun, "/looks?look=stall", design="press", **{"colour:name": "#3A1206"})
    held = kept(begun)
    assert (held["design"], held["colours"], held["artwork"]["front"][0]) == ("press", {"name": "#3A1206"}, "sky.png")
    keep(begun, "/looks?look=stall", no_artwork="yes")
    assert not kept(begun).get("artwork")


@pytest.mark.parametrize(
    ("fields", "says"),
    [
        ({"name": ""}, "This design has no name"),
        ({"design": "nosuch"}, "there is none of that name"),
        ({"colour:name": "red"}, "is not a colour like"),
        ({"artwork": (BytesIO(b"GIF89a"), "a.gif")}, "neither PNG nor JPEG nor PDF"),
        ({"artwork": (picture(), "a.png"), **BOX, "box:2:width": "20 cm"}, "does not lie on the label"),
    ],
)
def test_a_look_nothing_can_be_drawn_in_is_refused_and_not_kept(begun, fields, says):
    sent = keep(begun, **({"box:2:words": "rest"} | fields))
    assert sent.status_code == 422 and says in sent.text
    assert "A new look" not in begun.get("/looks").text
