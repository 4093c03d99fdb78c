"""Damage is told as damage, by every command that reads: exit 3 with what is wrong and the way back, or the same answer.

A bit of the file is flipped, a row is taken out, put in or forged, a text is nested beyond reason; then a command reads.
``LABELKIT_FLIPS=20000`` flips that many bits.
"""

import json
import os
import random
import sqlite3
import zlib
from contextlib import closing
from datetime import UTC, datetime

import pytest

from labelkit.cli._runner import answer_to
from labelkit.errors import LabelkitError
from labelkit.record.chain import digest, envelope
from tests.record.every_kind import NEW, book_everything
from tests.record.season import LOT
from tests.record.tampering import tamper
from tests.walks import WHOLE

READING = (
    ("record", "events"),
    ("record", "seal"),
    ("record", "limits"),
    ("record", "customer", "Corner shop"),
    ("record", "export", "--to", "{out}/export"),
    ("record", "authority", "--to", "{out}/authority.csv"),
    ("record", "epcis", "--web", "https://hazelbank.example", "--to", "{out}/epcis.jsonld"),
    ("stock",),
    ("today",),
    ("trace", LOT),
    ("trace", "--customer", "Corner shop"),
    ("result",),
    ("run-result",),
    ("price",),
    ("pay",),
    ("recall", "look", NEW, "--cause", "foreign-body"),
    ("recall", "status", "R1"),
    ("stall", "days"),
)
CLOCK = datetime(2026, 7, 22, tzinfo=UTC)
FLIPS = int(os.environ.get("LABELKIT_FLIPS") or (4000 if WHOLE else 40))


@pytest.fixture(scope="module")
def whole(tmp_path_factory):
    """The bytes of a season with every kind of event, and a folder to hurt copies in."""
    path = tmp_path_factory.mktemp("whole") / "season.labelkit"
    book_everything(path).close()
    return path.read_bytes()


def answer(season, words, out):
    """What a command that reads answers: its words, its document and the files it wrote."""
    line = ["--record", str(season), "--day", "2026-07-22", *(word.format(out=out) for word in words)]
    given = answer_to(line, clock=CLOCK, who="Ada")
    written = {each.name: each.read_bytes() for each in sorted(out.rglob("*")) if each.is_file()}
    said = given.text, json.dumps(given.document, default=str), written
    return tuple(str(each).replace(str(out), "").replace(str(season), "") for each in said)


def hurt(tmp_path, content, change=None):
    """A damaged copy under a name of its own, and a folder for what a command writes."""
    at = tmp_path / f"at{sum(1 for _ in tmp_path.iterdir())}"
    (at / "out").mkdir(parents=True)
    (at / "season.labelkit").write_bytes(content)
    if change:
        change(at / "season.labelkit")
    return at / "season.labelkit", at / "out"


@pytest.fixture(scope="module")
def sound(whole, tmp_path_factory):
    """What every command answers from the sound record."""
    folder = tmp_path_factory.mktemp("sound")
    return {words: answer(*(lambda pair: (pair[0], words, pair[1]))(hurt(folder, whole))) for words in READING}


def told(tmp_path, content, words, sound, change=None):
    """Whether a damaged record was told as such; otherwise the answer must be that of the sound one."""
    season, out = hurt(tmp_path, content, change)
    try:
        given = answer(season, words, out)
    except LabelkitError as refused:
        assert refused.exit_code == 3, f"{words}: {refused}"
        assert refused.do
        return refused
    assert given == sound[words], words
    return None


def test_every_bit_flipped_is_told_or_changes_no_answer(whole, sound, tmp_path):
    chance = random.Random(13)
    # Half of them anywhere in the file, half in what the events say.
    said = [
        at for at in range(len(whole)) if whole[at : at + 8] in (b'{"bucket', b'{"addres', b'{"custom', b'{"lines"')
    ]
    seen = 0
    for turn in range(FLIPS):
        at = (
            chance.randrange(len(whole))
            if turn % 2
            else min(chance.choice(said) + chance.randrange(400), len(whole) - 1)
        )
        flipped = bytearray(whole)
        flipped[at] ^= 1 << chance.randrange(8)
        seen += told(tmp_path, bytes(flipped), READING[turn % len(READING)], sound) is not None
    assert seen > FLIPS / 4, "nearly every flip in what events say is told"


