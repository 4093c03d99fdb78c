"""The rim of the program: options every command shares, one way to answer, one way to refuse.

A command returns an :class:`Answer`; it never prints. What goes to which stream, as text or as one JSON document, and
with which exit code, is decided here and nowhere else.
"""

from __future__ import annotations

import functools
import json
import os
import sys
from collections.abc import Callable, Iterator
from contextlib import ExitStack, contextmanager
from dataclasses import dataclass, field, fields, is_dataclass, replace
from datetime import date, datetime
from decimal import Decimal
from typing import TYPE_CHECKING, Any

import click

from labelkit import __version__
from labelkit.cli._group import LazyGroup
from labelkit.cli._order import ORDER
from labelkit.cli._progress import shown_on_terminal
from labelkit.cli._said import LATE, SAID, clock_option
from labelkit.errors import LabelkitError, RecordRefused
from labelkit.errors.cli import InternalError, OutputNotWritten, UsageUnclear, WordsUnclear
from labelkit.season.context import SeasonContext

if TYPE_CHECKING:
    from labelkit.record.reading import Reading
    from labelkit.record.work import Work


@dataclass(frozen=True)
class Answer:
    """What a command has to say: a document for programs, text for people, and whether a check failed (exit 1)."""

    document: Any
    text: str
    exit_code: int = 0


@dataclass(frozen=True)
class CommandContext(SeasonContext):
    """What a command knows of the machine: the season's context, and who hears the answer instead of the terminal.

    A command is one step. What it books is checked where its ``work`` block ends and kept once it has its whole answer,
    papers and all: a command that is refused after it has booked has booked nothing.
    """

    heard: list[Answer] | None = field(default=None, compare=False)
    answer: ExitStack = field(default_factory=ExitStack, compare=False)
    booking: list[Work] = field(default_factory=list, compare=False)

    @contextmanager
    def work(self, key: str | None = None, *, create: bool = False) -> Iterator[Work]:
        """The command's step; see :class:`CommandContext`."""
        work = self.answer.enter_context(super().work(key, create=create))
        self.booking.append(work)
        yield work
        work.check()

    @functools.cached_property
    def reader(self) -> str:
        """How answers are written: the locale, with the weights the season shows first. Raises what refuses a record."""
        from labelkit.measures.locales import in_units
        from labelkit.season.settings import season_of

        return in_units(self.locale, season_of(self).units)

    def for_many_steps(self) -> SeasonContext:
        """The season for a program of many steps: each is kept at the end of its own ``work`` block."""
        known = {each.name: getattr(self, each.name) for each in fields(SeasonContext)}
        return SeasonContext(**known | {"as_of": None})

    @contextmanager
    def reading(self) -> Iterator[Reading]:
        """The state of the record, with what this command has booked."""
        if self.booking:
            from labelkit.record.reading import Reading

            work = self.booking[-1]
            yield Reading(work.connection, work.where, self.as_of)
            return
        with super().reading() as state:
            yield state


def answering(function: Callable[..., Answer]) -> Callable:
    """Give a command ``--json`` and the :class:`CommandContext`, and print the answer it returns."""

    @click.option("--json", "as_json", is_flag=True, help="Answer with one JSON document.")
    @click.pass_context
    @functools.wraps(function)
    def wrapped(invocation: click.Context, /, *args, as_json: bool, **kwargs):
        context = invocation.ensure_object(CommandContext)
        said = invocation.meta.get(SAID, context.clock_is_right)
        because = invocation.meta.get(LATE) or kwargs.get("because") or ""
        try:
            with shown_on_terminal(invocation.command_path), ExitStack() as stack:
                known = replace(context, clock_is_right=said, because=because, answer=stack, booking=[])
                answer = function(known, *args, **kwargs)
        except LabelkitError as refusal:
            refusal.in_locale(_reader(context, refusal))
            raise
        if context.heard is not None:
            context.heard.append(answer)
            return
        _say(as_document(answer.document) if as_json else answer.text.rstrip("\n"))
        invocation.exit(answer.exit_code)

    return wrapped


def _reader(context: CommandContext, refusal: LabelkitError) -> str:
    """How whoever was refused reads weights: as the season shows them, where it can be looked into."""
    try:
        return context.locale if isinstance(refusal, RecordRefused) else context.reader
    except LabelkitError:
        return context.locale


def _say(text: str) -> None:
    """Print the answer as UTF-8, whatever bytes the command line held."""
    try:
        click.echo(text.encode("utf-8", "replace").decode("utf-8"))
    except BrokenPipeError:
        raise
    except OSError as trouble:
        raise OutputNotWritten(trouble.strerror or "the system refused it") from None


