"""Labels of a jar as a set: drawn, checked as placed, and booked with the words that stand on the paper."""

from __future__ import annotations

import pytest

from tests.cli.labels_of import LOTS, label_file, prints, season, text_in

SMALL = "letter-3x10-67x25"
MOVED = {"origin", "wording", "address", "best_before", "lot"}


@pytest.fixture
def label(tmp_path):
    return label_file(tmp_path)


def unsaid(ran) -> set[str]:
    return {one["role"] for one in ran.document["set"]["missing"]}


def test_a_front_that_holds_everything_is_a_set_by_itself(labelkit, label):
    ran = labelkit("labels", "--label", label, "--json")
    assert ran.code == 0
    assert ran.document["set"] == {"kinds": ["front"], "whole": True, "missing": []}
    assert ran.document["moved"] == [] and ran.document["file"] == "labels.pdf"


def test_a_front_without_room_for_a_required_word_is_not_printed_and_a_back_is_asked_for(labelkit, label, tmp_path):
    ran = labelkit("labels", "--label", label, "--sheet", SMALL, "--json")
    assert ran.code == 1 and ran.document["set"]["whole"] is False
    assert unsaid(ran) == MOVED == set(ran.document["moved"])
    assert all(one["kinds"][0] == "back" for one in ran.document["set"]["missing"])
    told = labelkit("labels", "--label", label, "--sheet", SMALL)
    assert "print a back as well, in the same print" in told.out and "--kind front,back" in told.out
    assert "the date mark" in told.out and not list(tmp_path.glob("*.pdf"))


def test_front_and_back_are_drawn_each_in_a_file_and_checked_together(labelkit, label):
    ran = labelkit(
        "labels", "--label", label, "--kind", "front,back", "--sheet", f"front={SMALL}", "--count", "12", "--json"
    )
    assert ran.code == 0, ran.out
    assert ran.document["set"]["whole"] and unsaid(ran) == set()
    files = [(one["kind"], one["file"], one["sheet"], one["labels"]) for one in ran.document["files"]]
    assert files == [
        ("front", "labels-front.pdf", SMALL, 12),
        ("back", "labels-back.pdf", "letter-2x5-102x51", 12),
    ]
    front, back = text_in("labels-front.pdf"), text_in("labels-back.pdf")
    assert "Product of" not in front and back.count("Product of") == 12
    assert "453 g" in front and "453 g" not in back
    assert ran.document["labels"] == 24


def test_kinds_may_be_named_one_by_one(labelkit, label):
    both = labelkit("labels", "--label", label, "--kind", "front", "--kind", "back", "--json")
    assert both.document["set"]["kinds"] == ["front", "back"]


def test_a_lid_and_a_seal_do_not_make_a_set(labelkit, label):
    ran = labelkit("labels", "--label", label, "--kind", "front,lid,seal", "--sheet", f"front={SMALL}", "--json")
    # The lid and the seal of this jar have room for its date and lot, and for nothing else the small front left out.
    assert ran.code == 1 and unsaid(ran) == MOVED - {"best_before", "lot"}


def test_a_back_by_itself_is_printed_and_says_what_the_front_has_to_say(labelkit, label):
    ran = labelkit("labels", "--label", label, "--kind", "back", "--json")
    assert ran.code == 0 and ran.document["set"]["whole"] is None
    assert unsaid(ran) == {
        "name",
        "net",
    }  # 21 CFR 101.3 and 101.7: the name belongs on the front, though a back bears it
    assert any("--kind back,front" in note for note in ran.document["notes"])


def test_a_nutrition_label_is_held_to_the_jar_and_not_to_its_own_few_words(labelkit, label):
    alone = labelkit("labels", "--label", label, "--kind", "nutrition", "--json")
    assert alone.code == 1 and {"net", "lot", "address"} < unsaid(alone)  # it has no warning about infants
    both = labelkit("labels", "--label", label, "--kind", "front,nutrition", "--json")
    assert both.code == 0 and both.document["set"]["whole"]


@pytest.mark.parametrize(
    ("height", "sheet", "words"),
    [("40 mm", "letter-2x5-102x51", "50.8 mm high and the jar's side 40.0 mm"), ("52 mm", "letter-2x5-102x51", "")],
)
def test_a_front_too_high_for_the_jar_must_be_fixed(labelkit, tmp_path, height, sheet, words):
    wide = {"panel": {"diameter": "4 in", "height": height}}
    ran = labelkit("labels", "--label", label_file(tmp_path, wide), "--sheet", sheet, "--json")
    fixed = [note for note in ran.document["notes"] if note.startswith("Must be fixed")]
    assert (ran.code, bool(fixed)) == ((1, True) if words else (0, False)) and words in " ".join(fixed)


def test_what_was_printed_before_does_not_make_a_front_whole(labelkit, tmp_path):
    """Only the labels of one print are known to come onto the same jar."""
    season(labelkit)
    size = ("--size", "one pound", "--lot", LOTS[0])
    back = labelkit("labels", *size, "--kind", "back", "--json")
    assert back.code == 0 and back.document["set"]["whole"] is None
    front = labelkit("labels", *size, "--sheet", SMALL, "--out", "front.pdf", "--json")
    assert front.code == 1 and unsaid(front) == MOVED and front.document["file"] is None
    assert [one.label for one in prints()] == ["back"] and not (tmp_path / "front.pdf").exists()


