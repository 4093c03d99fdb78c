"""A whole season played in a real browser, by clicks and keys, from nothing to the trace, and held against the record."""

from __future__ import annotations

import json
import os
import re
import shutil
import subprocess
import tempfile
import threading
from contextlib import contextmanager
from pathlib import Path

import pytest

from labelkit.measures import Mass
from labelkit.page.serve import Server
from labelkit.record import open_book
from tests.needs import step_aside
from tests.page.conftest import desk_at

pytestmark = pytest.mark.browser

DESK = {"viewport": {"width": 1280, "height": 900}}
PHONE = {"viewport": {"width": 360, "height": 740}, "is_mobile": True, "has_touch": True, "device_scale_factor": 2}
PAGES = (
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
    "trace",
    "record",
    "start",
    "nowhere",
)


@contextmanager
def serving(folder: Path):
    server = Server(desk_at(folder), 0)
    thread = threading.Thread(target=server.run, daemon=True)
    thread.start()
    yield server
    server.close()
    thread.join(10)


class Visit:
    """Somebody at the page; notes every fault of the page and every request that leaves it."""

    def __init__(self, browser, server, record: str, **context) -> None:
        self.context = browser.new_context(**context)
        self.context.set_default_timeout(8000)
        self.troubles: list[str] = []
        self.context.on(
            "request", lambda asked: asked.url.startswith(server.address) or self.troubles.append(asked.url)
        )
        self.context.on("weberror", lambda fault: self.troubles.append(str(fault.error)))
        self.context.on(
            "console", lambda said: "Content Security Policy" in said.text and self.troubles.append(said.text)
        )
        self.tab = self.context.new_page()
        self.address, self.record = server.address, record

    def go(self, path: str):
        self.tab.goto(self.address + path)
        return self.tab

    def press(self, name: str) -> None:
        self.follow(self.tab.get_by_role("button", name=name, exact=True))

    def follow(self, link) -> None:
        """Click what leads to another page, and be there."""
        with self.tab.expect_navigation():
            link.click()

    def fill(self, **fields: str) -> None:
        for label, text in fields.items():
            self.tab.locator(f'[name="{label}"]:visible').first.fill(text)

    def said(self) -> str:
        return self.tab.locator(".said").inner_text()

    def events(self, *kinds: str) -> list:
        with open_book(self.record, to_read=True) as book:
            return [each.event for each in book.events(kinds) if each.stands]


@pytest.fixture
def visit(browser, tmp_path):
    """Visits to one server; ``visit(**context)`` begins one."""
    begun = []
    with serving(tmp_path) as server:

        def begin(**context) -> Visit:
            begun.append(Visit(browser, server, str(tmp_path / "season.labelkit"), **(context or DESK)))
            return begun[-1]

        yield begin
        for each in begun:
            assert each.troubles == []
            each.context.close()


def play_season(at: Visit) -> str:
    """From the first question to the trace; the lot that was made."""
    tab = at.go("")
    assert tab.url.endswith("/start")
    tab.locator("[name=market]").first.select_option("us-va")
    at.fill(name="Pretend Hollow Honey", street="12 Sample Lane", city="Pretend Hollow", region="VA", postcode="00000")
    at.press("Begin")
    at.fill(size="one pound", declares="1 lb", price="12.00", cost="1.35")
    at.press("Keep it")
    at.fill(size="half pound", declares="8 oz", price="6.00", cost="1.10")
    at.press("Keep it")
    at.go("weigh")
    for bucket, gross, water in (("B1", "41 lb 3 oz", "17.4"), ("B2", "28 lb 15 oz", "17.1")):
        at.fill(bucket=bucket, gross=gross, tare="2 lb 7 oz", moisture=water, yards="Mill meadow: H1, H2")
        at.press("Weigh it in")
        assert at.said().startswith(f"{bucket} is weighed in")
    at.go("drain")
    tab.get_by_role("radio", name=re.compile("B1")).check()
    at.fill(net="2 lb 4 oz", moisture="17.8")
    at.press("Add it")
    at.go("plan")
    assert "proved" in tab.locator(".worth").inner_text()
    at.follow(tab.get_by_role("link", name="Bottle B1"))
    assert tab.get_by_role("radio", name=re.compile("B1")).is_checked()
    at.press("Book the run")
    lot = tab.locator(".lotcode").inner_text().split()[-1]
    at.go("words")
    at.fill(name="Wildflower Honey", lines="From our own hives", origin="US", best_before="2028-06")
    for size in ("one pound", "half pound"):
        at.fill(**{f"wide:{size}": "3 in", f"high:{size}": "3.2 in"})
    at.press("Keep these words")
    at.follow(tab.get_by_role("link", name=re.compile(f"{lot} one pound")).first)
    tab.get_by_role("radio", name=re.compile("^Meadow")).check()
    tab.locator(".places span").first.click()
    at.press("Book and print")
    assert "are booked" in at.said()
    at.go(f"sell?lot={lot}")
    at.fill(**{"jar:one pound": "5"}, customer="Made-up Corner Shop")
    tab.locator("[name=to]").select_option("shop")
    at.press("Book it")
    assert "5 × one pound" in at.said()
    at.go("trace")
    tab.locator("#code").press_sequentially(lot)  # as a scanner that types does
    with tab.expect_navigation():
        tab.keyboard.press("Enter")
    assert "Made-up Corner Shop" in tab.locator("main").inner_text()
    return lot


