"""The other side of a long piece of work: one command run in a process of its own, told line by line.

The page begins it with ``python -m labelkit.page.child``, writes one JSON line (the command, whose day and clock it is),
and reads JSON lines: how much is done, then the answer or the refusal. A process can be ended at any moment, and the
record then holds the whole step or nothing of it. Where the page itself is gone, the work ends too.
"""

from __future__ import annotations

import json
import os
import sys
import threading
from datetime import datetime
from typing import Any


def main() -> None:
    """Do what the first line asks for."""
    asked = json.loads(sys.stdin.readline())
    threading.Thread(target=_until_alone, daemon=True).start()
    say(run(asked, lambda words, total, done: say({"words": words, "total": total, "done": done})))


def run(asked: dict[str, Any], told) -> dict[str, Any]:
    """Run one command; its answer or its refusal as JSON carries it, and its progress through ``told``."""
    import click

    from labelkit.cli import _waiting
    from labelkit.cli._rim import answer_to
    from labelkit.errors import LabelkitError
    from labelkit.errors.cli import UnexpectedTrouble, UsageUnclear

    clock = datetime.fromisoformat(asked["clock"]) if asked["clock"] else datetime.now().astimezone()
    try:
        with _waiting.told_to(told):
            answer = answer_to(asked["arguments"], clock=clock, who=asked["who"])
    except LabelkitError as refusal:
        return {"refused": refusal.as_dict()}
    except click.ClickException as unclear:
        return {"refused": UsageUnclear(unclear.format_message(), "labelkit --help").as_dict()}
    except Exception as trouble:
        return {"refused": UnexpectedTrouble(trouble).as_dict()}
    return {"text": answer.text, "clean": answer.exit_code == 0}


def say(line: dict[str, Any]) -> None:
    """One line for the page."""
    print(json.dumps(line), flush=True)


def _until_alone() -> None:
    sys.stdin.read()  # ends when the page closes its end, or is gone
    os._exit(1)


if __name__ == "__main__":
    main()
