"""Verifying finds any change, gap or change of order, and says where."""

import shutil
import sqlite3
from contextlib import closing, contextmanager
from datetime import timedelta
from types import SimpleNamespace

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from labelkit.errors import RecordRefused
from labelkit.errors.record import RecordDamaged, SealUnreadable
from labelkit.record import open_record
from labelkit.record.chain import BEGINNING, digest, read_seal, seal_of
from labelkit.record.codec import canonical
from labelkit.record.export import export
from labelkit.record.tables import COLUMNS
from labelkit.record.verify import _event, _Walk, verify
from tests.record.every_kind import book_everything
from tests.record.season import AT, book_season, weigh
from tests.record.tampering import tamper
from tests.walks import examples

TEXTS = ("kind", "day", "recorded_at", "who", "body", "previous", "hash")


@pytest.fixture(scope="module")
def whole(tmp_path_factory):
    """The file of a whole season, not to be written."""
    path = tmp_path_factory.mktemp("season") / "season.labelkit"
    book_season(path).close()
    return path


@pytest.fixture
def season(whole, tmp_path):
    """A copy of it, to be tampered with."""
    return shutil.copy(whole, tmp_path / "season.labelkit")


def faults(path, seal=None):
    with open_record(path) as record:
        return verify(record, seal).faults


def test_a_season_verifies_clean_on_both_engines(where):
    with book_season(where) as record:
        verdict = verify(record)
    assert verdict.faults == ()
    assert verdict.events == 13


def test_the_hash_is_that_of_the_published_worked_form():
    # SHA-256 over 64 zeros, a line feed and the sorted JSON, computed with coreutils sha256sum
    assert (
        digest(BEGINNING, canonical({"type": "received", "seq": 1, "lot": "B7", "g": 40000}))
        == "73b8b3312abc610e803f90b541a51bc6b2f091f1302444de7ba36b152b6034ac"
    )


def test_canonical_json_is_that_of_rfc_8785_where_both_apply():
    # RFC 8785 section 3.2.2, the strings of its sample (numbers there are floats, which labelkit never writes)
    value = {"string": "\u20ac$\u000f\u000aA'\u0042\u0022\u005c\\\"/", "literals": [None, True, False]}
    assert canonical(value) == '{"literals":[null,true,false],"string":"€$\\u000f\\nA\'B\\"\\\\\\\\\\"/"}'


@settings(max_examples=examples(60))
@example(seq=1, column="who", at=0, by=1)
@example(seq=13, column="body", at=0, by=1)
@example(seq=13, column="hash", at=63, by=1)
@given(seq=st.integers(1, 13), column=st.sampled_from(TEXTS), at=st.integers(0, 400), by=st.integers(1, 94))
def test_a_single_changed_character_of_any_event_is_found_at_that_event(whole, tmp_path_factory, seq, column, at, by):
    path = shutil.copy(whole, tmp_path_factory.mktemp("changed") / "season.labelkit")
    with closing(sqlite3.connect(path)) as file:
        (text,) = file.execute(f"SELECT {column} FROM event WHERE seq = ?", (seq,)).fetchone()
    at %= len(text)
    other = chr(32 + (max(ord(text[at]), 32) - 32 + by) % 95)
    changed = text[:at] + (other if other != text[at] else "~") + text[at + 1 :]
    tamper(path, f"UPDATE event SET {column} = ? WHERE seq = {seq}", values=(changed,))
    found = faults(path)
    assert any(f.seq == seq and f.sort in ("changed", "order") for f in found), found


@pytest.mark.parametrize("change", ["part = part + 1", "key = 'till'", "key = NULL", "body = body || ' '", "seq = 99"])
def test_other_columns_of_an_event_are_covered_too(season, change):
    tamper(season, f"UPDATE event SET {change} WHERE seq = 13")
    assert any(f.sort in ("changed", "missing") for f in faults(season))


