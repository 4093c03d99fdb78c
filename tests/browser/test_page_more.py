"""What a producer's hands do beside the main line: drag, click the picture, settle by the telephone's own file, press twice."""

from __future__ import annotations

import json
import re

import pytest

from tests.browser.playing import MARKET, play_market, play_recall, play_season
from tests.browser.visitor import DESK, PHONE, ZOOMED, Visit, barriers, begin, shows, weigh
from tests.walks import share

pytestmark = pytest.mark.browser


@pytest.fixture
def bottled(visit):
    """A season up to jars in stock; the visit, and the lot."""
    at = visit()
    begin(at)
    weigh(at, "B1", "20 lb")
    at.go("bottle")
    at.fill(**{"jar:one pound": "12"})
    at.press("Book the run")
    return at, at.tab.locator(".lotcode").inner_text().split()[-1]


def test_a_bar_dragged_by_keys_moves_the_money_and_fills_its_field(visit):
    at = visit()
    begin(at)
    weigh(at, "B1", "20 lb")
    tab = at.go("plan")
    # Twenty pound jars at 12.00 less 1.35: 213.00.
    shows(tab, ".worth", "$213.00")
    most = tab.get_by_role("slider", name=re.compile("at most, one pound"))
    assert most.get_attribute("aria-valuetext") == "no limit"
    most.focus()
    for _ in range(5):
        tab.keyboard.press("ArrowLeft")
    shows(tab, ".worth", "$159.75")  # fifteen jars
    assert tab.locator("form[data-live] [name='at-most:one pound']").input_value() == "15"
    assert "at-most%3Aone+pound=15" in tab.url
    price = tab.get_by_role("slider", name=re.compile("sold for, one pound"))
    price.focus()
    tab.keyboard.press("ArrowRight")
    shows(tab, ".worth", "$163.50")  # fifteen at 12.25 less 1.35
    tab.locator("form[data-live] [name='at-most:one pound']").fill("")
    shows(tab, ".worth", "$218.00")
    assert most.get_attribute("aria-valuetext") == "no limit"


def test_the_picture_of_a_trace_leads_on_by_keys(bottled):
    at, lot = bottled
    at.go(f"sell?lot={lot}")
    at.fill(**{"jar:one pound": "5"}, customer="Made-up Corner Shop")
    at.press("Book it")
    tab = at.go(f"trace?code={lot}")
    links = tab.locator("svg.way a")
    names = [links.nth(n).get_attribute("aria-label") for n in range(links.count())]
    assert any(name.startswith("Made-up Corner Shop, ") for name in names)
    assert any(name.startswith("B1, ") for name in names)
    tab.locator("svg.way a[aria-label^='B1,']").focus()
    with tab.expect_navigation():
        tab.keyboard.press("Enter")
    assert "code=B1" in tab.url and "Bucket B1" in tab.locator("main").inner_text()
    at.follow(tab.locator("svg.way a[aria-label^='Made-up Corner Shop,']"))
    assert "customer=" in tab.url


def test_jars_typed_one_by_one_draw_the_chart_and_stay_when_the_page_is_loaded_anew(bottled):
    at, lot = bottled
    tab = at.go(f"filling/weigh?lot={lot}&size=one+pound")
    for grams in range(455, 461):
        at.fill(next=f"{grams} g")
        at.enter_jar(f"{grams} g")
        assert tab.locator("[name=next]").input_value() == ""
        assert tab.evaluate("document.activeElement.name") == "next"
    drawn = tab.locator(".chart").evaluate("async image => { await image.decode(); return image.naturalWidth }")
    assert drawn == 880
    at.fill(next="40 g")
    shows(tab, "#look", "too far from the declared weight")
    at.fill(next="456 g")
    shows(tab, "#look", "Jar 7")
    tab.reload()
    read = [box.input_value() for box in tab.locator("#look [name=w]").all()]
    assert read == [f"{grams} g" for grams in range(455, 461)]
    tab.locator("#look [name=w]").nth(1).fill("")
    tab.locator("[name=next]").focus()
    shows(tab, "#look", "Jar 5")


def test_the_day_is_settled_by_the_file_the_telephone_gave_back(bottled, browser, tmp_path):
    at, lot = bottled
    tab = at.go("stall")
    at.fill(place=MARKET, **{"jar:one pound": "6"}, change="50")
    shows(tab, "#look", lot)
    at.press("They are loaded: book it")
    with tab.expect_download() as caught:
        tab.get_by_role("link", name="The day for your telephone").click()
    page = tmp_path / caught.value.suggested_filename
    caught.value.save_as(page)
    phone = browser.new_context(offline=True, viewport=PHONE["viewport"], is_mobile=True, has_touch=True)
    phone.clock.install(time="2026-07-14T10:00:00")
    sold = phone.new_page()
    sold.goto(page.as_uri())
    for _ in range(2):
        sold.locator(".jar", has_text="one pound").tap()
        sold.locator("#card-pay").tap()
    sold.locator("[data-view=evening]").tap()
    with sold.expect_download() as saved:
        sold.locator("#save").tap()
    day = tmp_path / "day.json"
    saved.value.save_as(day)
    phone.close()
    tab.locator("summary", has_text="Or take the file").click()
    tab.locator("input[type=file]").set_input_files(day)
    at.press("Settle by the file")
    assert "is settled" in at.said() and "$24.00" in tab.locator(".sums").inner_text()
    (event,) = at.events("unload")
    assert event.lines[0].count == 2 and event.cards.minor == 2400


