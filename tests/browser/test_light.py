"""A page weighs little the first time it is opened, its typefaces included."""

from __future__ import annotations

import pytest

from tests.browser.visitor import Visit, begin, weigh

pytestmark = pytest.mark.browser
MOST = 120_000  # bytes over the wire, by a browser that has kept nothing


def cold(at: Visit, path: str, lang: str = "") -> dict[str, int]:
    """What a browser that has kept nothing loads for one page: bytes by address."""
    tab, sizes, names = at.context.new_page(), {}, {}
    wire = at.context.new_cdp_session(tab)
    wire.send("Network.enable")
    wire.send("Network.setCacheDisabled", {"cacheDisabled": True})
    wire.on("Network.responseReceived", lambda told: names.update({told["requestId"]: told["response"]["url"]}))
    wire.on("Network.loadingFinished", lambda told: sizes.update({told["requestId"]: told["encodedDataLength"]}))
    tab.goto(at.address + path)
    tab.evaluate("document.fonts.ready.then(() => true)")
    tab.wait_for_load_state("networkidle")
    tab.close()
    return {names[key].removeprefix(at.address): int(size) for key, size in sizes.items()}


def test_no_page_weighs_more_than_120_kilobytes_cold(visit):
    at = visit()
    begin(at)
    weigh(at, "B1", "20 lb")
    for path in ("", "weigh", "plan", "filling", "first/jars", "record"):
        loaded = cold(at, path)
        assert any(name.startswith("face/") for name in loaded) and sum(loaded.values()) < MOST, (path, loaded)


def test_cyrillic_letters_come_with_a_page_that_has_them_and_with_no_other(visit):
    at = visit()
    begin(at)
    assert not [name for name in cold(at, "record") if "cyrillic" in name]
    tab = at.go("record")
    tab.locator(".tongues > summary").click()
    at.press("Українська")
    loaded = cold(at, "record")
    assert [name for name in loaded if "cyrillic" in name] and sum(loaded.values()) < MOST, loaded
