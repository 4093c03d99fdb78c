"""The documents do what they say: every command in the README runs, in order, as written."""

from __future__ import annotations

import re
import shlex
from pathlib import Path

import pytest

import labelkit
from labelkit.cli._runner import run

ROOT = Path(labelkit.__file__).parent.parent
README = ROOT / "README.md"

if not README.exists():
    pytest.skip("not a checkout", allow_module_level=True)


def commands():
    text = README.read_text(encoding="utf-8")
    return [shlex.split(line.strip()) for line in text.splitlines() if line.startswith("    labelkit ")]


def test_every_command_of_the_readme_runs_in_order(tmp_path, monkeypatch, capsys):
    monkeypatch.chdir(tmp_path)
    monkeypatch.delenv("LABELKIT_RECORD", raising=False)
    assert len(commands()) > 8
    for words in commands():
        code = run(words[1:])
        streams = capsys.readouterr()
        assert code == 0, f"{shlex.join(words)}\n{streams.out}{streams.err}"


def test_the_readme_opens_with_one_paragraph_that_states_the_job():
    lines = [line for line in README.read_text(encoding="utf-8").splitlines() if line.strip()]
    assert lines[0] == "# labelkit"
    assert lines[1].startswith("labelkit is for the person who") and len(lines[1].split()) > 60


def test_each_of_the_two_commands_is_one_line_that_makes_its_own_environment():
    lines = [line.strip() for line in README.read_text(encoding="utf-8").splitlines() if line.startswith("    p")]
    demo, tests, demo_windows, tests_windows = lines[:4]
    for line in (demo, demo_windows):
        assert "-m venv .venv" in line and line.endswith("labelkit demo demo-season")
    for line in (tests, tests_windows):
        assert "-m venv .venv" in line and line.endswith("-m pytest")


def test_every_picture_the_documents_show_is_there():
    for page in (README, ROOT / "DEVELOPERS.md"):
        text = page.read_text(encoding="utf-8")
        for in_words, in_tags in re.findall(r'!\[[^\]]+\]\(([^)]+)\)|<img [^>]*src="([^"]+)"', text):
            assert (ROOT / (in_words or in_tags)).is_file(), in_words or in_tags


def test_the_import_table_of_the_documents_is_the_one_that_is_tested():
    from tests.test_flow import MAY_IMPORT

    rows = re.findall(
        r"^\| `(\w+)`(?:, `(\w+)`)? \|", (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8"), re.MULTILINE
    )
    assert {name for row in rows for name in row if name} == set(MAY_IMPORT)


def test_the_pictures_are_those_the_demonstration_makes_today(capsys):
    import io

    from PIL import Image, ImageChops, ImageStat

    from tests.pictures import PICTURES, pictures

    fresh = pictures()
    assert (PICTURES / "plan.svg").read_bytes() == fresh["plan.svg"]
    shown, drawn = (
        Image.open(io.BytesIO(png)).convert("L") for png in ((PICTURES / "sheet.png").read_bytes(), fresh["sheet.png"])
    )
    assert shown.size == drawn.size
    # Another version of the rasteriser may smooth an edge differently; a label that changed would differ far more.
    assert ImageStat.Stat(ImageChops.difference(shown, drawn)).mean[0] < 1
