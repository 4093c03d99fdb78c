"""The stall's and the price list's commands: papers, page, sign, prices found, codes photographed."""

from __future__ import annotations

import contextlib
import json
from datetime import UTC, datetime
from decimal import Decimal
from io import BytesIO, TextIOWrapper

import pytest
from pypdf import PdfReader

from labelkit.cli._runner import answer_to, as_document
from labelkit.errors.cli import FileUnreadable, UsageUnclear
from labelkit.errors.rules import MarketUnknown
from labelkit.errors.sale import (
    CostsMissing,
    CostsUnclear,
    DayFileUnclear,
    LotNotNamed,
    NothingLoaded,
    NothingPriced,
    PlaceMissing,
    TaxUnclear,
)
from labelkit.reading.day_file import check_of
from labelkit.record.codec import read, write
from labelkit.sale.day_page import FORMAT
from labelkit.shipped import template_text
from tests.sale.test_costs import COSTS

LOT = "L26195AXR"
LABEL = """
market = ["us"]
name = "Clover Honey"
declares = "1 lb"
[maker]
name = "Pretend Hollow Honey"
[situation]
home_kitchen = true
own_hives = true
"""


@pytest.fixture
def do(tmp_path):
    """Type a command on a day into a fresh farm with two sizes and one lot in stock."""
    minute = iter(range(60))

    def typed(day: str, *line: str) -> dict:
        clock = datetime(2026, 8, 20, 8, next(minute), tzinfo=UTC)
        with contextlib.chdir(tmp_path):
            answer = answer_to(["--record", "farm.labelkit", "--day", day, *line], clock=clock, who="Hazel")
        return json.loads(as_document(answer.document)) | {"text": answer.text}

    typed.folder = tmp_path
    typed(
        "2026-07-10",
        "start",
        "--market",
        "us",
        "--currency",
        "USD",
        "--name",
        "Pretend Hollow Honey",
        "--city",
        "Sampleton",
    )
    typed("2026-07-10", "price", "--set", "one pound", "--declares", "1 lb", "--price", "12.00", "--cost", "1.35")
    typed("2026-07-12", "weigh", "--bucket", "B1", "--net", "62 lb")
    typed("2026-07-14", "bottle", "--bucket", "B1", "--jar", "one pound=60")
    return typed


@pytest.fixture
def loaded(do):
    do("2026-07-25", "stall", "load", "--place", "Mill square", "--jar", "one pound=24", "--change", "80", "--book")
    return do


def text_of(path) -> str:
    return "\n".join(page.extract_text() for page in PdfReader(BytesIO(path.read_bytes())).pages)


def day_of(sold: int, place: str = "Mill square") -> dict:
    core = {
        "labelkit": FORMAT,
        "key": f"2026-07-25 {place}",
        "mark": "0",
        "currency": "USD",
        "items": [[LOT, "one pound", sold, 0, 0, 0, None]],
        "cash_sales": 0,
        "cards": sold * 1200,
        "off": 0,
        "round": 0,
        "cash": None,
        "fee": None,
        "sales": sold,
    }
    return core | {"check": check_of(core)}


def test_every_paper_of_a_market_day_is_written(loaded):
    loaded("2026-07-25", "stall", "cards", "--product", "Wildflower Honey")
    loaded("2026-07-25", "stall", "sheet")
    page = loaded("2026-07-25", "stall", "file")
    assert "$12.00 / lb" in text_of(loaded.folder / "price-cards.pdf")
    assert "Net Wt 16 oz (1 lb) 453 g" in text_of(loaded.folder / "price-cards.pdf")
    assert "24 jars taken" in text_of(loaded.folder / "tally-sheet.pdf")
    html = (loaded.folder / page["file"]).read_text(encoding="utf-8")
    assert "Mill square" in html and LOT in html


def test_the_page_asks_nothing_of_any_network(loaded):
    page = loaded("2026-07-25", "stall", "file", "--out", "market.html")
    html = (loaded.folder / page["file"]).read_text(encoding="utf-8")
    assert "default-src 'none'" in html
    # The library that draws the code can also make picture tags, which the page never asks of it.
    html = html.replace(template_text("stall/qrcode.js"), "")
    for reach in ("src=", "<link", "@import", "url(", "fetch(", "XMLHttpRequest", "WebSocket"):
        assert reach not in html


def test_a_place_that_looks_like_markup_stays_words(do):
    do(
        "2026-07-25",
        "stall",
        "load",
        "--place",
        "</script><b>Market",
        "--jar",
        "one pound=2",
        "--change",
        "0",
        "--book",
    )
    page = do("2026-07-25", "stall", "file", "--out", "market.html")
    html = (do.folder / page["file"]).read_text(encoding="utf-8")
    assert "</script><b>" not in html


