"""The volume a state wants beside the weight is kept for each size and printed on its labels alone."""

from __future__ import annotations

import json

import pytest

from labelkit.cli._runner import run


@pytest.fixture
def ohio(tmp_path, capsys):
    """A season in Ohio with two sizes, each with its own volume."""

    def call(*arguments, code=0):
        capsys.readouterr()
        given = ["--record", str(tmp_path / "s.labelkit"), "--day", "2026-11-20", *arguments, "--json"]
        assert run(given) == code
        out, err = capsys.readouterr()
        return json.loads(out or err)

    call("start", "--market", "us-oh", "--name", "Pretend Hollow Honey", "--email", "hive@hollow.example")
    for size, declares in (("one pound", "1 lb"), ("two pounds", "2 lb")):
        call("price", "--set", size, "--declares", declares, "--price", "12")
    call("label-words", "--name", "Honey", "--fact", "own_hives=yes", "--volume", "one pound=11 fl oz")
    call("label-words", "--volume", "two pounds=22 fl oz")
    return call


def test_each_size_has_its_own_volume(ohio):
    kept = ohio("label-words", "--line", "Raw")["label"]["volumes"]
    assert kept == {"one pound": "11 fl oz", "two pounds": "22 fl oz"}


def test_a_volume_that_is_none_is_refused_and_nothing_is_kept(ohio):
    assert "error" in ohio("label-words", "--volume", "one pound=plenty", code=2)
    assert ohio("label-words", "--line", "Raw")["label"]["volumes"]["one pound"] == "11 fl oz"
