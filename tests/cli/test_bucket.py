"""The life of a bucket, by the commands themselves."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from decimal import Decimal

import pytest

from labelkit.cli._runner import answer_to
from labelkit.errors.honey import DryingAddsWater
from labelkit.errors.lots import BucketUnknown, MoistureUnlikely
from tests.record.season import begin


@pytest.fixture
def say(tmp_path):
    """One command after the other against one record, in which bucket B1 holds 20 kg and S1 2 kg."""
    clock = datetime(2026, 8, 31, 9, tzinfo=UTC)

    def typed(*arguments: str):
        nonlocal clock
        clock += timedelta(minutes=1)
        line = ["--record", str(tmp_path / "season.labelkit"), "--day", "2026-07-20", *arguments]
        return answer_to(line, clock=clock, who="Robin")

    begin(tmp_path / "season.labelkit")
    typed("weigh", "--bucket", "B1", "--net", "20 kg", "--moisture", "19.2", "--yard", "Mill meadow: H1")
    typed("weigh", "--bucket", "S1", "--net", "2 kg")
    return typed


def test_a_bucket_lives_through_every_step_and_is_sold_with_a_declaration(say, tmp_path):
    assert say("bucket", "moisture", "B1", "19.0 %", "--instrument", "R2").document["moisture_percent"] == 19
    assert say("bucket", "skim", "B1", "--removed", "200 g").document["holds_g"] == 19_800
    dried = say("bucket", "dry", "B1", "--moisture", "17.5", "--highest", "95 F", "--hours", "20")
    # 19.8 kg at 19 % hold 16.038 kg of solids, 82.5 % of 19.44 kg
    assert dried.document["holds_g"] == 19_440 and "360 g of water gone" in dried.text and "35 °C" in dried.text
    assert "no hotter than 40 °C" in say("bucket", "warm", "B1", "--highest", "38 C", "--hours", "4").text
    seeded = say("bucket", "stir", "B1", "--seed", "S1=1 kg")
    assert seeded.document["seed_percent"] == Decimal("4.9") and seeded.document["holds_g"] == 20_440
    assert say("bucket", "weigh-again", "B1", "--gross", "21.4 kg", "--tare", "1 kg").document["holds_g"] == 20_400
    assert "foulbrood" in say("bucket", "feed", "B1", "--part", "1.4 kg", "--because", "to H1").text
    say("bucket", "give", "B1", "--to", "Robin Invented", "--part", "500 g")
    say("bucket", "discard", "B1", "--part", "500 g", "--because", "spilled")
    out = tmp_path / "declaration.pdf"
    sold = say(
        "bucket", "sell", "B1", "--to", "Sample packers", "--price", "9.90", "--net", "17.9 kg", "--out", str(out)
    )
    assert (sold.document["amount"], sold.document["holds_g"]) == ("177.21", 0)
    assert out.read_bytes().startswith(b"%PDF")
    assert say("note", "B1", "--say", "a good year").document["lots"] == ["B1"]
    told = say("trace", "B1")
    assert [step["kind"] for step in told.document["bucket_steps"]].count("take-out") == 4
    assert told.document["notes"][0]["note"] == "a good year"
    assert "Left the bucket without a jar" in told.text
    lines = say("record", "events", "--about", "B1").text.splitlines()
    assert all(len(line) <= 120 for line in lines) and "sold to Sample packers" in "".join(lines)


def test_what_the_bucket_commands_refuse_they_refuse_without_booking(say):
    before = len(say("record", "events").document["events"])
    for line, refusal in (
        (("moisture", "B9", "18"), BucketUnknown),
        (("moisture", "B1", "82"), MoistureUnlikely),
        (("dry", "B1", "--moisture", "20"), DryingAddsWater),
    ):
        with pytest.raises(refusal):
            say("bucket", *line)
    assert len(say("record", "events").document["events"]) == before


def test_honey_that_was_warmed_is_asked_about_again_where_its_label_says_raw(say, tmp_path):
    say("price", "--set", "one pound", "--declares", "1 lb", "--price", "12")
    lot = say("bottle", "--bucket", "B1", "--jar", "one pound=12").document["lot"]
    file = tmp_path / "label.toml"
    file.write_text(
        f'market = ["us"]\nname = "Honey"\ndeclares = "1 lb"\nlot = "{lot}"\nlines = ["Raw"]\n'
        '[maker]\nname = "Hollow"\nstreet = "1 Made-up Row"\ncity = "Sampleton"\nregion = "VA"\npostcode = "00000"\n'
        "[situation]\nraw = true\n"
    )

    def asked():
        return "us.claim.raw" in {each.rule for each in say("check", str(file)).document["findings"]}

    assert not asked(), "the producer says that it is raw, and no warming was booked"
    say("bucket", "warm", "B1", "--highest", "45 C", "--hours", "12")
    assert asked()
    file.write_text(file.read_text() + "heated_to = 45\n")
    assert not asked(), "it says itself how warm the honey got"


def test_the_declaration_says_what_is_known_and_that_the_rest_is_not(say):
    from labelkit.lots.bucket import Bucket
    from labelkit.lots.bucket_life import SOLD, TakenOut
    from labelkit.measures import Mass, Money
    from labelkit.sale.bulk_note import bulk_facts
    from labelkit.shipped.catalogues import wording

    kg = Mass.of_grams(10_000)
    day = datetime(2026, 7, 20, tzinfo=UTC).date()
    sold = TakenOut("B1", day, kg, SOLD, kg, customer="Sample packers", rate=Money.of("4.20", "USD"), per="lb")
    said = dict(bulk_facts(sold, Bucket("B1", Mass(0)), {"name": "Hollow"}, "", wording("labelkit", "en_US"), "en_US"))
    assert said["Net"] == "10 kg (22 lb 0.7 oz)" and said["Lot"] == "B1" and said["Moisture"] == "not measured"
    assert said["Origin"] == "not known: ask the seller" and said["Warmed to at most"] == "no warming is recorded"
    # 10 kg are 22.0462 lb of 453.59237 g, at 4.20 each 92.59
    assert said["Price"] == "22.0462 lb × $4.20" and said["Amount"] == "$92.59"


def test_a_refusal_writes_its_figures_as_the_reader_does(labelkit):
    labelkit("weigh", "--bucket", "B1", "--net", "27.3 kg")
    taken = ("bucket", "give", "B1", "--part", "40 kg")
    assert "40 kg (88 lb 3 oz)" in labelkit(*taken).err and "27.3 kg" in labelkit(*taken).err
    german = labelkit("--locale", "de_DE", *taken)
    assert german.code == 2 and "27,3 kg" in german.err and "27.3" not in german.err
    assert "27,3 kg" in labelkit("--locale", "de_DE", *taken, "--json").error["what"]
