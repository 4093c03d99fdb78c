"""Workbooks: read as CSV is read, cell by cell; refused in words where they are damaged, locked or too large.

openpyxl writes the workbooks, as spreadsheet programs do.
"""

import io
import random
import zipfile
from datetime import date, datetime
from decimal import Decimal

import openpyxl
import pytest
from hypothesis import given
from hypothesis import strategies as st

from labelkit.errors import LabelkitError
from labelkit.errors.lots import FileRowRefused
from labelkit.errors.reading import CellUnreadable, SheetNotChosen, WorkbookUnreadable
from labelkit.measures import Mass
from labelkit.reading.open_table import lines_in, table_in
from labelkit.reading.table_file import names_buckets, read_table
from tests.walks import WHOLE

DAY = date(2026, 7, 14)
HEADING = ("bucket", "gross (kg)", "tare (kg)", "harvested", "moisture")
ONE = ("B1", 28.4, 1.1, date(2026, 7, 12), 17.6)


def workbook(**sheets) -> bytes:
    """A workbook with these sheets, a list of rows each."""
    book = openpyxl.Workbook()
    book.remove(book.active)
    for name, rows in sheets.items():
        sheet = book.create_sheet(name)
        for row in rows:
            sheet.append(row)
    return saved(book)


def saved(book) -> bytes:
    out = io.BytesIO()
    book.save(out)
    return out.getvalue()


def read(content: bytes, locale: str = "en_US", sheet: str = "", file: str = "x.xlsx"):
    return read_table(table_in(content, file, locale, sheet, names_buckets), DAY, locale)


def with_part(content: bytes, name: str, change) -> bytes:
    """A workbook with one of its parts changed; packed anew."""
    out = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(content)) as old, zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as new:
        for part in old.namelist():
            data = old.read(part)
            new.writestr(part, change(data) if part == name else data)
        if name not in old.namelist():
            new.writestr(name, change(b""))
    return out.getvalue()


SHEET = "xl/worksheets/sheet1.xml"


@pytest.mark.parametrize("locale", ["en_US", "de_DE", "fr_FR", "es_ES", "pl_PL", "uk_UA"])
def test_numbers_are_numbers_and_days_are_days_wherever_the_reader_lives(locale):
    (found,) = read(workbook(Weights=[HEADING, ONE]), locale)
    assert (found.bucket, found.net) == ("B1", Mass.read("27.3 kg", "en_US"))
    assert (found.harvested, found.moisture) == (date(2026, 7, 12), Decimal("17.6"))


@given(grams=st.integers(1_000, 30_000_000), locale=st.sampled_from(["en_US", "de_DE", "fr_CH", "pl_PL"]))
def test_a_weight_comes_out_of_a_workbook_as_it_went_in(grams, locale):
    kilograms = Decimal(grams) / 1_000_000
    (found,) = read(workbook(Sheet1=[("bucket", "net (kg)"), ("B1", float(kilograms))]), locale)
    assert found.net == Mass(grams)


def test_text_in_a_cell_is_read_as_the_reader_writes_it():
    (found,) = read(workbook(Blatt=[("Eimer", "Netto"), ("B1", "27,3 kg")]), "de_DE")
    assert found.net == Mass.read("27.3 kg", "en_US")


def test_a_day_with_a_time_is_that_day_and_a_share_shown_in_percent_is_that_many_percent():
    book = openpyxl.Workbook()
    book.active.append(("bucket", "net (kg)", "harvested", "moisture"))
    book.active.append(("B1", 27.3, datetime(2026, 7, 12, 18, 30), 0.176))
    book.active["D2"].number_format = "0.0%"
    (found,) = read(saved(book))
    assert (found.harvested, found.moisture) == (date(2026, 7, 12), Decimal("17.6"))


def test_the_sheet_with_the_buckets_is_found_among_others():
    notes = [("What", "When"), ("call the shop", "soon")]
    assert len(read(workbook(Notes=notes, Weights=[HEADING, ONE]))) == 1


