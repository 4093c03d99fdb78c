"""Jobs: long work, each in a process of its own, that goes on when its tab is closed.

They wait for one another, so that the record's one writer is never contended for by us. Stopping one ends its process;
the record then holds the whole step or nothing of it, and which of the two is looked up and said. What a piece of work
made is kept until the server ends or somebody throws it away.
"""

from __future__ import annotations

import json
import secrets
import subprocess
import sys
import tempfile
from collections.abc import Mapping
from contextlib import suppress
from dataclasses import dataclass, field
from pathlib import Path
from threading import Condition, Thread
from time import monotonic
from typing import Any

from labelkit.errors.page import TooManyJobs
from labelkit.page.worker import Asked, Task
from labelkit.season import SeasonContext

WAITING, RUNNING, DONE, REFUSED, STOPPED = "waiting", "running", "done", "refused", "stopped"
PATIENCE_SECONDS = 3.0


@dataclass
class Job:
    """One piece of work: what it does, how far it is, what came of it."""

    id: str
    what: str
    record: str
    key: str
    task: Task
    details: Any
    context: SeasonContext
    folder: tempfile.TemporaryDirectory
    taken: tuple[str, ...] = ()
    state: str = WAITING
    words: str = ""
    done: int = 0
    total: int | None = None
    text: str = ""
    clean: bool = True
    refusal: dict[str, str] | None = None
    asked: float = field(default_factory=monotonic)
    began: float | None = None
    ended: float | None = None
    process: subprocess.Popen | None = None
    stop: bool = False

    @property
    def over(self) -> bool:
        """Whether it is done in whichever way."""
        return self.state in (DONE, REFUSED, STOPPED)

    @property
    def seconds(self) -> int:
        """How long it has worked, or worked."""
        return int((self.ended or monotonic()) - self.began) if self.began else 0

    @property
    def files(self) -> list[Path]:
        """What it made, to be fetched."""
        if self.state != DONE:
            return []
        return sorted(
            each for each in Path(self.folder.name).iterdir() if each.is_file() and each.name not in self.taken
        )


