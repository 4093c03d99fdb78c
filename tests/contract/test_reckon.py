"""Every figure the command contract names, asked on the command line, against the published answer beside it."""

from __future__ import annotations

import pytest

from tests.contract.tables import holds, rows, words_of

TABLES = ("us_weights.toml", "honey.toml", "barcode.toml", "world.toml")


@pytest.mark.parametrize("row", rows(*TABLES))
def test_a_figure_is_as_published(labelkit, row):
    ran = labelkit("reckon", *words_of(row), day=row.get("day", "2026-11-25"))
    if "refused" in row:
        assert ran.code == 2
        assert ran.error["name"] == row["refused"]
        return
    assert ran.code == 0, ran.err
    assert ran.err == ""
    holds(row, ran.document)
