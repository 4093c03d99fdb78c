"""Whoever asks with a decimal comma is answered with decimal commas: no two marks in one answer."""

from __future__ import annotations

import re
import shlex
from datetime import UTC, datetime

import click
import pytest

from labelkit.cli._runner import answer_to, program
from labelkit.errors.cli import FileUnreadable
from tests.record.every_kind import book_everything

#: A decimal point between figures that is no date, no section of a law, no code; 1.214 with a comma is a thousand.
POINT = re.compile(r"(?<![\d.\w§])(0\.\d+|\d+\.(?!\d{3}\b)\d+)(?![.\d\w])")
#: Lines that cite a law or a method by its number.
CITES = re.compile(r"Law:|CFR|§|Directive|Regulation|OIML|AOAC")
LATER = datetime(2028, 9, 1, 9, tzinfo=UTC)  # after the last event of that season
ASKED = (
    ("today",),
    ("stock",),
    ("plan",),
    ("plan", "--wet", "allow"),
    ("run-sheet",),
    ("result",),
    ("result", "--year", "2026"),
    ("pay",),
    ("price",),
    ("tax",),
    ("warming", "--fill-on", "2028-09-09"),
    ("record", "events"),
    ("record", "limits"),
    ("trace", "--hive", "H1"),
    ("year", "compare"),
)


def examples() -> list[str]:
    """The examples in the help of every figure that can be asked for, written with decimal commas."""
    context = click.Context(program)
    figures = program.get_command(context, "reckon")
    found = []
    for name in figures.list_commands(context):
        said = re.sub(r"\n\s+(?!\s*labelkit)", " ", figures.get_command(context, name).help)
        found += re.findall(r"labelkit (reckon [^\n]+?)\s*$", said, re.M)
    return [re.sub(r"(\d)\.(\d)", r"\1,\2", re.sub(r"\s+", " ", line)) for line in found]


def points(text: str) -> list[str]:
    return [line for line in text.splitlines() if POINT.search(line) and not CITES.search(line)]


@pytest.fixture(scope="module")
def season(tmp_path_factory):
    """A record in which everything happens once, and a bucket that is too wet."""
    where = str(tmp_path_factory.mktemp("comma") / "season.labelkit")
    book_everything(where)
    line = ["--record", where, "--locale", "de_DE", "--clock-is-right"]
    wet = ("weigh", "--bucket", "B77", "--net", "12,5 kg", "--moisture", "20,6", "--because", "It is a test.")
    answer_to([*line, *wet], clock=LATER, who="Robin")
    return line


@pytest.mark.parametrize("asked", ASKED, ids=" ".join)
def test_an_answer_of_the_record_with_decimal_commas_holds_no_decimal_point(season, asked, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)  # the run sheet is written where one is
    text = answer_to([*season, *asked], clock=LATER, who="Robin").text
    assert re.search(r"\d", text), "it answers with figures"
    assert not points(text)


@pytest.mark.parametrize("line", examples())
def test_a_figure_asked_for_with_decimal_commas_is_answered_with_them(line):
    try:
        text = answer_to(["--locale", "de_DE", *shlex.split(line)], clock=LATER, who="Robin").text
    except FileUnreadable:
        return  # the example names a file of weights
    assert not points(text)
