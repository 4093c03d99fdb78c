"""The run sheet: what the scale must read, what to lay out, and the cautions nobody may miss."""

import io
from datetime import date
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from labelkit.errors.filling import TareImpossible
from labelkit.measures import Declared, Mass, Money
from labelkit.measures.division import Division
from labelkit.measures.wording import ENGLISH
from labelkit.plan import BucketPlan, JarPlan, JarSize
from labelkit.run.run_sheet import CAUTIONS, RunSheet, Setting, run_sheet
from labelkit.run.run_sheet_paper import blank_rows, draw_run_sheet, tick_rows

DAY = date(2026, 7, 14)


def usd(amount: str) -> Money:
    return Money.of(amount, "USD")


POUND = JarSize("one pound", Declared.read("1 lb", "en_US"), Mass.read("1 lb", "en_US"), usd("12"), usd("1.35"))
HALF = JarSize("half pound", Declared.read("8 oz", "en_US"), Mass.read("8 oz", "en_US"), usd("7"), usd("1.10"))


def planned(jars: dict[str, int], bucket: str = "B1", usable: str = "60 kg") -> BucketPlan:
    filled = POUND.fill * jars.get("one pound", 0) + HALF.fill * jars.get("half pound", 0)
    return BucketPlan(bucket, Mass.read(usable, "en_US"), jars, filled, Mass.read(usable, "en_US") - filled)


def sheet_of(*buckets: BucketPlan, **wishes) -> RunSheet:
    jars = {size: sum(b.jars.get(size, 0) for b in buckets) for size in ("one pound", "half pound")}
    return run_sheet(JarPlan("proved", usd("0"), usd("0"), jars, buckets), [POUND, HALF], DAY, **wishes)


def test_the_scale_reads_jar_and_honey_together():
    # 453.592 + 1.5 + 212.7 = 667.792, up to the next gram; without the margin 666.292.
    setting = {"one pound": Setting(Mass.read("212.7 g", "en_US"), Mass.read("1.5 g", "en_US"))}
    line = sheet_of(planned({"one pound": 57}), settings=setting).buckets[0].lines[0]
    assert [m.g for m in (line.lowest, line.target, line.highest)] == [667, 668, 670]
    assert line.gross and line.net.g == Decimal("455.092")


def test_without_a_tare_the_scale_is_tared_to_zero():
    line = sheet_of(planned({"one pound": 1}), division=Division(Decimal("0.5"))).buckets[0].lines[0]
    assert (line.target.g, line.gross) == (Decimal("454"), False)


def test_every_bucket_has_a_lot_code_of_its_own_and_codes_already_given_are_kept():
    sheet = sheet_of(planned({"one pound": 5}), planned({"half pound": 5}, "B2"), lots={"B2": "L26195VK6"})
    assert [(b.bucket, b.lot) for b in sheet.buckets] == [("B1", "L26195AXR"), ("B2", "L26195VK6")]


def test_jars_and_lids_are_counted_over_all_buckets_with_spares():
    sheet = sheet_of(planned({"one pound": 57, "half pound": 3}), planned({"one pound": 50}, "B2"))
    # Two in a hundred, up to whole jars: 57 + 2, 50 + 1 and 3 + 1.
    assert sheet.jars == {"one pound": 110, "half pound": 4}


def test_a_bucket_that_fills_nothing_has_no_part():
    assert [b.bucket for b in sheet_of(planned({"one pound": 0}), planned({"one pound": 2}, "B2")).buckets] == ["B2"]


def test_the_lot_test_says_how_many_to_weigh():
    sheet = sheet_of(planned({"one pound": 57}), weigh=lambda declares, count: min(count, 12))
    assert sheet.buckets[0].lines[0].weigh == 12


def test_a_margin_that_asks_for_more_than_there_is_is_told():
    bucket = planned({"one pound": 60}, usable="60 lb")
    sheet = sheet_of(bucket, settings={"one pound": Setting(None, Mass.read("2 g", "en_US"))})
    assert sheet.buckets[0].left == bucket.left - Mass.read("120 g", "en_US")
    assert "more than there is" in words(sheet)


def test_a_tare_of_nothing_is_refused():
    with pytest.raises(TareImpossible):
        sheet_of(planned({"one pound": 1}), settings={"one pound": Setting(Mass(0))})


def test_the_cautions_speak_of_heat_glass_scale_and_infants():
    together = " ".join(CAUTIONS)
    for word in ("burns", "overheat", "chips", "dry", "breaks", "cold glass", "legal for trade", "infants"):
        assert word in together