ROWS = {
    "event": "kind = 'give', body = replace(body, '1', '2')",
    "movement": "mass_mg = mass_mg + 1",
    "link": "parent = parent || 'x'",
    "source": "hive = hive || 'x'",
    "party": "name = name || 'x'",
    "strike": "instead = instead + 1",
    "person": "text = text || 'x', salt = salt",
}


@pytest.mark.parametrize("doing", ["taken out", "forged", "doubled"])
@pytest.mark.parametrize("table", ROWS)
def test_every_row_taken_out_put_in_or_forged_is_told_by_every_command(whole, sound, tmp_path, table, doing):
    key = {"person": "number", "event": "seq", "strike": "by"}.get(table, "event")
    season, _ = hurt(tmp_path, whole)
    with closing(sqlite3.connect(season)) as file:
        rows = sorted(row[0] for row in file.execute(f"SELECT {key} FROM {table}"))
        columns = [row[1] for row in file.execute(f"PRAGMA table_info({table})")]
    gone = rows[:-1] if table == "event" else rows  # without its last event a record is merely shorter: the seal tells
    for turn, words in some_commands(f"{table} {doing}"):
        number = gone[turn * 7 % len(gone)]
        moved = ", ".join(
            f"{c} + 70" if c == columns[0] else f"{c} || 'x'" if c in ("text", "key") else c for c in columns
        )
        statement = {
            "taken out": f"DELETE FROM {table} WHERE {key} = {number}",
            "forged": f"UPDATE {table} SET {ROWS[table]} WHERE {key} = {number}",
            "doubled": f"INSERT INTO {table} SELECT {moved} FROM {table} WHERE {key} = {number}",
        }[doing]
        if table == "person" and doing == "forged":
            statement += " AND text IS NOT NULL"
        refused = told(tmp_path, whole, words, sound, lambda season, s=statement: tamper(season, s))
        if table == "person" and doing == "forged" and refused is None:
            continue  # the place was empty: it had been forgotten
        assert refused is not None, (table, doing, words)
        assert "record restore" in refused.do


def some_commands(case):
    """Three commands that read, others for each case; every one in a whole run."""
    begin = zlib.crc32(case.encode()) % len(READING)
    turns = range(len(READING) if WHOLE else 3)
    return [(turn, READING[(begin + 5 * turn) % len(READING)]) for turn in turns]


def forged(body):
    """Hands that write an event's body anew with a hash that fits, at the end of the record."""

    def change(season):
        with closing(sqlite3.connect(season)) as file:
            file.row_factory = sqlite3.Row
            row = dict(file.execute("SELECT * FROM event ORDER BY seq DESC LIMIT 1").fetchone())
        row["body"] = body.replace("{day}", row["day"])
        row["kind"] = "set"
        said = [row[c] for c in ("seq", "kind", "day", "recorded_at", "who", "key", "part", "body")]
        row["hash"] = digest(row["previous"], envelope(*said))
        tamper(
            season,
            f"UPDATE event SET kind = 'set', body = :body, hash = :hash WHERE seq = {row['seq']}",
            values={"body": row["body"], "hash": row["hash"]},
        )

    return change


BODIES = {
    "lists in lists": '{"day":"{day}","name":"x","value":' + "[" * 100_000 + "]" * 100_000 + "}",
    "tables in tables": '{"day":"{day}","name":"x","value":' + '{"a":' * 300 + "1" + "}" * 300 + "}",
    "a number of many digits": '{"day":"{day}","name":"x","value":' + "9" * 5000 + "}",
    "a number without end": '{"day":"{day}","name":"x","value":1e999999}',
    "no number": '{"day":"{day}","name":"x","value":NaN}',
    "no table": "[]",
    "nothing": "",
    "a day that never was": '{"day":"2026-02-31","name":"x","value":1}',
}


@pytest.mark.parametrize("body", BODIES.values(), ids=list(BODIES))
def test_every_nesting_and_number_is_told_with_the_event_by_every_command(whole, sound, tmp_path, body):
    for _, words in some_commands(body[:60]):
        refused = told(tmp_path, whole, words, sound, forged(body))
        assert refused is not None and "vent " in refused.what, words
        assert any(char.isdigit() for char in refused.what)
