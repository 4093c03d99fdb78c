"""A record of each earlier form opens after an upgrade, with a verified copy beside it; a failed upgrade changes nothing.

The files in ``forms`` were written by the labelkit of their form and are never written again.
"""

import shutil
from pathlib import Path

import pytest

from labelkit.errors.record import RecordOlder, VersionUnwilling
from labelkit.record import engine as adapter
from labelkit.record import open_record
from labelkit.record.location import parse_location
from labelkit.record.verify import verify
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
