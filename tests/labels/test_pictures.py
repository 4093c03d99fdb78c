"""The pictures of the designs: they still look as they did when somebody last looked at them and found them good."""

from __future__ import annotations

import importlib.util
from io import BytesIO
from pathlib import Path

import pytest

from labelkit.labels.design import NAMES

GOLDEN = Path(__file__).parents[1] / "golden" / "labels"


def drawing():
    spec = importlib.util.spec_from_file_location("golden_labels", GOLDEN / "draw.py")
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


@pytest.mark.parametrize("name", NAMES)
def test_a_design_looks_as_it_was_last_seen(name):
    """Compared in blocks of four dots, so that another version of the renderer may smooth an edge its own way."""
    must_look_alike(f"{name}.png", drawing().front(name))


def test_designs_with_less_ink_and_with_one_look_as_they_were_last_seen():
    must_look_alike("inks.png", drawing().inks())


def must_look_alike(name: str, png: bytes) -> None:
    from PIL import Image, ImageChops

    kept, drawn = (Image.open(one).convert("RGB") for one in (GOLDEN / name, BytesIO(png)))
    assert drawn.size == kept.size
    blocks = ImageChops.difference(kept, drawn).reduce(4).tobytes()
    assert sum(value > 40 for value in blocks) < len(blocks) // 500, "run python -m tests.golden.labels.draw and look"


def test_the_sheet_of_all_designs_and_kinds_is_small_enough_for_a_page():
    assert (GOLDEN / "contact.png").stat().st_size < 1_000_000
