"""The season planned, filled and weighed by its use cases alone: no command line, no page."""

from __future__ import annotations

from datetime import UTC, date, datetime
from decimal import Decimal

import pytest

from labelkit.errors.lots import BucketUnknown
from labelkit.errors.record import NothingToSet
from labelkit.errors.run import JarSizeUnknown
from labelkit.lots.bucket import Source
from labelkit.lots.intake import Intake
from labelkit.measures import Declared, Mass, Money
from labelkit.plan.wishes import Planning
from labelkit.sale.tax import Tax
from labelkit.season import open_season
from labelkit.season.blend import Blending, blend
from labelkit.season.bottle import Bottling, bottle
from labelkit.season.check_weigh import CheckWeighing, check_weigh
from labelkit.season.drain import drain
from labelkit.season.find_prices import PriceSearch, basis_of_record, find_prices
from labelkit.season.kept_plan import follow
from labelkit.season.past_fills import jars_of
from labelkit.season.plan import basis_of_record as plan_basis
from labelkit.season.plan import plan
from labelkit.season.price import SizePrice, price_list, set_price
from labelkit.season.run_result import run_result
from labelkit.season.run_sheet import FillingDay, run_sheet
from labelkit.season.start import SeasonStart, check_start, start
from labelkit.season.weigh import weigh

DAY = date(2026, 7, 14)
POUND = Declared.read("1 lb", "en_US")


def usd(text: str) -> Money:
    return Money.of(text, "USD")


@pytest.fixture
def season(tmp_path):
    clock = datetime(2026, 7, 14, 9, tzinfo=UTC)
    with open_season(tmp_path / "season.labelkit", who="Robin", clock=clock, create=True) as season:
        with season.work() as work:
            start(work, SeasonStart(("us-va",), maker={"name": "Pretend Hollow Honey"}), DAY)
            weigh(
                work, Intake("B1", net=Mass.of_grams(10_000), sources=(Source("Mill meadow", ("H1",)),)), DAY, "en_US"
            )
            weigh(work, Intake("B2", net=Mass.of_grams(5_000)), DAY, "en_US")
            set_price(work, SizePrice("one pound", usd("12.00"), POUND, usd("1.35")), DAY)
        yield season


def test_the_plan_fills_what_the_buckets_hold(season):
    with season.reading() as state:
        found = plan(plan_basis(state, DAY), Planning())
    # 10,000 g and 5,000 g over 453.592 g are 22 and 11 whole jars; each leaves 12.00 - 1.35.
    assert found.plan.jars == {"one pound": 33} and found.plan.value == usd("351.45") and found.plan.proved
    assert found.before is None


def test_a_what_if_shows_the_plan_without_it(season):
    with season.reading() as state:
        basis = plan_basis(state, DAY)
    found = plan(basis, Planning(without=("B2",), at_most={"one pound": 20}))
    assert (found.plan.jars, found.before.jars) == ({"one pound": 20}, {"one pound": 33})
    with pytest.raises(BucketUnknown):
        plan(basis, Planning(without=("B9",)))
    with pytest.raises(JarSizeUnknown):
        plan(basis, Planning(reserve={"pint": 1}))


def test_the_run_sheet_reads_jar_and_honey(season):
    with season.reading() as state:
        day = run_sheet(follow(state, DAY), FillingDay(tares={"one pound": (Mass.of_grams(212),)}), "en_US")
    # 453.592 g and 212 g, up to the next gram the scale shows.
    assert day.sheet.buckets[0].lines[0].target.mass == Mass.of_grams(666)


def test_cappings_and_blends_end_in_the_bucket(season):
    with season.work() as work:
        done = drain(work, Intake("B2", net=Mass.of_grams(250)), DAY, "en_US")
        assert (done.added, done.bucket.holds) == (Mass.of_grams(250), Mass.of_grams(5_250))
        mixed = blend(work, Blending("M1", (("B1", Mass.of_grams(1_000)), ("B2", None))), DAY, "en_US")
    assert mixed.holds == Mass.of_grams(6_250)


def test_check_weights_tell_what_a_lot_gave_away(season):
    with season.work() as work:
        lot = bottle(work, Bottling("B1", {"one pound": 12}), DAY, "en_US").lot
    weights = tuple(Mass.of_grams(455 + n % 3) for n in range(12))
    with season.work() as work:
        judged = check_weigh(work, jars_of(work, lot, None), CheckWeighing(weights), DAY, locale="en_US")
        assert judged.tests[0].verdict.verdict == "pass"
    with season.reading() as state:
        found = run_result(state, DAY)
    # A mean of 456 g is 2.408 g above 453.592 g, twelve times over.
    assert found.given_away == judged.given_away == Mass.of_grams(Decimal("28.896"))


def test_prices_are_found_from_what_a_kilogram_is_to_cost(season):
    with season.reading() as state:
        assert [one.row.size for one in price_list(state, DAY).every] == ["one pound"]
        found = find_prices(basis_of_record(state, DAY), PriceSearch(per_kg=usd("20"), tax=Tax(), step=usd("0.50")))
    # 20.00 a kilogram is 9.07 for 453.592 g, up to the next half dollar.
    assert found.offers[0].found.price == usd("9.50")


def test_a_season_cannot_begin_with_nothing():
    with pytest.raises(NothingToSet):
        check_start(SeasonStart(), DAY)
