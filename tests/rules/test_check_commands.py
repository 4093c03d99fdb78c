"""``words`` and ``check`` on the command line: the keys of the contract, the exit codes, the text a person reads."""

import json

import pytest

from labelkit.cli._runner import run
from labelkit.rules.findings import CHECK_LOCAL
from tests.rules.labels import label_text

DAY = ("--day", "2026-11-25")
FINDING = {"rule", "market", "level", "field", "found", "says", "do", "cite", "read_on", "sure"}


@pytest.fixture
def labelkit(capsys):
    """Run labelkit on one fixed day; the exit code and the two streams."""

    def call(*arguments):
        capsys.readouterr()
        code = run([*DAY, *arguments])
        out, err = capsys.readouterr()
        return code, out, err

    return call


@pytest.fixture
def label(tmp_path):
    """A label file with these changes."""

    def write(text):
        path = tmp_path / "LABEL.toml"
        path.write_text(text, encoding="utf-8")
        return str(path)

    return write


def test_words_answers_with_the_keys_of_the_contract(labelkit):
    code, out, err = labelkit("words", "Cures colds. Raw honey.", "--market", "us", "--json")
    document = json.loads(out)
    assert (code, err, set(document)) == (1, "", {"findings"})
    assert all(set(finding) == FINDING for finding in document["findings"])
    assert {(f["rule"], f["level"], f["market"]) for f in document["findings"]} == {
        ("us.claim.disease", "stop", "us"),
        ("us.claim.raw", "ask", "us"),
    }


def test_words_without_a_stop_end_well(labelkit):
    code, out, _ = labelkit("words", "A sweet treat, cold-extracted", "--market", "us")
    assert code == 0
    assert "Must be fixed" not in out
    assert out.rstrip().endswith(CHECK_LOCAL)


def test_words_of_a_file_and_of_two_markets(labelkit, tmp_path):
    page = tmp_path / "page.txt"
    page.write_text("Soulage la toux.", encoding="utf-8")
    code, out, _ = labelkit("words", "--file", str(page), "--market", "us", "--market", "ca", "--json")
    assert code == 1
    assert {f["market"] for f in json.loads(out)["findings"]} == {"ca"}


@pytest.mark.parametrize(
    "arguments", [("words", "--market", "us"), ("words", "x", "--file", "y", "--market", "us"), ("words", "x")]
)
def test_words_that_are_not_there_are_refused(labelkit, arguments):
    code, out, err = labelkit(*arguments)
    assert (code, out) == (2, "")
    assert "Do:" in err


def test_check_answers_with_the_keys_of_the_contract(labelkit, label):
    code, out, err = labelkit("check", label(label_text({"lines": ["Cures colds"]})), "--json")
    document = json.loads(out)
    assert (code, err, set(document)) == (1, "", {"findings", "not_covered"})
    assert all(set(finding) == FINDING for finding in document["findings"])
    assert all(set(entry) == {"market", "area", "says", "do"} for entry in document["not_covered"])
    assert document["findings"][0]["level"] == "stop"


def test_a_label_with_nothing_to_fix_ends_with_0(labelkit, label):
    code, out, _ = labelkit("check", label(label_text({})))
    assert code == 0
    assert out.rstrip().endswith(CHECK_LOCAL)
    assert "Nothing to fix" in out


def test_check_for_another_market_than_the_file_names(labelkit, label):
    file = label(label_text({}))
    _, out, _ = labelkit("check", file, "--market", "us-ca", "--json")
    assert {f["market"] for f in json.loads(out)["findings"]} == {"us-ca"}


def test_a_file_without_a_market_can_still_be_checked_for_one(labelkit, label):
    file = label(label_text({}, ("market",)))
    assert labelkit("check", file)[0] == 2
    assert labelkit("check", file, "--market", "us")[0] == 0


@pytest.mark.parametrize(
    ("change", "name", "words"),
    [
        ({"market": ["us-vx"]}, "MarketUnknown", "us-va"),
        ({"flora_source": "clover"}, "LabelKeyUnknown", "“floral_source”"),
        ({"origin": [{"country": "US", "share": 60}]}, "LabelSharesNotWhole", "60 %"),
        ({"situation": {"kind": "comb"}}, "SituationContradicts", "kind = “honey”"),
        ({"declares": "16 fl oz"}, "VolumeForWeight", ""),
        ({"declares": "1"}, "QuantityUnclear", ""),
    ],
)
def test_bad_input_is_refused_with_exit_code_2(labelkit, label, change, name, words):
    code, out, err = labelkit("check", label(label_text(change)), "--json")
    error = json.loads(err)["error"]
    assert (code, out) == (2, "")
    assert set(error) == {"name", "what", "why", "do"}
    assert words in f"{error['what']} {error['do']}"
    if name.startswith(("Label", "Market", "Situation")):
        assert error["name"] == name


@pytest.mark.parametrize("command", ["words", "check"])
def test_a_day_before_any_law_held_is_refused_with_the_first_day(labelkit, label, command):
    what = label(label_text({})) if command == "check" else "Raw honey"
    arguments = (command, what, "--market", "us", "--json")
    code, out, err = labelkit("--day", "1900-01-01", *arguments)
    error = json.loads(err)["error"]
    assert (code, out, error["name"]) == (2, "", "NoRuleInForce")
    assert "1900-01-01. Its first one took effect on" in error["what"]
