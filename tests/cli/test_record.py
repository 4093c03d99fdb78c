"""The record's own commands, traces and recalls, as a person runs them."""

import shutil

import pytest

from tests.record.season import LOT, SISTER, book_season
from tests.record.tampering import tamper


@pytest.fixture
def season(labelkit, tmp_path):
    """A folder with a season's record in it."""
    book_season(tmp_path / "season.labelkit").close()
    return tmp_path


def test_a_season_verifies_and_its_seal_fits(labelkit, season):
    sealed = labelkit("record", "seal", "--pdf", "seal.pdf", "--json")
    assert (season / "seal.pdf").read_bytes().startswith(b"%PDF")
    verified = labelkit("record", "verify", "--seal", sealed.document["seal"], "--json")
    assert verified.code == 0 and verified.document["clean"] and verified.document["events"] == 13
    assert verified.document["head"] == sealed.document["head"]


def test_a_tampered_record_is_told_with_exit_3_and_one_document(labelkit, season):
    tamper(season / "season.labelkit", "UPDATE event SET who = 'Eve' WHERE seq = 3")
    verified = labelkit("record", "verify", "--json")
    assert verified.code == 3
    assert [fault["event"] for fault in verified.document["faults"]] == [3]
    read = labelkit("trace", LOT, "--json")
    assert read.code == 3 and read.out == "" and read.error["name"] == "RecordDamaged"


def test_a_mistyped_seal_is_refused(labelkit, season):
    assert labelkit("record", "verify", "--seal", "12 ABCD").code == 2


def test_there_is_no_record_yet(labelkit, tmp_path):
    (tmp_path / "season.labelkit").unlink()
    for line in (("trace", LOT), ("record", "verify"), ("record", "events"), ("recall", "status", "R1")):
        ran = labelkit(*line, "--json")
        assert ran.code == 3 and ran.error["name"] == "RecordMissing", line


def test_events_are_listed_and_one_is_corrected(labelkit, season):
    listed = labelkit("record", "events", "--about", LOT)
    assert "L26201AAC 30 × one pound" in listed.out and "Corner shop" in listed.out
    struck = labelkit("--day", "2026-11-01", "record", "correct", "11", "--because", "no gift")
    assert struck.code == 0 and "Event 11 is struck by event 14" in struck.out
    assert "struck by 14" in labelkit("record", "events").out
    again = labelkit("record", "correct", "11", "--because", "no gift", "--json")
    assert again.code == 2 and again.error["name"] == "CorrectionRefused"
    last = labelkit("record", "events", "--last", "1", "--json").document["events"]
    assert [each["kind"] for each in last] == ["correct"]


def test_a_correction_repeated_under_its_key_is_booked_once(labelkit, season):
    for _ in range(2):
        assert (
            labelkit("record", "correct", "11", "--because", "no gift", "--once", "k1", "--json").document["event"]
            == 14
        )


def test_a_copy_is_made_and_brought_back(labelkit, season):
    (season / "stick").mkdir()
    copied = labelkit("record", "copy", "--to", "stick", "--keep", "3", "--json").document
    (season / "season.labelkit").unlink()
    restored = labelkit("record", "restore", copied["copy"], "--json").document
    assert restored["head"] == copied["head"] and restored["events"] == 13
    assert labelkit("record", "verify").code == 0


def test_an_export_comes_back_as_a_new_record(labelkit, season):
    assert labelkit("record", "export", "--to", "out").code == 0
    taken = labelkit("--record", "again.labelkit", "record", "import", "out", "--json")
    assert taken.document["events"] == 13
    assert (
        labelkit("--record", "again.labelkit", "record", "verify", "--json").document["head"] == taken.document["head"]
    )
    assert labelkit("--record", "season.labelkit", "record", "export", "--to", "out").code == 2, "not over other files"
    assert labelkit("--record", "again.labelkit", "record", "import", "out").code == 3


def test_a_customer_is_forgotten(labelkit, season):
    assert labelkit("record", "forget", "Corner shop", "--because", "asked").code == 0
    assert "Corner shop" not in labelkit("trace", LOT).out
    assert labelkit("record", "verify").code == 0
    assert labelkit("record", "forget", "Corner shop", "--because", "asked").code == 2


def test_the_authority_gets_one_plain_text_file(labelkit, season):
    made = labelkit("record", "authority", "--to", "all.csv", "--json")
    assert made.code == 0
    text = (season / "all.csv").read_text(encoding="utf-8")
    for needed in ("Mill meadow", "Old orchard", LOT, SISTER, "Corner shop", "2026-07-20", "13607.76"):
        assert needed in text, needed
    some = labelkit("record", "authority", "--to", "some.csv", "--lot", SISTER)
    assert some.code == 0 and LOT not in (season / "some.csv").read_text(encoding="utf-8")


def test_epcis_needs_a_web_address(labelkit, season):
    assert labelkit("record", "epcis", "--to", "s.jsonld", "--json").error["name"] == "UsageUnclear"
    made = labelkit("record", "epcis", "--to", "s.jsonld", "--web", "https://hazelbank.example", "--json")
    assert made.code == 0 and made.document["events"] == 11


def test_a_trace_writes_all_its_forms(labelkit, season):
    ran = labelkit("trace", LOT, "--csv", "t.csv", "--svg", "t.svg", "--pdf", "t.pdf", "--json")
    assert ran.document["buckets"] == ["B1", "B2", "M1"] and len(ran.document["written"]) == 3
    assert (season / "t.svg").read_text(encoding="utf-8").startswith("<svg")
    assert (season / "t.pdf").read_bytes().startswith(b"%PDF")


