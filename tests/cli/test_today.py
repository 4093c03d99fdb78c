"""What is due today, and the label words kept in the record, by the commands themselves."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

import pytest

from labelkit.cli._runner import answer_to
from labelkit.errors import Refused
from labelkit.errors.label_file import LabelKeyUnknown, LabelValueWrong


@pytest.fixture
def say(tmp_path):
    """One command after the other against one record."""
    clock = datetime(2026, 8, 31, 9, tzinfo=UTC)  # after every day of these tests

    def typed(day: str, *arguments: str):
        nonlocal clock
        clock += timedelta(minutes=1)
        line = ["--record", str(tmp_path / "season.labelkit"), "--day", day, *arguments]
        return answer_to(line, clock=clock, who="Robin")

    address = ("--street", "12 Sample Lane", "--city", "Pretend Hollow", "--region", "VA", "--postcode", "00000")
    typed("2026-07-12", "start", "--market", "us", "--name", "Pretend Hollow Honey", *address)
    return typed


def due(say, day: str) -> list[tuple[str, str, str]]:
    return [(one.level, one.verb, one.about) for one in say(day, "today").document["due"]]


def test_a_wet_bucket_is_urgent_and_a_safe_one_is_silent(say):
    # Table after A. G. Lochhead (1933), in USDA Agriculture Handbook 335: above 19.0 % honey keeps only with under 1 yeast a gram.
    say("2026-07-12", "weigh", "--bucket", "B1", "--net", "20 kg", "--moisture", "19.4")
    say("2026-07-12", "weigh", "--bucket", "B2", "--net", "20 kg", "--moisture", "16.8")
    assert ("urgent", "bucket dry", "B1") in due(say, "2026-07-12"), "and no button says to bottle it"
    assert not [one for one in due(say, "2026-07-12") if one[2] == "B2"]


def test_what_is_on_hold_comes_first_and_is_called_what_it_is(say):
    say("2026-07-12", "weigh", "--bucket", "B1", "--net", "20 kg", "--moisture", "17")
    say("2026-07-12", "recall", "hold", "--lot", "B1", "--because", "a splinter was seen")
    first = say("2026-07-12", "today").document["due"][0]
    assert (first.level, first.what) == ("urgent", "Bucket B1 is on hold.")
    assert "a splinter was seen" in first.why


def test_cappings_are_asked_for_until_they_were_drained(say):
    say("2026-07-12", "weigh", "--bucket", "B1", "--net", "20 kg", "--moisture", "17")
    assert ("due", "drain", "B1") not in due(say, "2026-07-12")
    assert ("due", "drain", "B1") in due(say, "2026-07-14")
    say("2026-07-14", "drain", "--bucket", "B1", "--net", "1 kg", "--moisture", "17")
    assert ("due", "drain", "B1") not in due(say, "2026-07-14")


def test_the_cappings_of_one_extraction_are_one_pot_and_may_be_empty(say):
    for bucket, day in (("B1", "2026-07-12"), ("B2", "2026-07-12"), ("C1", "2026-07-13")):
        say(day, "weigh", "--bucket", bucket, "--net", "20 kg", "--moisture", "17")
    asked = [one for one in due(say, "2026-07-14") if one[1] == "drain"]
    assert asked == [("due", "drain", "B1, B2"), ("due", "drain", "C1")]
    ended = say("2026-07-14", "drain", "--bucket", "B2", "--nothing").document
    assert ended["lots"] == ["B1", "B2"]
    say("2026-07-14", "drain", "--bucket", "C1", "--net", "1 kg", "--moisture", "17")
    assert not [one for one in due(say, "2026-07-14") if one[1] == "drain"]
    say("2026-07-14", "record", "correct", str(ended["event"]), "--because", "some came after all")
    assert [one[2] for one in due(say, "2026-07-14") if one[1] == "drain"] == ["B1, B2"]


def test_an_unmeasured_bucket_is_measured_and_a_rest_that_was_not_weighed_is_weighed_by_the_bucket_commands(say):
    say("2026-07-12", "weigh", "--bucket", "B1", "--net", "20 kg", "--note", "smells of lime")
    assert ("due", "bucket moisture", "B1") in due(say, "2026-07-13")
    say("2026-07-13", "bucket", "moisture", "B1", "17.2")
    assert ("due", "bucket moisture", "B1") not in due(say, "2026-07-13")
    say("2026-07-13", "price", "--set", "one pound", "--declares", "1 lb", "--price", "12")
    lot = say("2026-07-14", "bottle", "--bucket", "B1", "--jar", "one pound=12", "--note", "cold day").document["lot"]
    assert ("due", "bucket weigh-again", "B1") in due(say, "2026-07-14")
    say("2026-07-14", "bucket", "weigh-again", "B1", "--net", "14.5 kg")
    assert ("due", "bucket weigh-again", "B1") not in due(say, "2026-07-14")
    assert {each["note"] for each in say("2026-07-14", "trace", lot).document["notes"]} == {
        "smells of lime",
        "cold day",
    }


def test_a_run_over_the_limit_is_to_be_looked_into_until_the_producer_allows_more_or_it_is_long_ago(say):
    # 13.5 of 20 kg weighed back, so 6.5 kg taken; 12 pounds are 5.443 kg: 1.057 kg, 16.26 %, is nowhere
    say("2026-07-12", "weigh", "--bucket", "B1", "--net", "20 kg", "--moisture", "17")
    say("2026-07-13", "price", "--set", "one pound", "--declares", "1 lb", "--price", "12")
    done = ("bottle", "--bucket", "B1", "--jar", "one pound=12", "--left", "13.5 kg", "--fill", "one pound=453.592 g")
    lot = say("2026-07-13", *done).document["lot"]
    asked = [one for one in say("2026-07-13", "today").document["due"] if one.verb == "trace"]
    assert [one.about for one in asked] == [lot]
    assert "16.26 % is unexplained; your limit is 2 %" in asked[0].what and "Look for a run" in asked[0].why
    assert ("due", "trace", lot) not in due(say, "2026-08-13")
    assert say("2026-07-13", "record", "limits", "--unexplained", "17 %").document["unexplained_percent"] == 17
    assert ("due", "trace", lot) not in due(say, "2026-07-13")
    assert say("2026-07-13", "trace", lot).document["to_look_into"] == []
    say("2026-07-13", "record", "limits", "--unexplained", "1.5")
    assert [a["figure"] for a in say("2026-07-13", "trace", lot).document["to_look_into"]] == ["unexplained"]


def test_labels_are_asked_for_until_every_jar_in_stock_has_one(say):
    say("2026-07-12", "weigh", "--bucket", "B1", "--net", "20 kg", "--moisture", "17")
    say("2026-07-13", "price", "--set", "one pound", "--declares", "1 lb", "--price", "12")
    lot = say("2026-07-13", "bottle", "--bucket", "B1", "--jar", "one pound=12").document["lot"]
    assert ("due", "labels", f"{lot}=one pound") in due(say, "2026-07-13")
    say("2026-07-13", "label-words", "--name", "Wildflower Honey", "--jar", "one pound=3 in x 3.2 in")


def test_labels_print_from_the_words_in_the_record_and_are_booked_once(say, tmp_path):
    say("2026-07-12", "weigh", "--bucket", "B1", "--net", "20 kg", "--moisture", "17")
    say("2026-07-13", "price", "--set", "one pound", "--declares", "1 lb", "--price", "12")
    lot = say("2026-07-13", "bottle", "--bucket", "B1", "--jar", "one pound=12").document["lot"]
    say("2026-07-13", "label-words", "--name", "Wildflower Honey", "--jar", "one pound=3 in x 3.2 in")
    out = tmp_path / "labels.pdf"
    for _ in range(2):
        said = say("2026-07-13", "labels", "--size", "one pound", "--lot", lot, "--once", "a", "--out", str(out))
        assert said.document["labels"] == 12
    assert out.read_bytes().startswith(b"%PDF")
    printed = say("2026-07-13", "record", "events", "--kind", "print").document["events"]
    assert len(printed) == 1
    assert not [one for one in due(say, "2026-07-13") if one[1] == "labels"]


@pytest.mark.parametrize(
    ("option", "value", "refusal"),
    [
        ("--best-before", "next summer", LabelValueWrong),
        ("--fact", "no_such_fact=yes", LabelKeyUnknown),
        ("--jar", "one pound=wide x high", Refused),
    ],
)
def test_words_a_label_file_would_refuse_are_refused_before_they_are_kept(say, option, value, refusal):
    say("2026-07-13", "price", "--set", "one pound", "--declares", "1 lb", "--price", "12")
    say("2026-07-13", "label-words", "--name", "Wildflower Honey")
    with pytest.raises(refusal):
        say("2026-07-13", "label-words", option, value)
    kept = say("2026-07-13", "label-words", "--line", "Raw").document
    assert kept["label"] == {"name": "Wildflower Honey", "lines": ["Raw"]} and kept["situation"] == {}


def test_a_weight_that_cannot_be_declared_is_refused_before_it_is_a_price(say):
    with pytest.raises(Refused):
        say("2026-07-13", "price", "--set", "pot", "--declares", "a pot", "--price", "12")
