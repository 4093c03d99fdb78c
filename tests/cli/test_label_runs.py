"""Many lots in one run, the codes on labels as a scanner reads them, and printers and sheets kept by name."""

from __future__ import annotations

from collections import Counter

import pytest

from tests.cli.labels_of import LOTS, codes_in, label_file, prints, season, text_in

# GS1's own example company prefix 952 is for use in examples; its check digit by hand: 77 wants 3.
JAR = "9521234543213"


@pytest.fixture
def label(tmp_path):
    return label_file(tmp_path)


def lots_on(file: str, lots) -> Counter:
    said = text_in(file)
    return Counter({lot: said.count(f"Lot {lot}") for lot in lots})


def test_lots_from_a_spreadsheet_each_as_often_as_it_says(labelkit, label, tmp_path):
    (tmp_path / "lots.csv").write_text(
        "\ufeffLot;Count;Note\r\nL26195AXR;3;first\r\n;;\r\nL26201AXN;2;\r\nL26202VKV;;\r\n"
    )
    ran = labelkit("labels", "--label", label, "--lots", "lots.csv", "--json")
    assert ran.code == 0, ran.err
    assert ran.document["lots"] == [
        {"lot": "L26195AXR", "labels": 3},
        {"lot": "L26201AXN", "labels": 2},
        {"lot": "L26202VKV", "labels": 1},
    ]
    assert lots_on("labels.pdf", ["L26195AXR", "L26201AXN", "L26202VKV"]) == {
        "L26195AXR": 3,
        "L26201AXN": 2,
        "L26202VKV": 1,
    }
    assert ran.document["labels"] == 6


@pytest.mark.parametrize(("squares", "kind"), [("qr", "QRCode"), ("datamatrix", "DataMatrix")])
def test_every_label_of_a_run_carries_its_own_codes(labelkit, label, squares, kind):
    ran = labelkit(
        "labels",
        "--label",
        label,
        "--lots",
        "L26195AXR,L26201AXN",
        "--sheet",
        "letter-2x3-102x85",
        "--link",
        "HTTPS://EXAMPLE.COM/L/{lot}",
        "--squares",
        squares,
        "--count",
        "2",
        "--lot-bars",
        "code128",
    )
    assert ran.code == 0, ran.err
    codes = codes_in("labels.pdf")
    for lot in ("L26195AXR", "L26201AXN"):
        assert codes[kind, f"HTTPS://EXAMPLE.COM/L/{lot}"] == 2
        assert codes["Code128", lot] == 2


@pytest.mark.parametrize("kind", ["front", "back"])
def test_a_run_prints_what_single_prints_would(labelkit, label, kind):
    labelkit("labels", "--label", label, "--lots", ",".join(LOTS), "--kind", kind, "--number", JAR, "--out", "run.pdf")
    together = codes_in("run.pdf")
    for lot in LOTS:
        labelkit("labels", "--label", label, "--lot", lot, "--kind", kind, "--number", JAR, "--count", "1")
        together.subtract(codes_in("labels.pdf"))
    assert not +together and not -together


def test_cut_lines_are_drawn_in_a_run_too(labelkit, label):
    plain = labelkit("labels", "--label", label, "--lots", ",".join(LOTS), "--out", "plain.pdf", "--json").document
    cut = labelkit(
        "labels", "--label", label, "--lots", ",".join(LOTS), "--cut-lines", "--out", "cut.pdf", "--json"
    ).document
    assert plain["labels"] == cut["labels"] == 2
    assert codes_in("cut.pdf") == codes_in("plain.pdf")


def test_every_lot_of_the_record_gets_as_many_labels_as_jars_and_each_is_booked(labelkit):
    season(labelkit)
    ran = labelkit("labels", "--size", "one pound", "--every-lot", "--once", "all", "--json")
    assert ran.code == 0 and ran.document["labels"] == 45
    again = labelkit("labels", "--size", "one pound", "--every-lot", "--once", "all")
    assert again.code == 0
    booked = [(one.lot, one.size, one.label, one.count) for one in prints()]
    assert booked == [(LOTS[0], "one pound", "front", 31), (LOTS[1], "one pound", "front", 14)]
    assert [f"Lot {lot}" in one.said for lot, one in zip(LOTS, prints(), strict=True)] == [True, True]
    due = labelkit("today", "--json").document["due"]
    assert [one["about"] for one in due if one["verb"] == "labels"] == [f"{LOTS[1]}=half pound"]


def test_a_run_is_stopped_where_a_single_print_is(labelkit):
    season(labelkit)
    small = ("--sheet", "letter-3x10-67x25", "--json")
    many = labelkit("labels", "--size", "one pound", "--every-lot", *small)
    one = labelkit("labels", "--size", "one pound", "--lot", LOTS[0], *small)
    assert many.code == one.code == 1 and prints() == []
    assert many.document["findings"] == one.document["findings"]
    missing = [[part["role"] for part in ran.document["set"]["missing"]] for ran in (many, one)]
    assert missing[0] == missing[1] != []


