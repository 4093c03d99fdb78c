"""A bar code or square code by itself, as a scanner reads it."""

from __future__ import annotations

import pytest

from tests.cli.labels_of import codes_in

# GS1's own example company prefix 952 is for use in examples. Check digits by hand: 952123454321 weighs 77, so 3;
# 1952123454321 weighs 80, so 0. EAN-8 and UPC-A: the two numbers GS1's readers commonly meet.
JAR, CASE = "9521234543213", "19521234543210"
LOT = "L26201AXN"


@pytest.mark.parametrize("dpi", ["300", "600"])
@pytest.mark.parametrize(
    ("line", "symbol", "says"),
    [
        (("--number", JAR), "EAN13", JAR),
        (("--number", "036000241457"), "UPCA", "0036000241457"),
        (("--number", "95012346"), "EAN8", "95012346"),
        (("--own-till", "17"), "EAN13", "0400000000176"),
        (("--lot", LOT), "Code128", LOT),
        (("--lot", LOT, "--as", "datamatrix"), "DataMatrix", LOT),
        (("--lot", LOT, "--as", "qr"), "QRCode", LOT),
        (("--number", JAR, "--lot", LOT), "Code128", f"(01)0{JAR}(10){LOT}"),
        (("--number", CASE), "Code128", f"(01){CASE}"),
        (("--number", CASE, "--lot", LOT, "--as", "datamatrix"), "DataMatrix", f"(01){CASE}(10){LOT}"),
        (("--number", JAR, "--as", "qr"), "QRCode", f"https://id.gs1.org/01/0{JAR}"),
        (
            ("--number", JAR, "--lot", LOT, "--link", "https://honey.example"),
            "QRCode",
            f"https://honey.example/01/0{JAR}/10/{LOT}",
        ),
        (("--link", "https://honey.example/ours"), "QRCode", "https://honey.example/ours"),
        (("--link", "https://honey.example/ours", "--as", "datamatrix"), "DataMatrix", "https://honey.example/ours"),
        (("--text", "Miel d’été", "--level", "H"), "QRCode", "Miel d’été"),
    ],
)
def test_every_symbol_reads_back(labelkit, line, symbol, says, dpi):
    ran = labelkit("barcode", *line, "--dpi", dpi, "--json")
    assert ran.code == 0, ran.err
    found = codes_in("barcode.pdf", dpi=int(dpi))
    assert found in ({(symbol, says): 1}, {("EAN13", says): 1}), found


def test_the_symbol_is_a_whole_number_of_dots_and_its_page_ends_with_its_quiet_zones(labelkit):
    """GS1 General Specifications 5.12.3: 95 modules and quiet zones of 11 and 7, and one to spare on either side; 8 dots at 600 dpi are 0.3387 mm."""
    said = labelkit("barcode", "--number", JAR, "--json").document
    assert (said["dots"], said["module_mm"], said["quiet_modules"]) == (8, "0.3387", [11, 7])
    assert round(float(said["width_mm"]), 1) == round(115 * 8 * 25.4 / 600, 1)


def test_on_a_round_jar_the_bars_become_as_narrow_as_the_curve_asks(labelkit):
    """A sixth of the way round a jar of 55 mm is 28.8 mm: 0.303 mm a module at most, seven dots of 600 dpi."""
    ran = labelkit("barcode", "--number", JAR, "--jar-diameter", "55 mm", "--json")
    assert ran.document["dots"] == 7 and any("narrower than the usual" in note for note in ran.document["notes"])
    assert codes_in("barcode.pdf") == {("EAN13", JAR): 1}
    narrow = labelkit("barcode", "--number", JAR, "--jar-diameter", "40 mm")
    assert narrow.code == 2 and "the maximum is 20.9 mm" in narrow.err
    wished = labelkit("barcode", "--number", JAR, "--jar-diameter", "55 mm", "--module", "0.33 mm")
    assert wished.code == 2 and "modules of at most 0.303 mm" in wished.err


def test_a_module_narrower_than_the_standard_is_not_printed_unsaid(labelkit):
    """GS1 General Specifications 5.12.3: 0.264 mm at least; seven dots of 600 dpi are 0.2963 mm, six only 0.2540."""
    told = labelkit("barcode", "--number", JAR, "--module", "0.2 mm").out
    assert "0.2 mm was asked for; the nearest one allowed, in whole dots, is 0.2963 mm" in told
    assert "asked for" not in labelkit("barcode", "--number", JAR, "--module", "0.34 mm").out


def test_low_bars_and_a_number_of_one_s_own_till_come_with_what_must_be_known(labelkit):
    low = labelkit("barcode", "--own-till", "17", "--high", "12 mm").out
    assert "works at your own till only" in low and "18.28 mm high" in low


@pytest.mark.parametrize(
    ("line", "words"),
    [
        ((), "Say what the symbol is to hold"),
        (("--lot", LOT, "--text", "x"), "one of them"),
        (("--number", "9521234543214"), "the check digit of the other digits is 3"),
        (("--number", JAR, "--lot", LOT, "--as", "till"), "A till symbol holds the number alone"),
        (("--number", JAR, "--as", "code128"), "--as till (a jar) or --as gs1-128"),
        (("--number", JAR, "--text", "x"), "two symbols"),
        (("--number", "0400000000176", "--as", "qr"), "is an in-store number"),
        (("--own-till", "17", "--lot", LOT), "stands by itself"),
        (("--lot", LOT, "--as", "gs1-128"), "give --number"),
        (
            (
                "--lot",
                "Grüße",
            ),
            "cannot be encoded as Code 128",
        ),
        (("--text", "x" * 300), "300 bytes"),
    ],
)
def test_what_makes_no_symbol_is_refused(labelkit, tmp_path, line, words):
    ran = labelkit("barcode", *line)
    assert ran.code == 2 and words in ran.err
    assert not list(tmp_path.glob("*.pdf"))
