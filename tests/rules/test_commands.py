"""The legal figures on the command line: exactly the keys of the command contract, and the doubt said in words."""

from __future__ import annotations

import json

import pytest

from labelkit.cli._runner import run

DAY = ("--day", "2026-11-25")


@pytest.fixture
def labelkit(capsys):
    """Run labelkit on one fixed day; the exit code and the two streams."""

    def call(*arguments: str):
        capsys.readouterr()
        code = run([*DAY, *arguments])
        out, err = capsys.readouterr()
        return code, out, err

    return call


@pytest.mark.parametrize(
    ("command", "keys"),
    [
        ("net-weight --declare|1 lb|--market|us", {"statements", "customary", "metric_g", "fill_at_least_g"}),
        (
            "letter-height --market|us|--diameter|2.5 in|--height|3.5 in",
            {"panel_area_cm2", "net_quantity_mm", "other_text_mm", "measured_on"},
        ),
        ("tolerance --declare|340 g|--market|eu", {"tolerance_g", "t1_g", "t2_g"}),
        ("tolerance --declare|340 g|--market|nz", {"tolerance_g", "t1_g", "t2_g"}),
        ("tolerance --declare|340 g|--market|ca", {"tolerance_g"}),
        ("tolerance --declare|12 oz|--market|us", {"mav_g"}),
        ("servings --net|12 oz", {"servings", "about", "single_serving"}),
        ("nutrition --net|12 oz", {"serving", "servings_text", "rows", "footnote"}),
        ("unit-price --price|8.50|--net|12 oz|--market|us", {"amount", "per", "text"}),
        ("origin --market|eu|--net|500 g|--share|ES=60|--share|AR=40", {"statement", "findings"}),
        ("date-mark --market|eu|--best-before|2028-06-30", {"statement", "lot_mark_needed"}),
        ("colour --pfund|32|--market|us", {"class"}),
        ("moisture-limit --moisture|18.4|--market|eu", {"allowed", "limit_percent"}),
    ],
)
def test_a_figure_answers_with_the_keys_of_the_contract(labelkit, command, keys):
    name, _, rest = command.partition(" ")
    code, out, _ = labelkit("reckon", name, *rest.split("|"), "--json")
    assert code == 0
    assert set(json.loads(out)) == keys


def test_exact_numbers_are_decimal_strings(labelkit):
    _, out, _ = labelkit("reckon", "net-weight", "--declare", "1 lb", "--market", "us", "--json")
    assert json.loads(out)["fill_at_least_g"] == "453.59237"


def test_a_row_of_the_panel_has_name_amount_and_percent(labelkit):
    _, out, _ = labelkit("reckon", "nutrition", "--net", "12 oz", "--json")
    assert {"name": "Calories", "amount": "60", "percent_dv": None} in json.loads(out)["rows"]


def test_a_finding_has_the_keys_of_the_contract(labelkit):
    _, out, _ = labelkit("reckon", "origin", "--market", "ca", "--share", "CA=70", "--share", "AR=30", "--json")
    for finding in json.loads(out)["findings"]:
        assert list(finding) == ["rule", "market", "level", "field", "found", "says", "do", "cite", "read_on", "sure"]
        assert finding["do"].endswith("Check your local rules.")
        assert finding["level"] in ("stop", "ask", "note")


def test_origin_takes_its_own_day(labelkit):
    shares = ("--share", "ES=60", "--share", "AR=40", "--market", "eu", "--json")
    _, before, _ = labelkit("reckon", "origin", *shares, "--day", "2026-06-13")
    _, after, _ = labelkit("reckon", "origin", *shares, "--day", "2026-06-14")
    assert json.loads(before)["statement"] == "blend of EU and non-EU honeys"
    assert json.loads(after)["statement"] == "Spain 60 %, Argentina 40 %"


