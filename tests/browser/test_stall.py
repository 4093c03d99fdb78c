"""The market page in a real browser, in flight mode, on a telephone's screen: what it sells, keeps and gives back."""

from __future__ import annotations

import io
import json
from datetime import date

import pytest

from labelkit.measures import Mass, Money
from labelkit.reading.day_file import read_day_file
from labelkit.sale.day_page import day_page
from labelkit.sale.events import SaleLine
from labelkit.sale.settlement import Count, Loaded, balance_of, settle
from labelkit.shipped.catalogues import wording

pytestmark = pytest.mark.browser

PHONE = {"viewport": {"width": 360, "height": 740}, "is_mobile": True, "has_touch": True, "offline": True}
MARKET = date(2026, 7, 25)


def dollars(text: str) -> Money:
    return Money.of(text, "USD")


def test_every_word_on_the_page_stands_out_in_sunlight():
    """WCAG 2.2 success criterion 1.4.6: seven to one between words and their ground."""
    import re

    from labelkit.labels.design import contrast
    from labelkit.shipped import template_text

    shades = dict(re.findall(r"--(\w+): #([0-9a-f]{3,6});", template_text("stall/day.css")))

    def colour(name: str) -> tuple[int, ...]:
        digits = shades[name] if len(shades[name]) == 6 else "".join(2 * digit for digit in shades[name])
        return tuple(bytes.fromhex(digits))

    for ground in ("ink", "honey", "cash", "card", "stop"):
        assert contrast(colour("paper"), colour(ground)) >= 7, ground
    for ground in ("paper", "pale"):
        assert contrast(colour("ink"), colour(ground)) >= 7, ground


def load(day: date = MARKET, place: str = "Mill square", count: int = 24) -> Loaded:
    pound = SaleLine("L26195AXR", "one pound", count, Mass(453592), dollars("12.00"))
    half = SaleLine("L26195AXR", "half pound", 36, Mass(226796), dollars("6.25"))
    return Loaded(day, place, (half, pound), dollars("80.00"))


@pytest.fixture
def phone(browser):
    """A telephone in flight mode at ten in the morning of the market day, which notes every fault and every call out."""
    context = browser.new_context(**PHONE)
    context.clock.install(time="2026-07-25T10:00:00")
    context.troubles = []

    def called(request):
        if not request.url.startswith(("file:", "data:", "blob:")):
            context.troubles.append(request.url)

    context.on("request", called)
    context.on("weberror", lambda fault: context.troubles.append(str(fault.error)))
    yield context
    assert context.troubles == []
    context.close()


@pytest.fixture
def opened(phone, tmp_path):
    def open_day(loaded: Loaded, locale: str = "en_US", currency: str = "USD"):
        file = tmp_path / f"{loaded.day}-{loaded.place}-{locale}.html".replace(" ", "-")
        if not file.exists():
            file.write_text(day_page(loaded, wording("labelkit", locale), locale, currency), encoding="utf-8")
        tab = phone.new_page()
        tab.goto(file.as_uri())
        return tab

    return open_day


def jar(tab, name: str):
    return tab.locator(".jar", has_text=name)


def sell(tab, name: str, count: int = 1, pay: str = "card"):
    for _ in range(count):
        jar(tab, name).tap()
    tab.locator(f"#{pay}-pay").tap()
    if pay == "cash":
        tab.locator("#cash-done").tap()


def given_back(tab) -> str:
    tab.locator("[data-view=evening]").tap()
    with tab.expect_download() as caught:
        tab.locator("#save").tap()
    return open(caught.value.path(), encoding="utf-8").read()


def test_a_jar_is_sold_for_cash_and_the_page_says_the_change(opened):
    tab = opened(load())
    jar(tab, "one pound").tap()
    jar(tab, "half pound").tap()
    assert tab.locator("#total").inner_text() == "$18.25"
    tab.locator("#cash-pay").tap()
    tab.locator(".notes").get_by_role("button", name="20", exact=True).tap()
    assert tab.locator("#change-line b").inner_text() == "$1.75"
    tab.locator("#cash-done").tap()
    assert tab.locator("#sold-sum").inner_text() == "$18.25"
    assert "left: 23" in jar(tab, "one pound").inner_text()


def test_too_little_money_does_not_pay(opened):
    tab = opened(load())
    jar(tab, "one pound").tap()
    tab.locator("#cash-pay").tap()
    for key in "10":
        tab.locator(".keys button", has_text=key).first.tap()
    assert tab.locator("#cash-done").is_disabled()
    assert "$2.00" in tab.locator("#change-line").inner_text()


def test_a_reload_in_the_middle_of_a_sale_and_a_closed_tab_lose_nothing(opened):
    tab = opened(load())
    sell(tab, "one pound", 2)
    jar(tab, "half pound").tap()
    tab.reload()
    assert tab.locator("#total").inner_text() == "$6.25"
    tab.close()
    again = opened(load())
    assert again.locator("#sold-sum").inner_text() == "$24.00"
    assert again.locator("#total").inner_text() == "$6.25"


