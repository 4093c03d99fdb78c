"""LOTS.toml as the command contract has it: every optional key, missing keys, odd values, many buckets."""

from __future__ import annotations

from decimal import Decimal

import pytest

WHOLE = """
currency = "USD"
market   = ["us"]
[[bucket]]
id = "B1"
gross = "28.4 kg"
tare = "1.1 kg"
moisture = 17.6
hold_back = "150 g"
[[jar]]
id = "one pound"
declares = "1 lb"
price = "12.00"
cost = "1.35"
in_stock = 200
at_least = 0
at_most = 100
"""
GAIN = Decimal("10.65")


def planned(labelkit, tmp_path, text: str, *options: str):
    (tmp_path / "lots.toml").write_text(text, encoding="utf-8")
    return labelkit("plan", "lots.toml", *options)


def test_the_contract_s_own_file(labelkit, tmp_path):
    # 28.4 - 1.1 - 0.15 = 27.15 kg; 59 pounds of 453.59237 g are 26.76 kg, 60 would be 27.22 kg.
    ran = planned(labelkit, tmp_path, WHOLE)
    plan = ran.document
    assert (ran.code, ran.err) == (0, "")
    assert list(plan)[:6] == ["status", "value", "bound", "gap", "jars", "buckets"]
    assert (plan["status"], plan["gap"], plan["jars"]) == ("proved", "0", {"one pound": 59})
    assert Decimal(plan["value"]) == Decimal(plan["bound"]) == 59 * GAIN
    (bucket,) = plan["buckets"]
    assert (bucket["id"], bucket["jars"], bucket["usable_g"]) == ("B1", {"one pound": 59}, "27150")
    assert abs(Decimal(bucket["filled_g"]) - 59 * Decimal("453.59237")) < Decimal("0.1")
    assert Decimal(bucket["filled_g"]) + Decimal(bucket["left_g"]) == 27150


@pytest.mark.parametrize(
    ("change", "jars"),
    [
        (('market   = ["us"]', 'market = "us"'), 59),
        (('market   = ["us"]', 'market = ["us", "us-va"]'), 59),
        (('gross = "28.4 kg"\ntare = "1.1 kg"', 'net = "27.3 kg"'), 59),
        (('gross = "28.4 kg"\ntare = "1.1 kg"', 'net = "60 lb 3 oz"'), 59),
        (('hold_back = "150 g"\n', ""), 60),
        (('hold_back = "150 g"', 'hold_back = "0 g"'), 60),
        (("moisture = 17.6\n", ""), 59),
        (("moisture = 17.6", 'moisture = "17.6"'), 59),
        (("moisture = 17.6", 'moisture = "17.6 %"'), 59),
        (("moisture = 17.6", "moisture = 18"), 59),
        (('price = "12.00"', "price = 12.00"), 59),
        (('price = "12.00"', "price = 12"), 59),
        (('cost = "1.35"', "cost = 1.35"), 59),
        (("in_stock = 200\n", ""), 59),
        (("in_stock = 200", "in_stock = 20"), 20),
        (("in_stock = 200", 'in_stock = "20"'), 20),
        (("in_stock = 200", "in_stock = 0"), 0),
        (("at_least = 0\n", ""), 59),
        (("at_most = 100\n", ""), 59),
        (("at_most = 100", "at_most = 7"), 7),
        (("at_most = 100", 'at_most = 7\nuses = "1 kg"'), 7),
        (("at_most = 100", 'at_most = 100\nuses = "460 g"'), 59),
        (("at_most = 100", 'at_most = 100\nuses = "500 g"'), 54),
        (("at_most = 100", 'at_most = 100\nuses = "400 g"'), 59),
    ],
)
def test_every_key_may_be_there_or_not(labelkit, tmp_path, change, jars):
    ran = planned(labelkit, tmp_path, WHOLE.replace(*change))
    assert ran.code == 0, ran.err
    assert ran.document["jars"] == {"one pound": jars}
    assert Decimal(ran.document["value"]) == jars * GAIN


def test_a_file_with_an_invisible_mark_and_other_line_ends(labelkit, tmp_path):
    assert planned(labelkit, tmp_path, "\ufeff" + WHOLE.replace("\n", "\r\n")).document["jars"] == {"one pound": 59}