def test_two_taps_load_a_day_once_and_begin_a_recall_once(bottled):
    at, lot = bottled
    tab = at.go("stall")
    at.fill(place=MARKET, **{"jar:one pound": "3"}, change="50")
    tab.get_by_role("button", name="They are loaded: book it").dblclick()
    tab.wait_for_selector("#evening")
    assert len(at.events("load")) == 1
    at.go(f"recall/scope?code={lot}&cause=foreign-body")
    at.fill(why="a splinter")
    tab.get_by_role("button", name="Call these jars back").dblclick()
    tab.wait_for_selector(".stages")
    assert len(at.events("recall")) == 1 and len(at.events("hold")) <= 2


@pytest.mark.exhaustive
def test_going_back_after_a_recall_was_begun_begins_no_second_one(bottled):
    at, lot = bottled
    at.go(f"recall/scope?code={lot}&cause=foreign-body")
    at.fill(why="a splinter")
    at.press("Call these jars back")
    at.tab.go_back()
    at.fill(why="a splinter, and another word")
    at.press("Call these jars back")
    assert at.tab.locator(".refusal").count() == 1
    assert len(at.events("recall")) == 1


@pytest.mark.exhaustive
def test_loading_the_page_to_print_anew_prints_and_books_once(bottled):
    at, lot = bottled
    at.go("words")
    at.fill(name="Wildflower Honey", **{"wide:one pound": "3 in", "high:one pound": "3.2 in"})
    at.press("Keep these words")
    tab = at.go(f"labels?lot={lot}&size=one+pound")
    at.print_labels()
    address = tab.url
    for _ in range(2):
        tab.reload()
        assert tab.url == address and tab.get_by_role("link", name="Open the PDF").count() == 1
    assert len(at.events("print")) == 1
    file = at.context.request.get(tab.get_by_role("link", name="Open the PDF").evaluate("a => a.href"))
    assert file.ok and file.body().startswith(b"%PDF")
    assert len(at.events("print")) == 1


STATES = ("filling", "filling?tare%3Aone+pound=212.7+g", "sell/result", "stall", "recall")


@pytest.fixture
def whole(visit):
    """A season played to its recall, and the addresses of its pages in their fullest state."""

    def play(**context) -> tuple[Visit, list[str]]:
        at = visit(**context)
        lot = play_season(at)
        play_market(at, lot)
        outcome = at.tab.url.removeprefix(at.address)
        weights = "&".join(f"w={grams}+g" for grams in (455, 441, 457, 430, 456))
        states = [*STATES, outcome, f"filling/weigh?lot={lot}&size=one+pound&{weights}", f"trace?code={lot}"]
        at.go("stall?new=yes")
        states.append(f"stall?place={MARKET}")
        play_recall(at, lot)
        return at, [*states, "recall/run?" + at.tab.url.partition("?")[2], f"recall/scope?code={lot}&cause=wording"]

    return play


@pytest.mark.exhaustive
def test_none_of_these_pages_has_a_barrier(whole):
    """WCAG 2.2 A and AA as far as axe-core can see them, on the pages of market, filling day and recall."""
    at, states = whole(**DESK)
    found = []
    looks = {"desk": DESK, "telephone": PHONE}
    every = (
        (f"{scheme} {name} {path}", (scheme, name, path))
        for scheme in ("light", "dark")
        for name in looks
        for path in states
    )
    for scheme, name, path in share(every, one_in=8, whole=2):
        at.tab.emulate_media(color_scheme=scheme)
        at.tab.set_viewport_size(looks[name]["viewport"])
        at.go(path)
        found += barriers(at.tab, f"{scheme} {path}")
    assert found == [], json.dumps(found, indent=1)


@pytest.mark.exhaustive
def test_nothing_scrolls_sideways_at_two_hundred_per_cent_or_on_a_telephone(whole):
    at, states = whole(**DESK)
    pages = (
        "",
        "weigh",
        "drain",
        "blend",
        "prices",
        "plan",
        "bottle",
        "words",
        "labels",
        "sell",
        "record",
        "start",
        *states,
    )
    looks = {"zoomed": ZOOMED["viewport"], "telephone": PHONE["viewport"]}
    for name, path in share(((f"{name} {path}", (name, path)) for name in looks for path in pages), one_in=8):
        at.tab.set_viewport_size(looks[name])
        wide = at.go(path).evaluate("document.documentElement.scrollWidth")
        assert wide <= looks[name]["width"], f"{path or 'season'} is {wide} wide on a {name}"
