"""Tax by product, channel and day: what a rate holds for, and what of the season's money is tax."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import pytest

from labelkit.errors.sale import TaxUnclear
from labelkit.measures import Money
from labelkit.measures.period import Period
from labelkit.reading.tax import read_tax
from labelkit.record.settings import Setting
from labelkit.sale.account_events import Delivery
from labelkit.sale.events import PriceSet, Sale
from labelkit.sale.tax import Rate, Tax
from labelkit.season.result import result
from labelkit.season.sell import JarsGone, sell
from labelkit.season.settings import settings_of
from labelkit.season.stock import make
from labelkit.season.tax import TaxFrom, set_tax
from tests.cli.conftest import labelkit  # noqa: F401
from tests.record.season import AT, DAY, SISTER, book_season, line, run

SPRING, SUMMER = date(2027, 2, 3), date(2027, 5, 1)
KEPT = "L26201AXN"
NEXT = Period.of_year(2027)


def usd(text: str) -> Money:
    return Money.of(text, "USD")


def rate(text: str) -> Tax:
    return read_tax(text, "en_US")


@pytest.fixture
def work(tmp_path):
    """The small season of 2026, and a step in 2027."""
    record = book_season(tmp_path / "season.labelkit")
    with record.work(who="Ada", at=AT.replace(year=2027, month=6)) as work:
        yield work
    record.close()


def year(work):
    return result(work, SUMMER, NEXT)


def test_the_tax_of_a_period_is_what_the_point_of_sale_scheme_gives(work):
    """24,000 at 20 % and 105 at 5 % make 4,000 and 5.

    Source: GOV.UK, VAT retail schemes, Point of Sale Scheme, the example under “How to calculate your VAT”; read on
    2026-11-29 as a stored page.
    """
    work.add(Setting(DAY, "product Candles", {"kind": "candle", "name": "Candles"}))
    work.add(PriceSet(DAY, "pillar", None, usd("35"), usd("1"), product="Candles"))
    set_tax(work, TaxFrom(rate("included 20 %")), DAY)
    set_tax(work, TaxFrom(rate("included 5 %"), product="candles"), DAY)
    sell(work, JarsGone(make(work, "pillar", 3, SPRING), {"pillar": 3}), SPRING)
    work.add(Sale(SPRING, (line(4, price="6000"),)))
    assert [(one.money, one.tax) for one in year(work).by_tax] == [
        (usd("24000"), usd("4000")),
        (usd("105"), usd("5")),
    ]
    assert year(work).tax_in == usd("4005")


def test_a_channel_goes_before_a_product_and_both_before_everything(work):
    usual, wax, shop = rate("included 7 %"), rate("included 19 %"), rate("none")
    set_tax(work, TaxFrom(usual), DAY)
    work.add(Setting(DAY, "product Wax", {"kind": "wax", "name": "Wax"}))
    set_tax(work, TaxFrom(wax, product="Wax"), DAY)
    set_tax(work, TaxFrom(shop, channel=" Shop "), DAY)
    taxes = settings_of(work, SPRING).taxes
    assert [taxes.on(SPRING, *of) for of in (("", "stall"), ("Wax", "stall"), ("Wax", "shop"), ("", "SHOP"))] == [
        usual,
        wax,
        shop,
        shop,
    ]


def test_jars_sold_to_a_reseller_bear_no_tax_where_that_was_said(work):
    set_tax(work, TaxFrom(rate("included 7 %")), DAY)
    set_tax(work, TaxFrom(rate("none"), channel="shop"), DAY)
    work.add(Delivery(SPRING, "D2027-001", "Corner shop", (line(5, price="8.00"),)))
    work.add(Sale(SPRING, (line(1, SISTER, price="10.70"),)))
    assert year(work).tax_in == usd("0.70")


def test_jars_that_come_back_take_off_the_tax_they_were_sold_with(work):
    run(work, "B2", KEPT, 4)
    set_tax(work, TaxFrom(rate("included 7 %")), DAY)
    set_tax(work, TaxFrom(rate("included 19 %")), SUMMER)
    sell(
        work,
        JarsGone(KEPT, {"one pound": 2}, to="door", customer="A. Sample", prices={"one pound": usd("10.70")}),
        SPRING,
    )
    assert year(work).tax_in == usd("1.40")
    back = JarsGone(KEPT, {"one pound": 2}, "returned", customer="A. Sample", reason="lid dented")
    done = sell(work, back, SUMMER)
    assert [(each.sold.day, each.sold.to) for each in done.lines] == [(SPRING, "door")]
    assert year(work).tax_in == usd("0") and year(work).money_in == usd("0")


def test_what_rests_on_a_relief_is_stated_as_a_question(work):
    set_tax(work, TaxFrom(rate("exempt")), DAY)
    set_tax(work, TaxFrom(rate("reverse-charge"), channel="wholesale"), DAY)
    work.add(replace(Sale(SPRING, (line(1),)), to="wholesale", customer="Hill shop"))
    work.add(Sale(SPRING, (line(1),)))
    assert year(work).tax_in == usd("0")
    assert all("Ask your tax office" in one.rate.asks for one in year(work).by_tax if one.rate)


@pytest.mark.parametrize("text", ["exempt 7 %", "reverse-charge 19 %", "included", "added -1 %", "reduced"])
def test_a_tax_that_says_nothing_clear_is_refused(text):
    with pytest.raises(TaxUnclear):
        rate(text)


def test_a_rate_is_kept_as_it_was_said():
    for one in (Rate(DAY, rate("included 7 %")), Rate(DAY, rate("exempt"), "Wax, poured", "shop | bar")):
        assert Rate.of_setting(DAY, one.setting[1]) == one


def test_the_command_shows_each_rate_and_what_to_ask(labelkit):  # noqa: F811
    labelkit("tax", "--rate", "included 7 %")
    said = labelkit(
        "--day", "2026-07-22", "tax", "--rate", "reverse-charge", "--channel", "wholesale", "--json"
    ).document
    assert [(one["channel"], one["how"], one["percent"]) for one in said["rates"]] == [
        ("", "included", "7"),
        ("wholesale", "reverse-charge", "0"),
    ]
    assert "Ask your tax office" in said["ask"][0]
    shown = labelkit("tax").out
    assert "sold to wholesale" in shown and "Check your local rules." in shown
    assert labelkit("tax", "--channel", "shop").code == 2
