"""The tour of the Python API in the guide for contributors does what it says."""

from __future__ import annotations

import contextlib
import doctest
from pathlib import Path

import pytest

import labelkit

GUIDE = Path(labelkit.__file__).parents[1] / "DEVELOPERS.md"


@pytest.mark.skipif(not GUIDE.exists(), reason="an installed labelkit carries no guide for contributors")
def test_the_tour_in_the_guide_does_what_it_says(tmp_path):
    with contextlib.chdir(tmp_path):
        done = doctest.testfile(str(GUIDE), module_relative=False, optionflags=doctest.IGNORE_EXCEPTION_DETAIL)
    assert done.attempted > 12 and not done.failed
