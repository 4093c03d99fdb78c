"""Hives people have: what a full box may give, against what is published for one of them and what the trade says of another."""

from __future__ import annotations

import pytest

from labelkit.honey.hives import FRAMES, from_comb
from labelkit.honey.yields import published_supers


@pytest.mark.parametrize("depth", ["shallow", "medium", "deep"])
def test_the_estimate_by_comb_holds_the_published_range_of_each_super(depth):
    low, high = published_supers()[depth]
    found = from_comb(f"langstroth-{depth}", 10)
    assert found.low <= low and high <= found.high


def test_eight_frames_give_eight_tenths_of_ten():
    ten, eight = from_comb("langstroth-medium", 10), from_comb("langstroth8-medium", 8)
    assert FRAMES["langstroth8-medium"].in_box == 8
    assert abs(eight.high.mg * 10 - ten.high.mg * 8) < 20


def test_a_national_super_holds_what_the_trade_says_of_it():
    # 25 to 30 lb from a full National super: common practice, no source.
    found = from_comb("national-super", 11)
    assert found.low.lb < 25 and found.high.lb > 30
