"""The maker's own artwork on the command line: by kind, with boxes, in a kept look, for a print shop."""

from __future__ import annotations

from decimal import Decimal

import pytest
from PIL import Image, ImageDraw

from labelkit.errors.labels import ArtworkUnreadable
from tests.cli.labels_of import label_file, text_in

BOXES = """
[[box]]
words = ["rest"]
left = "3 mm"
top = "3 mm"
width = "95 mm"
height = "44 mm"
ground = "#FFFFFF"
"""


@pytest.fixture
def files(tmp_path):
    Image.new("RGB", (408, 204), "#F6E8C8").save(tmp_path / "plain.png")
    busy = Image.new("RGB", (408, 204), "#F6E8C8")
    for x in range(0, 408, 8):
        ImageDraw.Draw(busy).rectangle((x, 0, x + 3, 204), fill="#101010")
    busy.save(tmp_path / "busy.jpg")
    (tmp_path / "boxes.toml").write_text(BOXES, encoding="utf-8")
    return label_file(tmp_path)


def labels(labelkit, label, *more: str):
    return labelkit("labels", "--label", label, "--sheet", "letter-2x5-102x51", *more, "--json")


def test_words_stand_on_a_plain_picture_and_the_answer_says_how(labelkit, files):
    ran = labels(labelkit, files, "--artwork", "plain.png")
    (one,) = ran.document["artwork"]
    assert ran.code == 0 and (one["kind"], one["file"]) == ("front", "plain.png")
    assert Decimal(one["contrast"]) >= Decimal("4.5") and len(one["over_mm"]) == 2
    assert "453 g" in text_in("labels.pdf")


def test_a_busy_picture_is_refused_with_figures_and_nothing_is_written(labelkit, files, tmp_path):
    ran = labels(labelkit, files, "--artwork", "busy.jpg")
    assert ran.code == 2 and ran.error["name"] == ArtworkUnreadable.__name__ and "to 1" in ran.error["what"]
    assert not list(tmp_path.glob("labels*"))


@pytest.mark.parametrize("how", [("--artwork-ground", "#FFF8E7"), ("--artwork-boxes", "boxes.toml"), ("--art", "pdf")])
def test_a_ground_or_a_box_makes_it_readable(labelkit, files, how):
    more = (*how, "--artwork-ground", "#FFF8E7") if how[0] == "--art" else how
    ran = labels(labelkit, files, "--artwork", "busy.jpg", *more)
    assert ran.code == 0, ran.err
    assert ran.document["artwork"][0]["boxes"][0]["left_mm"] != "0"


def test_each_kind_of_a_set_has_its_own_picture(labelkit, files):
    ran = labelkit(
        "labels",
        "--label",
        files,
        "--kind",
        "front,lid",
        "--artwork",
        "plain.png",
        "--artwork",
        "lid=plain.png",
        "--json",
    )
    assert [one["kind"] for one in ran.document["artwork"]] == ["front", "lid"]


def test_a_kept_look_brings_its_artwork_without_the_file(labelkit, files, tmp_path):
    look = ("--artwork", "busy.jpg", "--artwork-boxes", "boxes.toml", "--keep-look", "stall")
    assert labels(labelkit, files, *look).code == 0
    (tmp_path / "busy.jpg").unlink()
    (tmp_path / "boxes.toml").unlink()
    assert labels(labelkit, files, "--look", "stall").document["artwork"][0]["boxes"][0]["width_mm"] == "95"


@pytest.mark.parametrize(
    ("more", "says"),
    [
        (("--artwork-ground", "#FFFFFF"), "name the picture with --artwork"),
        (("--artwork", "plain.png", "--artwork-ground", "blue"), "is not a colour like"),
        (("--artwork", "plain.png", "--artwork-ground", "#FFFFFF", "--artwork-boxes", "boxes.toml"), "its own grounds"),
        (("--artwork", "lid=plain.png"), "--artwork lid=plain.png is for a lid"),
        (("--artwork", "none.png"), "none.png"),
    ],
)
def test_what_does_not_go_together_is_refused(labelkit, files, more, says):
    ran = labels(labelkit, files, *more)
    assert ran.code == 2 and says in ran.err


def test_a_price_card_stands_on_artwork_too(labelkit, files):
    ran = labelkit("labels", "--label", files, "--kind", "card", "--price", "12", "--artwork", "plain.png", "--json")
    assert ran.code == 0 and ran.document["artwork"][0]["kind"] == "card"


def test_a_run_of_many_lots_carries_the_picture_once(labelkit, files, tmp_path):
    lots = ",".join(f"L26195A{a}{b}" for a in "ABC" for b in "234567")
    assert labels(labelkit, files, "--artwork", "plain.png", "--lots", lots, "--out", "many.pdf").code == 0
    assert labels(labelkit, files, "--artwork", "plain.png", "--out", "one.pdf").code == 0
    assert (tmp_path / "many.pdf").read_bytes().count(b"/Subtype /Image") == 1
    assert all(lot in text_in("many.pdf") for lot in lots.split(","))
