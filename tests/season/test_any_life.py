"""The laws of the record over whole lives: any event, any correction, any order."""

from __future__ import annotations

import os
import shutil

import pytest
from hypothesis import HealthCheck, Phase, given, seed, settings
from hypothesis import strategies as st
from hypothesis.stateful import run_state_machine_as_test

from labelkit.record import open_record
from tests.record.server import new_database
from tests.season.any_life import EVERY_KIND, NOT_WALKED, WALKED, Laws, walk_round
from tests.walks import WHOLE

LIVES, STEPS = (int(os.environ.get("LABELKIT_LIVES", 30)), 30) if WHOLE else (4, 12)
# What the one life of a short run need not reach; three lives reach it all.
SELDOM = {"blend", "check-weigh", "count", "discard", "give", "late", "refund", "remind", "return", "tell"}
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


def test_a_walk_through_every_rule_reaches_every_kind_of_event_and_keeps_the_laws(empty):
    """Chance alone reaches a delivery, its payment and their corrections late; here each rule comes in each round."""

    class InAFile(Laws):
        def place(self, folder):
            return shutil.copy(empty, folder / "season.labelkit")

    InAFile.empty = empty
    WALKED.clear()

    def reached():
        return {name.removeprefix("kind ") for name in WALKED if name.startswith("kind ")}

    @settings(
        max_examples=2,
        phases=[Phase.generate],
        suppress_health_check=list(HealthCheck),
        deadline=None,
        derandomize=False,  # the seed below says which life it is
        database=None,
    )
    @given(st.data())
    def walk(data):
        if not data.draw(st.integers(0, 1_000)):
            return  # the first life is always the one of least values
        life = InAFile()
        life.begin_season()
        try:
            for _ in range(3):
                walk_round(life, data.draw)
            life.laws_hold()
        finally:
            life.teardown()

    for n in range(11, 11 + (LIVES // 3 if WHOLE else 1)):
        seed(n)(walk)()
    assert not reached() & set(NOT_WALKED)
    assert EVERY_KIND - reached() <= (set() if WHOLE else SELDOM)
