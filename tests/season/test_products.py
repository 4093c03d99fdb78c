"""Several products side by side: chosen by lot and honey, priced and retired each for itself; a lot keeps its words."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from decimal import Decimal

import pytest

from labelkit.errors.labels import LotKeepsWords, LotsUnclear
from labelkit.errors.sale import (
    BestBeforeRuleUnclear,
    CustomerPriceMissing,
    NoLabelRules,
    NoPriceInThisJar,
    NotFilled,
    NotGoods,
    NothingMade,
    PriceMissing,
    ProductUnknown,
    SeasonsHoneyStays,
    SizeNamedTwice,
    SizeOfAnother,
    SizeRetired,
)
from labelkit.labels.design import design
from labelkit.labels.sheets import sheet
from labelkit.lots.intake import Intake
from labelkit.measures import Declared, Money
from labelkit.plan.wishes import Planning
from labelkit.record.settings import Setting
from labelkit.sale.tax import Tax
from labelkit.season.bottle import Bottling, bottle
from labelkit.season.caps import overtaken
from labelkit.season.deliver import JarsForCustomer, deliver
from labelkit.season.empties import empties
from labelkit.season.find_prices import PriceSearch, book_prices, find_prices
from labelkit.season.find_prices import basis_of_record as basis_of_prices
from labelkit.season.label import LabelLook, LabelPaper, LabelPrint, book_labels, draw_labels
from labelkit.season.label_words import LabelWords, keep_words, whom_to_ask
from labelkit.season.lot_words import label_of_lots
from labelkit.season.plan import basis_of_record, plan
from labelkit.season.price import SizePrice, price_list, set_price
from labelkit.season.result import result
from labelkit.season.sell import JarsGone, sell
from labelkit.season.settings import settings_of
from labelkit.season.stall import Loading, plan_load
from labelkit.season.stock import book_count, buy, make, stock
from labelkit.season.trace import TraceFrom, trace
from labelkit.season.weigh import weigh
from labelkit.trace.sheet import sheet as trace_sheet
from tests.season.conftest import FILLING, HARVEST, MARKET, lb

LATER = date(2026, 7, 24)
JAR = {"diameter": "3 in", "height": "3.2 in"}
MAKER = {"name": "Pretend Hollow Honey", "street": "12 Sample Lane", "city": "Pretend Hollow", "postcode": "00000"}


def usd(text: str) -> Money:
    return Money.of(text, "USD")


def words(season, day=HARVEST, **asked):
    texts = {name: asked.pop(name) for name in ("name", "kind", "floral_source", "best_before") if name in asked}
    with season.work() as work:
        return keep_words(work, LabelWords(texts, **asked), day)[0]


def price(season, size: str, amount: str, **asked):
    with season.work() as work:
        return set_price(work, SizePrice(size, usd(amount), **asked), HARVEST)


@pytest.fixture
def shop(season):
    """Wildflower honey of B1, clover honey of B2 beside it, candles; and 12 jars of each bucket in the shared pound jar."""
    words(season, name="Wildflower Honey", best_before="24 months", jars={"one pound": JAR})
    words(season, product="Clover", name="Clover Honey", floral_source="clover")
    words(season, product="Candles", kind="candle")
    price(season, "taper", "4.00", cost=usd("1.00"), product="Candles")
    with season.work() as work:
        clover = Intake("B2", net=lb("30"), moisture=Decimal("17.4"), plant="clover")
        weigh(work, clover, HARVEST, "en_US")
    return season


def filled(season, bucket: str, jars: int = 12) -> str:
    with season.work() as work:
        return bottle(work, Bottling(bucket, {"one pound": jars}), FILLING, "en_US").lot


def says(season, *lots: str, day=FILLING, **asked):
    with season.reading() as state:
        return label_of_lots(state, "one pound", lots, day, **asked)


def printed(season, lot: str, because: str = "", day=FILLING, **asked):
    """The lot's labels drawn and booked, whatever the rules find on so short a label."""
    with season.work() as work:
        found = says(season, lot, day=day, **asked)
        look, paper = LabelLook(design("press")), LabelPaper("front", sheet("letter-2x3-102x85"))
        label = replace(found.label, maker=MAKER, lot=lot)
        wanted = LabelPrint(label, (paper,), look, "one pound", count=1, because=because, words=found)
        book_labels(work, draw_labels(work, wanted, day, "en_US"), day)
    return found


