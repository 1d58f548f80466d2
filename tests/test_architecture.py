"""Imports run one way: the layers of the design, for every module, with no list of exceptions."""

from __future__ import annotations

import ast
import subprocess
import sys
from pathlib import Path

import pytest

SRC = Path(__file__).parents[1] / "src" / "waney"

LAYERS: tuple[tuple[str, ...], ...] = (
    ("figures",),
    ("units",),
    ("wood",),
    ("logs",),
    ("pieces",),
    ("prices",),
    ("sawing", "drying"),
    ("making",),
    ("trade",),
    ("work",),
    ("yard",),
    ("papers",),
    ("web", "cli"),
)
RANK = {name: rank for rank, layer in enumerate(LAYERS) for name in layer}
PURE = {"units", "wood", "logs", "pieces", "prices", "sawing", "drying", "making", "trade"}
IMPURE = {"sqlite3", "time", "random", "os", "pathlib", "logging", "subprocess", "socket", "urllib"}
MODULES = sorted(path for path in SRC.rglob("*.py") if path.parent != SRC)


def imported_by(path: Path) -> set[str]:
    """Every module name that a file imports, relative imports refused."""
    names: set[str] = set()
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            names |= {alias.name for alias in node.names}
        elif isinstance(node, ast.ImportFrom):
            assert node.level == 0, f"{path.name} uses a relative import"
            names.add(node.module or "")
    return names


def test_every_package_has_a_rank() -> None:
    packages = {path.relative_to(SRC).parts[0] for path in MODULES}
    assert packages <= RANK.keys() | {"data"}


@pytest.mark.parametrize("path", MODULES, ids=lambda p: str(p.relative_to(SRC)))
def test_imports_point_one_way(path: Path) -> None:
    own = path.relative_to(SRC).parts[0]
    for name in imported_by(path):
        top, _, rest = name.partition(".")
        if top == "waney" and rest:
            other = rest.split(".")[0]
            assert other == own or RANK[other] < RANK[own], f"{own} may not import {other}"
        assert not (own in PURE and top in IMPURE), f"{own} is pure, {top} is not"


def test_what_pages_share_stands_outside_of_them() -> None:
    """So that a program such as the shop window loads what it needs and not the whole app, in whatever order."""
    web, app = SRC / "web", {"app.py", "addresses.py"}
    outside = [path for path in web.rglob("*.py") if path.parent.name != "pages" and path.name not in app]
    assert [path.name for path in outside if any(name.startswith("waney.web.pages") for name in imported_by(path))] == []


def test_the_app_starts_without_what_only_workers_need() -> None:
    loaded = "import sys, waney.web.app, waney.web.market_day; print(*{name.partition('.')[0] for name in sys.modules})"
    said = subprocess.run([sys.executable, "-c", loaded], check=True, capture_output=True, text=True).stdout.split()
    assert {"waney", "starlette"} <= set(said)
    assert not {"numba", "scipy", "cryptography", "alembic", "pydantic"} & set(said), "the first page waits for it"
