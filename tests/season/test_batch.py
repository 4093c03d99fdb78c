"""The batch sheet comes back: instruments held against what they should show, broken glass in the balance, all of it in the trace."""

from __future__ import annotations

from datetime import date, timedelta
from decimal import Decimal

import pytest

from labelkit.errors.run import BatchLineEmpty, BreakageOfWhat, FewerBrokenThanNoted, InstrumentFarOff, JarSizeUnknown
from labelkit.errors.trace import StandsAgainst
from labelkit.lots.intake import Intake
from labelkit.lots.movement import Account
from labelkit.measures import Mass
from labelkit.measures.wording import ENGLISH
from labelkit.record.settings import Setting
from labelkit.run.batch_sheet import DAMAGED, Breakage
from labelkit.season.batch import SheetEntry, batch, batch_sheet, offset_of, refractometer_checks
from labelkit.season.batch_paper import batch_sheet_pdf
from labelkit.season.bottle import Bottling, bottle
from labelkit.season.drain import drain
from labelkit.season.due import due_today
from labelkit.season.measure import Measuring, measure
from labelkit.season.recall import release
from labelkit.season.sell import JarsGone, sell
from labelkit.season.trace import TraceFrom, trace
from labelkit.season.treat import Drying, dry_out
from labelkit.season.weigh import weigh
from tests.season.conftest import FILLING, HARVEST, MARKET

OLIVE_OIL_OFF = SheetEntry("refractometer", read=Decimal("27.4"))  # shows 0.4 % too much water
GLASS = SheetEntry("breakage", broken=(Breakage("one pound", 1, 4),))


def scale(read: str, against: str = "500", because: str = "") -> SheetEntry:
    return SheetEntry("scale", read=Decimal(read), against=Decimal(against), because=because)


@pytest.mark.parametrize(
    ("scale_step", "read", "against", "off"),
    [
        # OIML R 76-1 (2006), Table 6, class III, read in a reprint: 0.5 e up to 500 e, 1 e up to 2,000 e, then 1.5 e.
        ("1 g", "500.5", "500", False),
        ("1 g", "500.6", "500", True),
        ("1 g", "2001", "2000", False),
        ("1 g", "2001.1", "2000", True),
        ("2 g", "2002", "2000", False),  # 1,000 steps
        ("2 g", "2002.1", "2000", True),
        ("1 g", "3001.5", "3000", False),
    ],
)
def test_a_scale_may_be_off_by_as_much_as_its_class_at_that_load(season, scale_step, read, against, off):
    with season.work() as work:
        work.add(Setting(HARVEST, "market", ["eu-de"]))
        work.add(Setting(HARVEST, "scale", scale_step))
        (done,) = batch(work, (), [scale(read, against)], FILLING, locale="en_US")
    assert done.line.is_off is off


def test_later_readings_are_put_right_by_the_offset_and_earlier_ones_are_not(season):
    with season.work() as work:
        before = work.bucket("B1").moisture
        batch(work, (), [OLIVE_OIL_OFF], FILLING, locale="en_US")
        assert before == work.bucket("B1").moisture == Decimal("17.4")
        measured = measure(work, Measuring("B1", moisture=Decimal("17.9")), FILLING, "en_US")
        assert (measured.step.moisture, measured.step.moisture_read) == (Decimal("17.5"), Decimal("17.9"))
        assert "17.5 % water (17.9 % read)" in measured.step.describe("en_US")
        weighed = weigh(work, Intake("B2", net=Mass.of_grams(9_000), moisture=Decimal("18.0")), FILLING, "en_US")
        assert weighed.moisture == Decimal("17.6")
        drained = drain(work, Intake("B2", net=Mass.of_grams(1_000), moisture=Decimal("18.0")), FILLING, "en_US")
        assert drained.bucket.moisture == Decimal("17.6")
        dried = dry_out(work, Drying("B2", moisture_after=Decimal("17.2")), FILLING, "en_US")
        assert dried.bucket.moisture == Decimal("16.8")
        other = measure(work, Measuring("B1", moisture=Decimal("17.9"), instrument="laboratory"), FILLING, "en_US")
        assert (other.step.moisture, other.step.moisture_read) == (Decimal("17.9"), None)


def test_a_check_booked_late_does_not_overrule_one_of_a_later_day(season):
    with season.work() as work:
        batch(work, (), [OLIVE_OIL_OFF], FILLING, locale="en_US")
        batch(
            work, (), [SheetEntry("refractometer", read=Decimal("26.5"))], FILLING - timedelta(days=2), locale="en_US"
        )
        checks = refractometer_checks(work)
    assert offset_of(checks, "", FILLING) == Decimal("0.4")
    assert offset_of(checks, "", FILLING - timedelta(days=1)) == Decimal("-0.5")


def test_broken_jars_and_their_neighbours_are_in_the_balance_of_the_run_and_in_its_trace(season):
    with season.work() as work:
        batch(work, ["B1"], [SheetEntry("start", "18:05"), GLASS], FILLING, locale="en_US")
        run = bottle(work, Bottling("B1", {"one pound": 20}), FILLING, "en_US").run
    assert [(each.size, each.count) for each in run.broken] == [("one pound", 5)]
    with season.work() as work:  # the next run of the bucket has none of them
        second = bottle(work, Bottling("B1", {"one pound": 2}), FILLING, "en_US").run
    assert second.broken == ()
    with season.reading() as state:
        found = trace(state, TraceFrom(run.lot)).trace
    assert [each.event.line for each in found.batch_lines] == ["start", "breakage"]
    assert found.balance(run.lot).accounted_percent == 100