def test_events_taken_out_are_named(season):
    tamper(
        season,
        "DELETE FROM event WHERE seq IN (4, 5)",
        "DELETE FROM movement WHERE event IN (4, 5)",
        "DELETE FROM source WHERE event IN (4, 5)",
    )
    assert [f.found for f in faults(season) if f.sort == "missing"] == [
        "events 4 to 5 cannot be found; event 6 comes straight after event 3"
    ]


def test_events_taken_out_and_the_rest_numbered_anew_are_found(season):
    tamper(season, "DELETE FROM event WHERE seq = 2", "UPDATE event SET seq = seq - 1 WHERE seq > 2")
    found = faults(season)
    assert any(f.sort == "order" and f.seq == 2 for f in found)


def test_two_events_changed_round_are_found_where_they_stand(season):
    tamper(
        season,
        "UPDATE event SET seq = 100 WHERE seq = 3",
        "UPDATE event SET seq = 3 WHERE seq = 4",
        "UPDATE event SET seq = 4 WHERE seq = 100",
    )
    found = faults(season)
    assert {f.seq for f in found if f.sort == "order"} >= {3, 4}


@pytest.mark.parametrize("table", sorted(COLUMNS))
@pytest.mark.parametrize("doing", ["take", "put", "change"])
def test_a_changed_taken_or_added_derived_row_is_found(season, table, doing):
    if table == "strike":
        with open_record(season) as record, record.work(who="Ada", at=AT + timedelta(hours=1)) as work:
            work.correct(11, "no gift")
            work.commit()
    column = {"movement": "count", "link": "mass_mg", "source": "hive", "party": "name", "strike": "instead"}[table]
    value = "hive || 'x'" if column == "hive" else "name || 'x'" if column == "name" else f"{column} + 1"
    first = f"(SELECT min(event) FROM {table})"
    names = ", ".join(COLUMNS[table])
    another = {
        "movement": "line + 50",
        "link": "child || 'x'",
        "source": "line + 50",
        "party": "role || 'x'",
        "strike": "event + 1",
    }
    moved = another[table].split()[0]
    copied = ", ".join(another[table] if c == moved else c for c in COLUMNS[table])
    tamper(
        season,
        {
            "take": f"DELETE FROM {table} WHERE event = {first}",
            "put": f"INSERT INTO {table} ({names}) SELECT {copied} FROM {table} WHERE event = {first}",
            "change": f"UPDATE {table} SET {column} = {value} WHERE event = {first}",
        }[doing],
    )
    assert any(f.sort == "rows" for f in faults(season))


@pytest.mark.parametrize("rule", ["event_no_update", "event_no_delete", "event_follows", "movement_no_update"])
def test_a_rule_taken_out_is_found(season, rule):
    with closing(sqlite3.connect(season)) as file:
        file.execute(f"DROP TRIGGER {rule}")
    assert [f.found for f in faults(season)] == [f"the rule or table trigger {rule} was taken out"]


def test_a_rule_put_in_or_weakened_is_found(season):
    with closing(sqlite3.connect(season)) as file:
        file.execute("DROP TRIGGER event_no_update")
        file.execute("CREATE TRIGGER event_no_update BEFORE UPDATE ON event BEGIN SELECT 1; END")
        file.execute("CREATE TRIGGER sly AFTER INSERT ON movement BEGIN SELECT 1; END")
        file.commit()
    assert sorted(f.found for f in faults(season)) == [
        "the rule or table trigger event_no_update was changed",
        "trigger sly was put in; labelkit did not make it",
    ]


def test_a_tampered_event_is_never_served(season):
    tamper(season, "UPDATE event SET body = replace(body, '27300000', '27200000') WHERE seq = 3")
    with open_record(season) as record:
        for ask in (lambda: record.bucket("B1"), lambda: list(record.events()), record.buckets):
            with pytest.raises(RecordDamaged, match="event 3"):
                ask()