@given(
    st.integers(1, 400_000),
    st.integers(100_000, 300_000),
    st.integers(0, 5_000),
    st.sampled_from(["0.1 g", "0.5 g", "1 g", "2 g", "5 g", "0.1 oz", "0.05 oz", "0.25 oz", "0 lb 0.1 oz", "0.005 lb"]),
)
def test_no_jar_that_reads_right_is_short(fill, tare, margin, division):
    size = JarSize("jar", Declared.read("1 lb", "en_US"), Mass(fill), usd("1"), usd("0"))
    bucket = BucketPlan(
        "B1", Mass.read("60 kg", "en_US"), {"jar": 1}, Mass(fill), Mass.read("60 kg", "en_US") - Mass(fill)
    )
    plan = JarPlan("proved", usd("0"), usd("0"), {"jar": 1}, (bucket,))
    setting, scale = {"jar": Setting(Mass(tare), Mass(margin))}, Division.read(division, "en_US")
    line = run_sheet(plan, [size], DAY, settings=setting, division=scale).buckets[0].lines[0]
    assert line.lowest.g - Mass(tare).g >= size.fill.g
    assert line.lowest.g - scale.g < size.fill.g + Mass(tare).g, "and not a whole step too much"
    assert line.lowest.g <= line.target.g < line.highest.g
    assert all(reading.g % scale.g == 0 for reading in (line.lowest, line.target, line.highest))


def test_an_ounce_scale_is_told_ounces_it_can_show():
    # International pound and ounce (1959): 0.1 oz is 2.8349523125 g. 16 oz and 7.5 oz read 23.5 oz, and 1 lb 7.5 oz.
    setting = {"one pound": Setting(Mass.read("7.5 oz", "en_US"))}
    for division, reads in (("0.1 oz", "23.5 oz"), ("0 lb 0.1 oz", "1 lb 7.5 oz"), ("0.005 lb", "1.47 lb")):
        scale = Division.read(division, "en_US")
        line = sheet_of(planned({"one pound": 1}), settings=setting, division=scale).buckets[0].lines[0]
        assert line.target.show("en_US") == reads
    tenth = sheet_of(planned({"one pound": 1}), settings=setting, division=Division.read("0.1 oz", "en_US"))
    assert tenth.buckets[0].lines[0].target.g == 235 * Decimal("2.8349523125")
    assert "23.5 oz … 23.7 oz" in words(tenth) and "lb" in words(tenth)


@pytest.mark.parametrize(("count", "rows"), [(0, []), (3, ["☐☐☐   3"]), (50, None), (51, None)])
def test_there_is_a_box_for_every_jar(count, rows):
    found = tick_rows(count)
    assert sum(row.count("☐") for row in found) == count
    assert rows is None or found == rows
    assert len(found) == -(-count // 50)


@pytest.mark.parametrize(("count", "blanks"), [(0, 0), (1, 1), (12, 12), (24, 24), (125, 24)])
def test_there_is_a_blank_for_every_check_weight_as_far_as_the_page_goes(count, blanks):
    found = blank_rows(count)
    assert sum(row.count("_" * 12) for row in found) == blanks
    assert (f"{count - blanks} more" in found[-1]) if count > blanks else True


def test_a_margin_the_plan_has_counted_leaves_no_less_in_the_bucket():
    bucket = planned({"one pound": 60})
    setting = Setting(None, Mass.read("2 g", "en_US"), planned=True)
    assert sheet_of(bucket, settings={"one pound": setting}).buckets[0].left == bucket.left


def test_the_chance_by_ones_own_past_stands_under_its_jars():
    sheet = sheet_of(planned({"one pound": 57}), passes=lambda size, count: 0.9561)
    assert "a lot of 57 passes at least 95.6% of the time" in words(sheet)
    assert "past runs" not in words(sheet_of(planned({"one pound": 57})))


def words(sheet: RunSheet, locale: str = "en_US") -> str:
    pypdf = pytest.importorskip("pypdf")
    from labelkit.paper.document import Document

    paper = Document("a4", "Run sheet")
    draw_run_sheet(sheet, paper, locale, ENGLISH)
    return " ".join(" ".join(page.extract_text() for page in pypdf.PdfReader(io.BytesIO(paper.bytes())).pages).split())


def test_the_paper_says_what_the_sheet_knows():
    setting = {"one pound": Setting(Mass.read("212.7 g", "en_US"), Mass.read("1.5 g", "en_US"))}
    text = words(sheet_of(planned({"one pound": 57, "half pound": 3}), settings=setting))
    for wanted in (
        "Bucket B1 · lot L26195AXR",
        "668 g",
        "667 g … 670 g",
        "57 + 2",
        "212.7 g",
        "tare to zero",
        "infants",
    ):
        assert wanted in text, wanted
    assert text.count("☐") == 60 + len(CAUTIONS)


def test_the_same_sheet_gives_the_same_bytes():
    from labelkit.paper.document import Document

    made = []
    for _ in range(2):
        paper = Document("letter", "Run sheet")
        draw_run_sheet(sheet_of(planned({"one pound": 57})), paper, locale="en_US", words=ENGLISH)
        made.append(paper.bytes())
    assert made[0] == made[1]