def test_fewer_broken_jars_than_the_sheet_has_are_asked_about(season):
    with season.rehearsal() as work:
        batch(work, ["B1"], [GLASS], FILLING, locale="en_US")
        with pytest.raises(FewerBrokenThanNoted, match="has 5 broken"):
            bottle(work, Bottling("B1", {"one pound": 20}, {"one pound": 1}), FILLING, "en_US")
        run = bottle(
            work, Bottling("B1", {"one pound": 20}, {"one pound": 1}, because="miscounted"), FILLING, "en_US"
        ).run
        assert run.broken[0].count == 1


def test_glass_that_breaks_after_the_run_takes_the_jars_out_of_stock(season):
    with season.work() as work:
        lot = bottle(work, Bottling("B1", {"one pound": 20}), FILLING, "en_US").lot
        batch(work, [lot], [GLASS], FILLING, locale="en_US")
    with season.reading() as state:
        assert [stock.count for stock in state.stock(Account.JARS)] == [15]


def test_a_line_of_no_run_in_particular_is_in_the_trace_of_every_run_of_its_day_and_no_other(season):
    with season.work() as work:
        first = bottle(work, Bottling("B1", {"one pound": 5}), FILLING, "en_US").lot
        batch(work, (), [SheetEntry("room", "hot water")], FILLING, locale="en_US")
        batch(work, (), [SheetEntry("room", "vinegar")], date(2026, 7, 21), locale="en_US")
    with season.reading() as state:
        found = trace(state, TraceFrom(first)).trace
    assert [each.event.words for each in found.batch_lines] == ["hot water"]


def test_a_damaged_strainer_leads_to_holding_what_was_filled_through_it(season):
    with season.rehearsal() as work:
        lot = bottle(work, Bottling("B1", {"one pound": 5}), FILLING, "en_US").lot
        (done,) = batch(work, ["B1"], [SheetEntry("strainer-after", DAMAGED)], FILLING, locale="en_US")
    assert [(way.verb, way.about) for way in done.ways] == [("hold", "B1"), ("hold", lot)]


def test_a_figure_that_is_asked_about_is_kept_with_the_words(season):
    with season.rehearsal() as work:
        (done,) = batch(work, (), [SheetEntry("ice", read=Decimal(12), because="no ice left")], FILLING, locale="en_US")
    assert done.line.says("en_US").endswith("too much (no ice left)")


def test_jars_filled_through_a_damaged_strainer_go_out_only_when_somebody_says_why_or_releases_them(season):
    with season.work() as work:
        lot = bottle(work, Bottling("B1", {"one pound": 5}), FILLING, "en_US").lot
        batch(work, ["B1"], [SheetEntry("strainer-after", DAMAGED)], FILLING, locale="en_US")
        later = bottle(work, Bottling("B1", {"one pound": 5}), date(2026, 7, 21), "en_US").lot
    jars = {"one pound": 1}
    with season.rehearsal() as work, pytest.raises(StandsAgainst, match="strainer was found damaged"):
        sell(work, JarsGone(lot, jars), MARKET)
    with season.reading() as state:
        due = [each for each in due_today(state, MARKET, locale="en_US") if "strainer" in str(each.what)]
    assert [(each.level, each.verb, each.about) for each in due] == [("urgent", "hold", lot)]
    with season.work() as work:
        sell(work, JarsGone(later, jars), MARKET)
        sell(work, JarsGone(lot, jars, because="strained again"), MARKET)
        release(work, [lot], "looked at, no wire missing", MARKET)
        sell(work, JarsGone(lot, jars), MARKET)


@pytest.mark.parametrize(
    ("lots", "entry", "refusal"),
    [
        ((), SheetEntry("ice", read=Decimal(12)), InstrumentFarOff),
        ((), scale("50"), InstrumentFarOff),
        ((), SheetEntry("scale", read=Decimal(500)), BatchLineEmpty),
        ((), SheetEntry("honey"), BatchLineEmpty),
        ((), SheetEntry("strainer-after", "fine"), BatchLineEmpty),
        (("B1",), SheetEntry("breakage"), BatchLineEmpty),
        ((), GLASS, BreakageOfWhat),
    ],
)
def test_what_cannot_be_kept_is_refused_and_nothing_is_booked(season, lots, entry, refusal):
    with pytest.raises(refusal), season.work() as work:
        batch(work, lots, [SheetEntry("hands"), entry], FILLING, locale="en_US")
    with season.reading() as state:
        assert batch_sheet(state, FILLING) == ()


def test_a_step_repeated_under_its_key_books_its_lines_once(season):
    for _ in range(2):
        with season.work("evening") as work:
            done = batch(work, ["B1"], [SheetEntry("hands"), SheetEntry("start", "18:05")], FILLING, locale="en_US")
    with season.reading() as state:
        assert [each.seq for each in batch_sheet(state, FILLING)] == [each.event for each in done]


def test_the_sheet_prints_with_and_without_entries(season):
    with season.work() as work:
        batch(work, ["B1"], [scale("500"), GLASS], FILLING, locale="en_US")
    with season.reading() as state:
        lines = [each.event for each in batch_sheet(state, FILLING)]
    filled, blank = (
        batch_sheet_pdf(FILLING, ["B1"], lines, "a4", ENGLISH, "en_US"),
        batch_sheet_pdf(FILLING, [], [], "a4", ENGLISH, "en_US"),
    )
    assert filled[:5] == blank[:5] == b"%PDF-" and filled != blank


def test_broken_jars_of_a_size_nobody_fills_are_refused(season):
    with pytest.raises(JarSizeUnknown), season.work() as work:
        batch(work, ["B1"], [SheetEntry("breakage", broken=(Breakage("gallon", 1),))], FILLING, locale="en_US")
