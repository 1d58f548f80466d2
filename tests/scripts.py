"""Scripts that are no part of the package, as modules."""

from __future__ import annotations

import importlib.util
import sys
from functools import cache
from pathlib import Path
from types import ModuleType

TOOLS = Path(__file__).parents[1] / "tools"


@cache
def load(path: Path) -> ModuleType:
    """A script, run as far as its main part; what lies beside it is found by its name alone, as when it is run."""
    spec = importlib.util.spec_from_file_location(path.stem, path)
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    sys.modules[path.stem] = module  # what dataclasses look their annotations up in
    sys.path.insert(0, str(path.parent))
    try:
        spec.loader.exec_module(module)
    finally:
        sys.path.remove(str(path.parent))
    return module
