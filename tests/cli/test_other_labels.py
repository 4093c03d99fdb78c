"""Bucket tags, case labels and price cards: what they say, by hand reckoning, and that none is booked as a print."""

from __future__ import annotations

import pytest

from tests.cli.labels_of import LOTS, codes_in, label_file, prints, season, text_in

# GS1's own example company prefix 952 is for use in examples. Check digits by hand: 952123454321 weighs
# 9+15+2+3+2+9+4+15+4+9+2+3 = 77, so 3; the case 1952123454321 weighs 3+9+15+2+3+2+9+4+15+4+9+2+3 = 80, so 0.
JAR, CASE = "9521234543213", "19521234543210"


def test_a_tag_says_what_the_scale_will_show_today(labelkit):
    """Nothing left it yet: what was weighed in."""
    season(labelkit)
    labelkit(
        "--day",
        "2026-07-22",
        "weigh",
        "--bucket",
        "B7",
        "--gross",
        "28.4 kg",
        "--tare",
        "1.1 kg",
        "--moisture",
        "17.64",
        "--harvested",
        "2026-07-20",
        "--yard",
        "Mill meadow: H1, H2",
        "--yard",
        "Hill orchard",
    )
    ran = labelkit(
        "--day", "2026-07-22", "labels", "--kind", "tag", "--bucket", "B7", "--lot-bars", "code128", "--json"
    )
    assert ran.code == 0
    (tag,) = ran.document["tags"]
    assert (tag["gross_g"], tag["tare_g"], tag["holds_g"], tag["moisture_percent"]) == (
        "28400",
        "1100",
        "27300",
        "17.64",
    )
    said = text_in("labels.pdf")
    # 27.3 kg is 60.186 lb, 60 lb 3 oz; 28.4 kg is 62 lb 9.8 oz; 1.1 kg is 2 lb 6.8 oz (16 CFR: 453.59237 g to the pound)
    for text in (
        "27.3 kg (60 lb 3 oz)",
        "28.4 kg (62 lb 9.8 oz)",
        "1.1 kg (2 lb 6.8 oz)",
        "17.6 %",
        "Jul 20, 2026",
        "Mill meadow (H1, H2)",
        "Hill orchard",
        "B7",
    ):
        assert text.casefold() in said.casefold(), text
    assert codes_in("labels.pdf") == {("Code128", "B7"): 1}


def test_a_tag_follows_what_drained_in_and_what_was_bottled(labelkit):
    season(labelkit)
    weigh = ("weigh", "--bucket", "B7", "--gross", "28.4 kg", "--tare", "1.1 kg")
    labelkit("--day", "2026-07-22", *weigh)
    labelkit("--day", "2026-07-23", "drain", "--bucket", "B7", "--net", "700 g")
    (tag,) = labelkit("--day", "2026-07-23", "labels", "--kind", "tag", "--bucket", "B7", "--json").document["tags"]
    assert (tag["gross_g"], tag["holds_g"]) == ("29100", "28000")


def test_a_blend_has_no_tare_to_tell_and_names_its_parts(labelkit):
    season(labelkit)
    for bucket in ("B7", "B8"):
        labelkit("--day", "2026-07-22", "weigh", "--bucket", bucket, "--gross", "11.1 kg", "--tare", "1.1 kg")
    assert (
        labelkit("--day", "2026-07-22", "blend", "--into", "M1", "--part", "B7=10 kg", "--part", "B8=10 kg").code == 0
    )
    (tag,) = labelkit("--day", "2026-07-22", "labels", "--kind", "tag", "--bucket", "M1", "--json").document["tags"]
    assert (tag["gross_g"], tag["tare_g"], tag["holds_g"]) == (None, None, "20000")
    assert ["Blend of", "B7, B8"] in tag["says"]


def test_tags_of_many_buckets_share_a_sheet_and_an_unknown_one_is_refused(labelkit, tmp_path):
    season(labelkit)
    for bucket in ("B7", "Größe"):
        labelkit("--day", "2026-07-22", "weigh", "--bucket", bucket, "--net", "10 kg")
    ran = labelkit("labels", "--kind", "tag", "--bucket", "B7", "--bucket", "Größe", "--lot-bars", "code128", "--json")
    assert (ran.document["labels"], ran.document["pages"]) == (2, 1)
    assert any("Größe has no bars" in note for note in ran.document["notes"])
    assert labelkit("labels", "--kind", "tag", "--bucket", "B9", "--out", "no.pdf").code == 2
    assert not (tmp_path / "no.pdf").exists()


