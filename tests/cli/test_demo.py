"""The demonstration: one season end to end, the same bytes every time, and true to its own record."""

from __future__ import annotations

import hashlib
from pathlib import Path

import pytest

from labelkit.cli._runner import run


def digest(folder: Path) -> dict[str, str]:
    files = sorted(path for path in folder.rglob("*") if path.is_file())
    return {str(path.relative_to(folder)): hashlib.sha256(path.read_bytes()).hexdigest() for path in files}


@pytest.fixture(scope="module")
def folders(tmp_path_factory):
    made = [tmp_path_factory.mktemp("demo") / name for name in ("one", "another-name")]
    for folder in made:
        assert run(["demo", str(folder)]) == 0
    return made


def test_the_demo_gives_the_same_bytes_every_time_and_everywhere(folders):
    one, another = (digest(folder) for folder in folders)
    assert one == another
    assert len(one) > 20


def test_every_file_the_summary_names_is_there_and_none_is_empty(folders, labelkit, tmp_path):
    document = labelkit("demo", tmp_path / "out", "--json").document
    for entry in document["files"]:
        assert (tmp_path / "out" / entry["file"]).stat().st_size > 0, entry
    summary = (tmp_path / "out" / "SUMMARY.txt").read_text()
    assert "753.60 USD (proved best)" in summary and "infants" in summary and "check your local rules" in summary


def test_the_demo_s_record_can_be_asked_again(folders, labelkit):
    record = folders[0] / "season.labelkit"
    assert labelkit("--record", record, "record", "verify").code == 0
    trace = labelkit("--record", record, "trace", "B2", "--json")
    assert trace.code == 0
    assert "L25201VKT" in trace.out


def test_a_folder_that_holds_something_is_left_alone(labelkit, tmp_path):
    (tmp_path / "mine").mkdir()
    (tmp_path / "mine" / "letter.txt").write_text("keep me")
    ran = labelkit("demo", "mine")
    assert ran.code == 2 and "it holds other files" in ran.err
    assert [p.name for p in (tmp_path / "mine").iterdir()] == ["letter.txt"]


def test_a_demo_that_stops_half_way_leaves_nothing_behind(labelkit, tmp_path, monkeypatch):
    def broken(season):
        (Path.cwd() / "half.txt").write_text("half")
        raise KeyboardInterrupt

    monkeypatch.setattr("labelkit.cli.demo._season", broken)
    assert labelkit("demo", "out").code == 130
    assert list((tmp_path / "out").iterdir()) == []


def test_no_file_of_the_demo_names_the_machine_it_was_made_on(folders):
    import getpass
    import socket

    for path in (p for p in folders[0].rglob("*") if p.is_file()):
        content = path.read_bytes()
        assert str(folders[0]).encode() not in content
        if len(socket.gethostname()) > 5:
            assert socket.gethostname().encode() not in content
        assert f"/home/{getpass.getuser()}".encode() not in content
