"""Honey's figures on the command line: the keys of the contract, plain words, and slips asked about."""

import pytest


@pytest.mark.parametrize(
    ("arguments", "percent"),
    [
        (("--refractive-index", "1.4915"), "18.0"),
        (("--refractive-index", "1.4930", "--temperature", "15"), "17.9"),
        (("--refractive-index", "1.4930", "--temperature", "59 F"), "17.9"),
        (("--brix", "80.0"), "18.3"),
        (("--brix", "81.4"), "16.9"),
    ],
)
def test_moisture(labelkit, arguments, percent):
    document = labelkit("reckon", "moisture", *arguments, "--json").document
    assert document["moisture_percent"] == percent
    assert {"moisture_percent", "moisture_unrounded", "method"} <= set(document)


def test_density_and_weight(labelkit):
    document = labelkit("reckon", "density", "--moisture", "18.0", "--json").document
    assert (document["kg_per_l"], document["lb_per_us_gal"], document["us_fl_oz_per_lb"]) == (
        "1.4146",
        "11.805",
        "10.843",
    )
    document = labelkit("reckon", "weight", "--volume", "5 gal", "--moisture", "18.0", "--json").document
    assert abs(float(document["lb"]) - 59.03) < 0.15 and abs(float(document["g"]) - 26770) < 70


def test_whether_a_jar_takes_a_weight(labelkit):
    command = ("reckon", "weight", "--volume", "8 fl oz", "--moisture", "18", "--holds", "12 oz", "--headspace", "0")
    assert labelkit(*command, "--json").document["jar"]["fits"] is False
    assert "does not fit" in labelkit(*command).out


@pytest.mark.parametrize(
    ("moisture", "risk", "below"),
    [("17.0", "safe", None), ("17.6", "low", 1000), ("18.5", "high", 10), ("19.5", "high", 1), ("21", "certain", None)],
)
def test_ferment(labelkit, moisture, risk, below):
    document = labelkit("reckon", "ferment", "--moisture", moisture, "--json").document
    assert (document["risk"], document["yeast_below_per_g"]) == (risk, below)


def test_blend(labelkit):
    document = labelkit("reckon", "blend", "--part", "30 kg @ 17.2", "--part", "20 kg @ 19.4", "--json").document
    assert (document["g"], document["moisture_percent"]) == ("50000", "18.08")
    needed = labelkit(
        "reckon", "blend", "--part", "20 kg @ 19.4", "--target", "18", "--with", "16.5", "--json"
    ).document
    assert needed["needed_g"] == "18666.667"
    dried = labelkit("reckon", "blend", "--part", "60 lb @ 19.5", "--target", "18", "--json").document
    assert abs(float(dried["water_g"]) - 1.098 * 453.592) < 0.5


@pytest.mark.parametrize(
    ("arguments", "name", "words"),
    [
        (("moisture", "--brix", "17.6"), "NotABrix", "typed as Brix"),
        (("moisture", "--refractive-index", "80.3"), "NotARefractiveIndex", "use --brix"),
        (("moisture",), "ReadingMissing", "No reading is given"),
        (("moisture", "--brix", "80", "--refractive-index", "1.49"), "ReadingMissing", "Both readings are given"),
        (("density", "--moisture", "82"), "NotAMoisture", "looks like solids"),
        (("ferment", "--moisture", "0.18"), "NotAMoisture", "looks like a fraction"),
        (("weight", "--volume", "5 gal", "--moisture", "12"), "OutsideDensityTable", "Weigh the honey"),
        (("blend", "--part", "30 kg"), "BlendPartUnclear", "30 kg @ 17.2"),
        (
            ("blend", "--part", "9 kg @ 19", "--target", "17", "--with", "17.5"),
            "BlendTargetOutOfReach",
            "lies between its parts",
        ),
    ],
)
def test_slips_are_asked_about(labelkit, arguments, name, words):
    ran = labelkit("reckon", *arguments, "--json")
    assert (ran.code, ran.error["name"], ran.out) == (2, name, "")
    assert words in ran.err


def test_what_is_only_memory_reaches_the_reader(labelkit):
    assert "memory" in labelkit("reckon", "density", "--moisture", "17").out
    assert "second-hand" in labelkit("reckon", "ferment", "--moisture", "17").out


def test_a_german_reads_and_is_answered_with_commas(labelkit):
    out = labelkit("--locale", "de_DE", "reckon", "blend", "--part", "30 kg @ 17,2 %", "--part", "20 kg @ 19,4 %").out
    assert "18,08 % water" in out


