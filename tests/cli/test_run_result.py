"""Filling day closes its loop on the command line: check weights kept, what the run came to, how to fill next."""

from pathlib import Path

import pytest

from tests.cli.conftest import played

DAY = ("--day", "2026-07-14")
GROSS = ["667.9", "668.4", "666.9", "669.2", "667.1", "668.8", "668.0", "669.9", "667.5", "668.3", "667.7", "668.9"]


def _begin(labelkit) -> None:
    for line in (
        ("start", "--market", "us", "--market", "us-va", "--currency", "USD"),
        (
            "weigh",
            "--bucket",
            "B1",
            "--gross",
            "28.4 kg",
            "--tare",
            "1.1 kg",
            "--moisture",
            "17.6",
            "--yard",
            "Mill: H1, H2",
        ),
        ("price", "--set", "one pound", "--declares", "1 lb", "--price", "12.00", "--cost", "1.35"),
        ("bottle", "--bucket", "B1", "--jar", "one pound=57", "--left", "1.2 kg"),
    ):
        assert labelkit(*DAY, *line).code == 0
    Path("gross.txt").write_text("\n".join(GROSS))


@pytest.fixture
def season(labelkit):
    """One bucket weighed in and bottled into 57 jars of a pound; the lot code is L26195AXR."""
    played("one lot", lambda: _begin(labelkit))
    return lambda *arguments: labelkit(*DAY, *arguments)


LOT = ("check-weigh", "--lot", "L26195AXR")
WEIGHED = (*LOT, "--weights", "gross.txt", "--tare", "212.7 g", "--division", "0.1 g", "--aimed", "455 g")


def test_before_weighing_it_says_how_many_to_weigh(season):
    ran = season(*LOT, "--json")
    assert (ran.document["sample_needed"], ran.document["verdict"]) == (12, "ask")


def test_check_weights_are_kept_judged_and_drawn(season):
    ran = season(*WEIGHED, "--chart", "chart.svg", "--json")
    assert (ran.code, ran.document["verdict"], ran.document["weighed"]) == (0, "pass", 12)
    # By hand: the mean of the twelve is 668.2167; less 212.7 and 453.592 that is 1.925 above the label, 109.7 g in 57.
    assert float(ran.document["above_label_g"]) == pytest.approx(1.925, abs=0.001)
    assert float(ran.document["given_away_g"]) == pytest.approx(109.7, abs=0.05)
    assert Path("chart.svg").read_text(encoding="utf-8").startswith("<svg")
    assert "one pound weighed" in season("record", "events").out and season("record", "verify").code == 0


def test_to_look_keeps_nothing(season):
    look = season(*WEIGHED, "--look", "--chart", "chart.svg", "--json").document
    assert (look["verdict"], look["event"]) == ("pass", None) and Path("chart.svg").exists()
    assert "one pound weighed" not in season("record", "events").out


def test_weights_typed_in_two_goes_are_judged_together(season):
    half = [part for gross in GROSS[:6] for part in ("--weight", f"{gross} g")]
    first = season(*LOT, *half, "--tare", "212.7 g", "--json").document
    assert (first["verdict"], first["weigh_more"]) == ("ask", 6)
    more = [part for gross in GROSS[6:] for part in ("--weight", f"{gross} g")]
    second = season(*LOT, *more, "--tare", "212.7 g", "--json").document
    assert (second["verdict"], second["weighed"]) == ("pass", 12)
    assert "together with the weights kept before" in season(*LOT, "--look").out


def test_a_lot_that_fails_says_so_with_its_exit_code_and_is_kept_all_the_same(season):
    light = [part for place in range(12) for part in ("--weight", f"{440 + place % 3}.5 g")]
    ran = season(*LOT, *light)
    assert ran.code == 1 and "The lot fails" in ran.out and "Top up" in ran.out and "Kept as event" in ran.out


