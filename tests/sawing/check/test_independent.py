"""The checker stands alone: it imports values and the log's own definition, no optimiser, no measuring, no valuing."""

from __future__ import annotations

import ast
from pathlib import Path

import pytest

CHECK = Path(__file__).parents[3] / "src" / "waney" / "sawing" / "check"
ALLOWED = {
    "waney.figures.problem",
    "waney.logs.frames", "waney.logs.measured", "waney.logs.rings", "waney.logs.shape",
    "waney.pieces.piece",
    "waney.prices.product", "waney.prices.rules", "waney.prices.worth",
    "waney.sawing.mill", "waney.sawing.moves", "waney.sawing.plan", "waney.sawing.wants",
}  # fmt: skip
VALUES_OF_WORTH = {"Term", "Worth"}


@pytest.mark.parametrize("path", sorted(CHECK.glob("*.py")), ids=lambda p: p.name)
def test_the_checker_imports_values_only(path: Path) -> None:
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        modules = [a.name for a in node.names] if isinstance(node, ast.Import) else []
        modules += [node.module or ""] if isinstance(node, ast.ImportFrom) else []
        for module in modules:
            own = module.startswith("waney.sawing.check") or not module.startswith("waney")
            assert own or module in ALLOWED, f"{path.name} imports {module}"
            assert module.partition(".")[0] not in {"shapely", "numba", "highspy", "scipy"}, f"{path.name} imports {module}"
        if isinstance(node, ast.ImportFrom) and node.module == "waney.prices.worth":
            assert {a.name for a in node.names} <= VALUES_OF_WORTH
