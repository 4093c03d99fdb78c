"""A look of one's own: kept once, printed by its name, changed by what is typed beside it."""

from __future__ import annotations

import pytest

from labelkit.season.kept_look import look_named
from tests.cli.labels_of import label_file, prints, season

LOGO = '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 9 9"><rect width="9" height="9" fill="#22402D"/></svg>'
KEEP = (
    *("labels", "--design", "meadow", "--colour", "name=#1F3B2C", "--logo", "mark.svg"),
    *("--lot-bars", "datamatrix", "--sheet", "front=letter-3x3-64x76", "--keep-look", "stall"),
)
PRINT = ("--day", "2026-07-22", "labels", "--size", "one pound", "--lot", "L26201AXN")


@pytest.fixture
def kept(labelkit, tmp_path):
    season(labelkit)
    (tmp_path / "mark.svg").write_text(LOGO, encoding="utf-8")
    assert labelkit("--day", "2026-07-22", *KEEP, "--json").document == {"look": "stall"}
    (tmp_path / "mark.svg").unlink()


def test_a_kept_look_prints_as_it_was_typed_without_its_logo_file(labelkit, kept, tmp_path):
    assert labelkit(*PRINT, "--look", "stall").code == 0
    (one,) = prints()
    assert (one.design, one.sheet) == ("meadow", "letter-3x3-64x76")
    kept_so = (tmp_path / "labels.pdf").read_bytes()
    (tmp_path / "mark.svg").write_text(LOGO, encoding="utf-8")
    typed = KEEP[1:-2]
    assert labelkit(*PRINT, *typed, "--out", "typed.pdf").code == 0
    assert (tmp_path / "typed.pdf").read_bytes() == kept_so


def test_what_is_typed_beside_a_look_wins(labelkit, kept):
    assert labelkit(*PRINT, "--look", "stall", "--design", "press", "--sheet", "letter-2x5-102x51").code == 0
    assert (prints()[0].design, prints()[0].sheet) == ("press", "letter-2x5-102x51")


def test_the_list_names_it_and_the_record_does_not_show_the_bytes_of_its_files(labelkit, kept):
    assert labelkit("labels", "--list", "--json").document["looks"] == [{"name": "stall", "design": "meadow"}]
    assert "base64" not in labelkit("record", "events").out


def test_a_look_nobody_kept_and_one_that_cannot_be_drawn_are_refused(labelkit, tmp_path):
    season(labelkit)
    gone = labelkit("labels", "--size", "one pound", "--lot", "L26201AXN", "--look", "stall", "--json")
    assert gone.code == 2 and gone.error["name"] == "LookUnknown" and not list(tmp_path.glob("*.pdf"))
    assert labelkit("labels", "--design", "nosuch", "--keep-look", "stall").code == 2
    assert labelkit("labels", "--list", "--json").document["looks"] == []


def test_a_kept_look_reads_back_as_it_was(labelkit, kept):
    from labelkit.record import open_record

    with open_record("season.labelkit", to_read=True) as book:
        held = look_named(book, "stall")
    assert held["logo"] == ("mark.svg", LOGO.encode()) and held["colours"] == {"name": "#1F3B2C"}


def test_a_look_may_be_kept_with_a_print_from_a_label_file(labelkit, tmp_path):
    season(labelkit)
    name = label_file(tmp_path)
    assert labelkit("labels", "--label", name, "--design", "ridge", "--keep-look", "hill").code == 0
    assert (tmp_path / "labels.pdf").exists()


def test_a_look_may_be_kept_in_the_step_that_books_a_print_in_it(labelkit):
    season(labelkit)
    assert labelkit(*PRINT, "--design", "ridge", "--keep-look", "hill").code == 0
    assert prints()[0].design == "ridge"
    assert labelkit("labels", "--list", "--json").document["looks"] == [{"name": "hill", "design": "ridge"}]


def test_less_ink_is_a_part_of_the_look_and_the_answer_says_what_a_sheet_takes(labelkit):
    season(labelkit)
    full = labelkit(*PRINT, "--design", "ember", "--proof", "--json").document["ink"][0]
    assert full["percent"] > 30 and full["with_less"] * 4 < full["percent"]
    assert labelkit("labels", "--design", "ember", "--ink", "less", "--keep-look", "thrifty").code == 0
    thrifty = labelkit(*PRINT, "--look", "thrifty", "--proof", "--json").document["ink"][0]
    assert thrifty == {"kind": "front", "percent": full["with_less"], "with_less": None}
