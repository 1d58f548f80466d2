"""The kernel imports nothing of the program but `figures.compiled` and itself: its folder names its cache of machine code."""

from __future__ import annotations

import ast
from pathlib import Path

import pytest

import waney.sawing.kernel

FOLDER = Path(waney.sawing.kernel.__file__).parent
ALLOWED = {"__future__", "functools", "math", "typing", "numpy", "numpy.typing", "waney.figures.compiled"}


@pytest.mark.parametrize("path", sorted(FOLDER.glob("*.py")), ids=lambda p: p.name)
def test_kernel_module_stands_alone(path: Path) -> None:
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            assert {alias.name for alias in node.names} <= ALLOWED
        if isinstance(node, ast.ImportFrom):
            assert node.module in ALLOWED or str(node.module).startswith("waney.sawing.kernel.")