def test_a_sale_is_undone_and_counted_again(opened):
    tab = opened(load())
    sell(tab, "one pound")
    tab.locator("#undo").tap()
    assert tab.locator("#sold-sum").inner_text() == "$0.00"
    assert "left: 24" in jar(tab, "one pound").inner_text()
    tab.locator("[data-view=list]").tap()
    tab.locator("#entries button").tap()
    assert tab.locator("#sold-sum").inner_text() == "$12.00"


def test_a_hasty_second_tap_neither_sells_twice_nor_takes_back(phone, opened):
    tab = opened(load())
    phone.clock.pause_at("2026-07-25T10:05:00")
    jar(tab, "one pound").tap()
    box = tab.locator("#card-pay").bounding_box()
    for _ in range(3):
        tab.touchscreen.tap(box["x"] + box["width"] - 6, box["y"] + box["height"] / 2)
    tab.locator("[data-view=list]").tap()
    assert tab.locator("#sold-sum").inner_text() == "$12.00"
    assert tab.locator("#entries li").count() == 1


def test_notes_that_were_damaged_are_laid_aside_and_the_seller_is_told(opened):
    tab = opened(load())
    sell(tab, "one pound")
    key = tab.evaluate("Object.keys(localStorage)[0]")
    tab.evaluate("key => localStorage.setItem(key, '{\"log\": [{')", key)
    tab.reload()
    assert "damaged" in tab.locator("#notices").inner_text()
    assert tab.evaluate("key => localStorage.getItem(key + ' damaged')", key) == '{"log": [{'


def test_no_more_is_sold_than_was_loaded(opened):
    tab = opened(load(count=2))
    jar(tab, "one pound").tap()
    jar(tab, "one pound").tap()
    assert jar(tab, "one pound").is_disabled()
    assert "left: 0" in jar(tab, "one pound").inner_text()


def test_two_days_in_two_tabs_do_not_meet(opened):
    one, other = opened(load()), opened(load(date(2026, 8, 1)))
    sell(one, "one pound", 3)
    sell(other, "half pound", 1)
    one.reload()
    other.reload()
    assert one.locator("#sold-sum").inner_text() == "$36.00"
    assert other.locator("#sold-sum").inner_text() == "$6.25"


def test_one_day_in_two_tabs_is_one_day(opened):
    one, other = opened(load()), opened(load())
    sell(one, "one pound")
    sell(other, "half pound")
    sell(one, "one pound")
    assert one.locator("#sold-sum").inner_text() == "$30.25"
    other.reload()
    assert other.locator("#sold-sum").inner_text() == "$30.25"


def test_two_tabs_that_do_not_hear_of_each_other_neither_lose_a_sale_nor_sell_a_jar_twice(phone, opened):
    phone.add_init_script(
        "const add = window.addEventListener;"
        "window.addEventListener = function (kind, ...more) { if (kind !== 'storage') add.call(this, kind, ...more); };"
    )
    one, other = opened(load(count=1)), opened(load(count=1))
    sell(one, "half pound")
    sell(other, "half pound")
    assert other.locator("#sold-sum").inner_text() == "$12.50"
    sell(one, "one pound")
    assert jar(other, "one pound").is_enabled()
    jar(other, "one pound").tap()
    assert other.locator("#basket").is_hidden()
    assert other.locator("#sold-sum").inner_text() == "$24.50"


def test_after_midnight_the_day_is_still_the_markets_day(phone, opened):
    tab = opened(load())
    sell(tab, "one pound")
    assert tab.locator("#notices p").count() == 0
    phone.clock.set_fixed_time("2026-07-26T00:10:00")
    sell(tab, "one pound")
    assert "another day" in tab.locator("#notices").inner_text()
    assert read_day_file(given_back(tab), "day.json").key == "2026-07-25 Mill square"


def test_the_day_comes_home_in_a_file_and_settles_to_the_last_cent(opened):
    tab = opened(load())
    sell(tab, "one pound", 2, pay="cash")
    sell(tab, "half pound", 4)
    jar(tab, "half pound").tap()
    tab.locator("#other-way").tap()
    tab.get_by_role("button", name="tasted").tap()
    jar(tab, "one pound").tap()
    tab.locator("#let-off").tap()
    for key in "11":
        tab.locator(".keys button", has_text=key).first.tap()
    tab.locator("#price-done").tap()
    tab.locator("#cash-pay").tap()
    tab.locator("#cash-done").tap()
    tab.locator("[data-view=evening]").tap()
    tab.locator("#cash").fill("115")
    tab.locator("#fee").fill("35")
    text = given_back(tab)
    day = read_day_file(text, "day.json")
    assert day.counted == {
        ("L26195AXR", "half pound"): Count(sold=4, tasted=1),
        ("L26195AXR", "one pound"): Count(sold=3),
    }
    # By hand: 3 x 12.00 + 4 x 6.25 = 61.00, 1.00 let off; cash 24 + 11 beside the float of 80, cards 25.
    money = balance_of(settle(load(), day.counted, day.till))
    assert (money.list_price, money.rebates, money.expected) == (dollars("61.00"), dollars("1.00"), dollars("60.00"))
    assert money.difference == dollars("0.00")
    assert len(json.loads(text)["log"]) == 4


