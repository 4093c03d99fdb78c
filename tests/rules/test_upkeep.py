"""Keeping the packs true: totals, what is to be read again, what depends on one act, what changed, and reviews."""

from __future__ import annotations

import csv
import io
import json
import re
import tomllib
from datetime import date

import pytest

from labelkit.cli._runner import run
from labelkit.rules import market, review, shelf
from labelkit.rules.blocks import Wording
from labelkit.rules.catalogue import own
from labelkit.rules.lint import whole
from labelkit.rules.pack import PACKS
from labelkit.rules.upkeep import Between, read_again_by

DAY = date(2026, 11, 28)
KEYS = {"seen", "second_hand", "memory", "no_clause", "no_url"}


@pytest.fixture
def labelkit(capsys):
    """Run ``labelkit rules`` on one day; its document, or its text."""

    def call(*arguments, day="2026-11-28", code=0):
        capsys.readouterr()
        assert run(["--day", day, "rules", *arguments]) == code
        out, err = capsys.readouterr()
        return json.loads(out or err) if "--json" in arguments else out or err

    return call


def test_the_totals_count_every_value_of_every_market_once(labelkit):
    found = labelkit("--totals", "--json")
    assert set(found["all"]) == KEYS
    counted = [law for head in shelf.markets() for law in own(market(head.id, DAY)) if not isinstance(law, Wording)]
    assert found["all"]["seen"] + found["all"]["second_hand"] + found["all"]["memory"] == len(counted)
    assert {pack["code"] for pack in found["packs"]} == {head.id for head in shelf.markets()}
    for key in KEYS:
        assert found["all"][key] == sum(pack[key] for pack in found["packs"])
    assert sum(found["read_in"].values()) == found["all"]["seen"]


def test_the_totals_fit_a_line_of_a_hundred_columns(labelkit):
    assert max(map(len, labelkit("--totals").splitlines())) <= 100


def test_nothing_is_due_on_the_day_it_was_read_and_all_of_it_a_year_later(labelkit):
    assert labelkit("us-va", "--due", "--json", day="2026-11-28")["rules"] == []
    due = labelkit("us-va", "--due", "--json", day="2027-11-28")["rules"]
    assert len(due) == sum(1 for law in own(market("us-va", DAY)) if read_again_by(law))


def test_what_is_due_is_due_from_the_first_day_of_its_month(labelkit):
    days = sorted(read_again_by(law) for law in own(market("us-va", DAY)) if read_again_by(law))
    assert labelkit("us-va", "--due", "--json", day=days[0].replace(day=1).isoformat())["rules"]


def test_everything_that_depends_on_one_act_is_listed_by_its_title(labelkit):
    found = labelkit("us", "--law", "21 CFR 101.9", "--json")
    assert found["rules"] and all("21 CFR 101.9" in rule["cite"] for rule in found["rules"])
    assert {source["id"] for source in found["sources"]} == {rule["source"] for rule in found["rules"]}


def test_the_change_of_the_rule_of_origin_is_told_with_both_texts(labelkit):
    """Directive (EU) 2024/1438 replaced the phrases for blends on 14 June 2026."""
    found = labelkit("eu", "--changes", "2026", "2026", "--json")["changes"]
    (blend,) = [change for change in found if change["name"] == "origin of several countries"]
    assert blend["day"] == "2026-06-14"
    assert blend["before"]["says"] == "a phrase"
    assert blend["after"]["says"] == "each country with its percentage"


def test_a_member_states_changes_are_told_in_its_own_languages_and_english():
    wordings = [
        c.law for c in Between(market("eu-de", DAY), date(2024, 1, 1), DAY).changes if isinstance(c.law, Wording)
    ]
    assert wordings and {law.language for law in wordings} <= {"de", "en"}


def test_the_oldest_day_we_can_vouch_for_is_no_change():
    for change in Between(market("us", DAY), date(1900, 1, 1), DAY).changes:
        assert change.law.since_is != "at least" or change.after is None


def test_two_questions_at_once_are_refused(labelkit):
    assert "UsageUnclear" in labelkit("--totals", "--due", "--json", code=2)["error"]["name"]