def test_a_lot_topped_up_is_weighed_anew_and_teaches_what_it_was_filled_to(season):
    light = [part for place in range(12) for part in ("--weight", f"{440 + place % 3}.5 g")]
    assert "say --anew" in season(*LOT, *light, "--aimed", "454 g").out
    full = [part for place in range(12) for part in ("--weight", f"{454 + place % 3}.5 g")]
    assert season(*LOT, *full, "--look", "--json").document["verdict"] == "fail", "the old weights still speak"
    ran = season(*LOT, *full, "--anew", "--json")
    assert (ran.code, ran.document["verdict"], ran.document["weighed"]) == (0, "pass", 12)
    result = season("run-result", "--json").document
    # The jars hold 455.5 g now; they were filled to 441.5 g, 12.5 g under their aim of 454 g.
    assert result["runs"][0]["sizes"][0]["mean_g"] == "455.5"
    assert float(result["next"][0]["habit_g"]) == pytest.approx(-12.5)


def test_a_step_repeated_under_its_key_books_nothing_twice(season):
    first, again = (season(*WEIGHED, "--once", "morning", "--json").document for _ in range(2))
    assert first["event"] == again["event"] and again["weighed"] == 12


@pytest.mark.parametrize(
    ("arguments", "name"),
    [
        ((*LOT, "--weight", "455 g", "--weight", "16 oz"), "WeightsInMixedUnits"),
        ((*LOT, "--weight", "4.55", "--weight", "455"), "WeightFarFromLabel"),
        ((*LOT, "--weight", "668 g", "--tare=-5 g"), "TareImpossible"),
        ((*LOT, "--weight", "455 g", "--aimed", "4.55 g"), "WeightFarFromLabel"),
        ((*LOT, "--weight", "455 g", "--size", "quart"), "LotHasNoSuchJars"),
        ((*LOT, *(["--weight", "455 g"] * 58)), "MoreWeightsThanJars"),
        (("check-weigh", "--lot", "B1", "--weight", "455 g"), "LotUnknown"),
        (("check-weigh", "--lot", "L26195AXX", "--weight", "455 g"), "LotCodeWrong"),
        (("run-result", "--sure", "100"), "SpreadUnclear"),
        (("run-result", "nowhere"), "LotUnknown"),
    ],
)
def test_slips_are_asked_about_and_nothing_is_kept(season, arguments, name):
    ran = season(*arguments, "--json")
    assert (ran.code, ran.error["name"]) == (2, name)
    assert "one pound weighed" not in season("record", "events").out


def test_the_same_list_twice_is_asked_about(season):
    assert season(*WEIGHED).code == 0
    assert season(*WEIGHED, "--json").error["name"] == "WeightsKeptAlready"


def test_a_season_that_names_no_market_is_asked_where_it_sells(labelkit):
    labelkit(*DAY, "weigh", "--bucket", "B1", "--net", "20 kg", "--moisture", "17.6")
    labelkit(*DAY, "price", "--set", "jar", "--declares", "340 g", "--price", "8", "--cost", "1")
    lot = labelkit(*DAY, "bottle", "--bucket", "B1", "--jar", "jar=24", "--json").document["lot"]
    assert labelkit(*DAY, "check-weigh", "--lot", lot, "--json").error["name"] == "MarketMissing"
    asked = labelkit(*DAY, "check-weigh", "--lot", lot, "--market", "uk", "--json")
    assert asked.document["sample_needed"] == 24


def test_the_result_of_a_run_shows_give_away_what_is_unexplained_and_honey_by_hive(season):
    season(*WEIGHED)
    document = season("run-result", "--json").document
    run = document["runs"][0]
    # By hand: 27300 - 1200 - 57 x 453.592 = 245.256 g unexplained; 57 x 1.9247 = 109.7 g of it are in the jars.
    assert run["unexplained_g"] == "245.256"
    assert float(run["still_unexplained_g"]) == pytest.approx(135.55, abs=0.01)
    # 109.7 g in jars of 453.592 g that bring 10.65 each: 2.58.
    assert (document["given_away"], document["currency"]) == ("2.58", "USD")
    assert (run["hives"], run["per_hive_g"]) == (2, "13050")
    yard = document["yards"][0]
    assert (yard["yard"], yard["hives"], yard["per_hive_g"]) == ("Mill", 2, "13650")
    out = season("run-result").out
    for words in (
        "Given away above the labels",
        "$2.58",
        "still unexplained",
        "Mill H1",
        "a convention",
        "Check your local rules",
    ):
        assert words in out, words


