"""What people type is read once, at the rim: no stage and no use case parses a quantity."""

from __future__ import annotations

import ast
import inspect

import pytest

from labelkit import measures
from labelkit.measures import locales, numerals
from tests.test_flow import modules, name_of, room_of

#: The classes that read themselves from text, and the functions that read.
CLASSES = {"Mass", "Length", "Volume", "Money", "Declared", "BestBefore"}
FUNCTIONS = {name for name in vars(numerals) if name.startswith("read_")} | {
    "read_quantity",
    "read_area",
    "read_volume",
    "read_temperature",
}
#: Who may read: the measures themselves, the rim, and the readers of files.
ROOMS = {"measures", "reading", "cli", "page"}
FILES = {
    "rules/kinds.py": "quantities of a pack",
    "rules/review.py": "the day of a review of a pack, from a spreadsheet",
    "labels/sheets.py": "lengths of a sheet",
    "season/usual_jars.py": "weights and lengths of the catalogue of usual jars",
    "record/codec.py": "weights an old record kept as text",
    "season/shelf.py": "prices an old record kept as they were typed",
}


def readings(tree: ast.AST):
    for node in ast.walk(tree):
        if not isinstance(node, ast.Call):
            continue
        match node.func:
            case ast.Name(id=name) | ast.Attribute(attr=name) if name in FUNCTIONS:
                yield node, name
            case ast.Attribute(value=ast.Name(id=name), attr=attribute) if name in CLASSES and attribute.startswith(
                "read"
            ):
                yield node, f"{name}.{attribute}"


@pytest.mark.parametrize("path", [p for p in modules() if room_of(p) not in ROOMS], ids=name_of)
def test_only_the_rim_and_the_readers_of_files_read_what_was_typed(path):
    found = [f"{name_of(path)}:{node.lineno} calls {name}" for node, name in readings(ast.parse(path.read_text()))]
    assert not found or name_of(path) in FILES, found


@pytest.mark.parametrize("name", FILES)
def test_every_reader_of_files_that_is_excused_reads(name):
    path = next(p for p in modules() if name_of(p) == name)
    assert list(readings(ast.parse(path.read_text())))


READERS = [
    *(getattr(numerals, name) for name in sorted(FUNCTIONS & set(vars(numerals)))),
    *(getattr(measures, name) for name in ("read_area", "read_volume", "read_temperature")),
    measures.units.read_quantity,
    *(getattr(measures, name).read for name in ("Mass", "Length", "Volume", "Money", "Declared")),
    measures.Length.read_signed,
]
SHOWERS = [
    *(value for name, value in vars(locales).items() if name.startswith("show_")),
    *(value for name, value in vars(measures).items() if name.startswith("show_")),
    *(getattr(measures, name).show for name in ("Length", "Money", "Declared")),
]


@pytest.mark.parametrize("function", READERS + SHOWERS, ids=lambda function: function.__qualname__)
def test_the_locale_is_a_required_argument_of_every_reader_and_shower(function):
    assert inspect.signature(function).parameters["locale"].default is inspect.Parameter.empty
