"""Shared by all tests: steady property tests, the share of exhaustive walks, and a word at the end on what this machine could not test."""

from __future__ import annotations

import collections
import os
import shutil
from contextlib import suppress
from pathlib import Path

import pytest
from hypothesis import HealthCheck, settings

from tests.needs import LEFT_OUT
from tests.walks import WHOLE, examples, is_taken

# A record waits for the disk at every step. Where there is room in memory the folders of tests lie there instead.
MEMORY = Path("/dev/shm")
with suppress(OSError):
    if os.access(MEMORY, os.W_OK) and shutil.disk_usage(MEMORY).free > 4 << 30:
        os.environ.setdefault("PYTEST_DEBUG_TEMPROOT", str(MEMORY))

settings.register_profile(
    "labelkit",
    deadline=None,
    derandomize=True,
    max_examples=examples(60),
    suppress_health_check=[HealthCheck.too_slow],
)
settings.load_profile("labelkit")


def pytest_xdist_auto_num_workers() -> int:
    """One worker more than there are cores: many tests wait for a disk, a server or a browser."""
    return (os.cpu_count() or 1) + 1


def pytest_collection_modifyitems(config, items) -> None:
    """Take the share of each exhaustive walk; then the long ones first, so that none is left alone at the end."""
    seen: set[str] = set()
    left: list[pytest.Item] = []
    for item in items:
        walk, function = item.get_closest_marker("exhaustive"), item.nodeid.partition("[")[0]
        share = walk.kwargs.get("one_in") if walk else 1
        if not (WHOLE if share is None else function not in seen or is_taken(item.nodeid, share)):
            left.append(item)
        seen.add(function)
    if left:
        config.hook.pytest_deselected(items=left)
        gone = set(left)
        items[:] = [item for item in items if item not in gone]
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