def test_what_was_not_read_at_the_source_is_said_to_the_user(labelkit):
    _, out, _ = labelkit("reckon", "moisture-limit", "--moisture", "20", "--market", "codex")
    assert "from memory, not read at the source" in out
    assert "Check your local rules." in out


def test_a_figure_that_was_read_says_when(labelkit):
    _, out, _ = labelkit("reckon", "letter-height", "--market", "us", "--panel-area", "13 sq in")
    assert "21 CFR 101.7 (i)(2)" in out and "(read 2026-11-28 in a faithful copy)" in out


@pytest.mark.parametrize(
    ("arguments", "name"),
    [
        (("net-weight", "--declare", "1 lb", "--market", "us-vq"), "MarketUnknown"),
        (("net-weight", "--declare", "16 fl oz", "--market", "us"), "WrongKindOfUnit"),
        (("net-weight", "--declare", "4 g", "--market", "eu"), "TooLightToDeclare"),
        (("letter-height", "--market", "us"), "FactMissing"),
        (("letter-height", "--market", "us", "--diameter", "2 in"), "UsageUnclear"),
        (
            ("letter-height", "--market", "us", "--diameter", "2 in", "--width", "2 in", "--height", "2 in"),
            "UsageUnclear",
        ),
        (("colour", "--pfund", "32", "--market", "eu"), "NoRuleInForce"),
        (("colour", "--pfund", "-1", "--market", "us"), "ReadingImpossible"),
        (("moisture-limit", "--moisture", "180", "--market", "eu"), "ReadingImpossible"),
        (("origin", "--market", "eu", "--share", "ES=60"), "SharesNotWhole"),
        (("date-mark", "--market", "eu", "--best-before", "soon"), "DayUnclear"),
        (("date-mark", "--market", "eu", "--best-before", "2028", "--bottled", "2029-01-01"), "DateBeforeBottling"),
        (("unit-price", "--price", "0", "--net", "12 oz", "--market", "us"), "NotPositive"),
        (("servings", "--net", "12 oz", "--market", "eu"), "NoRuleInForce"),
    ],
)
def test_bad_input_is_refused_by_name_and_without_a_traceback(labelkit, arguments, name):
    code, out, err = labelkit("reckon", *arguments, "--json")
    assert (code, out) == (2, "")
    assert json.loads(err)["error"]["name"] == name


def test_every_market_is_listed_with_how_sure_its_rules_are(labelkit):
    _, out, _ = labelkit("rules", "--json")
    listed = {entry["market"]: entry for entry in json.loads(out)["markets"]}
    assert {"us", "us-va", "eu", "eu-de", "uk", "ca", "au", "nz", "codex"} <= set(listed)
    for entry in listed.values():
        assert entry["seen"] + entry["second_hand"] + entry["memory"] == entry["rules"]


def test_a_value_is_shown_with_its_history(labelkit):
    _, out, _ = labelkit("rules", "eu", "--about", "several countries", "--json")
    told = [(rule["says"], rule["since"], rule["until"]) for rule in json.loads(out)["rules"]]
    assert ("a phrase", "2003-08-01", "2026-06-14") in told
    assert ("each country with its percentage", "2026-06-14", None) in told


def test_two_markets_stand_side_by_side(labelkit):
    _, out, _ = labelkit("rules", "uk", "eu", "--about", "unit of the unit price", "--json")
    assert {"name": "unit of the unit price", "uk": "1 kg", "eu": "1 kg"} in json.loads(out)["values"]


def test_what_is_unverified_can_be_listed(labelkit):
    _, out, _ = labelkit("rules", "us", "--unverified", "--json")
    rules = json.loads(out)["rules"]
    assert rules and all(rule["sure"] != "seen" for rule in rules)


def test_a_market_whose_law_was_not_read_says_whom_to_ask(labelkit):
    _, out, _ = labelkit("rules", "uk-ni")
    assert "Not read yet: origin" in out and "Ask the environmental health service" in out
