"""The laws of the record over whole lives: any event, any correction, any order."""

from __future__ import annotations

import os
import shutil

import pytest
from hypothesis import HealthCheck, settings
from hypothesis.stateful import run_state_machine_as_test

from labelkit.record import open_record
from tests.record.server import new_database
from tests.season.any_life import WALKED, Laws
from tests.walks import WHOLE

LIVES, STEPS = (int(os.environ.get("LABELKIT_LIVES", 50)), 30) if WHOLE else (4, 12)
QUIET = (HealthCheck.too_slow, HealthCheck.filter_too_much)


@pytest.fixture(scope="module")
def empty(tmp_path_factory):
    """An empty record, to be copied."""
    path = tmp_path_factory.mktemp("empty") / "empty.labelkit"
    open_record(path, create=True).close()
    return path


def lived(machine: type[Laws], lives: int, steps: int) -> None:
    run_state_machine_as_test(
        machine,
        settings=settings(
            max_examples=lives, stateful_step_count=steps, suppress_health_check=QUIET, deadline=None, derandomize=True
        ),
    )
    assert WALKED["booked"] and WALKED["refused"]


def test_whatever_happens_the_laws_hold_after_every_step(empty):
    class InAFile(Laws):
        def place(self, folder):
            return shutil.copy(empty, folder / "season.labelkit")

    InAFile.empty = empty
    lived(InAFile, LIVES, STEPS)


@pytest.mark.postgres
def test_the_laws_hold_on_a_server_too(empty):
    class OnAServer(Laws):
        def place(self, folder):
            return new_database()

    OnAServer.empty = empty
    lived(OnAServer, max(2, LIVES // 10), STEPS)
