"""A whole season from the command line, against the hand reckoning in tests/worked/sale/season.toml."""

from __future__ import annotations

import contextlib
import csv
import io
import json
import shutil
from datetime import UTC, datetime
from decimal import Decimal

import pytest

from labelkit.cli._runner import answer_to, as_document
from labelkit.errors.cli import FolderInTheWay
from labelkit.errors.measures import CurrencyUnknown, MoneyUnclear
from labelkit.errors.record import JarsTooFew, LotHeld
from labelkit.errors.sale import (
    AlreadyLoaded,
    CashFloatMissing,
    CustomerHasNoDeliveries,
    DayAlreadySettled,
    ReceiverUnclear,
    SoldMoreThanLoaded,
)
from labelkit.record import open_record
from labelkit.sale.tax_sheet import NO_ADVICE
from labelkit.trace.hold import Hold
from tests.worked import worked

SEASON = worked("sale/season")
LOT = "L26195AXR"  # of the 195th day of 2026 and bucket B1, by the doctest of the lot code


class Farm:
    """A record in a folder, and commands typed into it on a day."""

    def __init__(self, folder, minute: int = 0) -> None:
        self.folder, self.minute = folder, minute

    def do(self, day: str, *line: str) -> dict:
        self.minute += 1
        clock = datetime(2026, 8, 20, 8 + self.minute // 60, self.minute % 60, tzinfo=UTC)
        with contextlib.chdir(self.folder):
            answer = answer_to(["--record", "farm.labelkit", "--day", day, *line], clock=clock, who="Hazel")
        return json.loads(as_document(answer.document)) | {"text": answer.text}

    @property
    def record(self) -> str:
        return str(self.folder / "farm.labelkit")

    def again_in(self, folder) -> Farm:
        """The same farm in another folder, to be changed without changing this one."""
        shutil.copy(self.record, folder)
        other = Farm(folder, self.minute)
        other.__dict__ |= {name: value for name, value in self.__dict__.items() if name not in ("folder", "minute")}
        return other


@pytest.fixture(scope="module")
def bottled(tmp_path_factory):
    """The farm after its bottling."""
    made = Farm(tmp_path_factory.mktemp("bottled"))
    made.do(
        "2026-07-10",
        "start",
        "--market",
        SEASON["market"],
        "--currency",
        SEASON["currency"],
        "--name",
        "Pretend Hollow Honey",
        "--street",
        "12 Sample Lane",
        "--city",
        "Pretend Hollow",
    )
    for size, (declares, price, cost) in SEASON["jars"].items():
        made.do("2026-07-10", "price", "--set", size, "--declares", declares, "--price", price, "--cost", cost)
    made.do("2026-07-12", "weigh", "--bucket", "B1", "--net", "30 kg")
    made.do(
        "2026-07-14",
        "bottle",
        "--bucket",
        "B1",
        "--jar",
        "500 g=40",
        "--jar",
        "250 g=30",
        "--broken",
        "500 g=1",
        "--sample",
        "250 g=1",
        "--left",
        "1.2 kg",
    )
    return made


DAY_ONE = (
    "--sold",
    "500 g=14",
    "--sold",
    "250 g=9",
    "--tasted",
    "250 g=1",
    "--given",
    "500 g=1",
    "--back",
    "500 g=5",
    "--back",
    "250 g=5",
    "--cash",
    "149.50",
    "--cards",
    "40",
    "--off",
    "2.80",
    "--fee",
    "12",
)


@pytest.fixture
def farm(bottled, tmp_path):
    return bottled.again_in(tmp_path)


@pytest.fixture(scope="module")
def whole(bottled, tmp_path_factory):
    """The season up to its last day."""
    farm = bottled.again_in(tmp_path_factory.mktemp("whole"))
    load = ("stall", "load", "--place", "Mill square", "--book", "--change", "50")
    farm.do("2026-07-25", *load, "--jar", "500 g=20", "--jar", "250 g=15")
    farm.one = farm.do("2026-07-25", "stall", "settle", *DAY_ONE)
    farm.do("2026-08-01", *load, "--jar", "500 g=10", "--jar", "250 g=10")
    farm.two = farm.do(
        "2026-08-01",
        "stall",
        "settle",
        "--sold",
        "500 g=10",
        "--sold",
        "250 g=4",
        "--back",
        "250 g=5",
        "--cash",
        "141.80",
        "--fee",
        "12",
    )
    farm.do(
        "2026-08-05",
        "deliver",
        "--customer",
        "Corner shop",
        "--address",
        "1 Made-up Row; Sampleton",
        "--jar",
        "500 g=10",
        "--price",
        "500 g=5.60",
    )
    farm.do("2026-08-09", "pay", "--customer", "Corner shop", "--amount", "30")
    farm.do(
        "2026-08-10",
        "sell",
        "--lot",
        LOT,
        "--jar",
        "500 g=1",
        "--price",
        "500 g=5.60",
        "--as",
        "returned",
        "--reason",
        "lid leaks",
        "--customer",
        "Corner shop",
    )
    farm.do("2026-08-11", "sell", "--lot", LOT, "--jar", "250 g=2", "--to", "honey box", "--taken", "8.00")
    farm.do("2026-08-12", "sell", "--lot", LOT, "--jar", "250 g=2", "--as", "given", "--to", "helper")
    return farm


@pytest.fixture
def season(whole, tmp_path):
    return whole.again_in(tmp_path)


def test_the_first_day_is_fifty_cents_short(season):
    want = SEASON["day_one"]
    assert {key: season.one[key] for key in want} == {"expected": "140", "found": "139.5", "difference": "-0.5"}
    assert [Decimal(season.one[key]) for key in want] == [Decimal(value) for value in want.values()]
    assert "Difference: -€0.50" in season.one["text"]


def test_the_second_day_misses_a_jar_and_says_so(season):
    want = SEASON["day_two"]
    assert season.two["missing_jars"] == want["missing"]
    assert Decimal(season.two["expected"]) == Decimal(want["expected"])
    assert "1 jars are missing" in season.two["text"]


def test_the_years_figures_are_those_of_the_hand_reckoning(season):
    result, want = season.do("2026-08-20", "result"), SEASON["year"]
    for key in ("money_in", "stall_fees", "cash_differences", "cost_of_jars", "left", "cost_per_kg", "stock_worth"):
        assert Decimal(result[key]) == Decimal(want[key]), key
    assert (result["sold"], result["given"], result["lost"]) == (want["sold"], want["given"], want["lost"])
    sizes = {row["size"]: Decimal(row["money"]) for row in result["by_size"]}
    markets = {row["market"]: Decimal(row["money"]) for row in result["by_market"]}
    assert {size: sizes[size] for size in want["size_money"]} == {k: Decimal(v) for k, v in want["size_money"].items()}
    assert {place: markets[place] for place in want["market_money"]} == {
        k: Decimal(v) for k, v in want["market_money"].items()
    }
    (owed,) = result["owed"]
    assert {key: Decimal(owed[key]) for key in want["owed"]} == {
        key: Decimal(value) for key, value in want["owed"].items()
    }


@pytest.mark.parametrize("by", ["by_lot", "by_size", "by_market", "by_month"])
def test_the_parts_of_the_year_are_the_whole_to_the_cent(season, by):
    result = season.do("2026-08-20", "result")
    for key in ("cost", "left"):
        whole = result["left"] if key == "left" else result["cost_of_jars"]
        assert sum(Decimal(row[key]) for row in result[by]) == Decimal(whole)


def test_the_honey_of_the_year_is_all_somewhere(season):
    result = season.do("2026-08-20", "result")
    assert sum(Decimal(g) for g in result["where_g"].values()) == Decimal(result["came_in_g"]) == 30_000


def test_real_losses_come_out_of_the_runs(farm):
    from labelkit.sale.losses import real_losses

    with open_record(farm.record, to_read=True) as book:
        losses = real_losses(m for booked in book.events() for m in booked.movements())
    want = SEASON["losses"]
    assert (losses.taken.kg, losses.lost.kg) == (Decimal("28.8"), Decimal(want["unexplained_kg"]))
    assert (losses.broken.kg, losses.samples.kg) == (Decimal(want["broken_kg"]), Decimal(want["samples_kg"]))


def test_the_same_day_settled_twice_changes_nothing_and_another_account_of_it_is_refused(season):
    before = season.do("2026-08-20", "result")
    again = season.do("2026-07-25", "stall", "settle", *DAY_ONE)
    assert again["booked"] is False
    assert "nothing was changed" in again["text"]
    with pytest.raises(DayAlreadySettled):
        season.do("2026-07-25", "stall", "settle", "--sold", "500 g=15")
    assert season.do("2026-08-20", "result") == before


def test_a_repeat_market_is_remembered(season):
    plan = season.do("2026-08-15", "stall", "load", "--place", "Mill square")
    assert "14 sold on 2026-07-25" in plan["text"]
    assert not plan["booked"]
    days = season.do("2026-08-15", "stall", "days", "--svg", "best.svg")
    assert [(row["size"], row["taken"], row["sold"]) for row in days["sizes"]] == [("500 g", 30, 24), ("250 g", 25, 13)]
    assert (season.folder / "best.svg").read_text().startswith("<svg")


def test_the_sheet_for_the_taxes_holds_every_line_no_advice_and_no_formula(season):
    season.do(
        "2026-08-13",
        "sell",
        "--lot",
        LOT,
        "--jar",
        "250 g=1",
        "--customer",
        '=HYPERLINK("http://x","y")',
        "--place",
        "@home",
    )
    season.do("2026-08-20", "result", "--csv", "year.csv")
    rows = list(csv.DictReader(io.StringIO((season.folder / "year.csv").read_text(encoding="utf-8"))))
    assert rows[-1]["remark"] == NO_ADVICE
    # The season's 290.60, less fees 24.00 and differences 0.90, and one more 250 g jar at 4.20.
    assert sum(Decimal(row["money"] or 0) for row in rows) == Decimal("269.90")
    assert [row["customer"] for row in rows if "HYPERLINK" in row["customer"]] == ['\'=HYPERLINK("http://x","y")']
    texts = [row[key] for row in rows for key in ("what", "market", "customer", "lot", "size", "remark")]
    assert not [cell for cell in texts if cell.startswith(("=", "+", "-", "@"))]


def test_the_year_fits_two_pages_in_every_language(season):
    from pypdf import PdfReader

    for language in ("en_US", "de_DE", "es_ES", "fr_FR", "pl_PL", "uk_UA"):
        season.do("2026-08-20", "result", "--pdf", "year.pdf", "--language", language)
        pages = PdfReader(season.folder / "year.pdf").pages
        assert len(pages) == 2
        assert "290" in pages[0].extract_text()


# --- bad input -------------------------------------------------------------------------------------------------------


def test_a_price_with_two_separators_is_refused(farm):
    with pytest.raises(MoneyUnclear):
        farm.do("2026-07-20", "price", "--set", "500 g", "--price", "1.234,50")


def test_a_currency_that_does_not_exist_is_refused(farm):
    with pytest.raises(CurrencyUnknown):
        farm.do("2026-07-20", "start", "--currency", "EUX")


def test_more_jars_than_there_are_are_not_loaded_delivered_or_sold(farm):
    with pytest.raises(JarsTooFew):
        farm.do("2026-07-25", "stall", "load", "--place", "Mill square", "--jar", "500 g=41", "--change", "0", "--book")
    with pytest.raises(JarsTooFew):
        farm.do(
            "2026-07-25",
            "deliver",
            "--customer",
            "Corner shop",
            "--address",
            "x",
            "--jar",
            "500 g=41",
            "--price",
            "500 g=5",
        )
    with pytest.raises(JarsTooFew):
        farm.do("2026-07-25", "sell", "--lot", LOT, "--jar", "500 g=41")


def test_more_sold_than_loaded_is_refused_and_nothing_is_booked(farm):
    farm.do("2026-07-25", "stall", "load", "--place", "Mill square", "--jar", "500 g=5", "--change", "0", "--book")
    with pytest.raises(SoldMoreThanLoaded):
        farm.do("2026-07-25", "stall", "settle", "--sold", "500 g=6")
    assert farm.do("2026-07-25", "stall", "days")["not_settled"] == ["2026-07-25 Mill square"]


def test_a_lot_on_hold_is_neither_taken_nor_delivered_nor_sold(farm):
    with open_record(farm.record) as book, book.work(who="Hazel", at=datetime(2026, 8, 20, 8, 7, tzinfo=UTC)) as work:
        work.add(Hold(datetime(2026, 7, 20).date(), (LOT,), "a splinter was found"))
        work.commit()
    with pytest.raises(LotHeld):
        farm.do("2026-07-25", "sell", "--lot", LOT, "--jar", "500 g=1")
    with pytest.raises(JarsTooFew):
        farm.do("2026-07-25", "stall", "load", "--place", "Mill square", "--jar", "500 g=5", "--change", "0", "--book")
    with pytest.raises(JarsTooFew):
        farm.do(
            "2026-07-25",
            "deliver",
            "--customer",
            "Corner shop",
            "--address",
            "x",
            "--jar",
            "500 g=5",
            "--price",
            "500 g=5",
        )


def test_a_delivery_without_an_address_is_refused_and_nothing_is_booked(farm):
    with pytest.raises(ReceiverUnclear):
        farm.do("2026-08-05", "deliver", "--customer", "Corner shop", "--jar", "500 g=10", "--price", "500 g=5.60")
    assert farm.do("2026-08-05", "pay")["customers"] == []


def test_a_payment_of_nobody_known_is_refused(season):
    with pytest.raises(CustomerHasNoDeliveries):
        season.do("2026-08-12", "pay", "--customer", "Corner shp", "--amount", "5")


def test_a_customers_price_and_address_are_remembered(season):
    again = season.do("2026-08-15", "deliver", "--customer", "Corner shop", "--jar", "500 g=2")
    assert (again["number"], again["owed"]) == ("D2026-002", "11.20")


def test_tax_in_the_money_is_set_aside_once_it_is_stated(season):
    assert season.do("2026-08-20", "result")["tax_stated"] is False
    season.do("2026-08-20", "find-prices", "--per-kg", "15", "--tax", "included 7 %", "--book")
    result = season.do("2026-08-20", "result")
    # By entry, of 7 in 107, to the cent: market one 102.94 -> 6.73, 37.06 -> 2.42; market two 75.00 -> 4.91, 16.80 -> 1.10;
    # shop 56.00 -> 3.66, back -5.60 -> -0.37; honey box 8.40 -> 0.55. Together 19.00.
    assert Decimal(result["tax_in_money"]) == Decimal("19.00")
    assert Decimal(result["left"]) == Decimal(SEASON["year"]["left"]) - Decimal("19.00")


def test_a_load_booked_twice_is_refused_unless_it_is_more(farm):
    line = ("stall", "load", "--place", "Mill square", "--jar", "500 g=5", "--book")
    with pytest.raises(CashFloatMissing, match="cash float"):
        farm.do("2026-07-25", *line)
    farm.do("2026-07-25", *line, "--change", "50")
    with pytest.raises(AlreadyLoaded, match="5 jars"):
        farm.do("2026-07-25", *line, "--change", "50")
    farm.do("2026-07-25", *line, "--more")
    settled = farm.do("2026-07-25", "stall", "settle", "--sold", "500 g=10", "--cash", "125")
    # Ten at 7.50 are 75.00, and the float is 50.00 once.
    assert settled["difference"] == "0"


def test_a_customers_agreed_price_holds_for_what_comes_back(season):
    before = season.do("2026-08-15", "pay")["customers"][0]
    season.do(
        "2026-08-15",
        "sell",
        "--lot",
        LOT,
        "--jar",
        "500 g=1",
        "--as",
        "returned",
        "--reason",
        "dented",
        "--customer",
        "Corner shop",
    )
    after = season.do("2026-08-15", "pay")["customers"][0]
    assert Decimal(before["open"]) - Decimal(after["open"]) == Decimal("5.60")


def test_a_note_that_cannot_be_written_books_nothing_and_a_refused_delivery_leaves_no_note(farm):
    line = ("deliver", "--customer", "Corner shop", "--address", "x; y", "--jar", "500 g=2", "--price", "500 g=5")
    (farm.folder / "file").write_text("in the way")
    with pytest.raises(FolderInTheWay):
        farm.do("2026-08-05", *line, "--out", "file/note.pdf")
    assert farm.do("2026-08-05", "pay")["customers"] == []
    with pytest.raises(JarsTooFew):
        farm.do("2026-08-05", *("500 g=41" if word == "500 g=2" else word for word in line), "--out", "note.pdf")
    assert not (farm.folder / "note.pdf").exists()


def test_a_delivery_says_where_its_note_is_asked_for_and_how_surely_that_was_read(farm):
    made = farm.do(
        "2026-08-05",
        "deliver",
        "--customer",
        "Corner shop",
        "--address",
        "x; y",
        "--jar",
        "500 g=2",
        "--price",
        "500 g=5",
    )
    assert "931/2011" in made["text"] and "(read 2026-11-29" in made["text"]
    assert "CFR" not in made["text"], "the law of another continent"
    assert made["text"].endswith("Check your local rules.")
