"""Whole labels against the law: worked cases, and what holds for every label."""

import tomllib
from datetime import date
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from labelkit.labels.case import label_case
from labelkit.measures import Declared
from labelkit.reading.label_file import read_label
from labelkit.rules import market
from labelkit.rules.checking import check
from labelkit.rules.findings import CHECK_LOCAL
from labelkit.rules.label import Label
from labelkit.rules.pack import PACKS
from labelkit.rules.report import report
from labelkit.rules.shelf import markets
from tests.rules.labels import DAY, checked, label_text
from tests.walks import examples

ROWS = Path(__file__).parents[1] / "worked" / "check"
LEVELS = {"stop", "ask", "note"}


def cases():
    for path in sorted(ROWS.glob("*.toml")):
        for case in tomllib.loads(path.read_text(encoding="utf-8"))["case"]:
            yield pytest.param(case, id=f"{path.stem}: {case['name']}")


def found_by(case):
    return checked(case.get("set", {}), tuple(case.get("without", ())), case.get("day", DAY))


@pytest.mark.parametrize("case", list(cases()))
def test_a_worked_label_gets_its_findings(case):
    findings = found_by(case).findings
    for wanted in case.get("finds", ()):
        these = [f for f in findings if f.rule == wanted["rule"]]
        assert these, (wanted, sorted({f.rule for f in findings}), case["source"])
        assert wanted["level"] in {f.level for f in these}, (wanted, these, case["source"])
        words = wanted.get("words", "")
        assert any(words in f"{f.found} {f.says} {f.do}" for f in these), (wanted, these, case["source"])
    assert not {f.rule for f in findings} & set(case.get("silent", ())), case["source"]
    if "stops" in case:
        assert [f.rule for f in findings if f.level == "stop"] == case["stops"], case["source"]


@pytest.mark.parametrize("case", list(cases()))
def test_every_case_names_its_source(case):
    assert len(case["source"]) > 8


@pytest.mark.exhaustive(one_in=4)
@pytest.mark.parametrize("head", markets(PACKS), ids=lambda head: head.id)
def test_every_market_can_check_a_label_and_says_what_it_did_not(head):
    result = checked({"market": [head.id], "best_before": date(2028, 6, 30)})
    for finding in result.findings:
        assert finding.level in LEVELS
        assert finding.says
        assert finding.do.endswith(CHECK_LOCAL), finding
        assert finding.cite
        assert finding.market == head.id
    assert any(entry.area == "print" for entry in result.not_covered)
    for entry in result.not_covered:
        assert entry.do.endswith(CHECK_LOCAL)


@pytest.mark.exhaustive(one_in=4)
@pytest.mark.parametrize("head", markets(PACKS), ids=lambda head: head.id)
def test_law_nobody_read_is_a_question_and_never_silence(head):
    result = checked({"market": [head.id]})
    unread = market(head.id, DAY).not_read()
    asked = " ".join(f"{f.rule} {f.says}" for f in result.findings if f.level == "ask")
    for entry in unread:
        assert entry.area in {covered.area for covered in result.not_covered}
        assert f"{entry.pack}.not_read." in asked


def test_a_market_inside_another_is_checked_once():
    both = checked({"market": ["us", "us-va"]})
    assert both == checked({"market": ["us-va"]})
    assert {f.market for f in both.findings} == {"us-va"}


def test_two_countries_are_both_checked():
    result = checked({"market": ["us", "ca"], "name": "Honey / Miel"})
    assert {f.market for f in result.findings} == {"us", "ca"}


def test_a_claim_over_two_lines_is_found_and_named_with_its_field():
    found = [f for f in checked({"lines": ["Helps you fight", "hay fever"]}).findings if f.level == "stop"]
    assert [(f.rule, f.field, f.found) for f in found] == [("us.claim.disease", "lines", "Helps you fight hay fever")]


def test_a_claim_does_not_reach_from_the_name_into_the_lines():
    stops = [
        f.rule for f in checked({"name": "Sweet Treat Honey", "lines": ["Cold packed"]}).findings if f.level == "stop"
    ]
    assert stops == []


def test_an_unknown_fact_is_asked_for_by_the_key_that_answers_it():
    asks = [f for f in checked({}, ("situation.own_hives",)).findings if f.level == "ask"]
    assert any("(not_the_maker in [situation])" in f.do for f in asks)


def test_an_answer_in_the_file_ends_the_question():
    before = {f.rule for f in checked({}).findings if f.level == "ask"}
    after = {f.rule for f in checked({"situation": {"pasteurized": False}}).findings if f.level == "ask"}
    assert "us.records.registration" in before - after


