"""No legal number stands in Python: every number in the figures is listed here with the reason why it is none."""

from __future__ import annotations

import ast
import re
from decimal import Decimal, InvalidOperation
from pathlib import Path

import pytest

from labelkit.rules import figures

FOLDER = Path(figures.__file__).parent

# Everywhere: 0, 1 and 2 count, index, compare and double; nothing is measured with them.
STRUCTURE = {0, 1, 2}

# A quantity written as text would be a legal number as well.
QUANTITY = re.compile(r"(\d+(?:\.\d+)?) ?(?:g|kg|oz|lb|mm|cm|in|pt|cm2|in2|%)")

# By module, the others and why they are not law.
JUSTIFIED = {
    "customary": {
        Decimal(16): "ounces in a pound, by definition",
        Decimal(20): "house style: a weight given in grams a twentieth of an ounce above a whole one is shown whole",
        Decimal(10): "the base of decimals",
    },
    "metric": {
        Decimal("0.001"): "a milligram in grams, the grain of all masses here",
        Decimal(1000): "grams in a kilogram, by definition",
        Decimal("0.5"): "any number with a decimal mark, to see which mark a language writes",
    },
    "letter_height": {Decimal("3.14159265358979323846264338327950288"): "pi"},
    "tolerance": {
        Decimal(100): "per cent, by definition",
        Decimal("0.01"): "house style: a share of the label is shown down to a hundredth of a gram, the safer way",
    },
    "nutrition": {
        Decimal(100): "per cent, by definition, and amounts per 100 g",
        Decimal("0.1"): "tells a weight given in grams from one in ounces, whose grams never end at the tenth",
    },
    "origin": {
        Decimal(10): "the base of decimals",
        Decimal(3): "letters of the longer country codes of ISO 3166-1: what is longer may be a country's name",
        Decimal(
            6
        ): "house style: the decimals a share of a few milligrams in a ton needs; the tolerance stands in the pack",
        Decimal(100): "per cent, by definition",
        Decimal(4): "the option is called after its four largest shares; over which total stands in the pack",
    },
    "date_mark": {
        Decimal(12): "months in a year",
        Decimal(31): "days that make less than a month of any part of one",
        Decimal(4): "digits of a year as written",
        Decimal(7): "characters of a year and month as written",
    },
    "moisture_limit": {Decimal(100): "per cent, by definition"},
    "colour": {Decimal(140): "where the Pfund instrument's wedge ends; a reading beyond it is a slip of the pen"},
}


def numbers(path):
    """Every number of a module outside docstrings and annotations, also those written as text for Decimal."""
    tree = ast.parse(path.read_text(encoding="utf-8"))
    docstrings = {
        id(node.body[0].value)
        for node in ast.walk(tree)
        if isinstance(node, (ast.Module, ast.ClassDef, ast.FunctionDef))
        and node.body
        and isinstance(node.body[0], ast.Expr)
    }
    for node in ast.walk(tree):
        if not isinstance(node, ast.Constant) or id(node) in docstrings or isinstance(node.value, bool):
            continue
        if isinstance(node.value, (int, float)):
            yield node.lineno, Decimal(str(node.value))
        elif isinstance(node.value, str):
            written = QUANTITY.fullmatch(node.value)
            try:
                yield node.lineno, Decimal(written[1] if written else node.value)
            except InvalidOperation:
                continue


@pytest.mark.parametrize("path", sorted(FOLDER.glob("*.py")), ids=lambda path: path.stem)
def test_every_number_in_a_figure_is_structure_and_not_law(path):
    allowed = JUSTIFIED.get(path.stem, {})
    for line, number in numbers(path):
        assert number in STRUCTURE or number in allowed, f"{path.name}:{line} holds {number}; should it be in a pack?"


def test_no_justification_outlives_its_number():
    for module, allowed in JUSTIFIED.items():
        present = {number for _, number in numbers(FOLDER / f"{module}.py")}
        assert set(allowed) <= present, f"{module}: {set(allowed) - present} is no longer there"


def test_a_legal_number_in_a_figure_would_be_caught(tmp_path):
    """The walk itself is tried on a module that hides the height of a letter as text and as a number."""
    hidden = tmp_path / "hidden.py"
    hidden.write_text('"""Doc 5."""\nHEIGHT = Decimal("3.175")\nAREA = 25\nPANEL = "80 cm2"\n')
    assert {number for _, number in numbers(hidden)} == {Decimal("3.175"), Decimal(25), Decimal(80)}


def test_no_float_stands_in_a_figure():
    for path in FOLDER.glob("*.py"):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            assert not (isinstance(node, ast.Constant) and isinstance(node.value, float)), f"{path.name}:{node.lineno}"
            assert not (isinstance(node, ast.Name) and node.id == "float"), f"{path.name}:{node.lineno}"
