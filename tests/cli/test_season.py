"""One season by hand on the command line, from the bucket weights to the trace."""

from __future__ import annotations

from decimal import Decimal

import pytest

from labelkit.shipped import folder
from tests.record.season import begin


@pytest.fixture
def season(labelkit):
    """Two part-full buckets with their cappings honey, jar sizes and prices, in a record."""
    assert labelkit("--day", "2026-07-18", "weigh", "--from", folder("sample_lots") / "cappings.toml").code == 0
    return labelkit


def test_weighing_from_a_spreadsheet_and_a_season_file_give_the_same_buckets(labelkit, tmp_path):
    (tmp_path / "b.csv").write_text("\ufeffEimer;Brutto (kg);Tara (kg)\r\nB1;28,4;1,1\r\nSumme;28,4;1,1\r\n", "utf-8")
    for name in ("csv", "typed"):
        begin(tmp_path / f"{name}.labelkit")
    from_csv = labelkit("--record", "csv.labelkit", "weigh", "--from", "b.csv", "--json").document
    typed = labelkit(
        "--record", "typed.labelkit", "weigh", "--bucket", "B1", "--gross", "28.4 kg", "--tare", "1.1 kg", "--json"
    ).document
    assert from_csv["buckets"][0]["holds_g"] == typed["buckets"][0]["holds_g"] == "27300"


def test_cappings_honey_is_added_to_its_bucket(labelkit):
    labelkit("--day", "2026-07-12", "weigh", "--bucket", "B1", "--net", "20 kg", "--moisture", "17.0")
    ran = labelkit("--day", "2026-07-15", "drain", "--bucket", "B1", "--net", "5 kg", "--moisture", "18.0", "--json")
    assert ran.document["holds_g"] == "25000" and ran.document["moisture_percent"] == "17.2"


def test_the_plan_from_the_record_is_the_plan_from_the_file(season):
    # The record knows nothing of the sixty empty jars, so they are said again.
    ran = season("--day", "2026-07-18", "plan", "--at-most", "twelve ounce=60", "--json")
    assert ran.document["value"] == "753.60" and ran.document["status"] == "proved"


def test_a_season_runs_from_bucket_to_buyer_and_back(season):
    run = season(
        "--day",
        "2026-07-20",
        "bottle",
        "--bucket",
        "B1",
        "--jar",
        "one pound=11",
        "--jar",
        "twelve ounce=38",
        "--broken",
        "twelve ounce=1",
        "--left",
        "300 g",
        "--json",
    ).document
    # 41 lb less 11 lb, less 39 jars of 12 oz, less 300 g: what the scale says is missing.
    missing = 41 * Decimal("453.59237") - 11 * Decimal("453.59237") - 39 * Decimal("340.1942775") - 300
    assert abs(Decimal(run["unexplained_g"]) - missing) < Decimal("0.1")
    lot = run["lot"]
    sold = season(
        "--day", "2026-07-25", "sell", "--lot", lot, "--jar", "one pound=3", "--place", "Saturday market", "--json"
    )
    assert sold.document["amount"] == "36.00"
    season(
        "--day", "2026-07-27", "sell", "--lot", lot, "--jar", "one pound=6", "--to", "shop", "--customer", "Corner shop"
    )
    back = season("trace", lot)
    assert back.code == 0
    for word in ("B1", "Mill meadow", "Hill orchard", "H7", "Corner shop", "Saturday market"):
        assert word in back.out
    forward = season("trace", "B1")
    assert lot in forward.out and "Corner shop" in forward.out


def test_more_jars_than_there_are_cannot_be_sold(season):
    lot = season("--day", "2026-07-20", "bottle", "--bucket", "B2", "--jar", "one pound=5", "--json").document["lot"]
    ran = season("--day", "2026-07-25", "sell", "--lot", lot, "--jar", "one pound=6")
    assert ran.code == 2 and "one pound" in ran.err
    assert season("--day", "2026-07-25", "sell", "--lot", lot, "--jar", "one pound=5").code == 0


def test_a_run_cannot_take_more_than_the_bucket_holds(season):
    ran = season("--day", "2026-07-20", "bottle", "--bucket", "B2", "--jar", "one pound=29")
    assert ran.code == 2 and "Bucket B2 holds 28 lb (12.701 kg)" in ran.err


def test_repeating_a_step_under_the_same_key_books_it_once(season):
    step = ("--day", "2026-07-20", "bottle", "--bucket", "B2", "--jar", "one pound=5", "--once", "run-1", "--json")
    first, again = season(*step), season(*step)
    assert first.document == again.document
    assert season("trace", "B2").out.count(first.document["lot"]) >= 1
    assert season("--day", "2026-07-20", "bottle", "--bucket", "B2", "--jar", "one pound=23").code == 0


def test_a_blend_says_how_far_a_recall_would_reach(season):
    ran = season("--day", "2026-07-18", "blend", "--into", "M1", "--part", "B1=2 kg", "--part", "B2=1 kg")
    assert "reaches 5 hives in 2 yards" in ran.out


def test_jars_without_a_lot_code_are_not_sold(season):
    ran = season("--day", "2026-07-25", "sell", "--jar", "one pound=1")
    assert ran.code == 2 and "Which lot" in ran.err


