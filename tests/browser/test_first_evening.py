"""The first evening in a real browser: from no record to a sheet of labels, every click and every field counted."""

from __future__ import annotations

from decimal import Decimal

import pytest

from tests.browser.visitor import DESK, PHONE, Visit, barriers, shows

pytestmark = pytest.mark.browser
MOST_CLICKS, MOST_FIELDS = 6, 7


class Counted:
    """A visitor whose clicks and filled fields are counted."""

    def __init__(self, at: Visit) -> None:
        self.at, self.clicks, self.fields = at, 0, 0

    def press(self, name: str) -> None:
        self.clicks += 1
        self.at.press(name)

    def fill(self, name: str, text: str) -> None:
        self.fields += 1
        self.at.tab.locator(f"[name={name}]").fill(text)


@pytest.mark.parametrize("screen", [DESK, PHONE], ids=["desk", "phone"])
def test_the_first_sheet_of_labels_takes_six_clicks_and_seven_fields_at_most(visit, screen):
    at = visit(**screen)
    hand, tab = Counted(at), at.go("")
    hand.fields += 1
    tab.locator("[name=market]").select_option("us-va")
    hand.press("Start")
    for name, text in (("gross", "54.6"), ("tare", "2.4"), ("moisture", "17.4")):
        hand.fill(name, text)
    shows(tab, "#look", "52 lb 3.2 oz")  # 54.6 less 2.4 is 52.2 lb
    hand.press("Save, then jars")
    hand.press("Next: plan these jars")
    assert "29" in tab.locator(".tally").inner_text()
    hand.press("They are full: make the labels")
    for name, text in (
        ("name", "Wildflower Honey"),
        ("maker", "Pretend Hollow Honey"),
        ("address", "12 Sample Lane, Pretend Hollow, VA 00000"),
    ):
        hand.fill(name, text)
    shows(tab, ".tell", "Nothing to fix, in the rules labelkit holds")
    assert barriers(tab, "label") == []
    hand.clicks += 1
    with at.context.expect_page():  # the paper opens beside this page
        tab.get_by_role("button", name="Print 58 labels").click()
    tab.wait_for_url("**/first/done?*")
    assert (hand.clicks, hand.fields) <= (MOST_CLICKS, MOST_FIELDS)
    # 52.2 lb into as many one-pound as twelve-ounce jars: 29 of each take 50.75 lb, 30 would take 52.5.
    assert sum(jar.count * jar.declares.grams for jar in at.events("run")[0].jars) / Decimal("453.59237") == Decimal(
        "50.75"
    )
    prints = at.events("print")
    assert [(each.size, each.count) for each in prints] == [("one pound", 29), ("twelve ounces", 29)]
    assert all(each.lot == at.events("run")[0].lot for each in prints)
    words = " ".join(prints[0].said)
    assert "Wildflower Honey" in words and "Pretend Hollow Honey" in words and "Pretend Hollow, VA 00000" in words


def test_the_print_and_its_button_stay_in_view_on_a_telephone_while_the_label_is_typed(visit):
    at = visit(viewport={"width": 390, "height": 844}, is_mobile=True, has_touch=True, device_scale_factor=2)
    tab = at.go("")
    tab.locator("[name=market]").select_option("eu-de")
    at.press("Beginnen") if tab.locator("button:text-is('Beginnen')").count() else at.press("Start")
    for name, text in (("gross", "25,4"), ("tare", "1,1"), ("moisture", "17,2")):
        tab.locator(f"[name={name}]").fill(text)
    tab.wait_for_selector("#look .found")
    at.follow(tab.locator("button[value=jars]"))
    at.follow(tab.locator(".dock button"))
    at.follow(tab.locator(".dock button"))
    tab.locator("[name=address]").fill("Am Anger 3, 00000 Musterstadt")
    for part in (".preview img", "[name=address]", ".dock button"):
        box = tab.locator(part).bounding_box()
        assert box and box["y"] >= 0 and box["y"] + box["height"] <= 844, (part, box)
    assert tab.evaluate("document.documentElement.scrollWidth") <= 390
