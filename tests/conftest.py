"""Fixtures for data that does not ship."""

from __future__ import annotations

import os
from pathlib import Path

import pytest


@pytest.fixture(scope="session")
def shared() -> Path:
    """The folder of data that may be used in tests but not shipped; skipped, loudly, where it is not there."""
    folder = os.environ.get("WANEY_SHARED", "")
    if not folder or not Path(folder).is_dir():
        pytest.skip("needs data that does not ship (WANEY_SHARED)")
    return Path(folder)
