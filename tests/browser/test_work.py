"""Long work in a real browser: watched with and without scripts, stopped, and found again after its tab was closed."""

from __future__ import annotations

import json
import re

import pytest

from tests.browser.visitor import DESK, barriers, begin, shows

pytestmark = pytest.mark.browser


def send_table(at, rows: int) -> str:
    """Send a table too great to wait for; the address of its work."""
    text = "bucket,net,moisture\n" + "".join(f"C{n},12.5 kg,17.2\n" for n in range(rows))
    tab = at.go("weigh")
    tab.locator("summary", has_text="Many at once").click()
    tab.locator("[name=table]").set_input_files({"name": "table.csv", "mimeType": "text/csv", "buffer": text.encode()})
    at.press("Take the file")
    assert "/job/" in tab.url
    return tab.url


def test_work_is_watched_until_it_is_done(visit):
    at = visit()
    begin(at)
    send_table(at, 5000)
    at.tab.get_by_role("button", name="Throw it away").wait_for(timeout=60_000)
    assert len(at.events("weigh")) == 5000
    assert at.tab.locator(".told").inner_text() == "5000 buckets weighed in."


@pytest.mark.exhaustive
def test_without_scripts_the_page_asks_again_by_itself(visit):
    at = visit(java_script_enabled=False, **DESK)
    begin(at)
    send_table(at, 5000)
    at.tab.get_by_role("button", name="Throw it away").wait_for(timeout=60_000)
    assert len(at.events("weigh")) == 5000


@pytest.mark.exhaustive
def test_work_that_is_stopped_leaves_nothing(visit):
    at = visit()
    begin(at)
    send_table(at, 9000)
    at.press("Stop it")
    shows(at.tab, "main", "stopped; nothing was booked")
    assert at.events("weigh") == []


@pytest.mark.exhaustive
def test_a_closed_tab_loses_nothing(visit):
    at = visit()
    begin(at)
    where = send_table(at, 5000)
    at.tab.close()
    at.tab = at.context.new_page()
    tab = at.go("record")
    tab.get_by_role("link", name="Take the file").first.click()
    tab.wait_for_url(re.compile(re.escape(where)))
    tab.get_by_role("button", name="Throw it away").wait_for(timeout=60_000)
    assert len(at.events("weigh")) == 5000
    at.press("Throw it away")
    assert "stays booked" in at.said()


@pytest.mark.exhaustive(one_in=20)
@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_the_pages_of_work_have_no_barrier(visit, scheme):
    at = visit(color_scheme=scheme, **DESK)
    begin(at)
    where = send_table(at, 9000)
    found = []
    for path in (where, at.address + "record"):
        at.tab.goto(path)
        found += barriers(at.tab, path)
    assert found == [], json.dumps(found, indent=1)
