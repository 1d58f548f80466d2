"""A yard that the demo made, and a plan of few ways to lay a log."""

from __future__ import annotations

import shutil
import subprocess
from pathlib import Path

import pytest

from .calling import EXAMPLES, HERE, WANEY, WANTS


@pytest.fixture(scope="session")
def yard(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder in which `waney demo` has made its yard, as a process of its own would."""
    folder = tmp_path_factory.mktemp("newcomer")
    done = subprocess.run([*WANEY, "demo", "--no-serve"], cwd=folder, env=HERE, capture_output=True, text=True)
    assert done.returncode == 0, done.stderr
    assert "optimal on the stated" in done.stdout
    return folder


@pytest.fixture
def in_yard(yard: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    shutil.copytree(yard, tmp_path, dirs_exist_ok=True)
    monkeypatch.chdir(tmp_path)
    return tmp_path


@pytest.fixture
def few_ways(tmp_path: Path) -> list[str]:
    wants = tmp_path / "wants.toml"
    wants.write_text(WANTS, encoding="utf-8")
    return ["plan", str(EXAMPLES / "log-taped.toml"), "--mill", str(EXAMPLES / "mill-woodshed.toml"), "--wants", str(wants)]
