"""What a plan says in the terminal: short whatever the number of buckets, and nothing that stands out left unsaid."""

from __future__ import annotations

import csv

from labelkit.shipped import folder

JARS = """
[[jar]]
id = "kilo"
declares = "1 kg"
price = "20"
cost = "2"
[[jar]]
id = "half"
declares = "500 g"
price = "9"
cost = "1"
at_most = {most}
"""


def season(path, weights, most=10, keep=""):
    buckets = "".join(f'[[bucket]]\nid = "B{n}"\nnet = "{g} g"\n' for n, g in enumerate(weights, 1))
    path.write_text(f'currency = "EUR"\nmarket = ["eu"]\n{keep}\n{buckets}{JARS.format(most=most)}', encoding="utf-8")
    return path


def test_many_buckets_filled_alike_share_a_line(labelkit, tmp_path):
    told = labelkit("plan", season(tmp_path / "a.toml", [10_000] * 40 + [5_200])).out
    lines = told.splitlines()
    assert " ".join(lines[1].split()) == "B1, B2, B3, B4 and 36 more 40 10 kg (22 lb 0.7 oz) 10 – 0 g (0 oz)"
    assert lines[2].split()[:2] == ["B41", "1"]
    assert lines[3].split()[:2] == ["together", "41"]
    assert len(lines) < 12


def test_of_many_buckets_filled_differently_only_what_stands_out_is_told(labelkit, tmp_path):
    weights = [10_000 + 7 * n for n in range(200)] + [300, 400]
    ran = labelkit("plan", season(tmp_path / "a.toml", weights, keep='plan.keep = { feed = "5 kg" }'))
    assert len(ran.out.splitlines()) < 20
    assert "202 buckets with" in ran.out
    assert "Not opened: B201, B202." in ran.out
    assert "Every bucket by itself: --table plan.csv, or --json." in ran.out
    assert "Kept unbottled: 5 kg (11 lb 0.4 oz) for feed, in bucket" in ran.out


def test_the_spreadsheet_holds_every_bucket_and_adds_up(labelkit, tmp_path):
    path = season(tmp_path / "a.toml", [10_250 + 7 * n for n in range(60)], keep='plan.keep = { feed = "5 kg" }')
    plan = labelkit("plan", path, "--table", tmp_path / "plan.csv", "--json").document
    rows = list(csv.DictReader((tmp_path / "plan.csv").read_text(encoding="utf-8").splitlines()))
    assert [row["bucket"] for row in rows] == [bucket["id"] for bucket in plan["buckets"]]
    for size, count in plan["jars"].items():
        assert sum(int(row[size]) for row in rows) == count
    assert [row["left_g"] for row in rows] == [bucket["left_g"] for bucket in plan["buckets"]]
    assert sorted({row["of_that_kept_g"] for row in rows}) == ["0", "5000"]


def test_honey_that_is_kept_is_not_called_left_over(labelkit):
    told = labelkit("plan", folder("sample_lots") / "wishes.toml").out
    assert "150 g (5.3 oz) and 5 kg (11 lb 0.4 oz) kept" in told
    assert "Buy 24 more heather 250 g jars." in told