def signed(here, ticked, **more):
    """A review of a market with some rules ticked by an invented reviewer."""
    lines = list(csv.DictReader(io.StringIO(review.table(here))))
    for line in lines:
        if line["rule"] in ticked:
            line |= {"agreed": "x", "reviewer": "A. Reviewer", "reviewed_on": "2026-12-01"} | more
    out = io.StringIO()
    writer = csv.DictWriter(out, review.COLUMNS)
    writer.writeheader()
    writer.writerows(lines)
    return out.getvalue()


def test_a_signed_review_comes_back_as_a_pack_that_names_its_reviewer(labelkit, tmp_path):
    here = market("us-va", DAY)
    rule = "us-va.statements.home_honey"
    (tmp_path / "back.csv").write_text(signed(here, {rule}), encoding="utf-8")
    answer = labelkit("us-va", "--reviewed", str(tmp_path / "back.csv"), "--out", str(tmp_path / "packs"), "--json")
    assert answer["agreed"] == 1 and answer["reviewers"] == ["A. Reviewer"]
    (tmp_path / "packs" / "us").symlink_to(PACKS / "us")
    (tmp_path / "packs" / "sources.toml").symlink_to(PACKS / "sources.toml")
    laws = whole(market("us-va", DAY, tmp_path / "packs"))
    assert [(law.label, law.reviewed.by, law.reviewed.on) for law in laws if law.reviewed] == [
        (rule, "A. Reviewer", date(2026, 12, 1))
    ]


@pytest.mark.parametrize("code", ["us", "us-or", "eu-de"])
def test_signing_every_rule_of_a_pack_changes_nothing_else_in_it(code):
    here = market(code, DAY)
    labels = {row.law.label for row in review.rows(here)}
    found = review.read_table(signed(here, labels), here, "en_US")
    assert not found.open
    for path in sorted((PACKS / code).glob("*.toml")):
        text = path.read_text(encoding="utf-8")
        laws = [row.law for row in review.rows(here) if row.law.file == f"{code}/{path.name}"]
        marked = review.marked(text, laws, found.agreed)
        assert re.sub(r"^reviewed = .*\n", "", marked, flags=re.MULTILINE) == text
        assert marked.count("\nreviewed = ") == len(laws)
        tomllib.loads(marked)


def test_a_row_that_was_edited_is_refused(labelkit, tmp_path):
    table = signed(market("us-va", DAY), {"us-va.statements.home_honey"}, says="It may say anything.")
    (tmp_path / "back.csv").write_text(table, encoding="utf-8")
    answer = labelkit(
        "us-va", "--reviewed", str(tmp_path / "back.csv"), "--out", str(tmp_path / "out"), "--json", code=2
    )
    assert answer["error"]["name"] == "ReviewDoesNotFit"
    assert not (tmp_path / "out").exists()


def test_a_spreadsheet_may_write_the_days_its_own_way():
    """Days that come back as 12/1/2026 and cells split by semicolons are understood."""
    here = market("us-va", DAY)
    table = signed(
        here, {"us-va.statements.home_honey"}, since="1/1/2024", read_on="11/25/2026", reviewed_on="12/1/2026"
    )
    rows = list(csv.reader(io.StringIO(table)))
    out = io.StringIO()
    csv.writer(out, delimiter=";").writerows(rows)
    (reviewer,) = review.read_table(out.getvalue(), here, "en_US").agreed.values()
    assert reviewer.on == date(2026, 12, 1)


@pytest.mark.parametrize("nothing", ["reviewer", "reviewed_on"])
def test_a_tick_without_a_name_or_a_day_is_refused(nothing):
    from labelkit.errors.rules import ReviewUnsigned

    here = market("us-va", DAY)
    with pytest.raises(ReviewUnsigned):
        review.read_table(signed(here, {"us-va.statements.home_honey"}, **{nothing: ""}), here, "en_US")


def test_a_review_on_a_page_shows_every_rule_once_with_a_box(labelkit, tmp_path):
    labelkit("us-or", "--review", str(tmp_path / "review.html"))
    page = (tmp_path / "review.html").read_text(encoding="utf-8")
    rows = review.rows(market("us-or", DAY))
    assert page.count('type="checkbox" aria-label="Agreed') == len(rows)
    assert "Check your local rules." in page
