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
#: Lines that cite a law or a method by its number, and lines of a file, which is TOML.
CITES = re.compile(r"Law:|^\w+ = |CFR|§|Directive|Regulation|OIML|AOAC")
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

#: The same of a season that was typed: a run whose jars weigh too little, in Germany. LOT stands for its code.
TYPED = (
    ("labels", "--size", "500 g", "--lot", "LOT", "--proof"),
    ("labels", "--size", "500 g", "--lot", "LOT", "--art", "svg", "--bleed", "2,5 mm", "--proof"),
    ("labels", "--kind", "tag", "--bucket", "B1"),
    ("check-weigh", "--lot", "LOT"),
    (
        "check-weigh",
        "--lot",
        "LOT",
        *(f"--weight={grams} g" for grams in ("478,5", "503,1", "470,2", "476,4")),
        "--anew",
    ),
    ("recall", "drill", "--lot", "LOT"),
    ("trace", "LOT"),
    ("run-result",),
    ("price", "--pdf", "prices.pdf"),
    ("inspection", "--lot", "LOT", "--out", "folder"),
    (
        "sheet",
        "--page=a4",
        "--across=2",
        "--down=3",
        "--wide=63,5 mm",
        "--high=38,1 mm",
        "--left=10,5 mm",
        "--top=12,7 mm",
    ),
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


@pytest.fixture(scope="module")
def typed(tmp_path_factory):
    """How a season goes on that was typed in Germany, and the code of its first lot."""
    line = ["--record", str(tmp_path_factory.mktemp("typed") / "season.labelkit"), "--locale", "de_DE"]
    for step in (
        'start --market eu-de --currency EUR --name "Imkerei Muster" --street "Musterweg 1" --city Musterstadt --postcode 00000',
        'weigh --bucket B1 --gross "13,6 kg" --tare "600 g" --moisture 17,4 --yard "Hof: H1, H2"',
        'price --set "500 g" --declares "500 g" --price 6,90 --cost 0,62',
        'label-words --name Sommerhonig --origin DE --best-before "24 months" --jar "500 g=82,5 mm x 95,5 mm"',
        'bottle --bucket B1 --jar "500 g=20" --left "2,35 kg" --because "A test."',
    ):
        done = answer_to([*line, *shlex.split(step)], clock=LATER, who="Robin")
    return line, done.document["lot"]


@pytest.mark.parametrize("asked", TYPED, ids=" ".join)
def test_an_answer_of_a_typed_season_with_decimal_commas_holds_no_decimal_point(typed, asked, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    line, lot = typed
    text = answer_to([*line, *(lot if word == "LOT" else word for word in asked)], clock=LATER, who="Robin").text
    assert re.search(r"\d", text), "it answers with figures"
    assert not points(text)


@pytest.mark.parametrize("line", examples())
def test_a_figure_asked_for_with_decimal_commas_is_answered_with_them(line):
    try:
        text = answer_to(["--locale", "de_DE", *shlex.split(line)], clock=LATER, who="Robin").text
    except FileUnreadable:
        return  # the example names a file of weights
    assert not points(text)
