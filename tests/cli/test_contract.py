"""The rim keeps its promises: one JSON document, exit codes by kind of trouble, never a traceback."""

from __future__ import annotations

import subprocess
import sys

import click
import pytest

from labelkit.cli._group import LazyGroup
from labelkit.cli._runner import program


def commands(group=program, path=()):
    context = click.Context(group)
    for name in group.list_commands(context):
        command = group.get_command(context, name)
        yield (*path, name), command
        if isinstance(command, (LazyGroup, click.Group)):
            yield from commands(command, (*path, name))


COMMANDS = list(commands())


@pytest.mark.parametrize(("path", "command"), COMMANDS, ids=[" ".join(p) for p, _ in COMMANDS])
def test_every_command_has_help_with_an_example(path, command, labelkit):
    ran = labelkit(*path, "--help")
    assert ran.code == 0
    assert "Example:" in ran.out, ran.out
    assert "labelkit" in ran.out.partition("Example:")[2]


@pytest.mark.parametrize(("path", "command"), COMMANDS, ids=[" ".join(p) for p, _ in COMMANDS])
def test_every_command_that_answers_can_answer_in_json(path, command):
    if isinstance(command, click.Group):
        return
    assert any(option.name == "as_json" for option in command.params), path


def test_a_mistyped_command_is_refused_with_the_nearest_one(labelkit):
    ran = labelkit("wiegh")
    assert ran.code == 2
    assert "Did you mean weigh?" in ran.err and ran.out == ""


def test_with_json_a_refusal_is_one_json_object_on_stderr(labelkit):
    ran = labelkit("weigh", "--bucket", "B1", "--net", "16 fl oz", "--json")
    assert ran.code == 2 and ran.out == ""
    assert set(ran.error) == {"name", "what", "why", "do"}
    assert ran.error["name"] == "WrongKindOfUnit"


def test_a_refused_weigh_in_leaves_nothing_behind(labelkit, tmp_path):
    before = (tmp_path / "season.labelkit").read_bytes()
    assert labelkit("weigh", "--bucket", "B1", "--gross", "1 kg", "--tare", "2 kg").code == 2
    assert [each.read_bytes() for each in tmp_path.iterdir()] == [before]


def test_a_check_that_fails_exits_with_1(labelkit):
    assert labelkit("lot-code", "--verify", "L26195AXX").code == 1


def test_a_record_that_is_not_one_exits_with_3(labelkit, tmp_path):
    (tmp_path / "letter.txt").write_text("Dear customer")
    ran = labelkit("--record", "letter.txt", "trace", "L26195AXR", "--json")
    assert ran.code == 3 and set(ran.error) == {"name", "what", "why", "do"}


def test_a_file_that_is_not_there_is_named(labelkit):
    ran = labelkit("plan", "nowhere.toml")
    assert ran.code == 2 and "nowhere.toml cannot be read: there is no such file." in ran.err


def test_a_file_that_is_not_text_is_named(labelkit, tmp_path):
    (tmp_path / "lots.toml").write_bytes(b"\xff\xfe\x00")
    ran = labelkit("plan", "lots.toml")
    assert ran.code == 2 and "not UTF-8" in ran.err


def test_a_fault_of_our_own_is_told_without_a_traceback(labelkit, monkeypatch):
    def broken(*_, **__):
        raise RuntimeError("odd")

    monkeypatch.delenv("LABELKIT_TRACEBACK", raising=False)
    monkeypatch.setattr("labelkit.cli.lot_code.read_lot_code", broken)
    ran = labelkit("lot-code", "--verify", "L26195AXR")
    assert ran.code == 2 and "RuntimeError: odd" in ran.err


def test_the_reader_s_locale_decides_the_decimal_mark(labelkit):
    assert labelkit("weigh", "--bucket", "B1", "--net", "12,7 kg").code == 2
    ran = labelkit("--locale", "de_DE", "weigh", "--bucket", "B1", "--net", "12,7 kg", "--json")
    assert ran.document["buckets"][0]["holds_g"] == "12700"


def test_a_closed_pipe_is_no_trouble():
    done = subprocess.run(
        f"{sys.executable} -m labelkit --help | head -n 1", shell=True, capture_output=True, text=True, check=True
    )
    assert done.stdout.startswith("Usage: labelkit") and done.stderr == ""


def test_completion_prints_a_script_for_each_shell(labelkit):
    for shell in ("bash", "zsh", "fish"):
        assert "labelkit" in labelkit("completion", shell).out


def test_an_answer_that_cannot_be_written_is_told():
    done = subprocess.run(
        f"{sys.executable} -m labelkit reckon check-digit --digits 629104150021 > /dev/full",
        shell=True,
        capture_output=True,
        text=True,
    )
    assert done.returncode == 2 and "could not be written" in done.stderr and "Traceback" not in done.stderr


def test_odd_bytes_on_the_command_line_are_refused_in_words():
    words = b"Cures \xff colds"
    done = subprocess.run(
        [sys.executable.encode(), b"-m", b"labelkit", b"words", words, b"--market", b"us", b"--json"],
        capture_output=True,
    )
    assert done.returncode == 2 and b"is not UTF-8 text" in done.stderr and b"Traceback" not in done.stderr
