"""Refusals and help keep to plain words: short, without the words the glossary of the project took out."""

from __future__ import annotations

import ast
import re
from pathlib import Path

import pytest

import labelkit

HERE = Path(labelkit.__file__).parent

#: Words a reader would have to translate, each with the word to use instead.
TAKEN_OUT = {
    r"reckon(s|ed|ing)?(?! )": "calculate",
    r"nothing was booked|books? nothing": "nothing was saved",
    r"strikes? (one|it|the)|struck": "void",
    r"nobody has said|nobody said": "you have not set",
    r"per cent": "percent, or the sign",
    r"mends?|mended": "correct",
    r"anew": "again",
    r"whoever": "you, or who it is",
    r"hangs? on|hangs on": "depends on",
    r"telephones?": "phone",
    r"mail address|e-mail": "email",
    r"freed from|freedom": "exempt",
    r"nought": "zero",
    r"market day": "stall day",
    r"wished": "optional, requested",
}
FOUND = re.compile(rf"\b(?:{'|'.join(TAKEN_OUT)})\b", re.IGNORECASE)
BRACES = re.compile(r"[{}]")
COMMAND = re.compile(r"labelkit [a-z-]+(?: [^.;]*)?|\(?--[a-z-]+[^.;]*")

#: Characters of the longest text of each part of a refusal, commands left out; figures count as their names.
LONGEST = {"what": 120, "why": 120, "do": 160}


def texts_of_refusals() -> list[tuple[str, str, str]]:
    """Class, part and text of everything a refusal may say."""
    found = []
    for path in sorted((HERE / "errors").glob("*.py")):
        for made in ast.parse(path.read_text(encoding="utf-8")).body:
            for call in ast.walk(made):
                if isinstance(call, ast.Call) and ast.unparse(call.func) == "super().__init__":
                    for part in call.keywords:
                        texts = [n.value for n in ast.walk(part.value) if isinstance(n, ast.Constant)]
                        found += [
                            (getattr(made, "name", ""), part.arg or "", text) for text in texts if " " in str(text)
                        ]
    return found


REFUSALS = texts_of_refusals()


def test_the_refusals_are_found():
    assert len(REFUSALS) > 900 and {part for _, part, _ in REFUSALS} >= {"what", "why", "do"}


def test_no_refusal_says_a_word_that_was_taken_out():
    said = [(name, found[0], text) for name, _, text in REFUSALS if (found := FOUND.search(COMMAND.sub("", text)))]
    assert not said


@pytest.mark.parametrize("part", LONGEST)
def test_a_refusal_is_short(part):
    long = [
        (name, len(bare), text)
        for name, of, text in REFUSALS
        if of == part and len(bare := BRACES.sub("", COMMAND.sub("", text))) > LONGEST[part]
    ]
    assert not long


def test_a_refusal_has_one_idea_in_a_sentence():
    """No semicolon, and at most 22 words from stop to stop; a figure counts as one."""
    long = []
    for name, _, text in REFUSALS:
        for sentence in re.split(r"(?<=[.!?:])\s+", COMMAND.sub("", text)):
            if ";" in sentence or len(sentence.split()) > 22:
                long.append((name, sentence))
    assert not long
