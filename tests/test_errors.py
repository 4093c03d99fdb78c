"""Every refusal has a case that shows its text: what happened, why it matters, what to do."""

from __future__ import annotations

import ast
import importlib
import pkgutil
import re
from functools import cache
from pathlib import Path

import pytest

import labelkit
import labelkit.errors
import tests.refusals
from labelkit.errors import AskedAbout, CheckFailed, LabelkitError, RecordRefused, Refused
from labelkit.errors.cli import UsageUnclear
from labelkit.errors.sentence import Sentence
from labelkit.errors.trace import LotShort, StandsAgainst

FAMILIES = {LabelkitError, Refused, AskedAbout, CheckFailed, RecordRefused}
TYPED = re.compile(r": (labelkit|pip) [^:]+$")  # a command to type ends without a full stop
OF_THE_CALLER = {LotShort, StandsAgainst, UsageUnclear}  # what stands against honey, and what click says
EXIT_CODES = {CheckFailed: 1, Refused: 2, RecordRefused: 3}


def all_cases():
    for module in pkgutil.iter_modules(tests.refusals.__path__):
        yield from importlib.import_module(f"tests.refusals.{module.name}").CASES


def all_refusals() -> set[type]:
    for module in pkgutil.iter_modules(labelkit.errors.__path__):
        importlib.import_module(f"labelkit.errors.{module.name}")
    found, todo = set(), [LabelkitError]
    while todo:
        cls = todo.pop()
        todo.extend(cls.__subclasses__())
        if cls not in FAMILIES and cls.__module__.startswith("labelkit."):
            found.add(cls)
    return found


CASES = list(all_cases())


@pytest.mark.parametrize(("error", "cause", "words"), CASES, ids=[f"{c[0].__name__}-{i}" for i, c in enumerate(CASES)])
def test_a_refusal_says_what_why_and_what_to_do(error, cause, words):
    with pytest.raises(error) as caught:
        cause()
    refusal = caught.value
    assert type(refusal) is error
    text = str(refusal)
    assert words in text, text
    for sentence in (refusal.what, refusal.why, refusal.do):
        assert len(sentence) >= 15
        assert sentence[-1] in ".!?…)”" or TYPED.search(sentence), sentence
        assert "None" not in sentence, sentence
        assert "{" not in sentence, sentence
        if (
            error not in OF_THE_CALLER
        ):  # else the page could neither translate it nor write its figures as its reader does
            text = sentence.text if isinstance(sentence, Sentence) else sentence
            assert text in said_in_the_source(), f"finished text, no Sentence with its facts: {text}"
    family = next(f for f in EXIT_CODES if isinstance(refusal, f))
    assert refusal.exit_code == EXIT_CODES[family]


@cache
def said_in_the_source() -> set[str]:
    """Every text that is written as it is in the packages whose texts refusals take over."""
    return {
        node.value
        for package in ("errors", "measures", "reading", "plan", "run", "labels", "lots", "rules", "record")
        for path in (Path(labelkit.__file__).parent / package).rglob("*.py")
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8")))
        if isinstance(node, ast.Constant) and isinstance(node.value, str)
    }


def test_every_refusal_has_a_case():
    missing = {cls.__name__ for cls in all_refusals()} - {case[0].__name__ for case in CASES}
    assert not missing, f"no case shows the text of: {', '.join(sorted(missing))}"


def test_no_two_refusals_share_a_name():
    names = [cls.__name__ for cls in all_refusals()]
    assert len(names) == len(set(names))
