"""Filling day on the command line: weights in, a verdict out, an exit code that says whether the lot fails."""

from pathlib import Path

import pytest

GROSS = ["666.2", "664.1", "667.0", "665.9", "663.8", "665.3", "668.1", "664.7", "666.4", "665.0", "665.6", "666.0"]
KEYS = {"verdict", "mean_g", "stdev_g", "limit_g", "short_jars", "allowed_short", "sample_needed"}


def fill_test(labelkit, *arguments: str):
    return labelkit("reckon", "fill-test", *arguments, "--json")


def test_one_lot_passes_under_one_label_and_fails_under_the_rounded_one(labelkit):
    Path("gross.txt").write_text("\n".join(GROSS))
    lot = ("--market", "us", "--lot-size", "200", "--weights", "gross.txt", "--tare", "212.7 g")
    passed, failed = (fill_test(labelkit, "--declare", label, *lot) for label in ("1 lb", "454 g"))
    assert (passed.code, passed.document["verdict"]) == (0, "pass")
    assert (failed.code, failed.document["verdict"]) == (1, "fail")
    assert set(passed.document) >= KEYS | {"average_error_g", "sample_error_limit_g"}
    assert passed.document["average_error_g"] == "-0.625"
    assert passed.document["sample_error_limit_g"] == "0.7692"
    assert failed.document["average_error_g"] == "-1.025"


def test_weights_one_by_one(labelkit):
    weights = [part for grams in ("340.5 g", "339.8 g", "341 g") for part in ("--weight", grams)]
    found = fill_test(labelkit, "--declare", "340 g", "--market", "uk", "--lot-size", "24", *weights)
    assert found.code == 0
    assert (found.document["verdict"], found.document["sample_needed"], found.document["weigh_more"]) == ("ask", 24, 21)


def test_a_spreadsheet_of_a_german(labelkit):
    Path("glas.csv").write_text("\ufeffGlas;netto (g)\n1;500,4\n2;499,9\n3;500,2\nMittel;500,2\n", encoding="utf-8")
    found = labelkit(
        "--locale",
        "de_DE",
        "reckon",
        "fill-test",
        "--declare",
        "500 g",
        "--market",
        "eu-de",
        "--lot-size",
        "3",
        "--weights",
        "glas.csv",
        "--json",
    )
    assert (found.document["verdict"], found.document["mean_g"]) == ("pass", "500.1667")


def test_which_jars_and_what_to_do(labelkit):
    weights = [part for grams in ("341 g", "319 g") for part in ("--weight", grams)]
    command = ("--declare", "340 g", "--market", "uk", "--lot-size", "2", *weights)
    found = fill_test(labelkit, *command)
    assert found.code == 1 and found.document["short_jars"] == 1
    assert found.document["which_jars"][0]["jar"] == 2
    assert "may not be sold" in found.document["which_jars"][0]["do"]
    text = labelkit("reckon", "fill-test", *command).out
    assert "The lot fails: jar 2" in text and "Check your local rules." in text and "legal for trade" in text


def test_before_weighing_it_says_how_many_to_weigh(labelkit):
    found = fill_test(labelkit, "--declare", "1 lb", "--market", "us", "--lot-size", "300")
    assert (found.document["verdict"], found.document["sample_needed"]) == ("ask", 24)
    assert (
        "Weigh 24 of the 300 jars"
        in labelkit("reckon", "fill-test", "--declare", "1 lb", "--market", "us", "--lot-size", "300").out
    )


def test_a_chart_is_drawn_on_request(labelkit):
    Path("w.txt").write_text("454\n455\n453.5\n")
    found = fill_test(
        labelkit, "--declare", "1 lb", "--market", "us", "--lot-size", "3", "--weights", "w.txt", "--chart", "w.svg"
    )
    assert found.document["verdict"] == "pass"
    assert Path("w.svg").read_text(encoding="utf-8").startswith("<svg")


