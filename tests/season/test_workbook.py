"""The season as a workbook: openpyxl reads what we write, totals agree with the result, and no text is a formula."""

from __future__ import annotations

import csv
import io
from datetime import UTC, date, datetime
from decimal import Decimal

import openpyxl
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from labelkit.cli._runner import answer_to
from labelkit.lots.bucket import Source
from labelkit.lots.intake import Intake
from labelkit.measures import Mass
from labelkit.paper.workbook import COUNT, DAY, FIGURE, MONEY, Column, Sheet, workbook
from labelkit.reading.open_table import table_in
from labelkit.reading.table_file import names_buckets, read_table
from labelkit.season.context import open_season
from labelkit.season.weigh import weigh
from labelkit.season.workbook import season_sheets
from tests.walks import examples

MADE = datetime(2026, 8, 31, 9, tzinfo=UTC)
NAMED = ("weigh-ins", "buckets", "runs", "jars", "sales", "customers", "money", "trace", "findings")
ANY = st.text(st.characters(blacklist_categories=("Cs", "Cc")), max_size=40)


def opened(content: bytes, *, values: bool = True):
    return openpyxl.load_workbook(io.BytesIO(content), data_only=values)


def column(sheet, heading: str) -> list:
    """The cells under a heading, without the total."""
    rows = list(sheet.iter_rows(values_only=True))
    at = rows[0].index(heading)
    return [row[at] for row in rows[1:] if row[0] != "Total"]


@given(
    text=st.one_of(ANY, ANY.map(lambda t: f"={t}"), st.sampled_from(["+1", "-1", "@A1", "=1+1", "{=A1}", "http://x"]))
)
def test_a_text_stays_a_text_whatever_it_begins_with(text):
    book = opened(workbook([Sheet("s", [Column("name")], [(text,)])], MADE), values=False)
    cell = book["s"]["A2"]
    assert (cell.value or "") == text and cell.data_type in ("s", "inlineStr", "n") and cell.hyperlink is None
    assert cell.data_type != "n" or not text


@given(st.lists(st.tuples(st.integers(0, 10**6), st.integers(0, 10**9)), min_size=1, max_size=8))
def test_figures_are_read_back_and_their_totals_are_formulas_with_their_value(rows):
    columns = [Column("what"), Column("jars", COUNT, True), Column("money", MONEY, True), Column("day", DAY)]
    lines = [("x", count, Decimal(minor) / 100, date(2026, 7, 14)) for count, minor in rows]
    content = workbook([Sheet("s", columns, lines)], MADE)
    total = len(rows) + 2
    formulas, values = opened(content, values=False)["s"], opened(content)["s"]
    assert formulas.cell(total, 2).value == f"=SUM(B2:B{total - 1})"
    assert values.cell(total, 2).value == sum(count for count, _ in rows)
    assert round(Decimal(values.cell(total, 3).value), 2) == Decimal(sum(minor for _, minor in rows)) / 100
    assert values.cell(2, 4).value.date() == date(2026, 7, 14) and values.freeze_panes == "A2"


def test_what_no_workbook_can_hold_is_put_right():
    text = "a\x00b\x0b" + "c" * 40_000
    cell = opened(workbook([Sheet("s", [Column("name")], [(text,)])], MADE))["s"]["A2"]
    assert cell.value.startswith("a\ufffdb\ufffdc") and len(cell.value) == 32_767


def test_the_same_season_gives_the_same_bytes():
    sheets = [Sheet("s", [Column("g", FIGURE)], [(Decimal("1.5"),)])]
    assert workbook(sheets, MADE) == workbook(sheets, MADE)


@pytest.fixture(scope="module")
def season(tmp_path_factory):
    """A season with a market, a delivery half paid, and a customer whose name looks like a formula."""
    where = str(tmp_path_factory.mktemp("season") / "season.labelkit")

    def say(day: str, *arguments: str):
        return answer_to(["--record", where, "--day", day, *arguments], clock=MADE, who="Robin")

    say("2026-07-12", "start", "--market", "us", "--name", "Pretend Hollow Honey", "--street", "12 Sample Lane")
    say("2026-07-12", "weigh", "--bucket", "B1", "--gross", "28.4 kg", "--tare", "1.1 kg", "--moisture", "17.2")
    say("2026-07-12", "price", "--set", "one pound", "--declares", "1 lb", "--price", "12", "--cost", "1.35")
    lot = say("2026-07-14", "bottle", "--bucket", "B1", "--jar", "one pound=40").document["lot"]
    out = where.replace("season.labelkit", "note.pdf")
    name, why = "=HYPERLINK(0)", ("--because", "labels follow")
    say("2026-07-15", "record", "customer", name, "--address", "1 Made-up Row; Sampleton")
    say(
        "2026-07-15",
        "deliver",
        "--customer",
        name,
        "--jar",
        "one pound=12",
        "--price",
        "one pound=8.40",
        "--out",
        out,
        *why,
    )
    say("2026-07-16", "pay", "--customer", name, "--amount", "60")
    say("2026-07-16", "sell", "--lot", lot, "--jar", "one pound=3", *why)
    return say, where


