"""A wish in the season file and the same wish as an option give the same plan."""

from __future__ import annotations

import pytest

from labelkit.shipped import folder

BARE = """
currency = "EUR"
market = ["eu"]
{plan}
[[bucket]]
id = "B1"
net = "12.3 kg"
plant = "clover"
{B1}
[[bucket]]
id = "B2"
net = "13.4 kg"
plant = "clover"
[[bucket]]
id = "B3"
net = "6.2 kg"
plant = "heather"
moisture = 23.4
[[jar]]
id = "500 g"
declares = "500 g"
price = "8.00"
cost = "0.80"
{500}
[[jar]]
id = "250 g"
declares = "250 g"
price = "4.20"
cost = "0.65"
{250}
"""

WISHES = [
    ({"plan": 'plan.goal = "least-left"'}, ["--goal", "least-left"]),
    ({"plan": 'plan.goal = "first"\nplan.first = "250 g"'}, ["--goal", "first", "--first", "250 g"]),
    (
        {"plan": 'plan.goal = "mix"\nplan.mix = { "500 g" = 1, "250 g" = 2.5 }'},
        ["--goal", "mix", "--mix", "500 g=1", "--mix", "250 g=2.5"],
    ),
    ({"plan": 'plan.wet = "allow"'}, ["--wet", "allow"]),
    ({"plan": 'plan.keep = { "winter feed" = "5 kg" }'}, ["--keep", "winter feed=5 kg"]),
    ({"plan": "plan.join_tails = true"}, ["--join-tails"]),
    (
        {"plan": 'plan.bucket_step = "50 g"\nplan.jar_step = "1 g"\nplan.hang_up = "80 g"'},
        ["--bucket-step", "50 g", "--jar-step", "1 g", "--hang-up", "80 g"],
    ),
    (
        {"B1": "use_first = true", "500": "at_most = 2", "250": "at_most = 40"},
        ["--use-first", "B1", "--at-most", "500 g=2", "--at-most", "250 g=40"],
    ),
    ({"B1": 'tags = ["organic"]', "500": 'only_from = "organic"'}, ["--tag", "B1=organic", "--only", "500 g=organic"]),
    ({"500": "reserve = 3"}, ["--reserve", "500 g=3"]),
    ({"500": "in_stock = 7"}, ["--stock", "500 g=7"]),
    (
        {"500": "in_stock = 7\nmay_buy = true\nbuy_pack = 12"},
        ["--stock", "500 g=7", "--buy", "500 g", "--buy-pack", "500 g=12"],
    ),
    ({"500": "case = 12"}, ["--whole-cases", "500 g=12"]),
    (
        {"500": 'then = [{ after = 4, price = "7.50" }, { after = 9, price = "6.00" }]'},
        ["--then", "500 g=4@7.50", "--then", "500 g=9@6.00"],
    ),
    ({"500": 'only_from = ["heather"]'}, ["--only", "500 g=heather"]),
    ({"250": "at_least = 5"}, ["--at-least", "250 g=5"]),
    ({"250": "at_most = 1"}, ["--at-most", "250 g=1"]),
]


def written(path, **lines):
    text = BARE
    for place in ("plan", "B1", "500", "250"):
        text = text.replace(f"{{{place}}}", lines.get(place, ""))
    path.write_text(text, encoding="utf-8")
    return path


@pytest.mark.parametrize(("lines", "options"), WISHES, ids=lambda value: None)
def test_a_wish_of_the_file_and_the_same_wish_as_an_option_give_the_same_plan(lines, options, labelkit, tmp_path):
    bare = labelkit("plan", written(tmp_path / "bare.toml"), "--json").document
    asked = labelkit("plan", written(tmp_path / "bare.toml"), *options, "--json").document
    filed = labelkit("plan", written(tmp_path / "wished.toml", **lines), "--json").document
    asked.pop("instead_of", None)
    assert filed == asked
    assert filed != bare or lines.get("plan") == "plan.join_tails = true"


def test_the_bucket_to_be_used_first_is_the_one_that_is_opened(labelkit, tmp_path):
    few = {"500": "at_most = 2", "250": "at_most = 40"}
    opened = [
        [
            b["id"]
            for b in labelkit("plan", written(tmp_path / "a.toml", **lines), "--json").document["buckets"]
            if b["jars"]
        ]
        for lines in (few, few | {"B1": "use_first = true"})
    ]
    assert opened == [["B2"], ["B1"]]


def test_an_option_holds_where_the_file_says_otherwise(labelkit, tmp_path):
    season = written(
        tmp_path / "a.toml", plan='plan.keep = { feed = "5 kg" }\nplan.hang_up = "2 kg"', **{"500": "reserve = 3"}
    )
    plain = written(tmp_path / "b.toml")
    over = labelkit("plan", season, "--keep", "feed=1 kg", "--hang-up", "50 g", "--reserve", "500 g=1", "--json")
    alone = labelkit("plan", plain, "--keep", "feed=1 kg", "--hang-up", "50 g", "--reserve", "500 g=1", "--json")
    assert over.document == alone.document


def test_the_run_sheet_of_a_season_file_keeps_to_its_wishes(labelkit, tmp_path):
    season = folder("sample_lots") / "wishes.toml"
    sheet = labelkit("run-sheet", season, "--out", tmp_path / "sheet.pdf", "--json")
    assert sheet.code == 0, sheet.err
    plan = labelkit("plan", season, "--json").document
    assert sheet.document["jars"].keys() == plan["jars"].keys()


@pytest.mark.parametrize(
    ("lines", "words"),
    [
        ({"plan": 'plan.gaol = "money"'}, "Did you mean “goal”?"),
        ({"plan": 'plan.goal = "most"'}, "Use one of: money, least-left, mix, first"),
        ({"plan": 'plan.goal = "first"'}, "no size is named"),
        ({"plan": 'plan.goal = "mix"'}, "no mix is given"),
        ({"plan": "plan.mix = { pound = 1 }"}, "names the jar “pound”"),
        ({"plan": 'plan.mix = { "500 g" = "lots" }'}, "the share of 500 g is “lots”"),
        ({"plan": 'plan.first = "pound"'}, "names the jar “pound”"),
        ({"plan": "plan.keep = 5"}, "keep is “5”"),
        ({"plan": "plan.keep = { feed = 5 }"}, "unit"),
        ({"plan": 'plan.wet = "dry"'}, "Use one of: leave-out, allow"),
        ({"plan": 'plan.join_tails = "yes"'}, "join_tails = true or join_tails = false"),
        ({"plan": "plan.hang_up = 80"}, "unit"),
        ({"B1": "use_first = 1"}, "use_first of bucket B1 is “1”"),
        ({"B1": "tags = [3]"}, "tags of bucket B1"),
        ({"500": "reserve = -1"}, "Give a whole number of jars, 0 or more"),
        ({"500": "buy_pack = 0"}, "Give a whole number of jars, 1 or more"),
        ({"500": 'then = "30@11"'}, "does not say after how many jars"),
        ({"500": 'then = [{ after = 0, price = "7" }]'}, "1 or more"),
        ({"500": 'then = [{ after = 3, price = "9.00" }]'}, "rises from €8.00 to €9.00"),
        ({"500": "only_from = 3"}, "only_from of jar 500 g"),
    ],
    ids=lambda value: None,
)
def test_a_wish_that_is_not_understood_is_refused_with_what_to_write(lines, words, labelkit, tmp_path):
    ran = labelkit("plan", written(tmp_path / "wished.toml", **lines))
    assert ran.code == 2
    assert words in ran.err