def check_season(at: Visit, lot: str) -> None:
    """What the record holds after :func:`play_season`, reckoned by hand."""
    weighed, drained = at.events("weigh"), at.events("drain")
    assert [each.net for each in weighed] == [
        Mass.read(gross) - Mass.read("2 lb 7 oz") for gross in ("41 lb 3 oz", "28 lb 15 oz")
    ]
    assert drained[0].net == Mass.read("2 lb 4 oz")
    (run,) = at.events("run")
    # 41 lb fill 41 jars of a pound, or fewer with two half pounds in their place; nothing is left either way.
    assert run.lot == lot and run.bucket == "B1"
    assert sum(jar.count * (2 if jar.size == "one pound" else 1) for jar in run.jars) == 82
    (printed,) = at.events("print")
    assert (printed.lot, printed.size, printed.design) == (lot, "one pound", "meadow")
    assert "Net Wt 16 oz (1 lb) 453 g" in printed.said
    (sale,) = at.events("sell")
    assert sale.customer == "Made-up Corner Shop" and sale.lines[0].count == 5


def test_a_whole_season_at_a_desk(visit):
    at = visit()
    check_season(at, play_season(at))


def test_a_whole_season_on_a_telephone(visit):
    at = visit(**PHONE)
    check_season(at, play_season(at))
    for path in PAGES:
        tab = at.go(path)
        wide = tab.evaluate("document.documentElement.scrollWidth")
        assert wide <= 360, f"{path or 'season'} is {wide} wide"
        small = tab.evaluate(
            """[...document.querySelectorAll("main button, main .button, main input:not([type=hidden]):not([type=checkbox]):not([type=radio]), main select, nav a")]
            .filter(e => e.offsetParent && e.getBoundingClientRect().height < 44).map(e => e.outerHTML.slice(0, 90))"""
        )
        assert small == [], path


def test_a_whole_season_without_scripts(visit):
    at = visit(java_script_enabled=False, **DESK)
    lot = play_season(at)
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
    assert at.events("weigh")[0].bucket == "K1" and at.events("weigh")[0].net == Mass.read("38 lb 12 oz")


def test_the_skip_link_comes_first_and_leads_to_the_content(visit):
    at = visit()
    begin(at)
    tab = at.go("plan")
    tab.keyboard.press("Tab")
    assert tab.evaluate("document.activeElement.textContent") == "To the content"
    tab.keyboard.press("Enter")
    assert tab.evaluate("document.activeElement.id") == "main"


def shows(tab, place: str, words: str) -> None:
    """Wait until a place of the page says these words."""
    from playwright.sync_api import expect

    expect(tab.locator(place)).to_contain_text(words)


def begin(at: Visit) -> None:
    """A season begun, with one jar size."""
    tab = at.go("start")
    tab.locator("[name=market]").first.select_option("us")
    at.fill(name="Pretend Hollow Honey")
    at.press("Begin")
    at.fill(size="one pound", declares="1 lb", price="12.00", cost="1.35")
    at.press("Keep it")


def weigh(at: Visit, bucket: str, net: str) -> None:
    tab = at.go("weigh")
    tab.locator("summary", has_text="More about").click()
    at.fill(bucket=bucket, gross="", tare="", net=net)
    at.press("Weigh it in")


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


def test_a_step_is_taken_back_by_one_button(visit):
    at = visit()
    begin(at)
    weigh(at, "B1", "20 lb")
    at.tab.get_by_role("button", name=re.compile("Take this back")).click()
    at.tab.wait_for_selector(".said")
    assert "is struck" in at.said() and at.events("weigh") == []


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


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_no_page_has_a_barrier(visit, scheme):
    """WCAG 2.2 A and AA as far as axe-core can see them, on every page, folded parts open."""
    script = axe()
    at = visit(color_scheme=scheme, **DESK)
    tab = at.go("")
    tab.get_by_role("button", name="Try a sample season").click()
    tab.wait_for_selector(".sample")
    lot = tab.locator(".code").first.inner_text()
    found = []
    for path in (
        *PAGES,
        f"lot/{lot}",
        f"labels?lot={lot}&size=one+pound",
        f"sell?lot={lot}",
        f"trace?code={lot}",
        "plan/why",
    ):
        at.go(path)
        tab.evaluate("document.querySelectorAll('details').forEach(e => { e.open = true })")
        tab.evaluate(script)
        told = tab.evaluate(
            "axe.run({ runOnly: ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice'] })"
        )
        found += [(path, each["id"], each["nodes"][0]["html"][:160]) for each in told["violations"]]
    assert found == [], json.dumps(found, indent=1)


def axe() -> str:
    """axe-core's source: fetched once by npm into a folder for passing things, never kept with the project."""
    npm = shutil.which("npm")
    if not npm:
        step_aside("axe-core")
    folder = Path(tempfile.gettempdir()) / f"labelkit-tests-axe-{os.getuid()}"
    file = folder / "node_modules" / "axe-core" / "axe.min.js"
    if not file.exists():
        folder.mkdir(exist_ok=True)
        quiet = ["--no-audit", "--no-fund", "--ignore-scripts", "--no-save"]
        done = subprocess.run(
            [npm, "install", *quiet, "--prefix", str(folder), "axe-core@4"], capture_output=True, timeout=90
        )
        if done.returncode or not file.exists():
            step_aside("axe-core")
    return file.read_text(encoding="utf-8")
