"""Every test that asks for ``where`` runs on both engines."""

from __future__ import annotations

import pytest

from tests.record.server import new_database


@pytest.fixture(params=["file", pytest.param("server", marks=pytest.mark.postgres)])
def where(request, tmp_path):
    """A place for a new record: a file, and a database on a real server."""
    return new_database() if request.param == "server" else str(tmp_path / "season.labelkit")


@pytest.fixture
def file(tmp_path):
    """A place for a new record in a file."""
    return tmp_path / "season.labelkit"
