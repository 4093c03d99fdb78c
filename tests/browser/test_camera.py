"""The camera at the trace: asked for by a click alone, given to one page alone, and told where it is refused.

Chromium's own test picture stands for the camera; what reads codes is not in every Chromium, so a stand-in that reads
one code is put in its place.
"""

from __future__ import annotations

import pytest

from tests.browser.conftest import CLOSED
from tests.browser.visitor import DESK, Visit, begin, weigh
from tests.needs import chromium

pytestmark = pytest.mark.browser

READS = """window.BarcodeDetector = class {
  async detect(video) { return video.readyState >= 2 && video.videoWidth > 0 ? [{ rawValue: "https://example.com/l/LOT?x=1" }] : []; }
};"""


@pytest.fixture(scope="module")
def browser(playwright):
    options = [*CLOSED, "--use-fake-device-for-media-stream"]
    begun = playwright.chromium.launch(executable_path=chromium(camera=True), args=options)
    yield begun
    begun.close()


def bottle(at: Visit) -> str:
    begin(at)
    weigh(at, "B1", "20 lb")
    tab = at.go("bottle?bucket=B1&jar:one+pound=5")
    at.press("Book the run")
    return tab.locator(".lotcode").inner_text().split()[-1]


def test_a_code_held_before_the_camera_leads_to_its_trace(visit):
    at = visit(permissions=["camera"], **DESK)
    lot = bottle(at)
    at.context.add_init_script(READS.replace("LOT", lot))
    tab = at.go("trace")
    assert tab.locator("video").is_hidden()
    with tab.expect_navigation(url=lambda url: "code=" in url):
        tab.get_by_role("button", name="Scan with the camera").click()
    assert tab.url.endswith(f"/trace?code={lot}") and "B1" in tab.locator("main").inner_text()


@pytest.mark.exhaustive
def test_the_camera_can_be_turned_off_again(visit):
    at = visit(permissions=["camera"], **DESK)
    bottle(at)
    at.context.add_init_script("window.BarcodeDetector = class { async detect() { return []; } };")
    tab = at.go("trace")
    tab.get_by_role("button", name="Scan with the camera").click()
    tab.locator("video").wait_for()
    assert tab.evaluate("document.querySelector('video').srcObject.active")
    tab.get_by_role("button", name="Camera off").click()
    assert tab.locator("video").is_hidden() and not tab.evaluate("document.querySelector('video').srcObject.active")
    assert tab.evaluate("document.activeElement.textContent") == "Scan with the camera"


def test_a_camera_that_is_refused_is_told_and_typing_goes_on(visit):
    at = visit(**DESK)  # nobody gave the camera
    lot = bottle(at)
    at.context.add_init_script(READS)
    tab = at.go("trace")
    tab.get_by_role("button", name="Scan with the camera").click()
    tab.locator(".scanner [role=status]", has_text="told not to give the camera").wait_for()
    tab.locator("#code").fill(lot)
    with tab.expect_navigation():
        tab.keyboard.press("Enter")
    assert "B1" in tab.locator("main").inner_text()


@pytest.mark.exhaustive
def test_without_a_reader_of_codes_nothing_is_promised(visit):
    at = visit(permissions=["camera"], **DESK)
    bottle(at)
    at.context.add_init_script("delete window.BarcodeDetector;")
    assert at.go("trace").locator(".scanner").is_hidden()


@pytest.mark.exhaustive
def test_over_an_unencrypted_network_it_is_said_why_there_is_no_camera(visit):
    at = visit(**DESK)
    bottle(at)
    at.context.add_init_script("Object.defineProperty(window, 'isSecureContext', { value: false });")
    scanner = at.go("trace").locator(".scanner")
    assert "encrypted pages only" in scanner.inner_text() and scanner.locator("button:visible").count() == 0


@pytest.mark.exhaustive
def test_no_other_page_gets_the_camera_even_where_it_was_allowed(visit):
    at = visit(permissions=["camera"], **DESK)
    bottle(at)
    ask = "navigator.mediaDevices.getUserMedia({ video: true }).then(() => 'given', (trouble) => trouble.name)"
    assert at.go("sell").evaluate(ask) == "NotAllowedError"
    assert at.go("trace").evaluate(ask) == "given"
    hear = "navigator.mediaDevices.getUserMedia({ audio: true }).then(() => 'given', (trouble) => trouble.name)"
    assert at.go("trace").evaluate(hear) == "NotAllowedError"