def test_a_lot_is_the_product_its_honey_is_named_after_and_the_seasons_honey_otherwise(shop):
    wild, clover = filled(shop, "B1"), filled(shop, "B2")
    assert (says(shop, wild).label.name, says(shop, wild).product) == ("Wildflower Honey", "")
    assert (says(shop, clover).label.name, says(shop, clover).product) == ("Clover Honey", "Clover")
    assert says(shop, clover).label.floral_source == "clover"
    assert says(shop, clover, product="wildflower honey").label.name == "Wildflower Honey"
    with pytest.raises(LotsUnclear, match="name, plant, best-before date"):
        says(shop, wild, clover)
    with pytest.raises(ProductUnknown):
        says(shop, wild, product="Heather")


def test_a_best_before_rule_counts_from_the_day_of_bottling(shop):
    # 20 July 2026 and 24 months
    assert str(says(shop, filled(shop, "B1"), day=LATER).label.best_before) == "2028-07-20"
    with pytest.raises(BestBeforeRuleUnclear):
        words(shop, best_before="two months")


def test_a_reprint_says_what_the_jars_say_and_other_words_want_a_reason(shop):
    lot = filled(shop, "B1")
    why = "the label is short on purpose"
    printed(shop, lot, why)
    words(shop, LATER, name="Meadow Honey", best_before="18 months")
    again = printed(shop, lot, why, LATER)
    assert (again.label.name, again.newer) == ("Wildflower Honey", ("name", "best-before date"))
    # the reprint came after the new words were kept, and does not make them the lot's
    assert says(shop, lot, day=LATER).label.name == "Wildflower Honey"
    with pytest.raises(LotKeepsWords, match="name, best-before date"):
        printed(shop, lot, "", LATER, new_words=True)
    new = printed(shop, lot, "the old name was refused", LATER, new_words=True)
    assert (new.label.name, str(new.label.best_before)) == ("Meadow Honey", "2028-01-20")
    assert says(shop, lot, day=LATER).label.name == "Meadow Honey" and not says(shop, lot, day=LATER).newer
    with shop.reading() as state:
        labels = trace(state, TraceFrom(lot)).trace.labels
    assert [each.because for each in labels] == [why, why, "the old name was refused"]


def test_another_product_on_labelled_jars_is_new_words_too(shop):
    lot = filled(shop, "B1")
    printed(shop, lot, "short")
    with pytest.raises(LotKeepsWords, match="product, name"):
        printed(shop, lot, "", product="Clover")
    printed(shop, lot, "it was clover", product="Clover")
    assert says(shop, lot).product == "Clover"


def test_a_size_of_a_product_is_planned_from_its_honey_alone_and_at_its_price(shop):
    price(shop, "clover pound", "14.00", declares=Declared.read("1 lb", "en_US"), product="clover honey")
    with shop.reading() as state:
        made = plan(basis_of_record(state, FILLING), Planning()).plan
    # 30 lb of each bucket: the dearer clover jar takes all of B2 and none of B1.
    assert made.jars == {"one pound": 30, "clover pound": 30}


@pytest.fixture
def two_prices(shop):
    """The pound jar at 12.00, and at 14.00 as clover honey."""
    price(shop, "one pound", "14.00", product="Clover honey")
    return shop


def test_one_jar_has_a_price_for_each_product_and_each_is_set_for_itself(two_prices):
    price(two_prices, "one pound", "14.50", product="Clover")
    price(two_prices, "one pound", "12.25")
    with two_prices.reading() as state:
        listed = {p.row.size: str(p.row.price.amount) for p in price_list(state, FILLING).every}
    assert (listed["one pound"], listed["Clover one pound"]) == ("12.25", "14.50")
    price(two_prices, "Clover half", "7.00", declares=Declared.read("8 oz", "en_US"))
    price(two_prices, "half", "6.00", declares=Declared.read("8 oz", "en_US"))
    with pytest.raises(SizeOfAnother, match="“Clover half” belongs to Wildflower Honey"):
        price(two_prices, "half", "7.00", product="Clover")