def test_a_day_from_the_page_is_settled_once_however_it_comes_home(loaded):
    import zxingcpp

    text = json.dumps(day_of(7), ensure_ascii=False)
    (loaded.folder / "day.json").write_text(text, encoding="utf-8")
    picture = zxingcpp.create_barcode(text, zxingcpp.BarcodeFormat.QRCode).to_image(scale=4)
    from PIL import Image

    Image.fromarray(picture).save(loaded.folder / "photo.png")
    first = loaded("2026-07-26", "stall", "settle", "day.json")
    second = loaded("2026-07-27", "stall", "settle", "photo.png")
    assert (first["booked"], second["booked"]) == (True, False)
    assert first["expected"] == second["expected"] == "84"


def test_the_text_of_a_day_is_pasted_in(loaded, monkeypatch):
    monkeypatch.setattr("sys.stdin", TextIOWrapper(BytesIO(json.dumps(day_of(7)).encode())))
    assert loaded("2026-07-26", "stall", "settle", "-")["expected"] == "84"


def test_equal_days_give_equal_papers_and_pages(loaded):
    def made() -> list[bytes]:
        loaded("2026-07-25", "stall", "cards")
        loaded("2026-07-25", "stall", "sheet")
        loaded("2026-07-25", "stall", "file", "--out", "market.html")
        loaded("2026-07-25", "stall", "sign")
        loaded("2026-07-25", "price", "--pdf", "list.pdf")
        names = ("price-cards.pdf", "tally-sheet.pdf", "market.html", "sign.pdf", "list.pdf")
        return [(loaded.folder / name).read_bytes() for name in names]

    assert made() == made()


def test_a_picture_without_a_code_is_refused(loaded):
    (loaded.folder / "photo.png").write_bytes(b"not a picture")
    with pytest.raises(DayFileUnclear, match="codes can be read"):
        loaded("2026-07-26", "stall", "settle", "photo.png")
    with pytest.raises(FileUnreadable):
        loaded("2026-07-26", "stall", "settle", "nowhere.png")


def test_a_day_of_another_market_is_refused(loaded):
    (loaded.folder / "day.json").write_text(json.dumps(day_of(7, "Elsewhere")), encoding="utf-8")
    with pytest.raises(NothingLoaded):
        loaded("2026-07-26", "stall", "settle", "day.json")


def test_a_file_and_counts_together_are_refused(loaded):
    (loaded.folder / "day.json").write_text(json.dumps(day_of(7)), encoding="utf-8")
    with pytest.raises(UsageUnclear):
        loaded("2026-07-26", "stall", "settle", "day.json", "--cash", "100")


def test_a_settled_day_that_was_struck_may_be_settled_anew(loaded):
    loaded("2026-07-25", "stall", "settle", "--sold", "one pound=5")
    events = [booked for booked in loaded("2026-07-25", "record", "events")["events"] if booked["kind"] == "unload"]
    loaded("2026-07-25", "record", "correct", str(events[0]["event"]), "--because", "miscounted")
    again = loaded("2026-07-25", "stall", "settle", "--sold", "one pound=6")
    assert again["booked"] is True


def test_without_a_place_the_only_market_of_the_day_is_meant_and_two_are_asked_about(loaded):
    assert loaded("2026-07-25", "stall", "sheet")["jars"] == 24
    loaded("2026-07-25", "stall", "load", "--place", "Elsewhere", "--jar", "one pound=2", "--change", "0", "--book")
    with pytest.raises(PlaceMissing, match="Elsewhere, Mill square"):
        loaded("2026-07-25", "stall", "sheet")


def test_two_lots_of_a_size_need_the_lot_with_the_count(do):
    do("2026-07-20", "weigh", "--bucket", "B2", "--net", "20 lb")
    other = do("2026-07-21", "bottle", "--bucket", "B2", "--jar", "one pound=20")["lot"]
    do("2026-07-25", "stall", "load", "--place", "Mill square", "--jar", "one pound=70", "--change", "0", "--book")
    with pytest.raises(LotNotNamed, match="one pound@"):
        do("2026-07-25", "stall", "settle", "--sold", "one pound=5")
    settled = do("2026-07-25", "stall", "settle", "--sold", f"one pound@{other}=5", "--sold", f"one pound@{LOT}=50")
    assert {row["lot"]: row["sold"] for row in settled["jars"]} == {LOT: 50, other: 5}


def test_a_sign_is_made_from_the_situation_of_a_label_file(do):
    (do.folder / "label.toml").write_text(LABEL, encoding="utf-8")
    made = do("2026-07-25", "stall", "sign", "--situation", "label.toml")
    assert "Check your local rules." in made["text"]
    assert "Pretend Hollow Honey" in text_of(do.folder / "sign.pdf")


def test_prices_are_found_from_costs_and_booked(do):
    (do.folder / "costs.toml").write_text(COSTS, encoding="utf-8")
    found = do(
        "2026-07-20",
        "find-prices",
        "--costs",
        "costs.toml",
        "--margin",
        "30",
        "--tax",
        "none",
        "--round-to",
        "0.50",
        "--bucket",
        "60 lb",
        "--shop",
        "30",
        "--book",
    )
    (size,) = found["sizes"]
    assert Decimal(size["price"]) % Decimal("0.50") == 0
    assert Decimal(size["leaves"]) / Decimal(size["price"]) >= Decimal("0.30")
    assert found["buckets"][0]["jars"] == 60
    # A shop that keeps 30 per cent pays 70 per cent, cut down to the step.
    assert Decimal(size["shop_price"]) == Decimal(size["price"]) * Decimal("0.7") // Decimal("0.5") * Decimal("0.5")
    listed = do("2026-07-21", "price")
    assert [(row["size"], row["price"]) for row in listed["sizes"]] == [("one pound", f"{Decimal(size['price']):.2f}")]


