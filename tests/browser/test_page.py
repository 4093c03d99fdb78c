"""A whole season played in a real browser, by clicks and keys, from nothing to the trace, and held against the record."""

from __future__ import annotations

import json

import pytest

from labelkit.measures import Mass
from tests.browser.playing import check_rest, check_season, play_filling, play_market, play_recall, play_season
from tests.browser.visitor import DESK, PAGES, PHONE, Visit, barriers, begin, shows, weigh
from tests.walks import share

pytestmark = pytest.mark.browser


def play_all(at: Visit) -> None:
    """From nothing to the recall, held against the record on the way."""
    lot = play_season(at)
    check_season(at, lot)
    play_filling(at, lot)
    play_market(at, lot)
    play_recall(at, lot)
    check_rest(at, lot)


def test_a_whole_season_at_a_desk(visit):
    at = visit()
    play_all(at)


@pytest.mark.exhaustive
def test_a_whole_season_on_a_telephone(visit):
    at = visit(**PHONE)
    play_all(at)
    for path in PAGES:
        tab = at.go(path)
        wide = tab.evaluate("document.documentElement.scrollWidth")
        assert wide <= 360, f"{path or 'season'} is {wide} wide"
        small = tab.evaluate(
            """[...document.querySelectorAll("main button, main .button, main input:not([type=hidden]):not([type=checkbox]):not([type=radio]), main select, nav a")]
            .filter(e => e.offsetParent && e.getBoundingClientRect().height < 44).map(e => e.outerHTML.slice(0, 90))"""
        )
        assert small == [], path


@pytest.mark.exhaustive
def test_a_whole_season_without_scripts(visit):
    at = visit(java_script_enabled=False, **DESK)
    lot = play_season(at)
    play_filling(at, lot)
    play_market(at, lot)
    play_recall(at, lot)
    check_rest(at, lot)
    # Without scripts the look and the used places are not carried over by themselves; the plain form carries what was looked at.
    (run,) = at.events("run")
    assert run.lot == lot
    assert at.events("print")[0].lot == lot and at.events("sell")[0].lines[0].count == 5


def test_the_keyboard_alone_weighs_a_bucket_in(visit):
    at = visit()
    begin(at)
    tab = at.go("weigh")
    tab.locator("[name=bucket]").focus()
    keys = tab.keyboard
    keys.press("Control+A")
    keys.type("K1")
    for text in ("41 lb 3 oz", "2 lb 7 oz", "17.4"):
        keys.press("Tab")
        keys.type(text)
    keys.press("Enter")
    tab.wait_for_selector(".said")
    assert at.events("weigh")[0].bucket == "K1" and at.events("weigh")[0].net == Mass.read("38 lb 12 oz", "en_US")


def test_the_skip_link_comes_first_and_leads_to_the_content(visit):
    at = visit()
    begin(at)
    tab = at.go("plan")
    tab.keyboard.press("Tab")
    assert tab.evaluate("document.activeElement.textContent") == "To the content"
    tab.keyboard.press("Enter")
    assert tab.evaluate("document.activeElement.id") == "main"


def test_the_money_moves_while_limits_are_typed(visit):
    at = visit()
    begin(at)
    weigh(at, "B1", "20 lb")
    tab = at.go("plan")
    # 20 jars of a pound at 12.00 less 1.35 each.
    assert "$213.00" in tab.locator(".worth").inner_text()
    tab.locator('[name="at-most:one pound"]').fill("7")
    shows(tab, ".worth", "$74.55")
    tab.reload()
    assert "$74.55" in tab.locator(".worth").inner_text()


def test_what_is_typed_is_looked_at_before_it_is_booked(visit):
    at = visit()
    begin(at)
    tab = at.go("weigh")
    at.fill(bucket="B1", gross="2 lb", tare="40 lb")
    tab.wait_for_selector("#look .soon")
    assert "is not more than the tare" in tab.locator("#look").inner_text()
    at.fill(gross="40 lb", tare="2 lb", moisture="82")
    shows(tab, "#look", "looks like")
    tab.locator("[name=scale]").select_option("brix")
    shows(tab, "#look", "reckoned from your reading")
    assert not at.events("weigh")


def test_a_double_click_and_a_reload_book_once(visit):
    at = visit()
    begin(at)
    tab = at.go("weigh")
    at.fill(bucket="B1", gross="40 lb", tare="2 lb")
    tab.get_by_role("button", name="Weigh it in").dblclick()
    tab.wait_for_selector(".running")
    tab.reload()
    assert [each.bucket for each in at.events("weigh")] == ["B1"]