def test_the_tag_of_an_empty_bucket_is_refused(labelkit):
    season(labelkit)
    labelkit("--day", "2026-07-22", "weigh", "--bucket", "B7", "--net", "10 kg")
    labelkit("--day", "2026-07-22", "weigh", "--bucket", "B8", "--net", "10 kg")
    labelkit("--day", "2026-07-22", "blend", "--into", "M1", "--part", "B7=10 kg", "--part", "B8=10 kg")
    assert "Bucket B7 is empty" in labelkit("labels", "--kind", "tag", "--bucket", "B7").err


def test_cases_of_a_lot_and_the_part_case_left_over(labelkit):
    """31 jars by the dozen: two full cases and one of seven."""
    season(labelkit)
    line = ("labels", "--kind", "case", "--lot", LOTS[0], "--size", "one pound", "--per-case", "12", "--number", JAR)
    ran = labelkit(*line, "--lot-bars", "code128", "--json")
    assert ran.code == 0, ran.err
    assert [(one["jars"], one["labels"], one["number"]) for one in ran.document["cases"]] == [
        (12, 2, CASE),
        (7, 1, None),
    ]
    said = text_in("labels.pdf")
    assert said.count("12 × 16 oz (1 lb) 453 g") == 2 and said.count("7 × 16 oz (1 lb) 453 g") == 1
    assert said.count("July 2028") == 3
    codes = codes_in("labels.pdf")
    # A reader gives GS1 data with its identifiers in brackets, as GS1 General Specifications 7.8 writes them for people.
    assert codes == {
        ("Code128", f"(01){CASE}"): 2,
        ("DataMatrix", f"(01){CASE}(10){LOTS[0]}"): 2,
        ("Code128", LOTS[0]): 1,
    }


def test_on_a_wide_label_number_and_lot_stand_in_one_gs1_128(labelkit, tmp_path):
    line = (
        "labels",
        "--label",
        label_file(tmp_path),
        "--kind",
        "case",
        "--lot",
        LOTS[0],
        "--per-case",
        "6",
        "--number",
        CASE,
    )
    ran = labelkit(*line, "--sheet", "roll-160x100", "--json")
    assert ran.code == 0, ran.err
    assert codes_in("labels.pdf") == {("Code128", f"(01){CASE}(10){LOTS[0]}"): 1}


def test_without_a_gs1_number_a_case_carries_its_lot_in_the_bars_asked_for(labelkit, tmp_path):
    ran = labelkit(
        "labels",
        "--label",
        label_file(tmp_path),
        "--kind",
        "case",
        "--lot",
        LOTS[0],
        "--per-case",
        "12",
        "--count",
        "3",
        "--lot-bars",
        "code128",
        "--json",
    )
    assert ran.code == 0 and ran.document["labels"] == 3
    assert codes_in("labels.pdf") == {("Code128", LOTS[0]): 3}


@pytest.mark.parametrize(("locale", "word"), [("en_US", "Contents"), ("uk_UA", "Вміст"), ("de_DE", "Inhalt")])
def test_a_case_under_the_law_of_the_union_speaks_the_reader_s_language(labelkit, tmp_path, locale, word):
    """Regulation (EU) No 1169/2011 Art. 15 leaves the language to the country of sale, and none was named."""
    (tmp_path / "union.toml").write_text(
        'market = ["eu"]\nkind = "honey"\nname = "Honey"\ndeclares = "500 g"\nbest_before = 2028-06-30\n'
        'origin = [{ country = "SI", share = 100 }]\n[maker]\nname = "Pretend Hollow"\ncity = "Pretendton"\n'
    )
    line = ("labels", "--label", str(tmp_path / "union.toml"), "--kind", "case", "--lot", LOTS[0], "--per-case", "12")
    ran = labelkit("--locale", locale, *line, "--count", "1")
    assert ran.code == 0, ran.err
    assert word in text_in("labels.pdf")


def test_a_mixed_case_names_its_lots(labelkit):
    season(labelkit)
    ran = labelkit(
        "labels",
        "--kind",
        "case",
        "--lot",
        ",".join(LOTS),
        "--size",
        "one pound",
        "--per-case",
        "12",
        "--number",
        JAR,
        "--count",
        "1",
        "--json",
    )
    assert ran.document["cases"][0]["lots"] == list(LOTS)
    assert ", ".join(LOTS) in text_in("labels.pdf").replace("\r\n", " ")
    assert codes_in("labels.pdf") == {("Code128", f"(01){CASE}"): 1}


