"""A form becomes a command: the very line a producer would type, run by the same program."""

from __future__ import annotations

import re
import tempfile
from collections.abc import Callable, Iterable
from datetime import date
from pathlib import Path

import click
from flask import Response, redirect, request, session

from labelkit.cli._runner import Answer, answer_to
from labelkit.errors import LabelkitError
from labelkit.errors.cli import UsageUnclear
from labelkit.errors.page import SentBefore
from labelkit.errors.record import KeyReused
from labelkit.page import request_context
from labelkit.page.worker import Outcome
from labelkit.season import SeasonContext

_BARE = re.compile(r"[0-9][0-9.,' \u00a0\u202f]*([0-9]+/[0-9]+)?")


def do(*arguments: str, day: date | None = None) -> Answer:
    """Run one command of labelkit on this request's context, or as on another day. Raises what the command refuses."""
    context = request_context.context()
    line = [
        "--record",
        str(context.record),
        "--day",
        (day or context.day).isoformat(),
        "--locale",
        context.locale,
        *arguments,
    ]
    try:
        return answer_to(line, clock=context.now, who=context.who)
    except click.ClickException as unclear:
        raise UsageUnclear(unclear.format_message(), f"labelkit {arguments[0]} --help") from None


def option(name: str, value: str | None) -> tuple[str, ...]:
    """An option if there is a value for it; written as one word, so that no value is taken for an option.

    >>> option("gross", "28.4 kg"), option("net", " "), option("bucket", "--all")
    (('--gross=28.4 kg',), (), ('--bucket=--all',))
    """
    bare = (value or "").strip()
    return (f"--{name}={bare}",) if bare else ()


def options(names: Iterable[str], given: Callable[[str], str]) -> tuple[str, ...]:
    """Several options of the same names as their fields; a field's underscores are an option's hyphens."""
    return tuple(word for name in names for word in option(name.replace("_", "-"), given(name)))


def once_key() -> str:
    """The name of this very step: the form's key, and which form it is."""
    key = typed("step")
    return f"{request.endpoint} {key}" if key else ""


def once() -> tuple[str, ...]:
    """The same as an option, so that a form sent twice books nothing twice."""
    return option("once", once_key())


def with_unit(text: str, unit: str) -> str:
    """A bare number with the unit the form shows beside its field; anything else as it was typed.

    >>> with_unit("28.4", "kg"), with_unit("62 lb 3 oz", "kg"), with_unit(" 12,7 ", "kg"), with_unit("", "kg")
    ('28.4 kg', '62 lb 3 oz', '12,7 kg', '')
    """
    bare = text.strip()
    return f"{bare} {unit}" if _BARE.fullmatch(bare) else bare


def typed(name: str) -> str:
    """What stands in a field of the form or of the address."""
    return request.values.get(name, "").strip()


def with_file(content: bytes, name: str, step: Callable[[str], Answer]) -> Answer:
    """Run a command on what was uploaded; the file bears our own name, and a refusal calls it “Your file”."""
    with tempfile.TemporaryDirectory(prefix="labelkit-") as folder:
        kept = Path(folder) / name
        kept.write_bytes(content)
        try:
            return step(str(kept))
        except LabelkitError as refusal:
            for word in ("what", "why", "do"):
                setattr(refusal, word, getattr(refusal, word).replace(str(kept), "Your file"))
            raise


def made(option_name: str, name: str, *arguments: str, day: date | None = None) -> bytes:
    """What a command writes into the file an option names."""
    with tempfile.TemporaryDirectory(prefix="labelkit-") as folder:
        file = Path(folder) / name
        do(*arguments, f"--{option_name}={file}", day=day)
        return file.read_bytes()


def paper(content: bytes, name: str, kind: str = "application/pdf") -> Response:
    """A paper to look at in the browser; anything else to keep."""
    way = "inline" if kind == "application/pdf" else "attachment"
    return Response(content, mimetype=kind, headers={"Content-Disposition": f'{way}; filename="{name}"'})


def by_size(field: str) -> dict[str, str]:
    """Fields that stand once for each jar size, ``jar:one pound`` and the like; the empty ones left out."""
    mark = f"{field}:"
    return {
        name[len(mark) :]: value.strip()
        for name, value in request.values.items()
        if name.startswith(mark) and value.strip() not in ("", "0")
    }


def booked(step: Callable[[], Answer], again: Callable, to: Callable[[Answer], str], says: Callable[[Answer], str]):
    """Book a step and go on to a page; where it is refused, show the form again with what was typed."""
    try:
        answer = step()
    except KeyReused:
        return again(SentBefore()), 409
    except LabelkitError as refusal:
        return again(refusal), 422
    request_context.forget()
    session["said"] = says(answer)
    return redirect(to(answer), 303)


def line_task(context: SeasonContext, folder: Path, arguments: list[str]) -> Outcome:
    """Run one command line as a job; ``{folder}`` in an argument is the job's folder."""
    line = ["--record", str(context.record), "--day", context.day.isoformat(), "--locale", context.locale]
    line += [argument.replace("{folder}", str(folder)) for argument in arguments]
    try:
        answer = answer_to(line, clock=context.now, who=context.who)
    except click.ClickException as unclear:
        raise UsageUnclear(unclear.format_message(), "labelkit --help") from None
    return Outcome(answer.text, answer.exit_code == 0)
