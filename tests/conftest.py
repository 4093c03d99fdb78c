"""Shared by all tests: steady property tests, and a word at the end on what this machine could not test."""

from __future__ import annotations

import collections

from hypothesis import HealthCheck, settings

from tests.needs import LEFT_OUT

settings.register_profile(
    "labelkit", deadline=None, derandomize=True, max_examples=60, suppress_health_check=[HealthCheck.too_slow]
)
settings.load_profile("labelkit")


def pytest_collection_modifyitems(items) -> None:
    """The long ones first, so that no process is left with one of them at the end."""
    items.sort(key=lambda item: item.get_closest_marker("slow") is None)


def pytest_terminal_summary(terminalreporter) -> None:
    """Name what was left out, how many tests that is, and the one line that brings it."""
    left_out = collections.Counter()
    for report in terminalreporter.stats.get("skipped", ()):
        reason = report.longrepr[2] if isinstance(report.longrepr, tuple) else str(report.longrepr)
        _, found, words = reason.partition(LEFT_OUT)
        if found:
            left_out[words] += 1
    if not left_out:
        return
    terminalreporter.section("left out on this machine")
    for words, count in sorted(left_out.items()):
        what, _, bring = words.partition("; to bring it: ")
        terminalreporter.line(f"{count} tests need {what}. To bring it:  {bring}")
