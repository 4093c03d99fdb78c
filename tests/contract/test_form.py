"""The form of every answer: one JSON document on stdout or one refusal on stderr, exit codes, and hostile input."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from decimal import Decimal

import pytest
from hypothesis import HealthCheck, example, given, settings
from hypothesis import strategies as st

from labelkit.cli._runner import run
from tests.walks import examples

# For each command of the contract one whole and lawful line; hostile values are put in the place of each of its own.
WHOLE = {
    "moisture": {"--refractive-index": "1.4915", "--temperature": "20 C"},
    "density": {"--moisture": "17.6", "--temperature": "20 C"},
    "weight": {"--volume": "5 gal", "--moisture": "17.6", "--temperature": "20 C"},
    "colour": {"--pfund": "34", "--market": "us"},
    "moisture-limit": {"--moisture": "18.4", "--market": "eu", "--kind": "heather"},
    "ferment": {"--moisture": "17.6"},
    "blend": {"--part": "30 kg @ 17.2"},
    "net-weight": {"--declare": "1 lb", "--market": "us"},
    "letter-height": {"--market": "us", "--declare": "1 lb", "--diameter": "2.5 in", "--height": "3.5 in"},
    "tolerance": {"--declare": "340 g", "--market": "eu"},
    "fill-test": {"--declare": "1 lb", "--market": "us", "--lot-size": "1", "--weight": "454 g"},
    "servings": {"--net": "12 oz"},
    "nutrition": {"--net": "12 oz", "--ingredients": "1"},
    "unit-price": {"--price": "8.50", "--net": "12 oz", "--market": "us", "--currency": "USD"},
    "check-digit": {"--digits": "629104150021"},
    "lot-code": {"--bottled": "2026-07-14", "--bucket": "B1"},
    "origin": {"--market": "eu", "--net": "500 g", "--share": "ES=100", "--day": "2026-07-01"},
    "date-mark": {"--market": "eu", "--best-before": "2028-06-30", "--bottled": "2026-06-30"},
}
KEYS = {
    "moisture": {"moisture_percent", "moisture_unrounded", "method"},
    "density": {"kg_per_l", "lb_per_us_gal", "us_fl_oz_per_lb"},
    "weight": {"g", "oz", "lb"},
    "colour": {"class"},
    "moisture-limit": {"allowed", "limit_percent"},
    "ferment": {"risk", "yeast_below_per_g"},
    "blend": {"g", "moisture_percent"},
    "net-weight": {"statements", "customary", "metric_g", "fill_at_least_g"},
    "letter-height": {"panel_area_cm2", "net_quantity_mm", "other_text_mm", "measured_on"},
    "tolerance": {"tolerance_g", "t1_g", "t2_g"},
    "fill-test": {
        "verdict",
        "mean_g",
        "stdev_g",
        "limit_g",
        "short_jars",
        "allowed_short",
        "sample_needed",
        "average_error_g",
        "sample_error_limit_g",
    },
    "servings": {"servings", "about", "single_serving"},
    "nutrition": {"serving", "servings_text", "rows", "footnote"},
    "unit-price": {"amount", "per", "text"},
    "check-digit": {"digit", "whole"},
    "lot-code": {"valid", "code", "bottled"},
    "origin": {"statement", "findings"},
    "date-mark": {"statement", "lot_mark_needed"},
}
OPTIONS = [(name, option) for name, line in WHOLE.items() for option in line]

ODD = [
    "",
    " ",
    "0",
    "-1",
    "-0",
    "+",
    "-",
    "--",
    "=",
    "NaN",
    "nan g",
    "inf",
    "-Infinity",
    "1e400",
    "1e400 g",
    "1e-400 kg",
    "9" * 400,
    "9" * 30 + " kg",
    "a" * 400,
    "0 g",
    "-5 g",
    "1",
    "1 lb",
    "1/0 lb",
    "5/4 lb",
    "½ lb",
    "½",
    "lb",
    "kg 5",
    "5 furlongs",
    "3 fl oz",
    "1 kg/m",
    "1 lb**2",
    "2 * 3 kg",
    "5 kg kg",
    "kg @",
    "5 kg @",
    "1,5 kg",
    "1.234.567 g",
    "５ kg",
    "٣",
    "1 lb\n2 oz",
    "1 lb\x1b[31m",
    "1\tlb",
    "\u202e1 lb",
    "💥",
    "ﬀ",
    "1 lb\u200b",
    "-300 C",
    "1000000 C",
    "95 F",
    "2.5 in",
    "-2 in",
    "80 cm^2",
    "13 sq in",
    "us",
    "US",
    "us-",
    "us-zz",
    "xx",
    "../us",
    "us/../../etc",
    "eu-de",
    "codex",
    "au",
    "nz",
    "ca",
    "uk",
    "2028-06-30",
    "2028-02-30",
    "0000-00-00",
    "0001-01-01",
    "9999-12-31",
    "10000-01-01",
    "2028-06-30T00:00",
    "30.06.2028",
    "1999-12-31",
    "2100-01-01",
    "ES=60",
    "ES=",
    "=5",
    "ES=NaN",
    "ES=-5",
    "ZZ=100",
    "ES=100=1",
    "30 kg @ 200",
    "30 kg @ -1",
    "@ 17",
    "0 kg @ 17",
    "30 kg @ 17 @ 18",
    "USD",
    "usd",
    "XXX",
    "JPY",
    "$8.50",
    "8.5.5",
    "8,50",
    "L26195K",
    "629104150021",
    "12a",
    "None",
    "[]",
    "{}",
    "{0}",
    "%s",
    "\\",
    "'",
    '"',
    "@file",
    "true",
]


def command(name: str, line: dict[str, str]) -> list[str]:
    # Option and value in one word, so that a value that begins with a dash is still a value.
    return ["--day", "2026-11-25", "reckon", name, *(f"{option}={value}" for option, value in line.items()), "--json"]


def answer(arguments: list[str], capsys) -> tuple[int, str, str]:
    capsys.readouterr()
    code = run(arguments)
    streams = capsys.readouterr()
    return code, streams.out, streams.err


def no_float(text: str):
    raise AssertionError(f"{text} is a bare number with a point")


def well_formed(code: int, out: str, err: str) -> None:
    """One document on one stream, exact numbers as strings, and no trouble nobody foresaw."""
    assert "Traceback" not in out + err
    if code in (0, 1) and out:
        assert err == ""
        json.loads(out, parse_float=no_float, parse_constant=no_float)
        return
    assert code in (2, 3)
    assert out == ""
    refusal = json.loads(err)["error"]
    assert list(refusal) == ["name", "what", "why", "do"]
    assert all(isinstance(text, str) and text.strip() for text in refusal.values())
    assert refusal["name"] != "InternalError", refusal["what"]


@pytest.mark.parametrize("name", WHOLE)
def test_each_command_answers_with_the_keys_of_the_contract(name, capsys):
    code, out, err = answer(command(name, WHOLE[name]), capsys)
    assert (code, err) == (0, "")
    assert KEYS[name] <= set(json.loads(out, parse_float=no_float))


def test_the_us_tolerance_is_a_variation_and_canada_s_stands_alone(capsys):
    for market, keys in (("us", {"mav_g"}), ("ca", {"tolerance_g"})):
        _, out, _ = answer(command("tolerance", {"--declare": "340 g", "--market": market}), capsys)
        assert set(json.loads(out)) == keys


def test_the_panel_s_rows_are_name_amount_and_percentage(capsys):
    _, out, _ = answer(command("nutrition", {"--net": "12 oz"}), capsys)
    rows = {row["name"]: row for row in json.loads(out)["rows"]}
    assert all(set(row) == {"name", "amount", "percent_dv"} for row in rows.values())
    # 21 CFR 101.9(c), USDA values of honey for 21 g; 84 FR 28726: the grams of added sugars may be left out, 34 % not.
    expected = {
        "Calories": ("60", None),
        "Total Fat": ("0 g", 0),
        "Sodium": ("0 mg", 0),
        "Total Carbohydrate": ("17 g", 6),
        "Dietary Fiber": ("0 g", 0),
        "Total Sugars": ("17 g", None),
        "Added Sugars": (None, 34),
        "Protein": ("0 g", None),
        "Vitamin D": ("0 mcg", 0),
        "Calcium": ("0 mg", 0),
        "Potassium": ("10 mg", 0),
    }
    for name, (amount, percent) in expected.items():
        assert rows[name]["amount"] == amount
        assert (percent is None) is (rows[name]["percent_dv"] is None)
        assert percent is None or Decimal(rows[name]["percent_dv"]) == percent
    assert rows["Iron"]["percent_dv"] == "0"
    assert (
        "†One serving adds 17g of sugar to your diet and represents 34% of the Daily Value for Added Sugars."
        in json.loads(out)["footnote"]
    )


def test_a_second_ingredient_brings_the_grams_of_added_sugars_back(capsys):
    _, out, _ = answer(command("nutrition", {"--net": "12 oz", "--ingredients": "2"}), capsys)
    (row,) = [row for row in json.loads(out)["rows"] if row["name"] == "Added Sugars"]
    assert (row["amount"], row["percent_dv"]) == ("17 g", "34")


@pytest.mark.exhaustive(one_in=6)
@pytest.mark.parametrize("value", ODD, ids=[repr(value)[:40] for value in ODD])
def test_no_odd_value_of_any_option_brings_a_command_down(value, capsys):
    for name, option in OPTIONS:
        well_formed(*answer(command(name, {**WHOLE[name], option: value}), capsys))


QUANTITIES = st.builds(
    lambda number, unit: f"{number}{unit}",
    st.one_of(st.integers(-(10**20), 10**20), st.decimals(allow_nan=True), st.text("0123456789.,/ ½-+e", max_size=12)),
    st.sampled_from(
        [
            "",
            " g",
            "kg",
            " lb",
            " oz",
            " lb 3 oz",
            " in",
            " mm",
            " cm^2",
            " sq in",
            " C",
            " F",
            " gal",
            " ml",
            "%",
            " USD",
            "=60",
            " @ 17",
        ]
    ),
)
ANYTHING = st.one_of(st.text(max_size=30), st.text("0123456789.,-/=@ gkloxuszEU½", max_size=16), QUANTITIES)


@settings(max_examples=examples(400), deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(st.sampled_from(OPTIONS), ANYTHING)
@example(("net-weight", "--declare"), "1\u2044 2 lb")
def test_nothing_anybody_could_type_brings_a_command_down(capsys, which, value):
    name, option = which
    well_formed(*answer(command(name, {**WHOLE[name], option: value}), capsys))


@settings(max_examples=examples(150), deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(st.text(max_size=200), st.sampled_from(["us", "us-ca", "eu", "eu-de", "uk", "ca", "au", "nz", "codex"]))
@example("cures\x00 asthma\r\n\u2028" * 20, "us")
@example("(" * 500, "ca")
def test_no_wording_brings_words_down(capsys, text, market):
    well_formed(*answer(["--day", "2026-11-25", "words", "--market", market, "--json", "--", text], capsys))


VALUES = st.recursive(
    st.one_of(st.booleans(), st.integers(-10, 10**18), st.sampled_from(["", "x", "1 lb", "us", "2026-07-14", "nan"])),
    lambda inner: st.lists(inner, max_size=2),
    max_leaves=3,
)


def toml(value) -> str:
    return json.dumps(value, ensure_ascii=False)


LOT_KEYS = ["currency", "market", "locale", "day", "name", "maker", "plan", "bucket", "jar"]
LABEL_KEYS = [
    "market",
    "kind",
    "name",
    "floral_source",
    "declares",
    "net_statement",
    "lines",
    "ingredients",
    "grade",
    "lot",
    "best_before",
    "origin",
    "maker",
    "panel",
    "situation",
]


@settings(max_examples=examples(150), deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(st.sampled_from(LOT_KEYS), VALUES)
def test_no_value_in_a_season_file_brings_the_plan_down(capsys, tmp_path, key, value):
    usual = {"currency": '"USD"', "market": '["us"]'}
    tables = {
        "bucket": '[[bucket]]\nid = "B1"\nnet = "5 kg"\n',
        "jar": '[[jar]]\nid = "a"\ndeclares = "1 lb"\nprice = "12"\n',
    }
    top = "".join(f"{name} = {said}\n" for name, said in {**usual, key: toml(value)}.items())
    rest = "".join(text for name, text in tables.items() if name != key)
    (tmp_path / "lots.toml").write_text(top + rest, encoding="utf-8")
    well_formed(*answer(["--day", "2026-11-25", "plan", str(tmp_path / "lots.toml"), "--json"], capsys))


BUCKET_KEYS = [
    "id",
    "net",
    "gross",
    "tare",
    "division",
    "container",
    "moisture",
    "weighed",
    "harvested",
    "yard",
    "hives",
    "from",
    "plant",
    "hold_back",
    "drained",
]
JAR_KEYS = ["id", "declares", "uses", "price", "cost", "tare", "in_stock", "at_least", "at_most", "case"]


@settings(max_examples=examples(150), deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(st.sampled_from([("bucket", key) for key in BUCKET_KEYS] + [("jar", key) for key in JAR_KEYS]), VALUES)
def test_no_value_of_a_bucket_or_jar_brings_the_plan_down(capsys, tmp_path, which, value):
    kind, key = which
    usual = {"bucket": {"id": '"B1"', "net": '"5 kg"'}, "jar": {"id": '"a"', "declares": '"1 lb"', "price": '"12"'}}
    usual[kind][key] = toml(value)
    text = 'currency = "USD"\nmarket = ["us"]\n' + "".join(
        f"[[{name}]]\n" + "".join(f"{k} = {v}\n" for k, v in table.items()) for name, table in usual.items()
    )
    (tmp_path / "lots.toml").write_text(text, encoding="utf-8")
    well_formed(*answer(["--day", "2026-11-25", "plan", str(tmp_path / "lots.toml"), "--json"], capsys))


@settings(max_examples=examples(150), deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(st.sampled_from(LABEL_KEYS), VALUES)
def test_no_value_in_a_label_file_brings_the_check_down(capsys, tmp_path, key, value):
    usual = {"market": '"us"', "name": '"Honey"', "declares": '"1 lb"'}
    text = "".join(f"{name} = {said}\n" for name, said in {**usual, key: toml(value)}.items())
    (tmp_path / "label.toml").write_text(text, encoding="utf-8")
    well_formed(*answer(["--day", "2026-11-25", "check", str(tmp_path / "label.toml"), "--json"], capsys))


@pytest.mark.parametrize(
    "line",
    [
        [],
        ["reckon"],
        ["reckon", "nothing"],
        ["nothing"],
        ["reckon", "moisture"],
        ["reckon", "fill-test", "--lot-size", "abc"],
        ["words", "x"],
        ["words"],
        ["check"],
        ["check", "nowhere.toml"],
        ["plan", "nowhere.toml"],
        ["--day", "2026-13-40", "reckon", "ferment", "--moisture", "18"],
        ["--locale", "xx_YY", "reckon", "ferment", "--moisture", "18"],
        ["reckon", "moisture", "--brix"],
        ["reckon", "moisture", "--brix", "80", "--refractive-index", "1.49"],
        ["reckon", "letter-height", "--market", "us", "--diameter", "2 in"],
        ["reckon", "lot-code", "--bottled", "2026-07-14"],
    ],
)
def test_a_line_that_cannot_be_understood_is_refused_as_json(line, capsys):
    code, out, err = answer([*line, "--json"], capsys)
    assert code == 2
    well_formed(code, out, err)


class TestLotCodes:
    def test_what_is_made_is_valid_and_tells_its_day(self, capsys):
        for day in ("2026-07-14", "2028-02-29", "2028-12-31", "2000-01-01", "2099-12-31"):
            for where in (["reckon", "lot-code"], ["lot-code"]):
                code, out, _ = answer([*where, "--bottled", day, "--bucket", "B1", "--json"], capsys)
                made = json.loads(out)
                assert (code, made["valid"], made["bottled"]) == (0, True, day)
                code, out, _ = answer([*where, "--verify", made["code"], "--json"], capsys)
                assert (code, json.loads(out)) == (0, {"valid": True, "code": made["code"], "bottled": day})

    def test_a_blend_is_named_by_all_its_buckets_in_any_order(self, capsys):
        def code(*buckets):
            options = [word for bucket in buckets for word in ("--bucket", bucket)]
            _, out, _ = answer(["lot-code", "--bottled", "2026-07-14", *options, "--json"], capsys)
            return json.loads(out)["code"]

        assert code("B1", "B2") == code("B2", "B1") != code("B1")

    def test_every_wrong_character_and_every_swap_is_caught(self, capsys):
        # ISO/IEC 7064 MOD 37-2
        _, out, _ = answer(["reckon", "lot-code", "--bottled", "2026-07-14", "--bucket", "B1", "--json"], capsys)
        code = json.loads(out)["code"]
        swapped = {code[:n] + code[n + 1] + code[n] + code[n + 2 :] for n in range(len(code) - 1)}
        changed = {
            code[:n] + other + code[n + 1 :] for n in range(len(code)) for other in "0123456789ACDEFHJKLMNPRTVWXY"
        }
        for wrong in (swapped | changed) - {code}:
            result, out, err = answer(["reckon", "lot-code", "--verify", wrong, "--json"], capsys)
            assert (result, json.loads(out)["valid"], err) == (1, False, "")

    @pytest.mark.parametrize("day", ["1999-12-31", "2100-01-01", "1926-07-14"])
    def test_a_day_two_digits_cannot_tell_is_refused(self, day, capsys):
        code, _, err = answer(["reckon", "lot-code", "--bottled", day, "--bucket", "B1", "--json"], capsys)
        assert (code, json.loads(err)["error"]["name"]) == (2, "LotDateOutOfRange")


class TestStreams:
    """The program itself, where bytes and closed streams matter."""

    def program(self, *arguments: str | bytes, **more) -> subprocess.CompletedProcess:
        return subprocess.run([sys.executable, "-m", "labelkit", *arguments], capture_output=True, **more)

    def test_stdout_holds_one_document_and_stderr_nothing(self):
        ran = self.program("reckon", "net-weight", "--declare", "1 lb", "--market", "us", "--json")
        assert (ran.returncode, ran.stderr) == (0, b"")
        assert json.loads(ran.stdout)["metric_g"] == "453"

    def test_a_refusal_leaves_stdout_empty(self):
        ran = self.program("reckon", "net-weight", "--declare", "much", "--market", "us", "--json")
        assert (ran.returncode, ran.stdout) == (2, b"")
        assert json.loads(ran.stderr)["error"]["name"] == "UnitMissing"

    def test_a_stop_is_exit_code_1(self):
        assert self.program("words", "Cures colds", "--market", "us", "--json").returncode == 1

    @pytest.mark.skipif(
        os.name != "posix", reason="bytes that are no text can only be passed where arguments are bytes"
    )
    def test_bytes_that_are_no_text_are_refused(self):
        ran = self.program("reckon", "net-weight", "--declare", b"\xff lb", "--market", "us", "--json")
        assert ran.returncode == 2
        assert json.loads(ran.stderr)["error"]["name"] == "WordsUnclear"

    @pytest.mark.parametrize("encoding", ["utf-8", "ascii", "latin-1"])
    def test_the_document_is_json_whatever_the_terminal_s_letters(self, encoding):
        ran = self.program(
            "words",
            "Ça guérit le rhume “vite”",
            "--market",
            "ca",
            "--json",
            env={**os.environ, "PYTHONIOENCODING": encoding},
        )
        assert ran.returncode == 1
        assert b"Traceback" not in ran.stderr
        assert json.loads(ran.stdout.decode("utf-8" if encoding != "latin-1" else "latin-1"))["findings"]