def test_an_exemption_outgrown_sends_to_the_office_even_where_no_duty_says_so():
    # South Carolina's cap is 400 gallons (Code 39-25-20(t)).
    result = checked({"market": ["us-sc"], "situation": {"home_kitchen": True, "gallons_per_year": 401}})
    asked = [f for f in result.findings if f.rule.startswith("us-sc.home") and f.level in ("ask", "stop")]
    assert asked
    assert all(f.rule != "us-sc.home.small_honey" or f.level == "ask" for f in asked)


def test_a_date_gone_by_is_asked_about():
    found = checked({"market": ["eu"], "best_before": date(2026, 1, 31)}).findings
    assert any(f.field == "best_before" and "already passed" in f.says for f in found)


def test_the_report_is_grouped_and_ends_in_the_caution():
    result = checked({"market": ["us", "us-va"], "lines": ["Cures colds"], "situation": {"home_kitchen": True}})
    text = report(result.findings, result.not_covered)
    must, ask, good, rest = (
        text.index(title) for title in ("Must be fixed", "Ask, or have proof", "Good to know", "Not checked")
    )
    assert must < ask < good < rest
    assert text.endswith(CHECK_LOCAL)
    assert "“Cures colds” –" in text


def test_the_label_of_the_handbook_reads_whole():
    label = read_label(
        label_text({"best_before": date(2028, 6, 30), "panel": {"diameter": "2.5 in", "height": "3.5 in"}})
    )
    assert label.panel["diameter"].mm == 63.5
    assert str(label.best_before) == "2028-06-30"
    assert check(label, [market("us", DAY)]).stopped is False


WEIGHTS = ["1 lb", "12 oz", "500 g", "1.5 kg", "42.5 g", "5 lb", "2 lb 3 oz"]
STATEMENTS = st.one_of(
    st.sampled_from(
        ["Net Wt 16 oz (1 lb) 453 g", "340g", "", "1/0 oz", "12 ½ oz 354 g", "℮ 500 g", "3 x 250 g", "1,5 kg", ".75 lb"]
    ),
    st.text(alphabet="0123456789 ./,()gkozlbNetWt½-", max_size=30),
)
SITUATIONS = st.fixed_dictionaries(
    {},
    optional={
        "home_kitchen": st.booleans(),
        "own_hives": st.booleans(),
        "gallons_per_year": st.integers(0, 1000),
        "units_per_year": st.integers(0, 200000),
        "employees": st.integers(0, 200),
        "food_sales_per_year": st.sampled_from(["0 USD", "18000 USD", "300000 USD"]),
        "sells_to": st.lists(st.sampled_from(["stall", "shop", "wholesale", "mail"]), min_size=1, unique=True),
        "moisture": st.sampled_from([16, 19, 24]),
        "pasteurized": st.booleans(),
        "opaque": st.booleans(),
    },
)


@settings(max_examples=examples(60), deadline=None)
@given(
    place=st.sampled_from([head.id for head in markets(PACKS)]),
    declares=st.sampled_from(WEIGHTS),
    statement=STATEMENTS,
    grade=st.sampled_from(["", "U.S. Grade A", "Canada No. 1", "Fancy", "A", "."]),
    kind=st.sampled_from(["honey", "infused", "comb", "blend"]),
    lines=st.lists(st.text(max_size=40), max_size=3),
    situation=SITUATIONS,
)
def test_every_label_that_can_be_read_can_be_checked(place, declares, statement, grade, kind, lines, situation):
    label = Label(
        (place,),
        "Honey",
        Declared.read(declares, "en_US") if declares else None,
        kind,
        net_statement=statement,
        lines=tuple(lines),
        grade=grade,
        situation=read_situation(situation),
    )
    result = check(label, [market(place, DAY)])
    assert all(finding.do.endswith(CHECK_LOCAL) for finding in result.findings)
    assert report(result.findings, result.not_covered).endswith(CHECK_LOCAL)


def read_situation(given):
    """The facts as a label file gives them."""
    return read_label(label_text({"situation": {**given, "in_directory": True}}, ("situation",))).situation


@pytest.mark.parametrize(
    ("said", "level"),
    [
        ('sells_to = ["shop"]', "ask"),
        ('sells_to = ["shop"]\norigin_mark = true', None),
        ('sells_to = ["shop"]\norigin_mark = false\npacked_where_sold = false', "stop"),
        ('sells_to = ["stall"]\npacked_where_sold = true', None),
    ],
)
def test_words_of_origin_alone_are_not_taken_for_australia_s_mark_with_its_bar_chart(said, level):
    """Country of Origin Food Labelling Information Standard 2016 (as the pack cites it): a mark, not words alone."""
    label = read_label(
        'market = "au"\nname = "Honey"\ndeclares = "500 g"\norigin = [{ country = "AU", share = 100 }]\n'
        f'maker = {{ name = "Pretend Hollow" }}\n[situation]\n{said}\n'
    )
    found = label_case(label, [market("au", date(2026, 11, 25))], "en_US").checked.findings
    assert [one.level for one in found if one.rule == "au.origin.mark"] == ([level] if level else [])
