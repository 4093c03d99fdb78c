"""Long work: goes on without its tab, can be stopped at any moment, and never leaves half a step in the record."""

from __future__ import annotations

import io
import time

import pytest

from labelkit.errors.page import TooManyJobs
from labelkit.page import jobs as long_work
from labelkit.page.jobs import DONE, REFUSED, RUNNING, STOPPED, WAITING, Jobs
from labelkit.page.request_context import KEY
from labelkit.page.views import buckets, record
from labelkit.page.views.buckets import take_file
from labelkit.page.views.labels import Choice, every_lot_task
from labelkit.page.worker import Asked
from labelkit.record import open_record
from labelkit.record.verify import verify
from labelkit.season import SeasonContext
from tests.page.conftest import desk_at
from tests.page.test_forms import words


@pytest.fixture
def work(tmp_path):
    jobs = Jobs()
    yield jobs
    jobs.close()


def until(condition, seconds: float = 30.0) -> None:
    end = time.monotonic() + seconds
    while not condition():
        assert time.monotonic() < end, "it never came about"
        time.sleep(0.02)


def over(job) -> str:
    until(lambda: job.over)
    return job.state


def table(count: int) -> bytes:
    return ("bucket,net,moisture\n" + "".join(f"C{n},12.5 kg,17.2\n" for n in range(count))).encode()


MANY = ("buckets.csv", "the table")


def jobs_of(hand) -> Jobs:
    return hand.client.application.extensions[KEY].jobs


def test_what_a_command_answers_is_kept(work, hand):
    hand.begin()
    job = work.begin(desk_for(hand), "Verify the record", record.verify_record, "")
    assert over(job) == DONE and job.clean and "each as it was booked" in job.text


def desk_for(hand):
    from dataclasses import replace
    from pathlib import Path

    return replace(desk_at(Path(hand.record).parent), record=hand.record)


def test_a_refusal_is_kept_and_says_your_file(work, hand):
    hand.begin()
    files = {"buckets.csv": b"bucket,net\nC1,twelve\n"}
    job = work.begin(desk_for(hand), "Take the file", take_file, MANY, files=files, key="the table")
    assert over(job) == REFUSED
    assert "Your file" in job.refusal["what"] and job.folder.name not in str(job.refusal)
    assert len(hand.events("weigh")) == 2


def test_what_it_makes_can_be_fetched_until_it_is_thrown_away(hand):
    lot = hand.begin().bottle()
    hand.send("/words", {"name": "Wildflower Honey", "wide:one pound": "3 in", "high:one pound": "3.2 in"})
    hand.send("/bottle", {"bucket": "B2", "jar:one pound": "20"})
    ask = f"/labels?lot={lot}&size=one+pound"
    assert 'formaction="/labels/every-lot"' in hand.get(ask).text
    sent = hand.post("/labels/every-lot", hand.hidden(ask, "/labels/print"))
    assert sent.status_code == 303
    page = sent.headers["Location"]
    (job,) = jobs_of(hand).of(hand.record)
    assert over(job) == DONE, job.refusal
    told = hand.get(page)
    assert f"{page}/labels.pdf" in told.text and "http-equiv" not in told.text
    assert hand.get(f"{page}/labels.pdf").data.startswith(b"%PDF") and hand.get(f"{page}/labels.pdf").status_code == 200
    assert sum(each.event.count for each in hand.events("print")) == 32  # 12 jars and 20
    assert "Labels of every lot" in hand.get("/record").text
    hand.send(f"{page}/away", {}, page)
    assert hand.get(page).status_code == 404 and hand.get(f"{page}/labels.pdf").status_code == 404
    jobs_of(hand).close()


@pytest.mark.exhaustive(one_in=10)
@pytest.mark.parametrize("name", ["..%2fseason.labelkit", "season.labelkit", "buckets.csv", ".", "%2e%2e"])
def test_only_what_it_made_is_given_out(hand, name):
    hand.begin()
    job = jobs_of(hand).begin(desk_for(hand), "Take the file", take_file, MANY, files={"buckets.csv": table(3)})
    assert over(job) == DONE
    assert hand.get(f"/job/{job.id}/{name}").status_code in (404, 308)
    jobs_of(hand).close()


def test_the_same_form_sent_twice_is_one_piece_of_work(work, hand):
    hand.begin()
    first, second = (
        work.begin(desk_for(hand), "Take the file", take_file, MANY, files={"buckets.csv": table(5)}, key="the table")
        for _ in range(2)
    )
    assert first is second and over(first) == DONE
    assert len(hand.events("weigh")) == 7


def test_stopped_in_the_middle_it_books_all_or_nothing(work, hand):
    """Twelve stops at different moments of a table of buckets: the record holds the whole table or none of it."""
    hand.begin()
    found = set()
    for n in range(12):
        rows = table(400).replace(b"C", f"T{n}x".encode())
        key = f"table {n}"
        job = work.begin(
            desk_for(hand),
            "Take the file",
            take_file,
            ("buckets.csv", key),
            files={"buckets.csv": rows},
            key=key,
        )
        until(lambda job=job: job.state != WAITING)
        time.sleep(n * 0.09)
        work.stop(job)
        assert job.over
        with open_record(hand.record, to_read=True) as book:
            booked = sum(bucket.id.startswith(f"T{n}x") for bucket in book.buckets())
        assert booked == (400 if job.state == DONE else 0), (n, job.state, job.text)
        found.add(job.state)
    assert STOPPED in found
    with open_record(hand.record, to_read=True) as book:
        assert verify(book).clean