def test_the_back_button_gives_a_fresh_form(visit):
    at = visit()
    begin(at)
    tab = at.go("weigh")
    at.fill(bucket="B1", gross="40 lb", tare="2 lb")
    at.press("Weigh it in")
    tab.go_back()
    at.fill(bucket="B2", gross="41 lb", tare="2 lb")
    at.press("Weigh it in")
    if tab.locator(
        ".refusal"
    ).count():  # the browser brought the spent form back: the page says so and hands out a new one
        at.press("Weigh it in")
    assert [each.bucket for each in at.events("weigh")] == ["B1", "B2"]


@pytest.mark.parametrize("screen", [DESK, PHONE], ids=["desk", "phone"])
def test_a_step_is_put_right_or_struck_in_a_form_filled_with_what_was_booked(visit, screen):
    at = visit(**screen)
    begin(at)
    weigh(at, "B1", "20 lb")
    at.press_beginning("Put right or take back")
    tab = at.tab
    assert tab.locator("[name=net]").input_value() == "20 lb"
    assert tab.evaluate("document.documentElement.scrollWidth") <= screen["viewport"]["width"]
    at.fill(net="21 lb", because="misread")
    at.press("Put it right")
    assert "stands instead" in at.said() and at.events("weigh")[-1].net == Mass.read("21 lb", "en_US")
    at.press_beginning("Put right or take back")
    at.fill(because="it was another bucket")
    at.press("Strike it: it never happened so")
    # Its own form comes back, filled with what was struck.
    assert "is struck" in at.said() and at.events("weigh") == []
    assert "/weigh?" in tab.url and tab.locator("[name=bucket]").input_value() == "B1"
    assert tab.locator("[name=net]").input_value() == "21 lb"


@pytest.mark.exhaustive
def test_every_why_opens_and_shows_a_reckoning(visit):
    at = visit()
    begin(at)
    weigh(at, "B1", "20 lb")
    for path in ("", "prices", "plan"):
        tab = at.go(path)
        whys = tab.locator("main .why")
        assert whys.count() >= 1
        for n in range(whys.count()):
            whys.nth(n).locator("summary").click()
            assert whys.nth(n).locator("table td").count() >= 1


def test_a_refusal_takes_the_focus_and_keeps_what_was_typed(visit):
    at = visit()
    begin(at)
    tab = at.go("weigh")
    at.fill(bucket="B9", gross="1 lb", tare="2 lb")
    at.press("Weigh it in")
    assert tab.locator(".refusal").evaluate("e => e === document.activeElement")
    assert tab.title().startswith("Refused") and tab.locator("[name=gross]").input_value() == "1 lb"


@pytest.mark.exhaustive
def test_two_browsers_at_one_record(visit):
    one, other = visit(), visit(**PHONE)
    begin(one)
    for n in range(3):
        weigh(one, f"A{n}", "10 lb")
        weigh(other, f"Z{n}", "10 lb")
    assert [each.bucket for each in one.events("weigh")] == ["A0", "Z0", "A1", "Z1", "A2", "Z2"]
    assert "6 buckets so far" in one.go("weigh").locator("main").inner_text()


def test_the_sample_season_is_tried_and_thrown_away(visit, tmp_path):
    at = visit()
    tab = at.go("")
    tab.get_by_role("button", name="Try a sample season").click()
    tab.wait_for_selector(".sample")
    assert tab.locator(".shelf li").count() >= 2 and tab.locator(".due .urgent").count() == 1
    for path in PAGES:
        at.go(path)
        assert tab.locator(".sample").count() == 1 or path == "nowhere"
    tab.goto(at.address)
    at.press("Throw it away")
    assert tab.url.endswith("/start") and not (tmp_path / "season.labelkit").exists()


def test_paper_gets_the_trace_without_buttons(visit):
    at = visit()
    begin(at)
    weigh(at, "B1", "20 lb")
    tab = at.go("trace?code=B1")
    tab.emulate_media(media="print")
    assert tab.locator("nav").first.is_hidden() and tab.locator("form").first.is_hidden()
    assert tab.locator(".ledger").first.is_visible()


@pytest.mark.exhaustive(one_in=20)
@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_no_page_has_a_barrier(visit, scheme):
    """WCAG 2.2 A and AA as far as axe-core can see them, on every page, folded parts open."""
    at = visit(color_scheme=scheme, **DESK)
    tab = at.go("")
    tab.get_by_role("button", name="Try a sample season").click()
    tab.wait_for_selector(".sample")
    lot = tab.locator(".code").first.inner_text()
    found = []
    of_lot = (f"lot/{lot}", f"labels?lot={lot}&size=one+pound", f"sell?lot={lot}", f"trace?code={lot}")
    every = (*PAGES, *of_lot, "plan/why")
    for path in share(((f"{scheme} {path}", path) for path in every), one_in=8):
        at.go(path)
        found += barriers(tab, path)
    assert found == [], json.dumps(found, indent=1)
