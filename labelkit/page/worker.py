"""The worker process of a job: does one function of ours on one season, and tells line by line how far it is.

The page begins it with ``python -m labelkit.page.worker``, writes one line (the function, the season, what was asked and
the folder for files), and reads JSON lines: how much is done, then the outcome or the refusal. A process can be ended at
any moment, and the record then holds the whole step or nothing of it. Where the page itself is gone, the work ends too.
"""

from __future__ import annotations

import base64
import json
import os
import pickle
import sys
import threading
import time
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from labelkit.season.context import SeasonContext
from labelkit.season.progress import listening

TOLD_EVERY_SECONDS = 0.1


@dataclass(frozen=True, slots=True)
class Outcome:
    """What a job came to, for people; ``clean`` is false where a check found something that must be fixed."""

    text: str
    clean: bool = True


#: A job takes the season's context, the folder for what it reads and makes, and what was asked for.
Task = Callable[[SeasonContext, Path, Any], Outcome]


@dataclass(frozen=True, slots=True)
class Asked:
    """One job as it goes to the worker; the task is a function at the top of a module, found again by its name."""

    task: Task
    context: SeasonContext
    folder: Path
    details: Any = None

    def line(self) -> str:
        """The one line the worker reads. It only ever comes from the page's own process."""
        return base64.b64encode(pickle.dumps(self)).decode("ascii")


class _Told:
    """Tells the page of the work's progress, as seldom as a screen is redrawn."""

    def begin(self, words: str, total: int | None) -> Callable[[int], None]:
        """Tell that the work begins, and then how much is done."""
        told_at = time.monotonic()
        say({"words": words, "total": total, "done": 0})

        def tell(done: int) -> None:
            nonlocal told_at
            now = time.monotonic()
            if now - told_at >= TOLD_EVERY_SECONDS or done == total:
                told_at = now
                say({"words": words, "total": total, "done": done})

        return tell

    def end(self) -> None:
        """The outcome tells that it is over."""


def main() -> None:
    """Do what the first line asks for."""
    line = sys.stdin.readline()
    threading.Thread(target=_until_alone, daemon=True).start()
    say(run(pickle.loads(base64.b64decode(line))))


def run(asked: Asked) -> dict[str, Any]:
    """Do one job; its outcome or its refusal as JSON carries it."""
    from labelkit.errors import LabelkitError
    from labelkit.errors.cli import InternalError

    try:
        with listening(_Told()):
            outcome = asked.task(asked.context, asked.folder, asked.details)
    except LabelkitError as refusal:
        return {"refused": refusal.in_locale(asked.context.locale).as_dict()}
    except Exception as trouble:
        return {"refused": InternalError(trouble).as_dict()}
    return {"text": outcome.text, "clean": outcome.clean}


def say(line: dict[str, Any]) -> None:
    """One line for the page."""
    print(json.dumps(line), flush=True)


def _until_alone() -> None:
    sys.stdin.read()  # ends when the page closes its end, or is gone
    os._exit(1)


if __name__ == "__main__":
    # The task's module may import this one by its own name; both must be one.
    from labelkit.page import worker

    worker.main()
