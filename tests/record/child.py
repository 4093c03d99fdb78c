"""Run something in a process of its own that may be given lesser rights or a smaller disk."""

from __future__ import annotations

import os
import pickle
import signal
import traceback


def as_child(function, *, lesser: bool = False, file_limit: int | None = None):
    """What a function gives or raises in a child: as an ordinary user, or with files limited to so many bytes."""
    reads, writes = os.pipe()
    child = os.fork()
    if child == 0:
        os.close(reads)
        try:
            answer = _limited(function, lesser, file_limit)
            os.write(writes, pickle.dumps(answer))
        finally:
            os._exit(0)
    os.close(writes)
    with os.fdopen(reads, "rb") as answer:
        got = answer.read()
    os.waitpid(child, 0)
    return pickle.loads(got)


def _limited(function, lesser: bool, file_limit: int | None):
    if lesser and os.geteuid() == 0:
        os.setgroups([])
        os.setgid(65534)
        os.setuid(65534)
    if file_limit is not None:
        import resource

        signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
        resource.setrlimit(resource.RLIMIT_FSIZE, (file_limit, file_limit))
    from labelkit.errors import LabelkitError

    try:
        return ("gave", function())
    except LabelkitError as refused:
        return (refused.name, refused.what, refused.do)
    except Exception as trouble:
        return ("trouble", "".join(traceback.format_exception(trouble)), "")