def test_how_to_fill_next_is_learnt_from_the_records_own_runs(season):
    assert season("run-result", "--json").document["next"] == []
    assert "labelkit check-weigh" in season("run-result").out
    season(*WEIGHED)
    fill = season("run-result", "--sure", "99", "--json").document["next"][0]
    assert (fill["size"], fill["runs"], fill["jars_weighed"], fill["wanted_percent"]) == ("one pound", 1, 12, "99")
    assert float(fill["passes_at_least_percent"]) >= 99 and float(fill["fill_to_g"]) >= 453.592
    # Sixty jars out of the bucket: 60 g of honey at 10.65 for 453.592 g.
    assert (max(fill["lots_of"]), fill["each_gram_costs"]) == (60, "1.41")
    assert any("Only 12 jars" in note for note in fill["notes"])


def test_weights_that_were_struck_teach_nothing(season):
    event = season(*WEIGHED, "--json").document["event"]
    assert season("record", "correct", str(event), "--because", "another lot").code == 0
    assert season("run-result", "--json").document["next"] == []


def test_weights_of_a_run_that_was_struck_teach_nothing(season):
    season(*WEIGHED)
    run = next(line for line in season("record", "events").out.splitlines() if "bottled" in line).split()[0]
    assert season("record", "correct", run, "--because", "another bucket").code == 0
    assert season("run-result", "--json").document["next"] == []


def test_jars_that_got_another_code_are_still_the_jars_of_their_run(season):
    relabel = ("relabel", "--lot", "L26195AXR", "--jar", "one pound=12", "--reason", "label smudged", "--json")
    new = season(*relabel).document["into"]
    ran = season("check-weigh", "--lot", new, "--weight", "455 g", "--json")
    assert (ran.document["lot"], ran.document["jars"]) == ("L26195AXR", 57)


# --- the next run sheet -----------------------------------------------------------------------------------------------

UNEVEN = ["455.9", "449.4", "460.9", "458.2", "452.1", "448.8", "457.0", "459.9", "451.5", "456.3", "447.7", "455.9"]


@pytest.fixture
def second(season):
    """A second bucket to bottle, and an uneven first run to learn from."""
    Path("uneven.txt").write_text("\n".join(UNEVEN))
    assert season(*LOT, "--weights", "uneven.txt", "--aimed", "454 g").code == 0
    assert season("weigh", "--bucket", "B2", "--net", "20 kg", "--moisture", "17.4").code == 0
    usual = {"--tare": "one pound=212.7 g", "--division": "1 g"}

    def sheet(*arguments):
        said = [part for option, value in usual.items() if option not in arguments for part in (option, value)]
        return season("run-sheet", *said, *arguments)

    return sheet


def pages(name: str = "run-sheet.pdf") -> str:
    pypdf = pytest.importorskip("pypdf")
    return " ".join(" ".join(page.extract_text() for page in pypdf.PdfReader(name).pages).split())


def test_a_run_sheet_offers_the_margin_of_the_past_in_words_and_changes_nothing(second):
    plain = second("--json").document
    assert (plain["offered"], plain["from_past"]) == (["one pound"], [])
    # 453.592 + 212.7 is 666.292, up to the next gram: the bare label weight.
    assert plain["buckets"][0]["lines"][0]["fill_until_g"] == "667"
    assert "Let the plan and the run sheet reckon with it: --fill-from-past" in second().out


def test_a_run_sheet_aims_and_plans_by_the_past_where_it_is_asked_to(second):
    bare = second("--json").document
    sheet = second("--fill-from-past", "--sure", "99.9", "--json").document
    line, before = sheet["buckets"][-1]["lines"][0], bare["buckets"][-1]["lines"][0]
    assert (sheet["offered"], sheet["from_past"]) == ([], ["one pound"])
    assert float(line["fill_until_g"]) > float(before["fill_until_g"])
    assert line["good_from_g"] == before["good_from_g"], "a jar at its label weight is good all the same"
    assert float(line["passes"]) >= 0.999
    # What the margin takes is in the plan already: the bucket is never asked for more than it holds.
    assert all(float(bucket["left_g"]) >= 0 for bucket in sheet["buckets"])
    text = pages()
    assert "By your own past runs a lot of" in text and "as the scale shows them" in text


