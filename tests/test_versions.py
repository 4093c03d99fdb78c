"""The versions the README installs are locked in the tree, whole and within what the project asks for."""

from __future__ import annotations

import re
import tomllib
from pathlib import Path

import pytest
from packaging.requirements import Requirement
from packaging.utils import canonicalize_name
from packaging.version import Version

ROOT = Path(__file__).parent.parent
CONSTRAINTS = ROOT / "tests" / "constraints.txt"


def locked() -> dict[str, Version]:
    lines = CONSTRAINTS.read_text().splitlines()
    return {canonicalize_name(name): Version(version) for name, version in (line.split("==") for line in lines)}


def asked_for() -> list[Requirement]:
    project = tomllib.loads((ROOT / "pyproject.toml").read_text())["project"]
    extras = project["optional-dependencies"].values()
    lines = [*project["dependencies"], *(line for extra in extras for line in extra)]
    return [wanted for line in lines if (wanted := Requirement(line)).name != project["name"]]


@pytest.mark.parametrize("wanted", asked_for(), ids=str)
def test_every_package_the_project_asks_for_is_locked_at_a_version_that_will_do(wanted):
    assert locked()[canonicalize_name(wanted.name)] in wanted.specifier


def test_the_lock_names_exact_versions_and_no_place_to_take_them_from():
    for line in CONSTRAINTS.read_text().splitlines():
        assert re.fullmatch(r"[A-Za-z0-9._-]+==[0-9][A-Za-z0-9.]*", line), line


def test_every_install_line_of_the_readme_uses_the_lock():
    lines = [
        line for line in (ROOT / "README.md").read_text().splitlines() if re.match(r"    (python3|py) -m venv", line)
    ]
    assert len(lines) == 4
    assert all("pip install --quiet -c tests/constraints.txt " in line for line in lines)