def test_jars_are_of_the_product_their_honey_is_named_after_or_of_the_one_that_was_said(two_prices):
    def sizes(bucket: str, jars: dict[str, int], **asked):
        with two_prices.work() as work:
            run = bottle(work, Bottling(bucket, jars, **asked), FILLING, "en_US").run
        return run.lot, {jar.size: jar.count for jar in run.jars}

    assert sizes("B1", {"one pound": 3})[1] == {"one pound": 3}
    clover, filled = sizes("B2", {"one pound": 4})
    assert filled == {"Clover one pound": 4}
    plain, filled = sizes("B2", {"one pound": 5}, product="Wildflower Honey")
    assert filled == {"one pound": 5}
    assert sizes("B2", {"one pound": 1, "Clover one pound": 2})[1] == {"one pound": 1, "Clover one pound": 2}
    assert says(two_prices, plain).label.name == "Wildflower Honey"  # it costs as much
    with two_prices.reading() as state:
        assert label_of_lots(state, "Clover one pound", [clover], FILLING).label.name == "Clover Honey"
    price(two_prices, "half", "6.00", declares=Declared.read("8 oz", "en_US"))
    with pytest.raises(NoPriceInThisJar):
        sizes("B1", {"half": 2}, product="Clover")
    with pytest.raises(SizeNamedTwice):
        sizes("B2", {"one pound": 1, "Clover one pound": 2}, product="Clover")


def test_a_lot_sells_at_the_price_of_its_product_and_a_shop_remembers_one_for_each(two_prices):
    wild, clover = filled(two_prices, "B1"), filled(two_prices, "B2")
    with two_prices.work() as work:
        sold = [sell(work, JarsGone(lot, {"one pound": 2}, because="no label yet"), MARKET) for lot in (wild, clover)]
        shop = JarsForCustomer("Corner shop", {"one pound": 3}, clover, {"one pound": usd("9.00")}, ("1 Mill Lane",))
        work.add(Setting(MARKET, "maker", MAKER))
        note = deliver(work, replace(shop, because="no label yet"), MARKET, "en_US").delivery
        load = plan_load(work, Loading("Mill square", {"one pound": 1, "Clover one pound": 1}), MARKET).load
    # two of each at the stall: 2 x 12.00 and 2 x 14.00; three to the shop at 9.00
    assert [str(one.amount.amount) for one in sold] == ["24.00", "28.00"]
    assert [(line.size, str(line.amount.amount)) for line in note.lines] == [("Clover one pound", "27.00")]
    assert [str(line.price.amount) for line in load.jars] == ["12.00", "14.00"]
    with pytest.raises(CustomerPriceMissing, match="one pound"), two_prices.work() as work:
        deliver(work, JarsForCustomer("Corner shop", {"one pound": 1}, wild), MARKET, "en_US")


def test_empty_jars_of_one_kind_are_shared_by_the_products_filled_into_them(two_prices):
    with two_prices.work() as work:
        buy(work, "one pound", 40, 40, HARVEST)
    with two_prices.reading() as state:
        made = plan(basis_of_record(state, FILLING), Planning()).plan
    # 40 jars: 30 lb of clover honey bring more in each, so 30 of them, and 10 of the other
    assert made.jars == {"one pound": 10, "Clover one pound": 30}
    lot = filled(two_prices, "B2", 30)
    with two_prices.reading() as state:
        assert [(each.size, each.jars) for each in empties(state)] == [("one pound", 10)]
    with two_prices.work() as work:
        assert book_count(work, "one pound", 29, "one broke", LATER, lot).size == "Clover one pound"


def test_a_season_that_names_no_product_has_one_its_honey(season):
    with season.reading() as state:
        assert [each.name for each in settings_of(state).products.values()] == [""]
        assert settings_of(state).sold_in("one pound").is_planned
    with pytest.raises(SeasonsHoneyStays):
        words(season, name="Honey", retired=True)


