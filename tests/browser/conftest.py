"""One Chromium for the browser tests, closed off from every network but this machine's own."""

from __future__ import annotations

import pytest

from tests.browser.visitor import DESK, Visit, serving
from tests.needs import chromium, step_aside

CLOSED = [
    "--headless",
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
]


@pytest.fixture(scope="session")
def playwright():
    """What drives browsers; there can be only one of it in a process."""
    try:
        from playwright.sync_api import expect, sync_playwright
    except ImportError:
        step_aside("Chromium")
    expect.set_options(timeout=30_000)  # as long as a busy machine may take
    with sync_playwright() as play:
        yield play


@pytest.fixture(scope="session")
def browser(playwright):
    begun = playwright.chromium.launch(executable_path=chromium(), args=CLOSED)
    yield begun
    begun.close()


@pytest.fixture
def visit(browser, tmp_path):
    """Visits to one server; ``visit(**context)`` begins one. Nothing may have gone wrong in any of them."""
    begun = []
    with serving(tmp_path) as server:

        def begin(**context) -> Visit:
            begun.append(Visit(browser, server, str(tmp_path / "season.labelkit"), **(context or DESK)))
            return begun[-1]

        yield begin
        for each in begun:
            assert each.troubles == []
            each.context.close()
