"""Somebody at the page in a real browser: what a visitor does, and what is noted of the page meanwhile."""

from __future__ import annotations

import os
import re
import shutil
import subprocess
import tempfile
import threading
from contextlib import contextmanager, suppress
from functools import cache
from pathlib import Path

from labelkit.page.serve import Server
from labelkit.record import open_record
from tests.needs import step_aside
from tests.page.conftest import desk_at

RULES = ("wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice")
DESK = {"viewport": {"width": 1280, "height": 900}}
PHONE = {"viewport": {"width": 360, "height": 740}, "is_mobile": True, "has_touch": True, "device_scale_factor": 2}
# A desk's screen at two hundred per cent leaves half as many pixels to lay out in.
ZOOMED = {"viewport": {"width": 640, "height": 450}, "device_scale_factor": 2}

#: Every page that a season has by itself.
PAGES = (
    "",
    "weigh",
    "drain",
    "bucket/dry?bucket=B1",
    "blend",
    "prices",
    "plan",
    "bottle",
    "filling",
    "words",
    "labels",
    "sell",
    "sell/result",
    "deliver",
    "owed",
    "years",
    "stall",
    "trace",
    "recall",
    "record",
    "correct?event=4",
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
        self.scripts = context.get("java_script_enabled", True)
        self.context.set_default_timeout(30_000)
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

    def print_labels(self) -> None:
        """Print: the paper opens beside the page, which goes on to what was booked where scripts run."""
        button = self.tab.get_by_role("button", name=re.compile(r"^Print \d"))
        with self.context.expect_page():
            button.click()
        if self.scripts:
            self.tab.wait_for_url("**/labels/done?*")

    def press_beginning(self, name: str) -> None:
        """Press the button whose name begins so; the rest of it says what it is about."""
        self.follow(self.tab.get_by_role("button", name=re.compile(f"^{re.escape(name)}")).first)

    def follow(self, link) -> None:
        """Click what leads to another page, and be there."""
        with self.tab.expect_navigation():
            link.click()

    def fill(self, **fields: str) -> None:
        for label, text in fields.items():
            self.tab.locator(f'[name="{label}"]:visible').first.fill(text)

    def enter_jar(self, read: str) -> None:
        """Enter takes the jar in the field into the list: in place where scripts run, by the next page where they do not."""
        before = self.tab.locator("#look [name=w]").count()
        self.tab.locator("[name=next]").press("Enter")
        self.tab.locator("#look [name=w]").nth(before).wait_for()
        assert self.tab.locator("#look [name=w]").last.input_value() == read

    def settle_list(self, read: str) -> None:
        """Leave a field of the list that was mended, and wait until the list says so."""
        self.tab.locator("[name=next]").focus()
        if not self.scripts:
            self.press("Next jar")
        self.tab.locator(f".this-jar b:text-is('{read}')").wait_for()

    def said(self) -> str:
        return self.tab.locator(".said").inner_text()

    def events(self, *kinds: str) -> list:
        with open_record(self.record, to_read=True) as book:
            return [each.event for each in book.events(kinds) if each.stands]


def shows(tab, place: str, words: str) -> None:
    """Wait until a place of the page says these words."""
    from playwright.sync_api import expect

    expect(tab.locator(place)).to_contain_text(words)


def begin_in(at: Visit, place: str) -> None:
    """The place chosen, then who sells there."""
    tab = at.go("start")
    tab.locator("[name=market]").select_option(place)
    at.press("Start")
    at.go("start")
    at.fill(name="Pretend Hollow Honey", street="12 Sample Lane", city="Pretend Hollow", region="VA", postcode="00000")
    at.press("Keep")


def begin(at: Visit) -> None:
    """A season begun, with one jar size."""
    begin_in(at, "us")
    at.go("prices")
    at.fill(size="one pound", declares="1 lb", price="12.00", cost="1.35")
    at.press("Keep it")


def weigh(at: Visit, bucket: str, net: str) -> None:
    tab = at.go("weigh")
    tab.locator("summary", has_text="More about").click()
    at.fill(bucket=bucket, gross="", tare="", net=net)
    at.press("Weigh it in")


def barriers(tab, path: str) -> list[tuple[str, str, str]]:
    """What axe-core finds against WCAG 2.2 A and AA on the page that is open, folded parts opened.

    The list of languages lies over what is under it, so it stays shut.
    """
    tab.evaluate("document.querySelectorAll('details:not(.tongues)').forEach(e => { e.open = true })")
    tab.evaluate(axe())
    told = tab.evaluate(f"axe.run({{ runOnly: {list(RULES)}, resultTypes: ['violations'] }})")
    return [(path, each["id"], each["nodes"][0]["html"][:160]) for each in told["violations"]]


@cache
def axe() -> str:
    """axe-core's source: fetched once by npm into a folder for passing things, never kept with the project."""
    npm = shutil.which("npm")
    if not npm:
        step_aside("axe-core")
    folder = Path(tempfile.gettempdir()) / f"labelkit-tests-axe-{os.getuid()}"
    script = Path("node_modules") / "axe-core" / "axe.min.js"
    if not (folder / script).exists():
        # Several test processes may come for it at once; the first to have it whole puts it in place.
        own = Path(tempfile.mkdtemp(prefix="labelkit-axe-"))
        quiet = ["--no-audit", "--no-fund", "--ignore-scripts", "--no-save"]
        done = subprocess.run(
            [npm, "install", *quiet, "--prefix", str(own), "axe-core@4"], capture_output=True, timeout=90
        )
        if done.returncode or not (own / script).exists():
            step_aside("axe-core")
        with suppress(OSError):
            own.rename(folder)
        shutil.rmtree(own, ignore_errors=True)
    return (folder / script).read_text(encoding="utf-8")