@pytest.mark.parametrize(
    ("line", "words"),
    [
        (("--per-case", "12", "--number", "9521234543214"), "the check digit of the other digits is 3"),
        (("--per-case", "12", "--number", "19521234543211"), "the check digit of the other digits is 0"),
        (("--per-case", "12", "--number", "99521234543216"), "begins with 9 is for cases whose content differs"),
        (("--per-case", "12", "--number", "0400000000176"), "is an in-store number"),
        (("--per-case", "12", "--own-till", "17"), "--own-till does not go with a case"),
        ((), "how many jars a case holds"),
        (("--per-case", "12", "--once", "today"), "nothing of it is booked"),
        (("--per-case", "12", "--size", "gallon"), "gallon"),
    ],
)
def test_a_case_that_cannot_be_labelled_is_refused(labelkit, tmp_path, line, words):
    season(labelkit)
    ran = labelkit("labels", "--kind", "case", "--label", label_file(tmp_path), "--lot", LOTS[0], *line)
    assert ran.code == 2 and words in ran.err
    assert not list(tmp_path.glob("*.pdf"))


def test_a_card_shows_the_unit_price_of_the_market(labelkit, tmp_path):
    """8.50 for 340 g is 25.00 the kilogram; Directive 98/6/EC asks for the price per kilogram."""
    label = label_file(tmp_path, {"market": "eu", "name": "Linden Honey", "declares": "340 g"})
    ran = labelkit("labels", "--label", label, "--kind", "card", "--price", "8.50", "--json")
    assert ran.code == 0, ran.err
    (card,) = ran.document["cards"]
    assert (card["price"], card["currency"], card["unit_price"], card["net"]) == ("8.50", "EUR", "€25.00 / kg", "340 g")
    said = text_in("labels.pdf")
    assert all(text in said for text in ("€8.50", "€25.00 / kg", "340 g")) and "linden honey" in said.casefold()


def test_cards_of_every_size_or_of_one(labelkit):
    season(labelkit)
    every = labelkit("labels", "--kind", "card", "--json").document["cards"]
    assert {card["size"]: card["unit_price"] for card in every} == {
        "half pound": "$14.00 / lb",
        "one pound": "$12.00 / lb",
    }
    one = labelkit("labels", "--kind", "card", "--size", "half pound", "--count", "4", "--json").document
    assert one["labels"] == 4 and [card["size"] for card in one["cards"]] == ["half pound"]


@pytest.mark.parametrize(
    ("line", "words"),
    [
        (("--label", "label.toml"), "needs its price: --price"),
        (("--price", "12"), "set with labelkit price --set"),
        (("--lot", "L1"), "--lot does not go with a card"),
        (("--size", "gallon"), "gallon"),
    ],
)
def test_a_card_that_cannot_be_priced_is_refused(labelkit, tmp_path, line, words):
    season(labelkit)
    label_file(tmp_path)
    ran = labelkit("labels", "--kind", "card", *line)
    assert ran.code == 2 and words in ran.err


def test_none_of_them_is_booked_as_a_print(labelkit):
    """A recall asks which wording went out on jars."""
    season(labelkit)
    labelkit("--day", "2026-07-22", "weigh", "--bucket", "B7", "--net", "10 kg")
    for line in (
        ("tag", "--bucket", "B7"),
        ("card",),
        ("case", "--lot", LOTS[0], "--size", "one pound", "--per-case", "12"),
    ):
        assert labelkit("labels", "--kind", *line).code == 0
    assert prints() == []


def test_a_tag_speaks_the_language_of_the_house_and_warns_of_a_hold(labelkit):
    season(labelkit)
    labelkit("--day", "2026-07-22", "weigh", "--bucket", "B7", "--net", "10 kg", "--moisture", "17.4")
    assert labelkit("--day", "2026-07-23", "recall", "hold", "--lot", "B7", "--because", "smells of smoke").code == 0
    ran = labelkit("--locale", "de_DE", "--day", "2026-07-23", "labels", "--kind", "tag", "--bucket", "B7")
    assert ran.code == 0, ran.err
    said = text_in("labels.pdf")
    assert "Wassergehalt" in said and "17,4 %" in said and "23.07.2026" in said
    assert "Gesperrt seit 2026-07-23: smells of smoke" in said.replace("\r\n", " ")