def test_the_price_list_shows_margin_and_price_by_weight_in_both_systems(season):
    document = season("price", "--json").document
    pound = next(row for row in document["sizes"] if row["size"] == "one pound")
    assert pound["margin"] == "10.65"
    assert pound["per"] == {"lb": "12.00", "oz": "0.75", "kg": "26.46", "100 g": "2.65"}


def test_a_key_spent_on_one_step_is_not_taken_for_another(season):
    first = season("--day", "2026-07-20", "bottle", "--bucket", "B2", "--jar", "one pound=5", "--once", "k", "--json")
    lot = first.document["lot"]
    other_count = season("--day", "2026-07-20", "bottle", "--bucket", "B2", "--jar", "one pound=6", "--once", "k")
    other_kind = season("--day", "2026-07-25", "sell", "--lot", lot, "--jar", "one pound=5", "--once", "k")
    for ran in (other_count, other_kind):
        assert ran.code == 3 and "key k belongs to event" in ran.err


def test_what_stands_against_a_step_is_told_with_the_commands_that_lead_out(season):
    season("--day", "2026-07-20", "weigh", "--bucket", "B9", "--net", "9 kg", "--moisture", "20.4")
    wet = ("--day", "2026-07-20", "bottle", "--bucket", "B9", "--jar", "one pound=2")
    asked = season(*wet, "--json")
    assert asked.code == 2 and asked.error["name"] == "StandsAgainst"
    assert "20.4 % water; the limit is 20 %" in asked.error["what"] and "--because" in asked.error["do"]
    assert season(*wet, "--because", "for baking").code == 0
    left_out = season("--day", "2026-07-20", "plan", "--json").document["left_out"]
    assert [out["bucket"] for out in left_out] == ["B9"]
    assert "left_out" not in season("--day", "2026-07-20", "plan", "--wet", "allow", "--json").document


def test_a_short_lot_is_refused_with_every_way_out_as_a_command(season):
    lot = season("--day", "2026-07-20", "bottle", "--bucket", "B2", "--jar", "one pound=12", "--json").document["lot"]
    weights = [part for n in range(12) for part in ("--weight", f"44{n % 3}.{n} g")]
    failed = season("--day", "2026-07-20", "check-weigh", "--lot", lot, *weights)
    assert failed.code == 1 and "These jars are on hold" in failed.out
    sale = ("--day", "2026-07-25", "sell", "--lot", lot, "--jar", "one pound=1")
    refused = season(*sale, "--because", "nobody minds")
    assert refused.code == 2
    for command in (f"check-weigh --lot {lot}", f"relabel --lot {lot}", f"recall release --lot {lot}"):
        assert f"labelkit {command}" in refused.err
    label = ("--day", "2026-07-20", "label-words", "--name", "Wildflower Honey", "--jar", "one pound=3 in x 3.2 in")
    assert season(*label).code == 0
    assert season("--day", "2026-07-20", "labels", "--lot", lot, "--size", "one pound").code == 2
    season("--day", "2026-07-21", "recall", "release", "--lot", lot, "--because", "the scale was off")
    assert season(*sale).code == 0


def test_labels_with_a_finding_are_printed_only_where_it_is_said_why_and_stay_marked(season):
    lot = season("--day", "2026-07-20", "bottle", "--bucket", "B2", "--jar", "one pound=2", "--json").document["lot"]
    jar = ("--jar", "one pound=3 in x 3.2 in")
    season("--day", "2026-07-20", "label-words", "--name", "Wildflower Honey", *jar, "--line", "Cures colds")
    labels = ("--day", "2026-07-20", "labels", "--lot", lot, "--size", "one pound", "--json")
    stopped = season(*labels)
    assert stopped.code == 1 and stopped.document["file"] is None
    let_through = season(*labels, "--because", "for the family")
    assert let_through.code == 1 and let_through.document["file"] == "labels.pdf"
    assert {f["rule"] for f in let_through.document["findings"]} == {f["rule"] for f in stopped.document["findings"]}
    sale = season("--day", "2026-07-25", "sell", "--lot", lot, "--jar", "one pound=1")
    assert sale.code == 2 and "were printed with findings that must be fixed" in sale.err


def test_a_drill_says_apart_who_has_no_phone_number(season):
    lot = season("--day", "2026-07-20", "bottle", "--bucket", "B2", "--jar", "one pound=9", "--json").document["lot"]
    sale = ("--day", "2026-07-25", "sell", "--lot", lot, "--to", "shop")
    assert season(*sale, "--jar", "one pound=2").code == 2, "a shop has a name"
    season(*sale, "--jar", "one pound=2", "--customer", "Corner shop", "--phone", "555-0100")
    asked = season(*sale, "--jar", "one pound=3", "--customer", "Hill shop", "--json")
    assert asked.code == 0 and asked.document["phone_missing"]
    drill = season("--day", "2026-07-26", "recall", "drill", "--lot", lot, "--json").document
    assert (drill["jars_made"], drill["in_stock"], drill["named"], drill["named_without_phone"]) == (9, 4, 5, 3)