def test_a_margin_that_is_given_goes_before_the_one_that_is_learnt(second):
    sheet = second("--fill-from-past", "--margin", "one pound=9 g", "--json").document
    assert sheet["from_past"] == []
    # 453.592 + 9 + 212.7 is 675.292.
    assert sheet["buckets"][-1]["lines"][0]["fill_until_g"] == "676"
    # Forty-four jars out of 20 kg, and two of what was left of the first bucket: 46 g at 10.65 for 453.592 g are 1.08.
    assert sum(bucket["lines"][0]["jars"] for bucket in sheet["buckets"]) == 46
    assert sheet["each_gram_costs"] == {"one pound": "1.08"}
    assert "in the 46 one pound jars of this day costs $1.08" in second("--margin", "one pound=9 g").out


def test_to_fill_from_a_past_nobody_weighed_is_refused(season):
    season("weigh", "--bucket", "B2", "--net", "20 kg", "--moisture", "17.4")
    ran = season("run-sheet", "--fill-from-past", "--json")
    assert (ran.code, ran.error["name"]) == (2, "NoPastRuns")
    assert not Path("run-sheet.pdf").exists()


def test_a_size_nobody_weighed_is_planned_bare_and_named(second, season):
    season("price", "--set", "half pound", "--declares", "8 oz", "--price", "7.00", "--cost", "1.10")
    out = second("--fill-from-past").out
    assert "No check weights yet of half pound" in out


def test_the_run_sheet_shows_the_plan_as_a_picture(second):
    second("--json")
    text = pages()
    # The bar of the bucket and the legend under it.
    assert "44 × one pound" in text and "g left" in text


def test_a_market_of_two_ways_is_judged_and_planned_by_the_one_that_is_named(labelkit):
    start = (*DAY, "start", "--market", "au", "--market", "us", "--currency", "AUD")
    for line in (
        start,
        (*DAY, "weigh", "--bucket", "B1", "--net", "60 kg", "--moisture", "17.4"),
        (*DAY, "price", "--set", "jar", "--declares", "500 g", "--price", "14", "--cost", "1"),
    ):
        assert labelkit(*line).code == 0
    lot = labelkit(*DAY, "bottle", "--bucket", "B1", "--jar", "jar=110", "--json").document["lot"]
    check = (*DAY, "check-weigh", "--lot", lot, "--json")
    # Twelve by either market's usual way; fifty of a lot of 110 by reg. 4.34, and the United States keep their own.
    assert labelkit(*check).document["sample_needed"] == 12
    assert labelkit(*check, "--system", "AQS").document["sample_needed"] == 50
    assert labelkit(*check, "--system", "none such").error["name"] == "LotTestUnknown"
    weights = [part for place in range(50) for part in ("--weight", f"{501 + place % 4} g")]
    kept = labelkit(*check, *weights, "--aimed", "501 g", "--system", "AQS").document
    assert (kept["verdict"], kept["system"], len(kept["other_tests"])) == ("pass", "AQS", 1)
    tests = labelkit(*DAY, "run-result", "--system", "AQS", "--json").document["next"][0]["tests"]
    assert "the average quantity system (AQS)" in tests and len(tests) == 2
    labelkit(*DAY, "weigh", "--bucket", "B2", "--net", "60 kg", "--moisture", "17.4")
    sheet = (*DAY, "run-sheet", "--fill-from-past", "--json")
    for options, weigh in (((), 12), (("--system", "AQS"), 50)):
        lines = labelkit(*sheet, *options).document["buckets"][-1]["lines"]
        assert lines[0]["weigh"] == weigh and lines[0]["jars"] > 100


@pytest.mark.parametrize(
    ("arguments", "name"),
    [
        (("--tare", "one pound=5 kg"), "TareImpossible"),
        (("--tare", "one pound=-5 g"), "TareImpossible"),
        (("--margin", "one pound=455 g"), "MarginFarTooLarge"),
        (("--margin", "one pound=-1 g"), "NotPositive"),
        (("--margin", "quart=1 g"), "JarSizeUnknown"),
        (("--division", "0 g"), "NotPositive"),
        (("--sure", "5"), "SpreadUnclear"),
    ],
)
def test_a_run_sheet_asks_about_figures_no_jar_and_no_scale_has(second, arguments, name):
    ran = second(*arguments, "--json")
    assert (ran.code, ran.error["name"]) == (2, name)
    assert not Path("run-sheet.pdf").exists()