def test_the_code_on_the_screen_says_the_same_as_the_file(opened):
    """Read back by zxing-cpp, which did not draw it."""
    import zxingcpp
    from PIL import Image

    tab = opened(load(place="Plac Młyński, środa"))
    sell(tab, "one pound", 5)
    from_file = read_day_file(given_back(tab), "day.json")
    tab.locator("#show-code").tap()
    picture = Image.open(io.BytesIO(tab.locator("#code").screenshot()))
    (found,) = zxingcpp.read_barcodes(picture)
    assert read_day_file(found.text, "the code") == from_file


def test_the_text_to_copy_says_the_same_as_the_file(opened):
    tab = opened(load())
    sell(tab, "one pound")
    from_file = read_day_file(given_back(tab), "day.json")
    tab.locator("#copy").tap()
    assert read_day_file(tab.locator("#text").input_value(), "the text") == from_file


def test_a_telephone_that_keeps_nothing_for_files_keeps_the_day_in_the_tab(phone, opened):
    phone.add_init_script(
        "Object.defineProperty(window, 'localStorage', {get() { throw new DOMException('no', 'SecurityError'); }})"
    )
    tab = opened(load())
    assert "leave it open" in tab.locator("#notices").inner_text()
    sell(tab, "one pound", 2)
    tab.reload()
    assert tab.locator("#sold-sum").inner_text() == "$24.00"


def test_an_amount_with_two_separators_is_framed_and_nothing_is_given_back(opened):
    tab = opened(load())
    sell(tab, "one pound")
    tab.locator("[data-view=evening]").tap()
    tab.locator("#cash").fill("1.234,50")
    tab.locator("#save").tap()
    assert "no amount" in tab.locator("#notices").inner_text()
    assert "wrong" in tab.locator("#cash").get_attribute("class")


@pytest.mark.parametrize(("currency", "price", "shown"), [("JPY", "1200", "￥1,200"), ("TND", "12.500", "TND 12.500")])
def test_currencies_without_cents_and_with_three_digits(opened, currency, price, shown):
    pound = SaleLine("L26195AXR", "one pound", 5, Mass(453592), Money.of(price, currency))
    tab = opened(Loaded(MARKET, "Mill square", (pound,), None), "en_US", currency)
    sell(tab, "one pound", pay="cash")
    assert tab.locator("#sold-sum").inner_text().replace("\xa0", " ").replace("¥", "￥") == shown
    day = read_day_file(given_back(tab), "day.json")
    assert day.cash_sales == Money.of(price, currency)


def test_swiss_cash_is_rounded_to_five_rappen_and_the_rounding_is_told(opened):
    jar_ = SaleLine("L26195AXR", "one pound", 5, Mass(453592), Money.of("12.63", "CHF"))
    loaded = Loaded(MARKET, "Mill square", (jar_,), None)
    tab = opened(loaded, "de_CH", "CHF")
    sell(tab, "one pound", pay="cash")
    day = read_day_file(given_back(tab), "day.json")
    assert day.cash_sales == Money.of("12.65", "CHF")
    assert balance_of(settle(loaded, day.counted, day.till)).rounding == Money.of("0.02", "CHF")


@pytest.mark.exhaustive(one_in=6)
@pytest.mark.parametrize("locale", ["en_US", "de_DE", "es_ES", "fr_FR", "pl_PL", "uk_UA"])
def test_every_button_is_large_enough_for_a_thumb_and_nothing_runs_off_the_screen(opened, locale):
    """Target size: WCAG 2.2 success criterion 2.5.5 (44 by 44 CSS pixels)."""
    tab = opened(load(), locale)

    def look():
        buttons = tab.eval_on_selector_all(
            "button",
            "all => all.filter(b => b.offsetWidth).map(b => [b.offsetWidth, b.offsetHeight, b.scrollWidth - b.clientWidth])",
        )
        assert buttons
        assert all(wide >= 44 and high >= 44 and over <= 0 for wide, high, over in buttons), buttons
        assert (
            tab.evaluate("Math.max(document.documentElement.scrollWidth, document.getElementById('panel').scrollWidth)")
            <= 360
        )

    look()
    tab.locator(".jar").nth(0).tap()
    tab.locator(".jar").nth(1).tap()
    look()
    tab.locator("#other-way").tap()
    look()
    tab.keyboard.press("Escape")
    tab.locator("#cash-pay").tap()
    look()
    tab.locator("#cash-done").tap()
    look()
    for view in ("list", "evening"):
        tab.locator(f"[data-view={view}]").tap()
        look()