def test_goods_have_stock_cost_price_and_sale_and_stay_out_of_plan_food_rules_and_the_authoritys_file(shop):
    with shop.work() as work:
        candles = make(work, "taper", 24, FILLING)
    with shop.work() as work:
        sold = sell(work, JarsGone(candles, {"taper": 3}), MARKET)
    with shop.reading() as state:
        (taken,) = stock(state, MARKET).filled
        year = result(state, MARKET)
        planned = plan(basis_of_record(state, MARKET), Planning()).plan.jars
        listed = [row.row.size for row in price_list(state, MARKET).every]
        followed = trace(state, TraceFrom(candles)).trace
    assert (taken.lot, taken.in_stock, taken.unlabelled) == (candles, 21, 0)
    assert (sold.amount, year.whole.money, year.whole.cost) == (usd("12.00"), usd("12.00"), usd("3.00"))
    assert "taper" not in planned and listed == ["one pound", "taper"]
    assert "no food" in trace_sheet(followed) and "honey" not in trace_sheet(followed).splitlines()[1]
    with pytest.raises(NoLabelRules), shop.reading() as state:
        label_of_lots(state, "taper", [candles], MARKET)
    with pytest.raises(NotFilled), shop.work() as work:
        bottle(work, Bottling("B1", {"taper": 2}), FILLING, "en_US")
    for size, pieces, refusal in (("one pound", 3, NotGoods), ("taper", 0, NothingMade)):
        with pytest.raises(refusal), shop.work() as work:
            make(work, size, pieces, FILLING)


def test_candles_are_in_no_count_of_a_law_about_honey(shop):
    with shop.work() as work:
        candles = make(work, "taper", 24, FILLING)
    with shop.work() as work:
        sell(work, JarsGone(candles, {"taper": 20}), MARKET)
        work.add(Setting(MARKET, "situation", {"units_per_year": 10, "food_sales_per_year": "1 USD"}))
    with shop.reading() as state:
        assert overtaken(state, settings_of(state, MARKET), MARKET) == []


def test_wax_says_whom_to_ask_before_it_touches_food(shop):
    words(shop, product="Beeswax", kind="wax")
    with shop.reading() as state:
        said = " ".join(whom_to_ask(settings_of(state), "beeswax", HARVEST))
        office = settings_of(state).places(HARVEST)[0].head.office
    assert "touch food" in said and "cosmetics" in said and office in said and said.endswith("Check your local rules.")


def test_a_retired_size_or_product_is_offered_planned_and_filled_no_more(shop):
    with shop.work() as work:
        set_price(work, SizePrice("one pound", None, retire=True), LATER)
    words(shop, LATER, product="Candles", retired=True)
    with shop.reading() as state:
        offered = [list(settings_of(state).offered(day)) for day in (FILLING, LATER)]
    assert offered == [["one pound", "taper"], []]
    with pytest.raises(SizeRetired), shop.work() as work:
        bottle(work, Bottling("B1", {"one pound": 2}), LATER, "en_US")
    with shop.work() as work:
        assert bottle(work, Bottling("B1", {"one pound": 2}, because="the last two lids"), LATER, "en_US").run.because
    with shop.work() as work:
        set_price(work, SizePrice("one pound", usd("12.00")), LATER)
    words(shop, LATER, product="Candles", retired=False)
    with shop.reading() as state:
        assert list(settings_of(state).offered(LATER)) == ["one pound", "taper"]


def test_a_price_of_nothing_is_refused_and_the_list_stays(shop):
    with pytest.raises(PriceMissing):
        price(shop, "one pound", "0.00")
    with shop.reading() as state:
        assert [p.row.size for p in price_list(state, FILLING).every] == ["one pound", "taper"]


def test_prices_that_are_found_keep_what_else_was_said_of_a_size(two_prices):
    price(two_prices, "one pound", "12.00", uses=lb("1.02"))
    asked = PriceSearch(per_kg=usd("30.00"), tax=Tax(), step=usd("0.50"))
    with two_prices.work() as work:
        book_prices(work, find_prices(basis_of_prices(work, FILLING), asked), FILLING)
    with two_prices.reading() as state:
        found = settings_of(state).prices
    # 453.592 g at 30.00 a kilogram are 13.61; on steps of 0.50, up
    assert {size: str(found[size].price.amount) for size in ("one pound", "Clover one pound")} == {
        "one pound": "14.00",
        "Clover one pound": "14.00",
    }
    assert (found["one pound"].uses, found["Clover one pound"].jar) == (lb("1.02"), "one pound")
