"""Everything that leaves the record, tried on a season with every kind of event, on both engines."""

import csv
import json
from datetime import UTC, datetime
from io import StringIO
from pathlib import Path

import pytest

from labelkit.cli._runner import answer_to
from labelkit.lots.movement import Account
from labelkit.measures.wording import ENGLISH
from labelkit.record import open_record
from labelkit.record.export import export, import_whole
from labelkit.record.kinds import KINDS
from labelkit.record.verify import verify
from labelkit.trace.booked import Correct
from labelkit.trace.epcis import Names, epcis_document
from labelkit.trace.flow import flow
from labelkit.trace.follow import Start, follow
from labelkit.trace.papers import trace_paper
from labelkit.trace.trace_text import words
from tests.record.every_kind import NEW, book_everything
from tests.record.season import AT, LOT, SISTER
from tests.trace.test_epcis import check, faults

GONE = ("Hill café", "2 Invented lane")


@pytest.fixture
def everything(where):
    with book_everything(where) as record:
        yield record


def test_a_season_of_every_kind_verifies_clean(everything):
    verdict = verify(everything)
    assert verdict.faults == ()
    assert verdict.events == len(list(everything.events())) > len(KINDS)


def test_exported_and_taken_in_again_it_has_the_same_head_with_and_without_people(everything, tmp_path):
    with everything.reading() as state:
        head = state.head()
    for people in (True, False):
        out = tmp_path / f"out-{people}"
        out.mkdir()
        for name, text in export(everything, people=people).items():
            (out / name).write_text(text, encoding="utf-8", newline="")
        again = str(tmp_path / f"again-{people}.labelkit")
        assert import_whole(out, again) == (head.seq, head.hash)
        with open_record(again) as other:
            assert verify(other).clean
            assert export(other, people=people)["events.csv"] == export(everything)["events.csv"]


def test_a_person_forgotten_is_in_nothing_that_leaves_the_record(everything):
    story = tuple(everything.events())
    lots = tuple(sorted({m.lot for each in story for m in each.movements()}))
    trace = follow(Start("lot", "all", lots), story)
    left = [
        *export(everything).values(),
        words(trace, "en_US"),
        json.dumps(epcis_document(story, Names("https://x.example"), AT)),
        *(each.event.describe("en_US") for each in story),
        *(str(node) for node in flow(trace, ENGLISH).nodes),
    ]
    for text in left:
        for name in GONE:
            assert name not in text
    assert "(forgotten" in words(trace, "en_US"), "that somebody was there is still said"


def test_epcis_of_every_kind_is_valid_with_format_checking_on(everything):
    names = Names("https://hazelbank.example", {"one pound": "09521234543213"})
    document = epcis_document(everything.events(), names, AT)
    check(document)
    assert faults(document) == []
    seqs = {int(each["eventID"].split("/event/")[1].split("/")[0]) for each in document["epcisBody"]["eventList"]}
    moved = {e.seq for e in everything.events() if e.event.movements() and e.kind != Correct.kind}
    assert seqs >= moved, "every event that moved honey or jars is told"


def test_every_kind_has_words_of_its_own(everything):
    assert len({event.title for event in KINDS.values()}) == len(KINDS)
    assert all(each.event.describe("en_US") for each in everything.events())


def test_the_trace_of_every_kind_closes_and_is_put_out_in_every_form(everything):
    story = tuple(everything.events())
    lots = tuple(sorted({m.lot for each in story for m in each.movements()}))
    trace = follow(Start("lot", "all", lots), story)
    assert {LOT, SISTER, NEW} <= set(trace.lots)
    missing = {SISTER: 2, LOT: 1}  # by the stock-take; one of them at the stall
    for balance in trace.balances:
        assert balance.rest.mg == 0 and balance.jars_unaccounted == missing.get(balance.lot, 0)
    assert {j.account for b in trace.balances for j in b.jars} >= {
        Account.JARS,
        Account.SOLD,
        Account.GIVEN,
        Account.BROKEN,
        Account.DISCARDED,
        Account.UNEXPLAINED,
    }
    text = words(trace, "en_US")
    for needed in (
        "relabelled",
        "set apart",
        "released",
        "taken to the stall",
        "back from the stall",
        "missing",
        "Labels printed",
        "Corrections",
        "it was 11 jars",
    ):
        assert needed in text, needed
    assert trace_paper(trace, "letter", locale="en_US")[:5] == b"%PDF-"


def test_the_one_file_for_an_authority_is_plain_text_every_program_reads_and_adds_up(tmp_path):
    # Canada, SFCR section 91: one plain-text file, openable by common programs; 21 CFR 1.361: within 24 hours
    season = tmp_path / "season.labelkit"
    book_everything(season).close()
    file = tmp_path / "for-the-inspector.csv"
    line = ["--record", str(season), "--day", "2026-07-22", "record", "authority", "--to", str(file)]
    answer = answer_to(line, clock=datetime(2026, 7, 22, tzinfo=UTC), who="Ada")
    text = file.read_bytes().decode("utf-8")
    rows = list(csv.DictReader(StringIO(text, newline="")))
    assert answer.document["lines"] == len(rows)
    assert {row["common_name"] for row in rows} == {"honey"}
    now = [row for row in rows if row["step"] == "now" and row["count"]]
    # 30 jars of the first lot, four of them under a new code, and 20 of the second
    assert sum(int(row["count"]) for row in now) == 50
    came = [row for row in rows if row["step"] in ("weigh", "drain") and row["grams"]]
    assert sum(int(row["grams"]) for row in came) == 27_300 + 20_000 + 500 + 200
    assert not any(name in text for name in GONE)
    assert list(Path(tmp_path).glob("for-the-inspector*")) == [file], "one file"