class Jobs:
    """The work of one server, one piece at a time."""

    MOST, MOST_WAITING = 40, 8

    def __init__(self) -> None:
        self._jobs: dict[str, Job] = {}
        self._change = Condition()
        self._worker: Thread | None = None
        self._closed = False

    def begin(
        self,
        context: SeasonContext,
        what: str,
        task: Task,
        details: Any = None,
        *,
        key: str = "",
        files: Mapping[str, bytes] | None = None,
    ) -> Job:
        """Begin a job; under a key that was given before, the job that was begun then.

        ``task`` is done with ``details`` in the worker process; ``files`` are put into its folder first, under names of
        our own. Raises :class:`~labelkit.errors.page.TooManyJobs`.
        """
        record = context.record or ""
        with self._change:
            for job in self._jobs.values():
                if key and (job.key, job.record) == (key, record):
                    return job
            if sum(not job.over for job in self._jobs.values()) >= self.MOST_WAITING:
                raise TooManyJobs(self.MOST_WAITING)
            folder = tempfile.TemporaryDirectory(prefix="labelkit-work-", ignore_cleanup_errors=True)
            for name, content in (files or {}).items():
                (Path(folder.name) / name).write_bytes(content)
            job = Job(
                secrets.token_urlsafe(9),
                what,
                record,
                key,
                task,
                details,
                context,
                folder,
                tuple(files or ()),
            )
            self._jobs[job.id] = job
            self._make_room()
            if self._worker is None:
                self._worker = Thread(target=self._work, name="long work", daemon=True)
                self._worker.start()
            self._change.notify_all()
        return job

    def of(self, record: str) -> list[Job]:
        """The work on one record, newest first."""
        return [job for job in reversed(list(self._jobs.values())) if job.record == record]

    def find(self, id: str, record: str) -> Job | None:
        """One piece of work on this record."""
        job = self._jobs.get(id)
        return job if job and job.record == record else None

    def stop(self, job: Job) -> None:
        """Stop it; waits a moment, so that the answer says how it stands."""
        with self._change:
            job.stop = True
            if job.state == WAITING:
                job.state = STOPPED
            elif job.process and not job.over:
                job.process.terminate()
            self._change.wait_for(lambda: job.over, PATIENCE_SECONDS)
            if not job.over and job.process:
                job.process.kill()
                self._change.wait_for(lambda: job.over, PATIENCE_SECONDS)

    def throw_away(self, job: Job) -> None:
        """Forget what is over, with all it made."""
        if job.over:
            self._jobs.pop(job.id, None)
            job.folder.cleanup()

    def close(self) -> None:
        """The server ends: stop everything."""
        with self._change:
            self._closed = True
            self._change.notify_all()
        for job in list(self._jobs.values()):
            self.stop(job)
            job.folder.cleanup()

    def _make_room(self) -> None:
        over = [job for job in self._jobs.values() if job.over]
        for job in over[: max(0, len(self._jobs) - self.MOST)]:
            self.throw_away(job)

    def _work(self) -> None:
        while True:
            with self._change:
                self._change.wait_for(lambda: self._closed or any(job.state == WAITING for job in self._jobs.values()))
                if self._closed:
                    return
                job = next(job for job in self._jobs.values() if job.state == WAITING)
                job.state, job.began = RUNNING, monotonic()
            try:
                outcome = self._run(job)
            except OSError as trouble:
                outcome = {"refused": _broken(trouble.strerror or "the system refused it")}
            with self._change:
                self._settle(job, outcome)
                self._change.notify_all()

    def _run(self, job: Job) -> dict:
        """The child's last word, or nothing where it said none."""
        asked = Asked(job.task, job.context, Path(job.folder.name), job.details)
        with subprocess.Popen(
            [sys.executable, "-m", "labelkit.page.worker"],
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            stderr=subprocess.DEVNULL,
            text=True,
            encoding="utf-8",
        ) as process:
            job.process = process
            if job.stop:
                process.terminate()
            last: dict = {}
            assert process.stdin and process.stdout, "both were asked for as pipes"
            with suppress(BrokenPipeError):
                process.stdin.write(asked.line() + "\n")
                process.stdin.flush()
            for told in process.stdout:
                last = json.loads(told)
                if "done" in last:
                    job.words, job.total, job.done = last["words"], last["total"], last["done"]
        return last if "text" in last or "refused" in last else {}

    def _settle(self, job: Job, outcome: dict) -> None:
        job.ended, job.process = monotonic(), None
        if "text" in outcome:
            job.state, job.text, job.clean = DONE, _unnamed(job, outcome["text"]), outcome["clean"]
        elif "refused" in outcome:
            job.state = REFUSED
            job.refusal = {word: _unnamed(job, said) for word, said in outcome["refused"].items()}
        elif job.stop:
            booked = _is_booked(job)
            job.state, job.text = (DONE, "It was booked before it could be stopped.") if booked else (STOPPED, "")
        else:
            job.state, job.refusal = REFUSED, _broken("it ended without a word")


def _is_booked(job: Job) -> bool:
    """Whether the step of this key stands in the record: a commit that was under way when it was stopped."""
    from labelkit.errors import LabelkitError

    if not job.key:
        return False
    try:
        with job.context.reading() as state:
            return bool(state.of_key(job.key))
    except LabelkitError:
        return False


def _unnamed(job: Job, text: str) -> str:
    """Our own folder is nobody's business: an uploaded file is “Your file”, one that was made goes by its name."""
    folder = Path(job.folder.name)
    for name in job.taken:
        text = text.replace(str(folder / name), "Your file")
    return text.replace(f"{folder}/", "").replace(str(folder), "")


def _broken(reason: str) -> dict[str, str]:
    return {
        "what": f"This work broke off: {reason}.",
        "why": "A step is booked whole or not at all, so the record holds nothing half done.",
        "do": "See on the record's page whether it was booked; if not, begin it again.",
    }