def test_a_commit_that_came_before_the_stop_is_said(work, hand, monkeypatch):
    hand.begin()
    job = work.begin(desk_for(hand), "Take the file", take_file, MANY, files={"buckets.csv": table(3)}, key="the table")
    assert over(job) == DONE
    # As if it had been stopped between its commit and its last word.
    job.state, job.stop = RUNNING, True
    work._settle(job, {})
    assert job.state == DONE and "before it could be stopped" in job.text


def test_what_waits_is_stopped_without_ever_beginning(work, hand):
    hand.begin()
    first = work.begin(
        desk_for(hand), "Take the file", take_file, MANY, files={"buckets.csv": table(2000)}, key="the table"
    )
    second = work.begin(desk_for(hand), "Verify the record", record.verify_record, "")
    assert second.state == WAITING
    work.stop(second)
    assert second.state == STOPPED and second.began is None
    assert over(first) == DONE


def test_no_more_waits_than_can_be_overlooked(work, hand):
    hand.begin()
    for _ in range(Jobs.MOST_WAITING):
        work.begin(desk_for(hand), "Verify the record", record.verify_record, "")
    with pytest.raises(TooManyJobs):
        work.begin(desk_for(hand), "Verify the record", record.verify_record, "")


def test_the_end_of_the_server_ends_its_work_and_its_files(hand):
    from pathlib import Path

    hand.begin()
    jobs = Jobs()
    job = jobs.begin(
        desk_for(hand), "Take the file", take_file, MANY, files={"buckets.csv": table(4000)}, key="the table"
    )
    until(lambda: job.process is not None or job.over)
    process = job.process
    jobs.close()
    assert job.over and not Path(job.folder.name).exists()
    assert process is None or process.poll() is not None


def test_a_child_whose_page_is_gone_ends(tmp_path):
    import subprocess
    import sys

    child = subprocess.Popen(
        [sys.executable, "-m", "labelkit.page.worker"], stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True
    )
    asked = Asked(record.verify_record, SeasonContext(who="Robin"), tmp_path, "")
    child.stdin.write(asked.line() + "\n")
    child.stdin.close()
    assert child.wait(20) is not None


def test_a_great_record_is_verified_as_long_work(hand, monkeypatch):
    hand.begin()
    monkeypatch.setattr(record, "AT_ONCE", 3)
    sent = hand.send("/record/verify", {"seal": ""}, "/record")
    assert sent.status_code == 303 and sent.headers["Location"].startswith("/job/")
    (job,) = jobs_of(hand).of(hand.record)
    assert over(job) == DONE
    assert "each as it was booked" in words(hand.get(sent.headers["Location"]))
    jobs_of(hand).close()


def test_a_great_table_is_taken_as_long_work_and_can_be_watched_and_stopped(hand, monkeypatch):
    hand.begin()
    monkeypatch.setattr(buckets, "AT_ONCE", 100)
    sent = hand.send("/weigh/file", {"table": (io.BytesIO(table(3000)), "anything.csv")}, "/weigh")
    page = sent.headers["Location"]
    assert sent.status_code == 303 and page.startswith("/job/")
    watched = hand.get(page)
    if "Stop it" in watched.text:  # it may be quicker than the eye
        assert '<noscript><meta http-equiv="refresh" content="3"></noscript>' in watched.text
        assert "under way" in words(hand.get(f"{page}/look")) or "done" in words(hand.get(f"{page}/look"))
        assert page in hand.get("/plan").text and page in hand.get("/record").text
        hand.send(f"{page}/stop", {}, page)
    (job,) = jobs_of(hand).of(hand.record)
    assert job.over and len(hand.events("weigh")) == (3002 if job.state == DONE else 2)
    jobs_of(hand).close()


def test_a_plan_is_searched_for_longer_with_the_limits_of_the_page(hand):
    hand.begin()
    token = hand.hidden("/weigh", "/weigh")["token"]
    sent = hand.post(
        "/job/plan", {"token": token, "step": "a", "at-most:one pound": "30", "without": "B2", "wet": "allow"}
    )
    (job,) = jobs_of(hand).of(hand.record)
    assert over(job) == DONE, job.refusal
    # At most 30 of one pound: 30 × (12.00 − 1.35).
    told = hand.get(sent.headers["Location"])
    assert "$319.50" in told.text and "plan.svg" in told.text
    drawn = hand.get(f"{sent.headers['Location']}/plan.svg")
    assert drawn.data.startswith(b"<") and "sandbox" in drawn.headers["Content-Security-Policy"]
    jobs_of(hand).close()


def test_progress_is_told_as_it_is_counted(work, hand, tmp_path):
    lot = hand.begin().bottle()
    hand.send("/words", {"name": "Wildflower Honey", "wide:one pound": "3 in", "high:one pound": "3.2 in"})
    choice = Choice(lot, "one pound", "letter-2x5-102x51", "press", "front")
    job = work.begin(desk_for(hand), "Labels of every lot", every_lot_task, (choice, None))
    assert over(job) == DONE, job.refusal
    assert (job.words, job.total) == ("Labels", 12) and job.done <= 12
    assert job.text.count(job.folder.name) == 0


def test_a_visitor_in_a_sample_sees_no_work_of_the_season(hand):
    hand.begin()
    job = jobs_of(hand).begin(desk_for(hand), "Verify the record", record.verify_record, "")
    assert over(job) == DONE and hand.get(f"/job/{job.id}").status_code == 200
    token = hand.hidden("/weigh", "/weigh")["token"]
    hand.post("/sample", {"token": token})
    assert hand.get(f"/job/{job.id}").status_code == 404
    jobs_of(hand).close()


def test_the_states_are_told_apart():
    assert len({long_work.WAITING, long_work.RUNNING, long_work.DONE, long_work.REFUSED, long_work.STOPPED}) == 5