REFUSED = [
    (('price = "12.00"\n', ""), "has no price"),
    (('price = "12.00"', 'price = "-12.00"'), "less than nothing"),
    (('cost = "1.35"', 'cost = "-1"'), "less than nothing"),
    (('price = "12.00"', 'price = "free"'), "free"),
    (('declares = "1 lb"\n', ""), "has no declares"),
    (('id = "one pound"\n', ""), "has no id"),
    (('id = "B1"\n', ""), "no id"),
    (('tare = "1.1 kg"\n', ""), "only gross"),
    (('gross = "28.4 kg"\ntare = "1.1 kg"\n', ""), "no weight"),
    (('gross = "28.4 kg"', "gross = 28.4"), "has no unit"),
    (('gross = "28.4 kg"', 'gross = "28.4 kg"\nnet = "27 kg"'), "all given"),
    (('tare = "1.1 kg"', 'tare = "30 kg"'), "not more than the tare"),
    (('hold_back = "150 g"', 'hold_back = "28 kg"'), "holds only"),
    (("moisture = 17.6", "moisture = nan"), "NaN"),
    (("moisture = 17.6", "moisture = 176"), "176"),
    (("in_stock = 200", "in_stock = -1"), "in_stock"),
    (("in_stock = 200", "in_stock = 2.5"), "in_stock"),
    (("in_stock = 200", "in_stock = true"), "in_stock"),
    (("at_least = 0", "at_least = 101"), "101"),
    (("at_least = 0", "at_least = 60"), "60"),
    (("at_most = 100", 'at_most = "many"'), "at_most"),
    (("at_most = 100", "at_mots = 100"), "at_most"),
    (('currency = "USD"', 'currency = "USX"'), "USX"),
    (('currency = "USD"', "currency = 5"), "currency"),
    (('market   = ["us"]', 'market = ["xx"]'), "xx"),
    (('market   = ["us"]', "market = 5"), "market"),
    (('market   = ["us"]', "market = [5]"), "market"),
    (('currency = "USD"', 'colour = "red"\ncurrency = "USD"'), "colour"),
    (('hold_back = "150 g"', "drained = 5"), "drained"),
    (('hold_back = "150 g"', "from = 5"), "from"),
    (("[[jar]]", "[jar]"), "list of tables"),
    (("[[bucket]]", "[[bucket"), "TOML"),
    (('declares = "1 lb"', 'declares = "16 fl oz"'), "weight"),
    (('declares = "1 lb"', "declares = 1"), "unit"),
]


@pytest.mark.parametrize(("change", "words"), REFUSED, ids=[repr(row[0][1]) + f" for {row[0][0]!r}" for row in REFUSED])
def test_a_broken_file_is_refused_and_says_where(labelkit, tmp_path, change, words):
    ran = planned(labelkit, tmp_path, WHOLE.replace(*change))
    assert ran.code == 2
    error = ran.error
    assert words in error["what"] + error["do"]


@pytest.mark.parametrize(
    "text",
    [
        "",
        "\n",
        "# nothing\n",
        'currency = "USD"\n',
        WHOLE.split("[[jar]]")[0],
        WHOLE.split("[[bucket]]")[0] + "[[jar]]" + WHOLE.split("[[jar]]")[1],
    ],
)
def test_without_buckets_or_jars_there_is_no_plan(labelkit, tmp_path, text):
    ran = planned(labelkit, tmp_path, text)
    assert (ran.code, ran.error["name"]) == (2, "NothingToPlan")


def test_a_missing_file_is_refused(labelkit):
    assert labelkit("plan", "nowhere.toml").error["name"] == "FileUnreadable"


@pytest.mark.parametrize(
    ("currency", "price", "cost", "value"),
    [
        ("JPY", "1200", "135", "62835"),
        ("EUR", "12.00", "1.35", "628.35"),
        ("TND", "12.005", "1.350", "628.645"),
        ("PLN", "45", "3.20", "2466.20"),
    ],
)
def test_money_has_its_currency_s_decimals(labelkit, tmp_path, currency, price, cost, value):
    text = WHOLE.replace("USD", currency).replace('"12.00"', f'"{price}"').replace('"1.35"', f'"{cost}"')
    assert planned(labelkit, tmp_path, text).document["value"] == value


