"""The doctor's screen: what is good, what is to be looked at and what is bad, each with what to do."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

import pytest

from labelkit.cli._runner import answer_to
from labelkit.season import doctor

ADDRESS = ("--street", "12 Sample Lane", "--city", "Pretend Hollow", "--region", "VA", "--postcode", "00000")
CLOCK = datetime(2026, 11, 29, 9, tzinfo=UTC)


@pytest.fixture
def say(tmp_path, monkeypatch):
    """One command after the other against one record, each on a day of the clock."""
    # The drawn page is measured once, by its own test.
    monkeypatch.setattr(doctor, "drawn_true", lambda: doctor.Check("drawing", doctor.GOOD, "as before"))

    def typed(*arguments: str, at: datetime = CLOCK):
        line = ["--record", str(tmp_path / "season.labelkit"), "--day", f"{at:%Y-%m-%d}", *arguments]
        return answer_to(line, clock=at, who="Robin")

    return typed


def started(say, at: datetime = CLOCK) -> None:
    say("start", "--market", "us", "--name", "Pretend Hollow Honey", *ADDRESS, at=at)


def check(answer, name: str):
    return next(one for one in answer.document["checks"] if one.name == name)


def test_a_machine_without_a_record_is_examined_all_the_same(say):
    found = say("doctor")
    assert found.exit_code == 0
    assert (check(found, "parts").state, check(found, "fonts").state) == ("good", "good")
    assert check(found, "record").state == "look"
    assert "start --market" in check(found, "record").do


def test_the_screen_fits_a_terminal_and_numbers_what_is_to_be_done(say):
    started(say)
    text = say("doctor").text
    assert len(text.splitlines()) <= 24
    assert " 7 look  copies    no copy was made yet" in text
    assert "7. Copy it to a stick or another disk" in text


def test_a_damaged_record_ends_with_code_3_and_nothing_more_is_read_from_it(say, tmp_path):
    started(say)
    record = tmp_path / "season.labelkit"
    spoiled = bytearray(record.read_bytes())
    spoiled[spoiled.rfind(b"Pretend Hollow Honey")] ^= 1
    record.write_bytes(spoiled)
    found = say("doctor")
    assert found.exit_code == 3
    assert check(found, "record").state == "bad"
    assert not [one for one in found.document["checks"] if one.name == "copies"]


def test_a_clock_before_the_last_booking_is_bad(say):
    started(say)
    found = say("doctor", at=CLOCK - timedelta(hours=2))
    assert check(found, "clock").state == "bad"
    assert found.exit_code == 1


def test_a_clock_before_the_day_the_rules_were_read_is_bad_though_nothing_was_booked_later(say):
    started(say, at=datetime(2020, 1, 1, tzinfo=UTC))
    found = say("doctor", at=datetime(2020, 1, 2, tzinfo=UTC))
    assert "rules of this labelkit were read" in check(found, "clock").found


def test_a_copy_is_known_though_its_stick_was_taken_out(say, tmp_path):
    started(say)
    stick = tmp_path / "stick"
    stick.mkdir()
    say("record", "copy", "--to", str(stick))
    assert "on the disk of the record" in check(say("doctor"), "copies").found
    stick.rename(tmp_path / "elsewhere")
    found = check(say("doctor"), "copies")
    assert (found.state, "not connected now" in found.found) == ("good", True)


def copying_due(say, at: datetime) -> list:
    return [one for one in say("today", at=at).document["due"] if one.verb == "record copy"]


def test_a_copy_is_asked_for_after_five_days_of_work_and_not_by_the_calendar_alone(say, tmp_path):
    # The rhythm is the season's own: five days of bookings, or a month after the first that is in no copy.
    started(say)
    for n in range(1, 4):
        say("weigh", "--bucket", f"B{n}", "--net", "20 kg", "--moisture", "17", at=CLOCK + timedelta(days=n))
    fourth = CLOCK + timedelta(days=3, hours=1)
    assert not copying_due(say, fourth)
    say("weigh", "--bucket", "B4", "--net", "20 kg", "--moisture", "17", at=CLOCK + timedelta(days=4))
    (due,) = copying_due(say, CLOCK + timedelta(days=4))
    assert due.what == "Copy the record: 7 events are in no copy."
    assert "Last copy: none." in due.why
    say("record", "copy", "--to", str(tmp_path), at=CLOCK + timedelta(days=5))
    assert not copying_due(say, CLOCK + timedelta(days=60)), "nothing was booked since"
    say("weigh", "--bucket", "B5", "--net", "20 kg", "--moisture", "17", at=CLOCK + timedelta(days=6))
    assert not copying_due(say, CLOCK + timedelta(days=20))
    (due,) = copying_due(say, CLOCK + timedelta(days=36))
    assert "2026-12-04-090000.copy of 2026-12-04" in due.why


def test_the_ruler_page_is_drawn_to_a_tenth_of_a_millimetre():
    assert doctor.drawn_true().state == "good"
    off = doctor._cross_to_cross("a4") - 150_000
    assert abs(off) <= 50  # a dot of the picture it is measured on
