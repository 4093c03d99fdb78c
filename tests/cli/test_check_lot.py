"""A label's words about moisture and grade are held against the honey that is really in its lot."""

from __future__ import annotations

LABEL = """
market = ["us"]
name = "Honey"
declares = "1 lb"
grade = "U.S. Grade A"
lot = "{lot}"
origin = [{{ country = "US", share = 100 }}]
[maker]
name = "Pretend Hollow Honey"
street = "12 Sample Lane"
city = "Pretend Hollow"
region = "VA"
postcode = "00000"
"""


def lot_of(labelkit, moisture):
    labelkit("start", "--market", "us")
    labelkit(
        "--day",
        "2026-07-12",
        "weigh",
        "--bucket",
        "B1",
        "--net",
        "20 kg",
        *(("--moisture", moisture) if moisture else ()),
    )
    labelkit("price", "--set", "one pound", "--declares", "1 lb", "--price", "12.00")
    ran = labelkit("--day", "2026-07-20", "bottle", "--bucket", "B1", "--jar", "one pound=40", "--json")
    return ran.document["lot"]


def findings(labelkit, tmp_path, lot):
    (tmp_path / "label.toml").write_text(LABEL.format(lot=lot))
    return labelkit("--record", "season.labelkit", "check", "label.toml", "--json")


def test_a_grade_the_lot_is_too_wet_for_must_be_fixed(labelkit, tmp_path):
    # USDA Grade A takes at most 18.6 % water.
    ran = findings(labelkit, tmp_path, lot_of(labelkit, "19.2"))
    stops = [f for f in ran.document["findings"] if f["field"] == "grade" and f["level"] == "stop"]
    assert ran.code == 1 and stops and "19.2 %" in stops[0]["says"]


def test_a_grade_the_lot_is_dry_enough_for_is_not_stopped(labelkit, tmp_path):
    ran = findings(labelkit, tmp_path, lot_of(labelkit, "17.4"))
    assert not [f for f in ran.document["findings"] if f["field"] == "grade" and f["level"] == "stop"]


def test_a_lot_whose_moisture_nobody_measured_proves_nothing(labelkit, tmp_path):
    ran = findings(labelkit, tmp_path, lot_of(labelkit, None))
    assert not [f for f in ran.document["findings"] if "19.2" in f["says"]]


def test_a_lot_that_is_not_in_the_record_is_refused(labelkit, tmp_path):
    lot_of(labelkit, "17.4")
    other = labelkit("lot-code", "--bottled", "2025-07-20", "--bucket", "B1", "--json").document["code"]
    ran = findings(labelkit, tmp_path, other)
    assert ran.code == 2 and other in ran.err