def test_tax_is_never_assumed_but_remembered_once_booked(do):
    with pytest.raises(TaxUnclear):
        do("2026-07-20", "find-prices", "--per-kg", "25")
    do("2026-07-20", "find-prices", "--per-kg", "25", "--tax", "added 5.3 %", "--book")
    again = do("2026-07-20", "find-prices", "--per-kg", "25")
    assert again["tax"] == {"how": "added", "percent": "5.3"}
    # 25.00 x 0.45359237 = 11.34; with 5.3 % added a buyer pays 11.94.
    loaded = do("2026-07-25", "stall", "load", "--place", "Mill square", "--jar", "one pound=2")
    assert loaded["jars"][0]["price"] == "11.94"


def test_the_empty_template_is_a_file_of_costs_that_asks(do):
    text = do("2026-07-20", "find-prices", "--template")["template"]
    (do.folder / "costs.toml").write_text(text.replace('size = "one pound"', 'size = "one pound"'), encoding="utf-8")
    found = do("2026-07-20", "find-prices", "--costs", "costs.toml", "--per-kg", "25", "--tax", "none")
    assert len(found["ask"]) > 10
    assert "nobody has said" in found["text"]


def test_a_margin_over_unknown_costs_is_refused_and_a_price_over_them_says_at_most(do):
    with pytest.raises(CostsMissing, match="empty jar"):
        do("2026-07-20", "find-prices", "--margin", "30", "--tax", "none")
    found = do("2026-07-20", "find-prices", "--per-kg", "25", "--tax", "none", "--book")
    assert found["sizes"][0]["complete"] is False
    assert "≤ $11.34" in found["text"]
    # The cost that was booked by hand stays where no file of costs was given.
    assert do("2026-07-21", "price")["sizes"][0]["cost"] == "1.35"


def test_prices_found_by_several_ways_at_once_are_refused(do):
    for line in ((), ("--margin", "30", "--per-kg", "25")):
        with pytest.raises(UsageUnclear):
            do("2026-07-20", "find-prices", "--tax", "none", *line)


def test_costs_that_cannot_be_read_are_refused(do):
    (do.folder / "costs.toml").write_text("[honey]\nper_kg = '1.234,5'", encoding="utf-8")
    with pytest.raises(CostsUnclear, match="per_kg"):
        do("2026-07-20", "find-prices", "--costs", "costs.toml", "--margin", "30", "--tax", "none")


def test_what_others_ask_sets_the_middle(do):
    found = do("2026-07-20", "find-prices", "--others", "one pound=11.00,12.50,14.00", "--tax", "none")
    assert found["sizes"][0]["price"] == "12.5"


def test_a_season_without_a_price_or_of_an_unknown_market_is_refused(tmp_path):
    with contextlib.chdir(tmp_path), pytest.raises(NothingPriced):
        answer_to(
            ["find-prices", "--per-kg", "25", "--tax", "none"], clock=datetime(2026, 8, 20, tzinfo=UTC), who="Hazel"
        )
    season = 'market = ["atlantis"]\n[[jar]]\nid = "pound"\ndeclares = "1 lb"\nprice = "12.00"\n'
    (tmp_path / "lots.toml").write_text(season, encoding="utf-8")
    with contextlib.chdir(tmp_path), pytest.raises(MarketUnknown):
        answer_to(["price", "lots.toml"], clock=datetime(2026, 8, 20, tzinfo=UTC), who="Hazel")


def test_a_honey_box_that_holds_less_than_it_should_shows_in_the_result(do):
    do("2026-07-26", "sell", "--lot", LOT, "--jar", "one pound=3", "--to", "honey box", "--taken", "30.00")
    result = do("2026-07-27", "result")
    # Three jars at 12.00 are 36.00.
    assert (result["money_in"], result["cash_differences"]) == ("36", "-6")


def test_every_event_of_the_stall_reads_back_as_it_was_written(loaded):
    from labelkit.record import open_record

    loaded("2026-07-25", "stall", "settle", "--sold", "one pound=5", "--cash", "140", "--fee", "12")
    loaded(
        "2026-08-01",
        "deliver",
        "--customer",
        "Corner shop",
        "--address",
        "x; y",
        "--jar",
        "one pound=2",
        "--price",
        "one pound=8",
    )
    loaded("2026-08-02", "pay", "--customer", "Corner shop", "--amount", "16")
    with open_record(str(loaded.folder / "farm.labelkit"), to_read=True) as book:
        events = [booked.event for booked in book.events(("load", "unload", "deliver", "pay"))]
    assert len(events) == 4
    for event in events:
        assert read(type(event), write(event)) == event
