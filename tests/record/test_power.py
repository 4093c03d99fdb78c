"""The power fails at any moment: every step that was said to be booked is there, whole, and the record verifies clean."""

import os
import random
from datetime import timedelta

import pytest

from labelkit.errors import RecordRefused
from labelkit.lots.bucket import Blend, Part
from labelkit.record import open_record
from labelkit.record.verify import verify
from tests.record.power import Call, calls_of, disk_after
from tests.record.season import AT, LATER, book_season, kg, weigh

DISKS = 2000 if os.environ.get("LABELKIT_FAULTS") == "all" else 60
STEP = 3

pytestmark = pytest.mark.skipif(not hasattr(os, "fork"), reason="needs processes that fork")


@pytest.fixture(scope="module")
def worked(tmp_path_factory):
    """A season as it lay there, and every call of a station that booked nine steps onto it, closing twice."""
    folder = tmp_path_factory.mktemp("power")
    path = folder / "season.labelkit"
    book_season(path).close()
    begun = {path.name: path.read_bytes()}

    def work():
        with (folder / "said").open("wb", buffering=0) as said:
            for morning in range(3):
                with open_record(path) as record:
                    for n in range(3):
                        one, two, both = (f"N{morning}{n}{end}" for end in "abc")
                        with record.work(who="Ada", at=AT + timedelta(hours=1)) as step:
                            step.add_all((weigh(one, "20"), weigh(two, "10")))
                            step.add(Blend(both, LATER, (Part(one, kg("5")), Part(two, kg("5")))))
                            last = step.commit()[-1].seq
                        said.write(f"{last}\n".encode())

    names = path.name, f"{path.name}-wal"
    return begun, calls_of(work, folder, names, "said"), path.read_bytes()


def test_what_was_written_down_builds_the_very_file(worked):
    begun, calls, whole = worked
    assert disk_after(begun, [*calls, Call("sync", "season.labelkit")], random.Random(1))["season.labelkit"] == whole
    assert [call.data for call in calls if call.does == "said"][-1] == b"40\n"
    assert {call.does for call in calls} == {"write", "sync", "cut", "gone", "said"}


def test_whenever_the_power_fails_every_step_said_to_be_booked_is_there_whole(worked, tmp_path):
    begun, calls, _ = worked
    chance, found = random.Random(2026), set()
    for n in range(DISKS):
        until = 1 + n * len(calls) // DISKS if len(calls) <= DISKS else chance.randrange(1, len(calls) + 1)
        done = calls[:until]
        booked = max([13, *(int(call.data) for call in done if call.does == "said")])
        folder = tmp_path / str(n)
        folder.mkdir()
        for name, content in disk_after(begun, done, chance).items():
            (folder / name).write_bytes(content)
        with open_record(folder / "season.labelkit") as record:
            verdict = verify(record)
        assert verdict.clean, (until, verdict.faults)
        assert verdict.events in (booked, booked + STEP), (until, booked, verdict.events)
        found.add(verdict.events)
    assert len(found) > 8, "the power failed at too few moments to prove anything"


def test_a_station_that_forgot_to_sync_would_be_found_out(worked, tmp_path):
    """The same without its syncs: somewhere a step said to be booked is lost, so the test above can fail."""
    begun, calls, _ = worked
    careless = [call for call in calls if call.does != "sync"]
    chance, lost = random.Random(7), 0
    for n in range(30):
        folder = tmp_path / str(n)
        folder.mkdir()
        done = careless[: chance.randrange(len(careless) // 2, len(careless))]
        booked = max([13, *(int(call.data) for call in done if call.does == "said")])
        for name, content in disk_after(begun, done, chance).items():
            (folder / name).write_bytes(content)
        try:
            with open_record(folder / "season.labelkit") as record:
                verdict = verify(record)
            lost += not verdict.clean or verdict.events < booked
        except RecordRefused:
            lost += 1
    assert lost