def test_a_jar_takes_the_larger_of_its_two_weights(labelkit, tmp_path):
    # 12 oz are 340.19 g and “340 g” is less: 3,402 g make ten jars of 340.19 g; declared as 340 g they make ten of 340 g.
    text = WHOLE.replace('gross = "28.4 kg"\ntare = "1.1 kg"', 'net = "3401 g"').replace('hold_back = "150 g"\n', "")
    assert planned(labelkit, tmp_path, text.replace('"1 lb"', '"12 oz"')).document["jars"] == {"one pound": 9}
    assert planned(labelkit, tmp_path, text.replace('"1 lb"', '"340 g"')).document["jars"] == {"one pound": 10}


def test_two_sizes_are_chosen_by_hand_reckoning(labelkit, tmp_path):
    # 1000 g: two jars of 400 g leave 200 g for nothing (value 2 x 9 = 18); one of 400 g and two of 300 g fill it (9 + 2 x 6 = 21).
    text = (
        'currency = "EUR"\nmarket = "eu"\n[[bucket]]\nid = "B1"\nnet = "1000 g"\n'
        '[[jar]]\nid = "large"\ndeclares = "400 g"\nprice = "9.50"\ncost = "0.50"\n'
        '[[jar]]\nid = "small"\ndeclares = "300 g"\nprice = "6.40"\ncost = "0.40"\n'
    )
    plan = planned(labelkit, tmp_path, text).document
    assert (plan["status"], plan["value"], plan["jars"]) == ("proved", "21.00", {"large": 1, "small": 2})


def test_a_jar_is_filled_from_one_bucket(labelkit, tmp_path):
    buckets = "".join(f'[[bucket]]\nid = "B{n}"\nnet = "400 g"\n' for n in (1, 2))
    plan = planned(
        labelkit, tmp_path, 'currency = "USD"\nmarket = "us"\n' + buckets + "[[jar]]" + WHOLE.split("[[jar]]")[1]
    ).document
    assert plan["jars"] == {"one pound": 0}
    assert [bucket["left_g"] for bucket in plan["buckets"]] == ["400", "400"]


def test_several_hundred_buckets_are_planned_and_the_sums_hold(labelkit, tmp_path):
    nets = [15000 + (7919 * n) % 14000 for n in range(300)]
    buckets = "".join(
        f'[[bucket]]\nid = "B{n}"\nnet = "{net} g"\nmoisture = 17.{n % 10}\n' for n, net in enumerate(nets)
    )
    jars = "".join(
        f'[[jar]]\nid = "{declares}"\ndeclares = "{declares}"\nprice = "{price}"\ncost = "{cost}"\n{more}\n'
        for declares, price, cost, more in (
            ("8 oz", "7.00", "0.95", "at_most = 4000"),
            ("12 oz", "9.50", "1.10", "in_stock = 3000"),
            ("1 lb", "12.00", "1.35", "at_least = 100"),
            ("2 lb", "21.00", "1.90", "at_most = 900"),
            ("5 lb", "48.00", "3.10", ""),
        )
    )
    ran = planned(labelkit, tmp_path, f'currency = "USD"\nmarket = ["us"]\n{buckets}{jars}')
    plan = ran.document
    assert ran.code == 0
    assert plan["status"] in ("proved", "not proved")
    assert Decimal(plan["bound"]) >= Decimal(plan["value"]) > 0
    assert Decimal(plan["gap"]) < Decimal("0.001")
    gains = {"8 oz": "6.05", "12 oz": "8.40", "1 lb": "10.65", "2 lb": "19.10", "5 lb": "44.90"}
    assert Decimal(plan["value"]) == sum(Decimal(gains[size]) * count for size, count in plan["jars"].items())
    assert len(plan["buckets"]) == 300
    for size, count in plan["jars"].items():
        assert count == sum(bucket["jars"].get(size, 0) for bucket in plan["buckets"])
    assert plan["jars"]["8 oz"] <= 4000 and plan["jars"]["12 oz"] <= 3000 and plan["jars"]["2 lb"] <= 900
    assert plan["jars"]["1 lb"] >= 100
    for bucket, net in zip(plan["buckets"], nets, strict=True):
        assert Decimal(bucket["filled_g"]) + Decimal(bucket["left_g"]) == Decimal(bucket["usable_g"]) == net


def test_numbers_are_read_as_the_file_s_locale_writes_them(labelkit, tmp_path):
    text = 'locale = "de_DE"\n' + WHOLE.replace("28.4 kg", "28,4 kg").replace("1.1 kg", "1,1 kg").replace(
        '"12.00"', '"12,00"'
    ).replace('"1.35"', '"1,35"')
    assert planned(labelkit, tmp_path, text).document["jars"] == {"one pound": 59}