@pytest.mark.parametrize(
    ("line", "words"),
    [
        (("--lots", ","), "there is no lot in it"),
        (("--lots", "none.csv"), "no such file"),
        (("--lots", "odd.csv"), "no heading is “lot”"),
        (("--lots", "minus.csv"), "line 3: “L26202VKV,-4” is not a lot and a count"),
        (("--lots", "L1", "--count", "100000", "--lots", "L1,L2"), "200,000 labels are asked for"),
        (("--lots", "L1,L2", "--lot", "L3"), "--lot and --spoiled have no meaning"),
        (("--lots", "L1,L2", "--every-lot"), "give one of them"),
        (("--every-lot",), "name the jars with --size"),
        (("--lots", "L26201AXM", "--size", "one pound"), "L26201AXM"),
        (("--every-lot", "--size", "gallon"), "gallon"),
    ],
)
def test_lots_that_are_not_clear_are_refused(labelkit, label, tmp_path, line, words):
    season(labelkit)
    (tmp_path / "odd.csv").write_text("batch,count\nL1,2\n")
    (tmp_path / "minus.csv").write_text("lot,count\nL26201AXN,4\nL26202VKV,-4\n")
    ran = labelkit("labels", "--label", label, *line)
    assert ran.code == 2 and words in ran.err
    assert not list(tmp_path.glob("*.pdf")) and prints() == []


def test_jars_of_one_name_and_two_weights_are_not_given_one_label(labelkit):
    season(labelkit)
    labelkit("--day", "2026-07-22", "weigh", "--bucket", "B9", "--net", "10 kg")
    labelkit("--day", "2026-07-22", "price", "--set", "one pound", "--declares", "15 oz", "--price", "12.00")
    labelkit("--day", "2026-07-22", "bottle", "--bucket", "B9", "--jar", "one pound=5")
    ran = labelkit("labels", "--size", "one pound", "--every-lot")
    assert ran.code == 2 and "one label cannot say both" in ran.err


def test_a_run_that_is_stopped_leaves_no_half_file_and_books_nothing(labelkit, tmp_path, monkeypatch):
    season(labelkit)
    from labelkit.labels.batch import BatchWriter

    def stopped(self, labels):
        raise KeyboardInterrupt

    monkeypatch.setattr(BatchWriter, "draw", stopped)
    ran = labelkit("labels", "--size", "one pound", "--every-lot")
    assert ran.code == 130 and "Stopped" in ran.err
    assert (
        sorted(path.suffix for path in tmp_path.iterdir() if "labels" in path.name and "labelkit" not in path.name)
        == []
    )
    assert prints() == []


def test_a_file_that_is_being_written_when_it_is_stopped_is_not_left_behind(labelkit, label, tmp_path, monkeypatch):
    import os

    def stopped(handle):
        raise KeyboardInterrupt

    before = sorted(tmp_path.iterdir())
    monkeypatch.setattr(os, "fsync", stopped)
    assert labelkit("labels", "--label", label).code == 130
    assert sorted(tmp_path.iterdir()) == before


def test_a_number_of_one_s_own_till_is_printed_with_its_caution(labelkit, label):
    ran = labelkit("labels", "--label", label, "--kind", "back", "--own-till", "17", "--count", "1", "--json")
    # GS1 General Specifications 2.1.13.2: 04 for use within one company; check digit by hand: 4x3 + 1x1... 04 0000000017.
    assert codes_in("labels.pdf")["EAN13", "0400000000176"] == 1
    assert sum("works at your own till only" in note for note in ran.document["notes"]) == 1
    wrap = labelkit("labels", "--label", label, "--kind", "wrap", "--own-till", "17", "--json")
    assert sum("works at your own till only" in note for note in wrap.document["notes"]) == 1


def test_a_till_number_that_stands_on_no_label_is_told(labelkit, label):
    told = labelkit("labels", "--label", label, "--number", JAR).out
    assert f"The till number {JAR} stands on none of these labels: it goes on a back or a wrap" in told
    assert "stands on none" not in labelkit("labels", "--label", label, "--number", JAR, "--kind", "front,back").out


def test_a_digital_link_says_number_and_lot(labelkit, label):
    """GS1 Digital Link: URI Syntax 1.2: the GTIN in fourteen digits under 01, the lot under 10."""
    line = (
        "labels",
        "--label",
        label,
        "--kind",
        "back",
        "--number",
        JAR,
        "--digital-link",
        "--sheet",
        "letter-2x3-102x85",
    )
    assert labelkit(*line, "--lot", LOTS[0], "--count", "1").code in (0, 1)
    assert codes_in("labels.pdf")["QRCode", f"https://id.gs1.org/01/0{JAR}/10/{LOTS[0]}"] == 1
    labelkit(*line, "--lots", ",".join(LOTS), "--link", "https://honey.example")
    codes = codes_in("labels.pdf")
    assert [codes["QRCode", f"https://honey.example/01/0{JAR}/10/{lot}"] for lot in LOTS] == [1, 1]