def test_where_two_sheets_could_be_meant_labelkit_asks_and_takes_the_one_named():
    two = workbook(July=[HEADING, ONE], August=[HEADING, ("B2", 20, 1, None, None)])
    with pytest.raises(SheetNotChosen, match="“July”, “August”"):
        read(two)
    assert [found.bucket for found in read(two, sheet="august")] == ["B2"]
    with pytest.raises(SheetNotChosen, match="no sheet “May”"):
        read(two, sheet="May")


def test_a_formula_is_taken_by_its_value_and_refused_without_one():
    cell = b'<c r="B2"><f>20+8.4</f><v>28.4</v></c>'
    content = with_part(
        workbook(Weights=[HEADING, ONE]), SHEET, lambda xml: xml.replace(b'<c r="B2" t="n"><v>28.4</v></c>', cell)
    )
    assert read(content)[0].net == Mass.read("27.3 kg", "en_US")
    with pytest.raises(CellUnreadable, match="Weights!B2: the formula has no value"):
        read(workbook(Weights=[HEADING, ("B1", "=20+8.4", 1.1)]))


@pytest.mark.parametrize(
    ("row", "place"),
    [
        (("B1", "much", 1.1), "Weigh-in!B2"),
        (("B1", 28.4, "little"), "Weigh-in!C2"),
        (("B1", 28.4, 1.1, "some day"), "Weigh-in!D2"),
        (("B1", 28.4, 1.1, None, "wet"), "Weigh-in!E2"),
        ((None, 28.4, 1.1), "Weigh-in!A2"),
        ((date(2026, 2, 1), 28.4, 1.1), "Weigh-in!A2: the bucket's name is a date"),
    ],
)
def test_a_wrong_cell_is_told_by_its_sheet_and_its_cell(row, place):
    with pytest.raises(FileRowRefused, match=place):
        read(workbook(**{"Weigh-in": [HEADING, row]}))


def test_a_cell_that_shows_an_error_or_a_time_of_day_is_told():
    with pytest.raises(CellUnreadable, match="Weights!B2: the cell shows the error #REF!"):
        read(workbook(Weights=[HEADING, ("B1", "#REF!", 1.1)]))
    with pytest.raises(CellUnreadable, match="Weights!D2: the cell holds a time"):
        read(workbook(Weights=[HEADING, ("B1", 28.4, 1.1, datetime(2026, 7, 12).time())]))


def test_a_total_row_is_checked_in_a_workbook_too():
    rows = [("bucket", "net (kg)"), ("B1", 27.3), ("B2", 26.8)]
    assert len(read(workbook(Weights=[*rows, ("Total", 54.1)]))) == 2
    with pytest.raises(FileRowRefused, match="Weights!B4: the net total 55 kg"):
        read(workbook(Weights=[*rows, ("Total", 55)]))


def test_a_hidden_sheet_is_read_only_where_it_is_named():
    book = openpyxl.load_workbook(io.BytesIO(workbook(Old=[HEADING, ONE], New=[HEADING, ONE])))
    book["Old"].sheet_state = "hidden"
    assert table_in(saved(book), "x.xlsx", "en_US", "", names_buckets).sheet == "New"
    assert table_in(saved(book), "x.xlsx", "en_US", "Old", names_buckets).sheet == "Old"


def test_a_list_of_weights_or_of_lots_may_be_a_workbook():
    from labelkit.reading.weight_list import of_file

    jars = workbook(Jars=[("jar", "net (g)"), (1, 453.6), (2, 455)])
    assert [each.text for each in of_file(*lines_in(jars, "jars.xlsx", "de_DE"))] == ["453,6 g", "455 g"]
    assert [each.text for each in of_file(*lines_in(workbook(Jars=[(453.6,), (455,)]), "jars.xlsx", "en_US"))] == [
        "453.6",
        "455",
    ]
    assert lines_in(b"1 kg\n2 kg\n", "jars.txt", "en_US").text == "1 kg\n2 kg\n"