def as_document(value: Any) -> str:
    """One JSON document; exact numbers are decimal strings.

    >>> as_document({"g": Decimal("1.50"), "on": date(2026, 7, 14)})
    '{\\n  "g": "1.5",\\n  "on": "2026-07-14"\\n}'
    """
    return json.dumps(value, indent=2, ensure_ascii=False, default=_spell)


def _spell(value: Any) -> Any:
    from labelkit.measures.rounding import plain

    if isinstance(value, Decimal):
        return plain(value)
    if isinstance(value, date):
        return value.isoformat()
    if hasattr(value, "as_dict"):
        return value.as_dict()
    if is_dataclass(value):
        return {name: getattr(value, name) for name in value.__dataclass_fields__}
    raise TypeError(f"{type(value).__name__} has no place in a JSON document")


@click.command(
    cls=LazyGroup, package="labelkit.cli", order=ORDER, context_settings={"help_option_names": ["-h", "--help"]}
)
@click.option("--record", metavar="FILE-OR-URL", envvar="LABELKIT_RECORD", help="The season's record.")
@click.option("--day", metavar="YYYY-MM-DD", help="Use this date instead of today; what is shown is as of it.")
@click.option(
    "--locale",
    default="en_US",
    show_default=True,
    metavar="LOCALE",
    envvar="LABELKIT_LOCALE",
    help="How you write numbers, for example de_DE.",
)
@click.option("--who", metavar="NAME", envvar="LABELKIT_WHO", help="Who books this, for the record.")
@clock_option
@click.version_option(__version__, prog_name="labelkit")
@click.pass_context
def program(context: click.Context, record: str | None, day: str | None, locale: str, who: str | None) -> None:
    """Plan, label, sell and trace jars of honey.

    Start with:  labelkit demo my-first-season
    """
    from labelkit.measures.numerals import read_day

    given = context.obj or CommandContext()
    as_of = read_day(day, locale) if day else None
    context.obj = replace(
        given,
        record=record,
        day=as_of or date.today(),
        as_of=as_of,
        locale=locale,
        who=who or given.who or _login(),
    )


def answer_to(arguments: list[str], *, clock: datetime, who: str, salt: Callable[[], str] | None = None) -> Answer:
    """Run one command line as :func:`run` does, and hear its answer instead of printing it. Refusals are raised."""
    heard: list[Answer] = []
    context = CommandContext(clock=clock, who=who, salt=salt, heard=heard)
    program.main(arguments, prog_name="labelkit", standalone_mode=False, obj=context)
    return heard[-1]


def _login() -> str:
    import getpass

    try:
        return getpass.getuser()
    except (OSError, KeyError):
        return "unknown"


def run(arguments: list[str]) -> int:
    """Run one command line; the exit code, with every refusal told on stderr and never a traceback."""
    try:
        _check_text(arguments)
        return program.main(arguments, prog_name="labelkit", standalone_mode=False) or 0
    except LabelkitError as refusal:
        return _refuse(refusal, arguments)
    except click.ClickException as unclear:
        return _refuse(UsageUnclear(unclear.format_message(), _help_for(unclear)), arguments)
    except (click.Abort, KeyboardInterrupt):
        click.echo("Stopped. Nothing was changed by this command.", err=True)
        return 130
    except BrokenPipeError:
        # The reader of our output (head, a closed pager) has gone; that is its right.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return 0
    except Exception as trouble:
        if os.environ.get("LABELKIT_TRACEBACK"):
            raise
        return _refuse(InternalError(trouble), arguments)


def _check_text(arguments: list[str]) -> None:
    """Refuse bytes that are no UTF-8 (Python keeps each as half a character) once, before any of them is used."""
    settings = [value for name, value in os.environ.items() if name.startswith("LABELKIT_")]
    for word in (*arguments, *settings):
        if any("\ud800" <= sign <= "\udfff" for sign in word):
            raise WordsUnclear("".join("\ufffd" if "\ud800" <= sign <= "\udfff" else sign for sign in word))


def _refuse(refusal: LabelkitError, arguments: list[str]) -> int:
    from labelkit.cli._ways import worded

    refusal = worded(refusal)
    if "--json" in arguments:
        click.echo(as_document({"error": refusal.as_dict()}), err=True)
    else:
        click.echo(str(refusal), err=True)
    return refusal.exit_code


def _help_for(unclear: click.ClickException) -> str:
    context = getattr(unclear, "ctx", None)
    return f"{context.command_path} --help" if context else "labelkit --help"
