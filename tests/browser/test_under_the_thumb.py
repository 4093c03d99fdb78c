"""On a telephone field, answer and action stand together and stay in view: jar, plan and label, measured in a browser."""

from __future__ import annotations

import re

import pytest

from tests.browser.visitor import barriers, begin, shows, weigh

pytestmark = pytest.mark.browser
PHONE = {"viewport": {"width": 390, "height": 844}, "is_mobile": True, "has_touch": True, "device_scale_factor": 2}


def all_in_view(tab, *parts: str) -> None:
    for part in parts:
        box = tab.locator(part).first.bounding_box()
        assert box and box["y"] >= 0 and box["y"] + box["height"] <= 844, (part, box)
    assert tab.evaluate("document.documentElement.scrollWidth") <= 390


def prints(tab, what: str, words: str) -> None:
    """Wait until the print shows these words."""
    from playwright.sync_api import expect

    expect(tab.locator(".preview img")).to_have_attribute(what, re.compile(re.escape(words)))


def test_verdict_money_and_findings_are_beside_field_and_button(visit):
    at = visit(**PHONE)
    begin(at)
    weigh(at, "B1", "26 lb")
    tab = at.go("plan")
    tab.locator("[name='at-most:one pound']").fill("20")
    shows(tab, "#outcome", "$213.00")  # 20 at 12.00 less 1.35
    all_in_view(tab, "[name='at-most:one pound']", ".worth", ".keep button")
    tab = at.go("filling/weigh?size=one+pound&count=20")
    at.fill(next="15.9")
    at.enter_jar("15.9 oz")
    all_in_view(tab, "[name=next]", ".this-jar", ".next button", ".verdict")
    at.go("bottle?bucket=B1")
    at.fill(**{"jar:one pound": "20"})
    at.press("Book the run")
    lot = tab.locator(".lotcode").inner_text().split()[-1]
    tab = at.go(f"labels?lot={lot}&size=one+pound")
    at.fill(name="Wildflower Honey", lines="Soothes coughs", wide="3 in", high="3.2 in")
    shows(tab, ".tell", "must be fixed")
    tab.locator("[name=lines]").scroll_into_view_if_needed()
    all_in_view(tab, ".preview img", "[name=lines]", ".tell", ".dock button")
    assert barriers(tab, "label") == []
    # One tap from the mark on the print to the finding, and from there the forbidden line is out.
    tab.locator(".spots a").first.click()
    all_in_view(tab, "#n-1 .no", ".preview img")
    tab.locator("#n-1 [data-takes]").click()
    shows(tab, ".tell", "Nothing to fix")
    assert tab.locator("[name=lines]").input_value() == ""


def test_the_print_follows_a_key_without_a_flicker_and_keeps_the_cursor(visit):
    at = visit()
    begin(at)
    weigh(at, "B1", "26 lb")
    tab = at.go("bottle?bucket=B1")
    at.fill(**{"jar:one pound": "20"})
    at.press("Book the run")
    lot = tab.locator(".lotcode").inner_text().split()[-1]
    tab = at.go(f"labels?lot={lot}&size=one+pound")
    at.fill(wide="3 in", high="3.2 in", name="Wildflower Hone")
    shows(tab, "#look", "101.6")
    tab.locator("[name=name]").press("End")
    tab.keyboard.type("y")
    prints(tab, "alt", "Wildflower Honey")
    # Whatever is shown is loaded: the picture was waited for before it took the place of the one before.
    assert tab.evaluate("document.querySelector('.preview img').complete")
    assert tab.evaluate("document.activeElement.name") == "name"
    tab.locator("summary", has_text="Heights of the letters").click()
    tab.locator("[name=lines]").fill("From our hives")
    prints(tab, "alt", "From our hives")
    assert tab.evaluate("document.querySelector('#d-heights').open")
    tab.locator(".designs label", has_text="Meadow").click()
    prints(tab, "src", "design=meadow")
    assert barriers(tab, "label") == []