def test_a_scale_too_coarse_for_the_test_is_told_on_the_sheet_and_on_paper(second):
    # 19.9 g may a pound jar be short; a sixth of it is 3.3 g (NIST Handbook 133, 2.2).
    out = second("--division", "5 g").out
    assert "too coarse for the one pound jars" in out and "3.3 g at most" in out
    assert "too coarse for the one pound jars" in pages()
    assert "too coarse" not in second("--division", "2 g").out


@pytest.mark.parametrize("fill", ["4.55 g", "45.5 g", "4.55 kg", "668 g"])
def test_a_mean_no_jar_can_hold_is_asked_about_when_a_run_is_booked(season, fill):
    season("weigh", "--bucket", "B2", "--net", "20 kg", "--moisture", "17.4")
    ran = season("bottle", "--bucket", "B2", "--jar", "one pound=10", "--fill", f"one pound={fill}", "--json")
    assert (ran.code, ran.error["name"]) == (2, "WeightFarFromLabel")
    assert "B2" in season("plan").out


# --- the next plan ----------------------------------------------------------------------------------------------------


def test_a_plan_offers_the_margin_of_the_past_in_words_and_stays_as_it_is(second, season):
    plan = season("plan", "--json").document
    # Twenty kilograms are 44 jars of 453.592 g, and what was left of the first bucket (1.2 kg) is two.
    assert (plan["jars"], plan["offered"]) == ({"one pound": 46}, ["one pound"])
    out = season("plan").out
    assert "Your own past runs say:" in out and "--fill-from-past" in out


def test_a_plan_reckons_with_what_jars_really_take_where_it_is_asked_to(second, season):
    wished = ("plan", "--fill-from-past", "--sure", "99.9")
    plan = season(*wished, "--json").document
    takes = float(season("run-result", "--sure", "99.9", "--json").document["next"][0]["takes_on_average_g"])
    assert plan["from_past"] == ["one pound"] and "offered" not in plan
    for bucket in plan["buckets"]:
        count = bucket["jars"].get("one pound", 0)
        assert count == int(float(bucket["usable_g"]) // takes)
        assert float(bucket["filled_g"]) == pytest.approx(count * takes, abs=0.01)
    assert "Filled by your own past runs:" in season(*wished).out


def test_a_plan_and_its_run_sheet_fill_the_same_jars(second, season):
    wished = ("--fill-from-past", "--sure", "99.9", "--json")
    plan, sheet = season("plan", *wished).document, second(*wished)
    sheet = sheet.document
    jars = {bucket["bucket"]: bucket["lines"][0]["jars"] for bucket in sheet["buckets"]}
    assert jars == {bucket["id"]: bucket["jars"]["one pound"] for bucket in plan["buckets"] if bucket["jars"]}
    left = {bucket["bucket"]: bucket["left_g"] for bucket in sheet["buckets"]}
    assert left == {bucket["id"]: bucket["left_g"] for bucket in plan["buckets"] if bucket["jars"]}


def test_a_plan_cannot_learn_from_nothing(season):
    season("weigh", "--bucket", "B2", "--net", "20 kg", "--moisture", "17.4")
    assert season("plan", "--fill-from-past", "--json").error["name"] == "NoPastRuns"
    plan = season("plan", "--json").document
    assert "offered" not in plan and "from_past" not in plan


def test_a_season_file_is_planned_by_the_records_runs_only_where_it_is_asked_to(second, season):
    Path("lots.toml").write_text("""
currency = "USD"
market = ["us"]
[[bucket]]
id = "B9"
net = "27.3 kg"
moisture = 17.6
[[jar]]
id = "one pound"
declares = "1 lb"
price = "12.00"
cost = "1.35"
""")
    plain = season("plan", "lots.toml", "--json").document
    assert plain["jars"] == {"one pound": 60} and "offered" not in plain
    by_past = season("plan", "lots.toml", "--fill-from-past", "--sure", "99.9", "--json").document
    assert by_past["from_past"] == ["one pound"] and by_past["jars"]["one pound"] < 60