@settings(max_examples=examples(80))
@given(data=st.data())
def test_a_single_changed_byte_of_the_file_is_found_or_changes_nothing(whole, tmp_path_factory, data):
    path = shutil.copy(whole, tmp_path_factory.mktemp("byte") / "season.labelkit")
    bytes_ = bytearray(path.read_bytes())
    at = data.draw(st.integers(0, len(bytes_) - 1))
    bytes_[at] ^= data.draw(st.integers(1, 255))
    path.write_bytes(bytes_)
    with open_record(whole) as record:
        before = export(record)
    try:
        found = faults(path)
        if not found:
            with open_record(path) as record:
                assert export(record) == before
    except RecordRefused:
        pass


# --- the seal ---------------------------------------------------------------------------------------------------------


def test_a_seal_fits_the_record_it_was_taken_of_also_when_that_grew(season):
    with open_record(season) as record:
        seal = verify(record).seal
        with record.work(who="Ada", at=AT + timedelta(hours=1)) as work:
            work.add(weigh("B5", "3"))
            work.commit()
    assert faults(season, read_seal(str(seal))) == ()


def test_a_cut_off_end_shows_only_against_the_seal(season):
    with open_record(season) as record:
        seal = verify(record).seal
    tamper(
        season,
        *(f"DELETE FROM {t} WHERE event = 13" for t in ("movement", "party")),
        "DELETE FROM event WHERE seq = 13",
    )
    assert faults(season) == ()
    assert [f.found for f in faults(season, seal)] == ["the seal is over 13 events, and the record ends at event 12"]


def test_a_record_written_anew_shows_only_against_the_seal(tmp_path, season):
    with open_record(season) as record:
        seal = verify(record).seal
    other = tmp_path / "anew.labelkit"
    with open_record(other, create=True) as record, record.work(who="Eve", at=AT) as work:
        work.add_all(weigh(f"B{n}", "3") for n in range(20))
        work.commit()
    assert faults(other) == ()
    assert [f.sort for f in faults(other, seal)] == ["seal"]


@given(st.integers(1, 10**9), st.binary(min_size=32, max_size=32), st.data())
def test_a_seal_reads_back_and_one_wrong_character_is_told(seq, head, data):
    seal = seal_of(seq, head.hex())
    text = str(seal)
    assert read_seal(text) == seal
    at = data.draw(st.sampled_from([i for i, c in enumerate(text[:-1]) if c.isalpha() or (c in "234567" and i > 10)]))
    other = data.draw(st.sampled_from([c for c in "ABCDEFGHIJKLMNOPQRSTUVWXYZ234567" if c != text[at]]))
    with pytest.raises(SealUnreadable):
        read_seal(text[:at] + other + text[at + 1 :])


def test_every_single_character_of_every_event_of_every_kind_is_guarded(tmp_path):
    """Every character of every text column in turn, each against the walk that verifying takes."""
    book_everything(tmp_path / "season.labelkit").close()
    with closing(sqlite3.connect(tmp_path / "season.labelkit")) as file:
        file.row_factory = sqlite3.Row
        rows = [dict(row) for row in file.execute("SELECT * FROM event ORDER BY seq")]
    tried = 0
    for n, row in enumerate(rows):
        before = rows[n - 1] if n else None
        for column in TEXTS:
            for at, was in enumerate(row[column]):
                changed = row[column][:at] + ("~" if was != "~" else "!") + row[column][at + 1 :]
                walk = _Walk(seq=n, hash=before["hash"] if before else BEGINNING)
                _event(SimpleNamespace(**row | {column: changed}), walk, None)
                assert any(f.seq == row["seq"] for f in walk.faults), (row["seq"], column, at)
                tried += 1
    assert tried > 9000


def test_verifying_tells_how_many_events_are_done(season):
    heard = []

    @contextmanager
    def counting(words, total):
        heard.append((words, total))
        yield heard.append

    with open_record(season) as record:
        assert verify(record, progress=counting).clean
    assert heard == [("Verifying", 13), 13]
