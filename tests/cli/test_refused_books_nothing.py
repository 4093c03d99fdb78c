"""A refused command books nothing: every command with every one of its options made wrong, one at a time."""

from __future__ import annotations

import re
import shlex
import sqlite3

import click
import pytest

from tests.cli.conftest import played
from tests.cli.test_contract import COMMANDS
from tests.walks import share

LOT = "L26201AXN"
DAY = ("--day", "2026-07-25")
SEASON = (
    'start --market us --name "Pretend Hollow Honey" --street "12 Sample Lane" --city "Pretend Hollow" --region VA --postcode 00000',
    'weigh --bucket B1 --net "90 lb" --moisture 17.6 --yard "Mill meadow: H1, H2"',
    'weigh --bucket B2 --net "60 lb" --moisture 17.4',
    'weigh --bucket S1 --net "20 lb" --moisture 17.4',
    'price --set "one pound" --declares "1 lb" --price 12 --cost 1.35',
    'price --set "half pound" --declares "8 oz" --price 7 --cost 1.10',
    'label-words --name "Clover Honey" --origin US --jar "one pound=3 in x 3.2 in"',
    'bottle --bucket B1 --jar "one pound=40" --jar "half pound=20" --left "38 lb" --because "weighed twice"',
    'deliver --customer "Corner shop" --address "1 Made-up Row; Sampleton" --jar "one pound=4" --price "one pound=8.40" --price "half pound=5" --because "no label yet"',
    'stall load --place "Mill square market" --jar "one pound=12" --change 80 --book --because "no label yet"',
)
WRONG = ("", "0", "-1", "nan", "1e999", "no such thing", "no/such/file", "one pound=0", "B9=-3", "2090-01-01")
# What books and is not under the one key of a step, beside every command that takes --once.
ALSO_BOOKS = ("find-prices", "ruler", "sheet", "start", "stall settle")
# A server that waits for a browser, and what makes another folder or a record of its own.
LEFT_OUT = ("page", "demo", "completion")


def examples_of(command: click.Command) -> list[list[str]]:
    """The command lines of a command's help, of the lot of the season played here."""
    shown = (command.help or "").partition("Example:")[2]
    lines = re.split(r"(?:^|\n)\s*labelkit ", shown)[1:]
    return [shlex.split(re.sub(r"L26\d{3}\w{3}", LOT, line.replace("\n", " "))) for line in lines]


def without_common(words: list[str]) -> list[str]:
    while words[:1] and words[0] in ("--day", "--record"):
        words = words[2:]
    return words


def wrong_lines():
    """Every booking command's examples, each option in turn given what cannot be right."""
    for path, command in COMMANDS:
        name = " ".join(path)
        books = any(each.name == "once" for each in command.params) or name in ALSO_BOOKS
        if isinstance(command, click.Group) or name in LEFT_OUT or not books:
            continue
        for number, example in enumerate(map(without_common, examples_of(command))):
            for each in command.params:
                if not isinstance(each, click.Option) or each.is_flag or each.name == "once":
                    continue
                for wrong in WRONG:
                    yield f"{name} {number} {each.opts[0]} {wrong}", made_wrong(example, each.opts, wrong)


def made_wrong(example: list[str], option: list[str], wrong: str) -> list[str]:
    """The line with the value of an option exchanged, or the option put at its end."""
    words = list(example)
    for at, word in enumerate(words[:-1]):
        if word in option:
            words[at + 1] = wrong
            return words
    return [*words, option[0], wrong]


def booked(folder) -> int:
    with sqlite3.connect(folder / "season.labelkit") as record:
        return record.execute("SELECT count(*) FROM event").fetchone()[0]


@pytest.fixture
def season(labelkit, tmp_path):
    def play():
        for line in SEASON:
            ran = labelkit(*DAY, *shlex.split(line))
            assert ran.code == 0, line + ran.err

    played("refused", play)
    return labelkit


LINES = list(wrong_lines())


def test_the_walk_reaches_every_command_that_books():
    walked = {" ".join(words[:2]) for _, words in LINES} | {words[0] for _, words in LINES}
    for path, command in COMMANDS:
        if any(each.name == "once" for each in command.params) and path[0] not in LEFT_OUT:
            assert " ".join(path) in walked, path


def test_the_examples_of_the_help_run_so_that_one_wrong_option_is_what_refuses_them(season, tmp_path):
    whole = (tmp_path / "season.labelkit").read_bytes()
    ran = 0
    for _, command in COMMANDS:
        if any(each.name == "once" for each in command.params):
            for words in map(without_common, examples_of(command)):
                ran += season(*DAY, *words).code == 0
                (tmp_path / "season.labelkit").write_bytes(whole)
    assert ran >= 30


@pytest.mark.parametrize("words", list(share([(n, w) for n, w in LINES], 75, whole=12)), ids=" ".join)
def test_a_command_with_one_wrong_option_books_nothing_where_it_is_refused(season, tmp_path, words):
    before = booked(tmp_path)
    ran = season(*DAY, *words)
    assert ran.code in (0, 1, 2), ran.err
    if ran.code == 2:
        assert booked(tmp_path) == before, ran.err
        assert "internal error" not in ran.err, ran.err


@pytest.mark.parametrize(
    "more",
    [
        ("--pdf", "season.labelkit/x.pdf"),
        ("--cards", "season.labelkit/x.pdf"),
        ("--pdf", "list.pdf", "--language", "xx_YY"),
        ("--pdf", "list.pdf", "--product", "蜂蜜"),
    ],
)
def test_a_price_is_not_set_where_the_paper_that_was_asked_for_cannot_be_made(season, tmp_path, more):
    before = booked(tmp_path)
    assert season(*DAY, "price", "--set", "one pound", "--price", "13", *more).code == 2
    assert booked(tmp_path) == before


def test_an_empty_share_of_origin_is_refused_in_words(season):
    words = ("--bucket", "R1", "--supplier", "Brook apiary", "--their-lot", "K7", "--net", "55 lb", "--origin", "")
    ran = season(*DAY, "receive", *words, "--json")
    assert (ran.code, ran.error["name"]) == (2, "ShareUnclear")


@pytest.mark.parametrize("line", ['record correct 3 --because "no" --part ""', 'year close --year ""'])
def test_an_empty_value_where_one_is_needed_or_several_may_be_is_refused_in_words(season, line):
    ran = season(*DAY, *shlex.split(line))
    assert ran.code == 2 and "internal error" not in ran.err