def test_a_wrong_weight_or_lot_of_a_workbook_is_told_by_its_sheet_and_its_cell(tmp_path):
    from labelkit.cli._labels import lots_of
    from labelkit.errors.filling import WeightUnclear
    from labelkit.errors.labels import LotsUnclear
    from labelkit.reading.weight_list import of_file
    from labelkit.reading.weights import read_weights

    jars = workbook(Jars=[("jar", "net (g)"), (1, 453.6), (2, 0)])
    with pytest.raises(WeightUnclear, match=r"jars\.xlsx, Jars!B3"):
        read_weights(of_file(*lines_in(jars, "jars.xlsx", "en_US")), Mass.read("1 lb", "en_US"), "en_US")
    lots = tmp_path / "lots.xlsx"
    lots.write_bytes(workbook(Print=[("Los", "Anzahl"), ("L26195AXR", 12)]))
    assert lots_of(str(lots), 1) == (("L26195AXR", 12),)
    lots.write_bytes(workbook(Print=[("lot", "count"), ("L26195AXR", -1)]))
    with pytest.raises(LotsUnclear, match="Print!2"):
        lots_of(str(lots), 1)


GOOD = workbook(Weights=[HEADING, ONE])
BOMB = b"<worksheet><sheetData><row>" + b"<c/>" * 300_000 + b"</row></sheetData></worksheet>"
ENTITIES = b'<!DOCTYPE a [<!ENTITY b "lol">]><worksheet/>'
NOT_WORKBOOKS = {
    "a password": (b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1" + "EncryptedPackage".encode("utf-16-le"), "by a password"),
    "an old kind": (b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1" + bytes(600), "old kind"),
    "macros": (with_part(GOOD, "xl/vbaProject.bin", lambda _: b"\x00"), "macros"),
    "text called a workbook": (b"bucket,net\nB1,27 kg\n", "no workbook"),
    "an empty file": (b"", "no workbook"),
    "half of a file": (GOOD[: len(GOOD) // 2], "damaged"),
    "a folder of something else": (with_part(GOOD, "mimetype", lambda _: b"x"), "another kind"),
    "a row without end": (with_part(GOOD, SHEET, lambda _: BOMB), "too many cells"),
    "entities that unfold": (with_part(GOOD, SHEET, lambda _: ENTITIES), "no spreadsheet program writes"),
    "another encoding": (with_part(GOOD, SHEET, lambda xml: xml.decode().encode("utf-16")), "another encoding"),
    "much out of little": (with_part(GOOD, "xl/media/a.png", lambda _: bytes(101_000_000)), "unpacked it has"),
    "styles without end": (with_part(GOOD, "xl/styles.xml", lambda _: b"<a/>" * 500_000), "too large"),
    "rows far below": (with_part(GOOD, SHEET, lambda xml: xml.replace(b'<row r="2"', b'<row r="2000000000"')), "rows"),
}


@pytest.mark.parametrize(("content", "words"), NOT_WORKBOOKS.values(), ids=NOT_WORKBOOKS.keys())
def test_what_is_no_plain_workbook_is_refused_in_words(content, words):
    with pytest.raises(WorkbookUnreadable, match=words):
        read(content)


def test_a_workbook_called_csv_and_kinds_that_are_not_read_are_named():
    with pytest.raises(LabelkitError, match=r"ends in \.xlsx"):
        read(GOOD, file="x.csv")
    with pytest.raises(WorkbookUnreadable, match=r"does not read \.ods"):
        read(GOOD, file="x.ods")


@pytest.mark.parametrize("seed", range(1_000 if WHOLE else 25))
def test_a_damaged_workbook_is_read_or_refused_and_never_a_fault(seed):
    chance = random.Random(seed)
    if seed % 2:  # damage within a part, so that the packing itself is sound
        name = chance.choice(zipfile.ZipFile(io.BytesIO(GOOD)).namelist())
        content = with_part(GOOD, name, lambda data: _damaged(data, chance))
    else:
        content = _damaged(GOOD, chance)
    try:
        read(content)
    except LabelkitError as refusal:
        assert refusal.exit_code == 2


def _damaged(data: bytes, chance: random.Random) -> bytes:
    data = bytearray(data)
    for _ in range(chance.randint(1, 8)):
        at = chance.randrange(len(data))
        kind = chance.randrange(4)
        if kind == 0:
            data[at] = chance.randrange(256)
        elif kind == 1:
            del data[at : at + chance.randint(1, 40)]
        elif kind == 2:
            data[at:at] = chance.randbytes(chance.randint(1, 40))
        else:
            data[at:at] = data[at : at + 60]
        data = data or bytearray(b" ")
    return bytes(data)
