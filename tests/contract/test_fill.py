"""Lots judged on the command line: the verdicts of NIST Handbook 133, SI 2006/659, SFCR Schedule 5 and others.

Errors are from the handbook's own way of reckoning; means and spreads are plain statistics (n - 1), done by hand and with
the module ``statistics``.
"""

from __future__ import annotations

import statistics
from decimal import Decimal

import pytest

POUND = Decimal("453.592")  # whole milligrams, as a scale of any class would tell it


def weighed(label: Decimal, errors: str) -> list[Decimal]:
    return [label + Decimal(error) for error in errors.split(",")]


def spread(count: int, mean: str, stdev: str) -> list[Decimal]:
    """So many weights with this mean and this standard deviation: half of them above, half below."""
    half = (Decimal(stdev) * (Decimal(count - 1) / count).sqrt()).quantize(Decimal("0.001"))
    return [Decimal(mean) + half] * (count // 2) + [Decimal(mean) - half] * (count // 2)


HB133 = [
    (
        "4 g short twice, 6 g once",
        "1 lb",
        200,
        weighed(POUND, "-4,-1,2,-3,-2,1,-6,3,-1,-2,0,1"),
        "pass",
        "-1.000",
        "2.594",
        "1.647",
    ),
    (
        "scatter widens the limit",
        "1 lb",
        200,
        weighed(POUND, "-8,-12,5,-15,3,-2,-9,1,-6,4,-11,2"),
        "pass",
        "-4.0",
        "6.994",
        "4.441",
    ),
    (
        "one jar beyond the variation",
        "1 lb",
        200,
        weighed(POUND, "6,5,-21,4,3,2,5,4,6,3,2,4"),
        "fail",
        "1.917",
        None,
        None,
    ),
    (
        "twenty-four of 800",
        "1 lb",
        800,
        weighed(POUND, "-2,1,-3,0,2,-4,1,-1,-2,3,-5,0,-1,2,-3,-1,0,1,-2,-4,2,-1,0,-3"),
        "pass",
        "-0.8333",
        "2.160",
        "0.9116",
    ),
    ("no spread at all", "1 lb", 2, weighed(POUND, "-3,-3"), "fail", "-3", "0", "0"),
    ("one jar is its own lot", "1 lb", 1, weighed(POUND, "-10"), "pass", "-10", None, None),
    ("one jar beyond the variation is a lot that fails", "1 lb", 1, weighed(POUND, "-20"), "fail", "-20", None, None),
    ("a plus average", "1 lb", 200, weighed(POUND, "1,2,3,1,2,3,1,2,3,1,2,3"), "pass", "2", None, None),
    (
        "all short by three grams and alike",
        "1 lb",
        200,
        weighed(POUND, "-3,-3,-3,-3,-3,-3,-3,-3,-3,-3,-3,-3"),
        "fail",
        "-3",
        "0",
        "0",
    ),
]


@pytest.mark.parametrize(
    ("declares", "lot", "weights", "verdict", "average", "stdev", "limit"),
    [row[1:] for row in HB133],
    ids=[row[0] for row in HB133],
)
def test_a_lot_by_handbook_133(labelkit, declares, lot, weights, verdict, average, stdev, limit):
    ran = asked(labelkit, declares, "us", lot, weights)
    answer = ran.document
    assert answer["verdict"] == verdict
    assert ran.code == (1 if verdict == "fail" else 0)
    assert near(answer["average_error_g"], average, "0.001")
    if stdev is not None:
        assert near(answer["stdev_g"], stdev, "0.001")
    if limit is not None:
        assert near(answer["sample_error_limit_g"], limit, "0.001")
    if len(weights) > 1:
        assert near(answer["stdev_g"], str(statistics.stdev(weights)), "0.001")


GROSS = ["666.2", "664.1", "667.0", "665.9", "663.8", "665.3", "668.1", "664.7", "666.4", "665.0", "665.6", "666.0"]
TARE = Decimal("212.7")


@pytest.mark.parametrize(
    ("declares", "more", "verdict", "average"),
    [
        ("1 lb", "0", "pass", "-0.625"),
        ("454 g", "0", "fail", "-1.025"),
        ("1 lb", "1.0", "pass", "0.375"),
        ("1 lb", "-0.9", "fail", "-1.525"),
    ],
)
@pytest.mark.parametrize("gross", [True, False])
def test_one_lot_and_two_labels(labelkit, declares, more, verdict, average, gross):
    # NIST Handbook 133 2.3.3, 2.3.6: nominal gross 666.3 g for 453.592 g and 666.7 g for 454 g, sample error limit 0.7692.
    weights = [Decimal(weight) + Decimal(more) - (0 if gross else TARE) for weight in GROSS]
    more_options = ("--tare", f"{TARE} g") if gross else ()
    answer = asked(labelkit, declares, "us", 200, weights, *more_options).document
    assert answer["verdict"] == verdict
    assert near(answer["average_error_g"], average, "0.0005" if gross else "0.01")
    assert near(answer["stdev_g"], "1.2114", "0.0001")
    assert near(answer["sample_error_limit_g"], "0.7692", "0.0001")


OTHERS = [
    ("uk", "340 g", 24, [Decimal("329.5")] + [Decimal("340.5")] * 23, (), "pass"),  # SI 2006/659 Sch. 2 para 3.6, 4.7
    ("uk", "340 g", 24, [Decimal("339.9")] * 24, (), "fail"),  # para 4.7: the mean
    ("uk", "340 g", 24, [Decimal("319.5")] + [Decimal("342")] * 23, (), "fail"),  # Annex I 1.3: below 319.6
    ("eu", "340 g", 24, [Decimal("319.5")] + [Decimal("342")] * 23, (), "fail"),
    ("uk", "500 g", 300, spread(30, "499.0", "2.1"), (), "pass"),  # para 4.5: 500 - 0.503 x 2.1 = 498.94
    ("uk", "340 g", 300, spread(20, "337.5", "4.0"), ("--destructive",), "pass"),  # para 4.6: 340 - 0.640 x 4 = 337.44
    ("uk", "340 g", 300, spread(20, "337.4", "4.0"), ("--destructive",), "fail"),
    ("ca", "500 g", 48, spread(12, "499.5", "1.0"), (), "pass"),  # SFCR Sch. 5: 499.5 + 0.897
    ("ca", "500 g", 48, spread(12, "499.0", "1.0"), (), "fail"),
    ("au", "500 g", 300, [Decimal(474)] + [Decimal(502)] * 49, (), "fail"),  # less than 475: more than 5 %
    ("au", "500 g", 300, [Decimal(476)] + [Decimal(502)] * 49, (), "pass"),
    ("nz", "500 g", 60, [Decimal(501)] * 12, (), "pass"),  # Sch. 7A
    ("nz", "500 g", 60, [Decimal(469)] + [Decimal(505)] * 11, (), "fail"),  # an inadequate package
    ("au", "500 g", 3500, [Decimal(480)] * 2 + [Decimal("501.5")] * 123, ("--system", "AQS"), "pass"),  # butter
    ("au", "3 kg", 148, [Decimal(2900)] + [Decimal(3104)] * 49, ("--system", "AQS"), "fail"),  # potatoes: one beyond 2T
    (
        "au",
        "1.5 kg",
        5000,
        [Decimal(1470)] * 4 + [Decimal(1604)] * 121,
        ("--system", "AQS"),
        "pass",
    ),  # sugar: four beyond T
]


@pytest.mark.parametrize(("market", "declares", "lot", "weights", "options", "verdict"), OTHERS)
def test_a_lot_elsewhere(labelkit, market, declares, lot, weights, options, verdict):
    ran = asked(labelkit, declares, market, lot, weights, *options)
    assert ran.document["verdict"] == verdict
    assert ran.code == (1 if verdict == "fail" else 0)


def test_thirty_of_three_hundred_pass_the_mean(labelkit):
    answer = asked(labelkit, "500 g", "uk", 300, spread(30, "499.0", "2.1")).document
    assert near(answer["limit_g"], "498.94", "0.01")  # 500 - 0.503 x 2.1


def test_the_keys_are_those_of_the_contract(labelkit):
    answer = asked(labelkit, "1 lb", "us", 200, weighed(POUND, "0," * 11 + "0")).document
    common = {"verdict", "mean_g", "stdev_g", "limit_g", "short_jars", "allowed_short", "sample_needed"}
    assert common | {"average_error_g", "sample_error_limit_g"} <= set(answer)
    assert common <= set(asked(labelkit, "340 g", "uk", 24, [Decimal(341)] * 24).document)
    assert isinstance(answer["short_jars"], int) and isinstance(answer["sample_needed"], int)


def test_too_few_jars_are_a_question(labelkit):
    ran = asked(labelkit, "1 lb", "us", 200, [Decimal(454)] * 5)
    assert (ran.code, ran.document["verdict"], ran.document["sample_needed"]) == (0, "ask", 12)


@pytest.mark.parametrize(
    "text",
    [
        "454.1\n453.9\n" * 6,
        "454.1 g\n453.9 g\n" * 6,
        "weight\n454.1\n453.9\n" + "454\n" * 10,
        "jar,grams\n" + "".join(f"{n},454.{n % 10}\n" for n in range(12)),
    ],
)
def test_weights_from_a_file(labelkit, tmp_path, text):
    (tmp_path / "weights.csv").write_text(text)
    ran = labelkit(
        "reckon", "fill-test", "--declare", "1 lb", "--market", "us", "--lot-size", 200, "--weights", "weights.csv"
    )
    assert (ran.code, ran.document["verdict"]) == (0, "pass")


def asked(labelkit, declares, market, lot, weights, *options):
    each = [word for weight in weights for word in ("--weight", f"{weight} g")]
    return labelkit(
        "reckon", "fill-test", "--declare", declares, "--market", market, "--lot-size", lot, *each, *options
    )


def near(given: str, wanted: str, within: str) -> bool:
    return abs(Decimal(given) - Decimal(wanted)) <= Decimal(within)