def test_settling_warmth_and_yields_say_how_unsure_they_are(labelkit):
    document = labelkit("reckon", "settle", "--moisture", "17.5", "--temperature", "35 C", "--json").document
    # Worked from Stokes' law: 4.8 hours for bubbles of 0.2 mm, 15 for wax.
    assert abs(float(document["hours_bubbles"]) - 4.8) < 0.3 and abs(float(document["hours_wax"]) - 15) < 1
    assert "heather" in labelkit("reckon", "settle", "--moisture", "17.5", "--temperature", "35 C").out
    document = labelkit("reckon", "warmth", "--step", "50 C=24", "--json").document
    # 6.5 days at 50 °C make 30 mg/kg; one day about 4.6.
    assert abs(float(document["hmf_mg_per_kg"]) - 4.6) < 0.3
    assert "laboratory" in labelkit("reckon", "warmth", "--step", "50 C=24").out
    out = labelkit("reckon", "expected-yield", "--supers", "medium=2", "--frames", "deep=1").out
    assert "34.473 kg (76 lb) to 39.916 kg (88 lb) of honey" in out and "Book what the scale says" in out
    assert labelkit("reckon", "expected-yield").code == 2
    assert labelkit("reckon", "expected-yield", "--supers", "huge=1").code == 2


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        (("humidity", "--moisture", "18"), ("59 % relative humidity", "read only where another source quotes it")),
        (("volume", "--weight", "500 g", "--moisture", "18"), ("353.5 ml", "never a legal weight", "memory")),
        (("refractive-index", "--moisture", "18.6"), ("1.4900", "a Brix reading is not solids")),
        (("crystals", "--glucose", "31.3", "--moisture", "17.2"), ("sets slowly", "second-hand")),
        (
            ("hang-up", "--height", "36 cm", "--diameter", "29 cm", "--moisture", "17.5", "--temperature", "77 F"),
            ("stay on the wall", "from memory", "two people"),
        ),
        (
            ("warming-time", "--budget", "5", "--temperature", "45 C"),
            ("No longer than 19 hours", "cracks cold glass", "laboratory"),
        ),
        (("pfund", "--absorbance", "0.25"), ("memory", "54.1 mm")),
        (("cappings", "--crop", "30 kg"), ("never a flame", "second-hand", "Book what the scale says")),
        (("usable", "--received", "60 lb"), ("no source",)),
        (("gravity", "--weight", "12 lb", "--volume", "1 gal"), ("about 14.0 % water", "poor moisture meter")),
        (
            ("scale", "--capacity", "5 kg", "--division", "0.1 g", "--load", "1.5 kg"),
            ("Class II", "Legal for trade", "Check your local rules"),
        ),
        (("tare", "--empty", "212.7 g", "--declare", "1 lb"), ("weigh 1 more", "no chips", "666.3 g")),
    ],
)
def test_each_figure_says_how_sure_it_is_and_what_to_beware_of(labelkit, arguments, words):
    out = labelkit("reckon", *arguments).out
    for word in words:
        assert word in out, (word, out)


@pytest.mark.parametrize(
    "arguments",
    [
        ("humidity",),
        ("humidity", "--humidity", "58", "--moisture", "18"),
        ("gravity", "--empty", "28 g", "--water", "55 g"),
        ("gravity", "--weight", "12 lb"),
        ("gravity", "--weight", "12 lb", "--volume", "1 gal", "--honey", "65 g"),
        ("scale", "--capacity", "5 kg", "--division", "1 g", "--load", "6 kg"),
    ],
)
def test_half_a_question_is_asked_back(labelkit, arguments):
    ran = labelkit("reckon", *arguments, "--json")
    assert (ran.code, ran.error["name"]) == (2, "UsageUnclear")


def test_a_fahrenheit_thermometer_is_read_and_a_bare_number_too_warm_is_asked_about(labelkit):
    warm = ("reckon", "warming-time", "--budget", "5", "--temperature")
    celsius, fahrenheit = (labelkit(*warm, degrees, "--json").document["hours"] for degrees in ("45 C", "113 F"))
    assert celsius == fahrenheit == "19"
    assert labelkit(*warm, "113", "--json").error["name"] == "TemperatureOutOfReach"


def test_ones_own_average_stands_in_place_of_the_table(labelkit):
    found = labelkit("reckon", "expected-yield", "--supers", "zander=2", "--own", "2.1 kg", "--json").document
    assert found["low_g"] == found["high_g"] == "37800"


def test_a_box_nobody_knows_is_refused_with_those_that_are_known(labelkit):
    refused = labelkit("reckon", "expected-yield", "--supers", "palace=2")
    assert refused.code == 2 and "deutsch-normal" in refused.err


def test_a_flower_says_when_its_honey_sets_and_that_it_is_practice(labelkit):
    found = labelkit("reckon", "crystals", "--flower", "rape", "--json").document
    assert (found["says"], found["sure"]) == ("sets fast", "practice")
    assert labelkit("reckon", "crystals").code == 2