@pytest.mark.parametrize(
    ("line", "words"),
    [
        (("--number", "9521234543214"), "the check digit of the other digits is 3"),
        (("--number", "19521234543210"), "a till symbol (8, 12 or 13 digits)"),
        (("--number", JAR, "--own-till", "17"), "a jar has one"),
        (("--own-till", "12345678901"), "one to ten digits"),
        (("--digital-link",), "give --number"),
        (("--own-till", "17", "--digital-link"), "is an in-store number"),
    ],
)
def test_a_number_that_is_none_is_refused(labelkit, label, tmp_path, line, words):
    ran = labelkit("labels", "--label", label, *line)
    assert ran.code == 2 and words in ran.err and not list(tmp_path.glob("*.pdf"))


def test_the_curve_of_a_narrow_jar_is_told(labelkit, tmp_path):
    """A sixth of the way round a jar of 40 mm is 20.9 mm; the bars of a lot of nine signs are some 28 mm wide."""
    flat = {"diameter": None, "width": "2.5 in", "height": "4 in"}
    line = (
        "labels",
        "--label",
        label_file(tmp_path, {"panel": flat}),
        "--lot",
        LOTS[0],
        "--sheet",
        "letter-2x3-102x85",
        "--lot-bars",
        "code128",
    )
    assert "on a jar of 40 mm across 20.9 mm is the most" in labelkit(*line, "--jar-diameter", "40 mm").out
    assert "the maximum is" not in labelkit(*line).out


def test_a_printer_kept_by_name_prints_as_its_options_do(labelkit, label):
    season(labelkit)
    kept = labelkit(
        "ruler", "--page", "a4", "--measured", "150.2, 199.8, 30.4, 48.3", "--keep", "office", "--json"
    ).document
    assert kept["kept"] == "office"
    # By hand: 150 / 150.2 and 200 / 199.8
    assert (kept["scale_across"], kept["scale_up"]) == ("0.998668", "1.001001")
    import shlex

    assert labelkit("labels", "--label", label, "--out", "typed.pdf", *shlex.split(kept["options"])).code == 0
    assert labelkit("labels", "--label", label, "--out", "kept.pdf", "--printer", "office").code == 0
    with open("typed.pdf", "rb") as typed, open("kept.pdf", "rb") as named:
        assert typed.read() == named.read()
    assert "office" in labelkit("ruler", "--list").out
    twice = labelkit("labels", "--label", label, "--printer", "office", "--nudge-up", "1 mm")
    assert twice.code == 2 and "brings its own correction" in twice.err
    assert "It has: office" in labelkit("labels", "--label", label, "--printer", "kitchen").err


def test_a_printer_can_only_be_kept_when_it_was_measured(labelkit):
    assert "nothing to keep for office yet" in labelkit("ruler", "--keep", "office").err
    assert labelkit("ruler", "--list").out.strip() == "No printer is kept yet."


SHEET = (
    "sheet",
    "--page",
    "a4",
    "--across",
    "2",
    "--down",
    "4",
    "--wide",
    "95 mm",
    "--high",
    "62 mm",
    "--left",
    "8 mm",
    "--top",
    "20 mm",
    "--step-right",
    "99 mm",
    "--step-down",
    "66 mm",
)


def test_a_sheet_kept_by_name_prints_as_its_file_does(labelkit, label):
    season(labelkit)
    assert labelkit(*SHEET, "--out", "mine.toml", "--keep", "my paper").code == 0
    labelkit("labels", "--label", label, "--sheet-file", "mine.toml", "--out", "file.pdf")
    ran = labelkit("labels", "--label", label, "--sheet", "my paper", "--out", "kept.pdf", "--json")
    assert ran.document["labels"] == 8
    with open("file.pdf", "rb") as from_file, open("kept.pdf", "rb") as named:
        assert from_file.read() == named.read()


def test_a_sheet_of_one_s_own_does_not_take_the_name_of_another(labelkit):
    season(labelkit)
    assert "a sheet of the catalogue" in labelkit(*SHEET, "--keep", "letter-2x5-102x51").err


def test_a_continuous_roll_prints_a_page_for_each_label_and_names_its_length(labelkit, label):
    ran = labelkit("labels", "--label", label, "--sheet", "roll-62", "--count", "2", "--json")
    assert ran.code == 0, ran.err
    import pypdfium2

    document = pypdfium2.PdfDocument("labels.pdf")
    high = int(ran.document["sheet"].rpartition("x")[2])
    assert (len(document), round(document[0].get_height() * 25.4 / 72)) == (2, high)
