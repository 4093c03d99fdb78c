"""Six languages in a real browser: switched by hand and by keys, as wide as a telephone, and without barriers."""

from __future__ import annotations

import json

import pytest

from tests.browser.visitor import DESK, PAGES, PHONE, barriers
from tests.walks import share

pytestmark = pytest.mark.browser

# Each language in one of the two colour schemes; English is looked at in both elsewhere.
SCHEMES = {"de": "dark", "es": "light", "fr": "dark", "pl": "light", "uk": "dark"}


def in_sample(visit, lang: str, **context):
    at = visit(**context)
    tab = at.go("start")
    at.follow(tab.get_by_role("button", name="Try a sample season"))
    tab.locator(".tongues summary").click()
    at.follow(tab.locator(f".tongues button[value={lang}]"))
    return at


@pytest.mark.exhaustive(one_in=20)
@pytest.mark.parametrize("lang", SCHEMES)
def test_no_page_has_a_barrier_in_any_language(visit, lang):
    """WCAG 2.2 A and AA as far as axe-core can see them; its rule on languages among them."""
    at = in_sample(visit, lang, color_scheme=SCHEMES[lang], **DESK)
    lot = at.tab.locator(".code").first.inner_text()
    found = []
    every = (*PAGES, f"lot/{lot}", f"labels?lot={lot}&size=one+pound", f"sell?lot={lot}", f"trace?code={lot}")
    for path in share(((f"{lang} {path}", path) for path in every), one_in=4, whole=3):
        tab = at.go(path)
        assert tab.evaluate("document.documentElement.lang") == lang, path
        found += barriers(tab, path)
    assert found == [], json.dumps(found, indent=1)


@pytest.mark.exhaustive(one_in=20)
@pytest.mark.parametrize("lang", SCHEMES)
def test_long_words_fit_a_telephone(visit, lang):
    at = in_sample(visit, lang, **PHONE)
    lot = at.tab.locator(".code").first.inner_text()
    wide = {}
    for path in (*PAGES, f"labels?lot={lot}&size=one+pound", f"sell?lot={lot}", f"trace?code={lot}"):
        wide[path] = at.go(path).evaluate("document.documentElement.scrollWidth")
    assert {path: width for path, width in wide.items() if width > 360} == {}


def test_the_switch_is_within_reach_of_a_thumb_and_of_the_keys(visit):
    at = visit(**PHONE)
    tab = at.go("start")
    tab.locator(".tongues summary").click()
    for box in (tab.locator(".tongues button").nth(n).bounding_box() for n in range(6)):
        assert box["x"] >= 0 and box["x"] + box["width"] <= 360 and box["height"] >= 44
    desk = visit(**DESK)
    tab = desk.go("start")
    tab.locator(".tongues summary").focus()
    tab.keyboard.press("Enter")
    for _ in range(5):
        tab.keyboard.press("Tab")
    assert tab.evaluate("document.activeElement.value") == "pl"
    with tab.expect_navigation():
        tab.keyboard.press("Enter")
    assert tab.evaluate("document.documentElement.lang") == "pl"


@pytest.mark.exhaustive
def test_the_note_on_the_translation_leads_back_to_english_on_the_same_page(visit):
    at = in_sample(visit, "fr")
    tab = at.go("weigh?bucket=B7")
    note = tab.locator(".tongue")
    assert note.is_visible() and "langue" in note.inner_text()
    at.follow(note.get_by_role("button", name="Read it in English"))
    assert tab.url.endswith("/weigh?bucket=B7") and tab.evaluate("document.documentElement.lang") == "en"
    assert tab.locator(".tongue").count() == 0


@pytest.mark.exhaustive
def test_the_switch_works_without_scripts(visit):
    at = visit(java_script_enabled=False, **DESK)
    tab = at.go("start")
    tab.locator(".tongues summary").click()
    at.follow(tab.locator(".tongues button[value=uk]"))
    assert tab.locator("html").get_attribute("lang") == "uk"


def test_a_browser_in_polish_is_answered_in_polish_before_there_is_a_season(visit):
    at = visit(locale="pl-PL", **DESK)
    assert at.go("start").evaluate("document.documentElement.lang") == "pl"
