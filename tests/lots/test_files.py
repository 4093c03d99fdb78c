"""Season files and spreadsheets: understood as saved, or refused by line."""

from datetime import date
from decimal import Decimal

import pytest

from labelkit.errors import Refused
from labelkit.errors.lots import FileRowRefused
from labelkit.measures import Mass
from labelkit.reading.season_file import read_season
from labelkit.reading.table_file import read_table
from labelkit.reading.tables import csv_table

DAY = date(2026, 7, 14)

# The same two buckets as six spreadsheets save them.
SPREADSHEETS = {
    "plain commas": "bucket,gross,tare\nB1,28.4 kg,1.1 kg\nB2,27.9 kg,1.1 kg\n",
    "a byte-order mark and line ends of another system": "\ufeffbucket,gross,tare\r\nB1,28.4 kg,1.1 kg\r\nB2,27.9 kg,1.1 kg\r\n",
    "semicolons and decimal commas": "Eimer;Brutto (kg);Tara (kg)\nB1;28,4;1,1\nB2;27,9;1,1\n",
    "tabs": "bucket\tgross (kg)\ttare (kg)\nB1\t28.4\t1.1\nB2\t27.9\t1.1\n",
    "quoted decimal commas": 'bucket;gross;tare\n"B1";"28,4 kg";"1,1 kg"\n"B2";"27,9 kg";"1,1 kg"\n',
    "blank lines and a total row": "\n;;\nbucket;gross kg;tare kg\n\nB1;28,4;1,1\n;;\nB2;27,9;1,1\n\nSumme;56,3;2,2\n",
    "grams in the heading": "bucket,gross (g),tare (g)\nB1,28400,1100\nB2,27900,1100\n",
}


@pytest.mark.parametrize("text", SPREADSHEETS.values(), ids=SPREADSHEETS.keys())
def test_a_spreadsheet_is_understood_as_it_was_saved(text):
    assert [(w.bucket, w.net) for w in read_table(csv_table(text, "x.csv"), DAY, "en_US")] == [
        ("B1", Mass.read("27.3 kg", "en_US")),
        ("B2", Mass.read("26.8 kg", "en_US")),
    ]


def test_a_spreadsheet_brings_harvest_yard_hives_plant_and_moisture():
    text = "bucket,net,harvested,yard,hives,plant,moisture\nB1,27.3 kg,2026-07-12,Mill meadow,H1; H2,clover,17.6\n"
    (found,) = read_table(csv_table(text, "x.csv"), DAY, "en_US")
    assert found.harvested == date(2026, 7, 12)
    assert found.sources[0].yard == "Mill meadow" and found.sources[0].hives == ("H1", "H2")
    assert found.plant == "clover" and found.moisture == Decimal("17.6")


def test_a_cell_with_a_line_end_in_it_does_not_shift_the_line_numbers():
    text = 'bucket,net,plant\nB1,27 kg,"clover\nand lime"\nB2,much,\n'
    with pytest.raises(FileRowRefused, match="line 4"):
        read_table(csv_table(text, "x.csv"), DAY, "en_US")


def test_a_german_spreadsheet_writes_its_days_the_german_way():
    (found,) = read_table(csv_table("Eimer;Netto (kg);Ernte\nB1;27,3;12.07.2026\n", "x.csv"), DAY, "de_DE")
    assert found.harvested == date(2026, 7, 12)


SEASON = """
name = "Two buckets"
currency = "USD"
market = ["us", "us-va"]
[[bucket]]
id = "B1"
gross = "28.4 kg"
tare = "1.1 kg"
moisture = 17.6
hold_back = "150 g"
yard = "Mill meadow"
hives = ["H1", "H2"]
drained = [{ on = 2026-07-17, net = "1.2 kg" }]
[[bucket]]
id = "B2"
net = "60 lb"
from = ["Hill: H7", { yard = "Mill meadow", hives = ["H3"] }]
[[jar]]
id = "one pound"
declares = "1 lb"
price = "12.00"
cost = 1.35
in_stock = 200
at_most = 100
"""


def test_a_season_file_is_read_with_all_it_says():
    season = read_season(SEASON, "two.toml", DAY)
    one, two = season.buckets
    assert one.usable == Mass.read("27.3 kg", "en_US") + Mass.read("1.2 kg", "en_US") - Mass.read("150 g", "en_US")
    assert one.drains[0].day == date(2026, 7, 17)
    assert [str(source) for source in two.bucket.sources] == ["Hill (H7)", "Mill meadow (H3)"]
    (jar,) = season.jars
    assert (jar.price.minor, jar.cost.minor, jar.in_stock, jar.at_least, jar.at_most) == (1200, 135, 200, 0, 100)
    assert season.markets == ("us", "us-va")


def test_a_season_file_in_a_decimal_comma_country_is_read_its_way():
    season = read_season('locale = "de_DE"\n[[bucket]]\nid = "B1"\nnet = "12,7 kg"\n', "de.toml", DAY)
    assert season.buckets[0].usable == Mass.read("12.7 kg", "en_US")


@pytest.mark.parametrize(
    ("line", "number"),
    [("moister = 17", 12), ("hold-back = '1 kg'", 12), ("grosss = '1 kg'", 12)],
)
def test_a_key_that_is_not_known_is_named_with_its_line(line, number):
    broken = SEASON.splitlines()
    broken.insert(11, line)
    with pytest.raises(Refused, match=f"line {number}"):
        read_season("\n".join(broken), "two.toml", DAY)


def test_a_bare_number_for_a_weight_is_refused_in_a_season_file_too():
    with pytest.raises(Refused, match="has no unit"):
        read_season("[[bucket]]\nid = 'B1'\nnet = 27\n", "x.toml", DAY)