@pytest.mark.parametrize("kind", ["front", "back", "wrap", "lid", "seal", "nutrition"])
@pytest.mark.parametrize("look", ["press", "meadow", "ledger", "ember", "almanac", "ridge"])
def test_the_warning_about_infants_is_in_every_print_or_nothing_is_printed(labelkit, label, tmp_path, kind, look):
    ran = labelkit("labels", "--label", label, "--kind", kind, "--design", look, "--count", "1")
    printed = (tmp_path / "labels.pdf").exists()
    assert printed == (ran.code == 0) and (not printed or "infants" in " ".join(text_in("labels.pdf").lower().split()))
    assert printed == (kind in ("front", "back", "wrap")), ran.out


def test_a_proof_is_printed_marked_and_not_booked(labelkit):
    season(labelkit)
    size = ("--size", "one pound", "--lot", LOTS[0])
    ran = labelkit("labels", *size, "--sheet", SMALL, "--proof", "--json")
    assert ran.code == 1 and ran.document["proof"] and "PROOF" in text_in("labels.pdf")
    assert labelkit("labels", *size, "--proof", "--out", "whole.pdf").code == 0 and "PROOF" in text_in("whole.pdf")
    assert prints() == []


def test_the_words_that_found_no_place_are_missing_by_the_law_as_well(labelkit, label):
    """What counts as said is what the placed labels bear: the findings name the law of each word that is not there."""
    ran = labelkit("labels", "--label", label, "--sheet", SMALL, "--json")
    stops = {one["rule"] for one in ran.document["findings"] if one["level"] == "stop"}
    assert {"us.maker.city", "us.maker.region", "us.maker.postcode"} <= stops
    whole = labelkit("labels", "--label", label, "--kind", "front,back", "--sheet", f"front={SMALL}", "--json")
    assert whole.code == 0 and not [one for one in whole.document["findings"] if one["level"] == "stop"]


@pytest.mark.parametrize("market", ["us", "uk", "au", "nz", "eu-de"])
def test_a_name_that_does_not_say_what_it_is_is_stopped_by_check_and_by_print(labelkit, tmp_path, market):
    """The caution that labelkit adds speaks of honey, and names nothing."""
    gold = label_file(tmp_path, {"market": [market], "name": "Summer Gold", "declares": "454 g"}, "gold.toml")
    checked = labelkit("check", gold, "--json")
    printed = labelkit("labels", "--label", gold, "--json")
    stops = [{one["rule"] for one in ran.document["findings"] if one["level"] == "stop"} for ran in (checked, printed)]
    assert stops[0] == stops[1] and any(".name." in rule for rule in stops[0])
    assert checked.code == printed.code == 1 and not list(tmp_path.glob("*.pdf"))


def test_the_record_keeps_the_words_that_stand_on_the_paper_and_no_others(labelkit):
    season(labelkit)
    labelkit("labels", "--size", "one pound", "--lot", LOTS[0], "--kind", "front,back", "--sheet", f"front={SMALL}")
    front, back = prints()
    assert (front.label, back.label) == ("front", "back")
    assert not [text for text in front.said if "Product" in text]
    assert [text for text in back.said if "Product" in text]
    assert not [text for text in back.said if "453 g" in text]
    assert front.wording != back.wording


def test_a_set_is_booked_as_one_step_and_once(labelkit):
    season(labelkit)
    for _ in range(2):
        line = ("labels", "--size", "one pound", "--lot", LOTS[0], "--kind", "front,back", "--once", "labels of today")
        assert labelkit(*line).code == 0
    assert len(prints()) == 2


@pytest.mark.parametrize(
    ("line", "words"),
    [
        (("--kind", "poster"), "“poster” is no kind of label"),
        (("--kind", "front,tag"), "A tag is printed by itself"),
        (("--kind", ","), "No kind of label is named"),
        (("--kind", "front,back", "--start-at", "3"), "A part-used sheet"),
        (("--kind", "front,back", "--spoiled", "3"), "spoiled labels are of one kind"),
        (("--sheet", "lid=letter-4x5-d51"), "is for a lid, and what is printed is front"),
        (("--kind", "front", "--bucket", "B1"), "--bucket does not go with a front label"),
        (("--kind", "front", "--per-case", "12"), "--per-case does not go with a front label"),
        (("--skip", "three"), "not a list of places"),
    ],
)
def test_what_makes_no_sense_is_refused_before_anything_is_written(labelkit, label, tmp_path, line, words):
    ran = labelkit("labels", "--label", label, *line)
    assert ran.code == 2 and words in ran.err
    assert not list(tmp_path.glob("*.pdf"))


@pytest.mark.parametrize(
    ("market", "sheet"), [("us-va", "letter-2x5-102x51"), ("ca", "letter-2x5-102x51"), ("eu-de", "a4-2x4-99x68")]
)
def test_the_usual_sheet_is_that_of_the_market(labelkit, tmp_path, market, sheet):
    name = "Honey / Miel" if market == "ca" else "Honig"
    ran = labelkit(
        "labels", "--label", label_file(tmp_path, {"market": market, "name": name, "declares": "500 g"}), "--json"
    )
    assert ran.document["sheet"] == sheet


def test_a_label_too_small_for_an_unknown_jar_asks_for_the_jar(labelkit, tmp_path):
    """21 CFR 101.7(i): the letters of the net quantity grow with the panel, up to 1/2 inch."""
    small = ("--sheet", "letter-2x5-102x51")
    unknown = labelkit("labels", "--label", label_file(tmp_path, {"panel": None}), *small)
    assert unknown.code == 2 and "say how large the jar is" in unknown.err
    tiny = labelkit("labels", "--label", label_file(tmp_path), "--sheet", "roll-30x15")
    assert tiny.code == 2 and "say how large the jar is" not in tiny.err
