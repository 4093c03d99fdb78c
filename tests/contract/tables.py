"""Rows of expected answers, read from the TOML tables beside this file."""

from __future__ import annotations

import shlex
import tomllib
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest

HERE = Path(__file__).parent


def read(name: str) -> dict[str, Any]:
    """One table file; figures keep their spelling."""
    return tomllib.loads((HERE / name).read_text(encoding="utf-8"), parse_float=str)


def rows(*names: str) -> list:
    """The rows of some tables as parameters, each called by what it asks."""
    found = [row for name in names for row in read(name)["row"]]
    return [pytest.param(row, id=row["ask"]) for row in found]


def words_of(row: dict[str, Any]) -> list[str]:
    """The command line of a row."""
    return shlex.split(row["ask"])


def holds(row: dict[str, Any], document: dict[str, Any]) -> None:
    """Hold one answer against its row.

    ``is`` wants a key to be just so (figures by value, not by spelling), ``near`` a figure within a distance, ``has``
    these among the items of a list, ``first`` the first of them, ``not`` none of these anywhere in the list.
    """
    assert row["source"]
    for key, wanted in row.get("is", {}).items():
        assert same(document[key], wanted), (key, document[key], wanted)
    for key, (wanted, within) in row.get("near", {}).items():
        assert abs(Decimal(document[key]) - Decimal(str(wanted))) <= Decimal(str(within)), (key, document[key])
    for key, wanted in row.get("has", {}).items():
        assert set(wanted) <= set(document[key]), (key, document[key])
    for key, wanted in row.get("first", {}).items():
        assert document[key][0] == wanted, (key, document[key])
    for key, wanted in row.get("not", {}).items():
        assert not set(wanted) & set(document[key]), (key, document[key])
    for key in row.get("null", []):
        assert document[key] is None, (key, document[key])


def same(given: Any, wanted: Any) -> bool:
    """Whether an answer is what was wanted; a figure is the same whether it is written 9 or 9.0."""
    if isinstance(wanted, bool) or isinstance(given, bool) or given is None:
        return given is wanted
    try:
        return Decimal(str(given)) == Decimal(str(wanted))
    except ArithmeticError:
        return given == wanted