@pytest.fixture(scope="module")
def book(season):
    say, where = season
    file = where.replace("season.labelkit", "season.xlsx")
    answer = say("2026-07-20", "record", "workbook", "--out", file)
    assert set(NAMED) < set(answer.document["sheets"])
    with open(file, "rb") as written:
        return opened(written.read())


def test_the_money_agrees_with_the_result_account_by_account(season, book):
    result = season[0]("2026-07-20", "result").document
    lines = list(zip(column(book["money"], "account"), column(book["money"], "amount"), strict=True))
    income = sum(Decimal(str(amount)) for account, amount in lines if account == "income from honey")
    assert income == Decimal(result["money_in"]) == 12 * Decimal("8.40") + 3 * 12
    assert sum(Decimal(str(amount)) for account, amount in lines if account != "income from honey") == 0
    assert sum(map(Decimal, map(str, column(book["sales"], "money (USD)")))) == income


def test_jars_buckets_and_what_is_owed_stand_on_their_sheets(book):
    assert column(book["jars"], "in stock") == [40 - 12 - 3]
    assert column(book["buckets"], "came in (kg)") == [27.3]
    assert column(book["customers"], "open (USD)") == [40.8]
    assert "filled" in column(book["runs"], "what") and "weigh" in column(book["trace"], "step")
    assert any("Print" in says for says in column(book["findings"], "says"))


def test_the_ledger_is_the_same_as_csv_and_as_a_workbook_and_agrees_with_the_result(season, tmp_path):
    say, _ = season
    files = [str(tmp_path / "ledger.csv"), str(tmp_path / "ledger.xlsx")]
    for file in files:
        result = say("2026-07-20", "result", "--year", "2026", "--ledger", file).document
    rows = list(csv.DictReader((tmp_path / "ledger.csv").read_text(encoding="utf-8").splitlines()))
    sheet = opened((tmp_path / "ledger.xlsx").read_bytes())["money"]
    assert [Decimal(row["amount"]) for row in rows] == [Decimal(str(cell)) for cell in column(sheet, "amount")]
    sums = {
        name: sum(Decimal(r["amount"]) for r in rows if r["account"] == name) for name in {r["account"] for r in rows}
    }
    assert sums["income from honey"] == Decimal(result["money_in"])
    assert sums["payments received"] == -sums["owed by customers"] == 60
    assert {row["customer"] for row in rows} == {"", "'=HYPERLINK(0)"}


def test_a_workbook_without_people_names_nobody_and_one_with_them_is_told_when_they_are_forgotten(season, tmp_path):
    say, _ = season
    bare, full = tmp_path / "bare.xlsx", tmp_path / "full.xlsx"
    say("2026-07-20", "record", "workbook", "--out", str(bare), "--without-people")
    said = [cell for sheet in opened(bare.read_bytes()) for row in sheet.iter_rows(values_only=True) for cell in row]
    assert not [text for text in said if isinstance(text, str) and "HYPERLINK" in text]
    say("2026-07-20", "record", "workbook", "--out", str(full))
    assert full.stat().st_mode & 0o077 == 0, "only its owner reads it"
    remains = say("2026-07-20", "record", "forget", "=HYPERLINK(0)", "--because", "asked to").document["remains"]
    assert any("full.xlsx: a workbook" in words for words in remains)
    assert not any("bare.xlsx" in words for words in remains)


@settings(max_examples=examples(20))
@given(
    grams=st.integers(20_000, 28_000),
    scale=st.booleans(),
    moisture=st.decimals("15", "18.5", places=1),
    yards=st.lists(st.sampled_from(["Mill meadow", "Hill", "Öd"]), unique=True, max_size=3),
)
def test_weigh_ins_come_back_from_the_workbook_as_they_went_in(grams, scale, moisture, yards, tmp_path_factory):
    net, tare = Mass(grams * 1000 + 1), Mass(1_100_000)
    weights = {"gross": net + tare, "tare": tare} if scale else {"net": net}
    sources = tuple(Source(yard, ("H1", "H2")) for yard in yards)
    asked = Intake("B1", **weights, moisture=moisture, harvested=date(2026, 7, 11), sources=sources, plant="lime")
    where = tmp_path_factory.mktemp("season") / "season.labelkit"
    with open_season(where, create=True, who="Robin", clock=MADE) as one, one.work() as work:
        weigh(work, asked, date(2026, 7, 12), "en_US")
        content = workbook(season_sheets(work, date(2026, 7, 20), locale="en_US"), MADE)
        (event,) = (each.event for each in work.events(("weigh",)))
    (back,) = read_table(table_in(content, "x.xlsx", "de_DE", "", names_buckets), date(2026, 7, 20), "de_DE")
    assert back == event
