"""A record of each earlier form opens after an upgrade, with a verified copy beside it; a failed upgrade changes nothing.

The files in ``forms`` were written by the labelkit of their form and are never written again.
"""

import shutil
import sqlite3
from contextlib import closing
from decimal import Decimal
from pathlib import Path

import pytest

from labelkit.errors.record import RecordOlder, VersionUnwilling
from labelkit.measures import Money
from labelkit.record import engine as adapter
from labelkit.record import open_record
from labelkit.record.chain import seal_of
from labelkit.record.location import parse_location
from labelkit.record.verify import verify
from labelkit.season.account import balances
from tests.record.child import as_child
from tests.record.season import LOT, book_season
from tests.record.server import empty_database

FORMS = sorted((Path(__file__).parent / "forms").glob("*.record"))


@pytest.fixture(params=FORMS, ids=lambda path: path.stem)
def old(request, tmp_path):
    return shutil.copy(request.param, tmp_path / "season.labelkit")


def test_there_is_a_file_of_every_earlier_form():
    assert [path.stem for path in FORMS] == adapter.known_forms()[:-1]


def test_an_older_record_opens_as_it_was(old, tmp_path):
    with open_record(old) as record, book_season(tmp_path / "new.labelkit") as fresh:
        assert verify(record).clean
        assert [each.event for each in record.events()] == [each.event for each in fresh.events()]
        assert record.buckets() == fresh.buckets() and record.stock() == fresh.stock()
        assert record.ancestry(LOT) == fresh.ancestry(LOT)


def left_with(file: Path) -> tuple[int, str]:
    """The number and hash of a record's last event, read with plain SQL and no line of labelkit."""
    with closing(sqlite3.connect(file)) as database:
        return database.execute("SELECT seq, hash FROM event ORDER BY seq DESC LIMIT 1").fetchone()


def test_its_head_is_the_one_it_was_left_with(old):
    before = left_with(old)
    with open_record(old) as record, record.reading() as state:
        assert (state.head().seq, state.head().hash) == before
    assert left_with(old) == before
    form = adapter.known_forms()[-1]
    assert left_with(old.with_name(f"season.labelkit.before-form-{form}")) == before


# Typed into the labelkit of the project's first day; this seal is what its own ``record seal`` printed then.
# 40 and 13 jars filled; 5 sold, 12 delivered at 8.40, 60.00 paid; a gift of 2 was struck. Reckoned by hand.
def test_a_record_that_was_typed_into_the_first_labelkit_opens_with_its_seal_and_its_figures(tmp_path):
    file = shutil.copy(Path(__file__).parent / "forms" / "typed" / "2025.record", tmp_path / "season.labelkit")
    with open_record(file) as record:
        assert verify(record).clean
        with record.reading() as state:
            head = state.head()
            assert str(seal_of(head.seq, head.hash)) == "15 Y4DA-CW3E-BRDY-ZIMT-H576-RXR5-GDHM-P55V-D"
            assert sorted(jars.count for jars in state.stock()) == [13, 23]
            assert {bucket.id: bucket.holds.kg for bucket in state.buckets() if not bucket.is_empty} == {
                "B2": Decimal("4.5"),
                "M1": Decimal("0.1"),
            }
            assert [account.open for account in balances(state)] == [Money.of("40.80", "USD")]


def test_a_verified_copy_is_made_before_it_is_brought_up(old):
    before = old.read_bytes()
    form = old.read_bytes() and adapter.known_forms()[-1]
    open_record(old).close()
    copy = old.with_name(f"season.labelkit.before-form-{form}")
    assert copy.exists() and old.read_bytes() != before
    assert sorted(each.name for each in old.parent.iterdir()) == ["season.labelkit", copy.name]


def test_opening_it_again_changes_nothing_more(old):
    open_record(old).close()
    once = old.read_bytes()
    open_record(old).close()
    assert old.read_bytes() == once


def test_a_failed_step_leaves_the_record_as_it_was(old, monkeypatch):
    def broken(connection, to="head"):
        connection.exec_driver_sql("CREATE TABLE half (a)")
        raise adapter.sa.exc.OperationalError("ALTER TABLE", {}, Exception("no such column"))

    before = old.read_bytes()
    monkeypatch.setattr(adapter, "bring_up", broken)
    with pytest.raises(VersionUnwilling, match="no such column"):
        open_record(old)
    monkeypatch.undo()
    assert old.read_bytes() == before
    with open_record(old) as record:
        assert verify(record).clean


def test_where_it_may_only_be_read_it_is_told(old):
    for above in old.parents:
        if "pytest" in str(above):
            above.chmod(0o755)
    old.chmod(0o444)
    old.parent.chmod(0o555)
    try:
        name, what, _ = as_child(lambda: open_record(old, to_read=True).where, lesser=True)
    finally:
        old.parent.chmod(0o755)
    assert name == "RecordOlder", what
    assert RecordOlder.__doc__


@pytest.mark.postgres
def test_a_server_of_an_earlier_form_is_brought_up_too():
    where = empty_database()
    engine = adapter.server_engine(str(parse_location(where).url), where)
    with engine.begin() as connection:
        adapter.bring_up(connection, "0001")
    engine.dispose()
    with book_season(where, create=False) as record:
        assert verify(record).clean
