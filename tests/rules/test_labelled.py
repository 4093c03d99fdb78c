"""A jar is judged by the law of the day it was labelled, and told what changed since.

Directive (EU) 2024/1438 ended the phrases for blends on 14 June 2026; its Article 5 lets jars labelled before that day
be sold until stocks run out (read second-hand).
"""

from __future__ import annotations

import json
from datetime import date

import pytest

from labelkit.cli._runner import run
from labelkit.errors.label_file import LabelValueWrong
from labelkit.reading.label_file import read_label
from labelkit.rules.blocks import SellThrough
from labelkit.rules.checking import check_on
from labelkit.rules.checking.since import _level
from tests.rules.labels import label_text

TODAY = date(2026, 11, 28)
BLEND = {
    "market": ["eu"],
    "declares": "500 g",
    "best_before": date(2028, 6, 30),
    "lines": ["Blend of EU and non-EU honeys"],
    "origin": [{"country": "ES", "share": 60}, {"country": "AR", "share": 40}],
}


def found(labelled=None, day=TODAY):
    changes = BLEND | ({"labelled": labelled} if labelled else {})
    return {f.rule: f for f in check_on(read_label(label_text(changes)), day).findings if f.field != "situation"}


def test_a_phrase_that_was_lawful_when_the_jar_was_labelled_is_no_stop_after_it_ended():
    assert found()["eu.claim.blend_phrase"].level == "stop"
    told = found(date(2026, 6, 13))["eu.claim.blend_phrase"]
    assert told.level == "note"
    assert "Changed on 2026-06-14, after this jar was labelled." in told.says
    assert "may be sold until they run out" in told.do


def test_a_jar_labelled_on_the_first_day_of_the_new_law_is_judged_by_it():
    assert found(date(2026, 6, 14))["eu.claim.blend_phrase"].level == "stop"


def test_what_did_not_change_is_said_once_and_as_it_was():
    before, now = found(date(2026, 6, 13)), found()
    same = set(before) & set(now) - {"eu.claim.blend_phrase", "eu.origin.several"}
    assert same and all(before[rule].level == now[rule].level for rule in same if "Changed on" not in before[rule].says)


def test_a_jar_labelled_today_is_checked_as_any_other():
    assert found(TODAY) == found()


def test_a_jar_to_be_labelled_later_is_judged_by_the_law_held_for_that_day():
    assert found(date(2026, 6, 14), day=date(2026, 6, 1))["eu.claim.blend_phrase"].level == "stop"


@pytest.mark.parametrize(
    ("sell", "level"),
    [
        (None, "ask"),
        (SellThrough("stocks run out", "Until they are gone."), "note"),
        (SellThrough("not at all", "None may be sold."), "stop"),
        (SellThrough(date(2026, 11, 28), "To the end of that day."), "note"),
        (SellThrough(date(2026, 11, 27), "To the end of that day."), "stop"),
    ],
)
def test_the_sell_through_rule_decides_how_grave_a_change_is(sell, level):
    assert _level("stop", sell, TODAY) == level


@pytest.mark.parametrize("given", ['"2026-05-20"', "2026", '"May"', "true", "2026-05-20T10:00:00"])
def test_a_day_of_labelling_is_a_day(given):
    with pytest.raises(LabelValueWrong, match="labelled"):
        read_label(f'market = "us"\nname = "Honey"\ndeclares = "1 lb"\nlabelled = {given}\n')


def test_the_check_command_exits_by_the_law_of_the_day_of_labelling(tmp_path, capsys):
    for labelled, code in ((date(2026, 6, 13), 0), (date(2026, 6, 14), 1)):
        file = tmp_path / f"{labelled}.toml"
        file.write_text(label_text(BLEND | {"labelled": labelled}), encoding="utf-8")
        capsys.readouterr()
        assert run(["--day", TODAY.isoformat(), "check", str(file), "--json"]) == code
        assert json.loads(capsys.readouterr().out)["findings"]