@pytest.mark.parametrize("market", ["us", "us-va", "eu", "eu-de", "uk", "ca", "au", "nz"])
def test_every_market_judges_a_generous_lot_well_and_an_empty_handed_one_badly(labelkit, market):
    Path("good.txt").write_text("\n".join(f"{505 + n % 3}.0" for n in range(12)))
    Path("bad.txt").write_text("\n".join(f"{465 + n % 3}.0" for n in range(12)))
    lot = ("--declare", "500 g", "--market", market, "--lot-size", "12", "--weights")
    assert fill_test(labelkit, *lot, "good.txt").document["verdict"] == "pass"
    assert fill_test(labelkit, *lot, "bad.txt").document["verdict"] == "fail"


@pytest.mark.parametrize(
    ("arguments", "name"),
    [
        (("--weight", "340 g", "--weight", "12 oz"), "WeightsInMixedUnits"),
        (("--weight", "341", "--weight", "3.4"), "WeightFarFromLabel"),
        (("--weight", "341 g", "--tare=-5 g"), "TareImpossible"),
        (("--weights", "missing.txt"), "FileUnreadable"),
        (("--weight", "341 g", "--system", "AQS"), "LotTestUnknown"),
    ],
)
def test_slips_of_filling_day_are_asked_about(labelkit, arguments, name):
    ran = fill_test(labelkit, "--declare", "340 g", "--market", "uk", "--lot-size", "24", *arguments)
    assert (ran.code, ran.error["name"]) == (2, name)


def test_a_fill_margin_from_past_runs_and_what_a_gram_costs(labelkit):
    for name, extra in (("july", 0), ("august", 1), ("may", 2)):
        Path(f"{name}.txt").write_text("\n".join(str(342 + extra + (n * 5 % 7) - 3) for n in range(12)))
    runs = [part for name in ("july", "august", "may") for part in ("--run", f"{name}.txt")]
    document = labelkit(
        "reckon",
        "fill-margin",
        "--declare",
        "340 g",
        "--market",
        "uk",
        "--lot-size",
        "24",
        *runs,
        "--target",
        "342 g",
        "--sure",
        "99",
        "--price-per-kg",
        "24.00",
        "--json",
    ).document
    assert float(document["passes_at_least_percent"]) >= 99
    assert float(document["margin_g"]) > 0
    assert (document["each_gram_costs"], document["currency"]) == ("0.58", "USD")


def test_a_fill_margin_from_a_given_spread(labelkit):
    ran = labelkit(
        "reckon", "fill-margin", "--declare", "340 g", "--market", "uk", "--lot-size", "24", "--spread", "2 g"
    )
    assert "Fill to 340.7 g net" in ran.out and "not one that was weighed" in ran.out


SEASON = """
currency = "USD"
market = ["us"]
[[bucket]]
id = "B1"
gross = "28.4 kg"
tare = "1.1 kg"
moisture = 17.6
[[jar]]
id = "one pound"
declares = "1 lb"
price = "12.00"
cost = "1.35"
"""


def test_the_run_sheet_of_a_season_file(labelkit):
    Path("lots.toml").write_text(SEASON)
    command = (
        "--day",
        "2026-07-14",
        "run-sheet",
        "lots.toml",
        "--tare",
        "one pound=212.7 g",
        "--margin",
        "one pound=1.5 g",
    )
    document = labelkit(*command, "--json").document
    line = document["buckets"][0]["lines"][0]
    # 453.592 + 212.7 is 666.292; with the margin 667.792; both up to the next gram. 12 of a lot of 60 are weighed.
    assert (line["good_from_g"], line["fill_until_g"], line["good_to_g"], line["weigh"]) == ("667", "668", "670", 12)
    assert document["buckets"][0]["lot"] == "L26195AXR"
    assert Path("run-sheet.pdf").read_bytes().startswith(b"%PDF")
    assert "legal for trade" in labelkit(*command).out
    assert "set the scale to zero" in labelkit("run-sheet", "lots.toml", "--page", "a4").out


def test_a_run_sheet_of_a_jar_nobody_has_is_refused(labelkit):
    Path("lots.toml").write_text(SEASON)
    ran = labelkit("run-sheet", "lots.toml", "--tare", "quart=300 g", "--json")
    assert (ran.code, ran.error["name"]) == (2, "JarSizeUnknown")
    assert not Path("run-sheet.pdf").exists()