@pytest.mark.parametrize("line", [(), (LOT, "--yard", "Mill meadow"), ("--customer", "x", "--place", "y")])
def test_a_trace_begins_at_one_thing(labelkit, season, line):
    assert labelkit("trace", *line, "--json").error["name"] == "TraceStartUnclear"


def test_jars_are_relabelled_and_traced_by_their_new_code(labelkit, season):
    done = labelkit("relabel", "--lot", LOT, "--jar", "one pound=16", "--reason", "smudged", "--json").document
    assert done["jars"] == 16 and done["into"] != LOT
    assert labelkit("trace", done["into"], "--json").document["buckets"] == ["B1", "B2", "M1"]
    none = labelkit("relabel", "--lot", LOT, "--jar", "one pound=1", "--reason", "x", "--json")
    assert none.error["name"] == "JarsTooFew"
    assert labelkit("record", "verify").code == 0


def test_a_recall_from_beginning_to_end(labelkit, season):
    looked = labelkit("recall", "look", LOT, "--cause", "foreign-body", "--json").document
    assert [each["lot"] for each in looked["lots"]] == [LOT, SISTER]
    begun = labelkit(
        "--day",
        "2026-11-20",
        "recall",
        "begin",
        LOT,
        "--cause",
        "foreign-body",
        "--why",
        "a splinter",
        "--to",
        "notices",
        "--json",
    ).document
    assert begun["recall"] == "R2026-11-20" and begun["missing"] == ["your address", "your name", "your phone"]
    assert {each.name for each in (season / "notices").iterdir()} >= {
        "letter-1.pdf",
        "stall-sign.txt",
        "shop-notice.pdf",
    }
    sold = labelkit("recall", "begin", LOT, "--cause", "foreign-body", "--why", "x", "--name", "R2026-11-20", "--json")
    assert sold.error["name"] == "RecallTwice"
    assert labelkit("recall", "tell", "R2026-11-20", "--customer", "Corner shop", "--has", "7").code == 0
    assert labelkit("recall", "tell", "R9", "--customer", "x", "--json").error["name"] == "RecallUnknown"
    status = labelkit("recall", "status", "R2026-11-20", "--json").document
    assert (status["jars_made"], status["on_hold"], status["still_hold"]) == (50, 33, 7)
    assert labelkit("recall", "release", "--lot", SISTER, "--because", "clean").code == 0
    assert labelkit("recall", "hold", "--lot", "B2", "--because", "waiting").code == 0
    assert (
        labelkit("recall", "begin", "B2", "--cause", "gremlins", "--why", "x", "--json").error["name"]
        == "RecallCauseUnknown"
    )


@pytest.mark.parametrize(
    "line",
    [
        ("recall", "begin", LOT, "--cause", "authority", "--why", "x", "--to", "out"),
        ("record", "authority", "--to", "out/a.csv"),
        ("record", "epcis", "--to", "out/a.json", "--web", "https://example.com"),
        ("record", "export", "--to", "out"),
        ("trace", LOT, "--csv", "out/a.csv", "--pdf", "out/a.pdf"),
        ("result", "--csv", "out/a.csv", "--pdf", "out/a.pdf"),
    ],
    ids=lambda line: line[1] if line[0] == "record" else line[0],
)
def test_papers_that_hold_names_are_for_their_owner_alone(labelkit, season, line):
    assert labelkit(*line).code == 0
    assert {each.stat().st_mode & 0o777 for each in (season / "out").iterdir()} == {0o600}


def test_what_is_refused_leaves_no_folder_and_no_place_to_forget_people_in(labelkit, season):
    assert labelkit("record", "copy", "--to", "nowhere").code == 3
    forgotten = labelkit("record", "forget", "Corner shop", "--because", "asked by letter", "--json").document
    assert not forgotten["remains"]
    body = (season / "season.labelkit").read_bytes()
    (season / "season.labelkit").write_bytes(body.replace(b"yard", b"yarD"))
    assert labelkit("record", "export", "--to", "out").code == 3
    assert not (season / "out").exists()


def test_a_drill_does_not_find_jars_nobody_can_call_about_and_is_filed(labelkit, season):
    drill = labelkit("recall", "drill", "--lot", LOT, "--json").document
    assert (drill["jars_made"], drill["jars_found"], drill["unnamed"], drill["unaccounted"]) == (30, 27, 3, 0)
    assert "drill" in {each["kind"] for each in labelkit("record", "events", "--json").document["events"]}


def test_nothing_to_recall_from_a_bucket_never_bottled(labelkit, tmp_path):
    from labelkit.record import open_record
    from tests.record.season import AT, weigh

    with open_record(tmp_path / "season.labelkit", create=True) as book, book.work(who="Ada", at=AT) as work:
        work.add(weigh("B1", "9"))
        work.commit()
    assert labelkit("recall", "look", "B1", "--cause", "ferment", "--json").error["name"] == "NothingToRecall"
    assert labelkit("recall", "drill", "--json").error["name"] == "NothingToRecall"


def test_a_copy_opens_for_a_trace_wherever_it_lies(labelkit, season):
    shutil.copy(season / "season.labelkit", season / "copy")
    assert labelkit("--record", str(season / "copy"), "trace", LOT).code == 0
