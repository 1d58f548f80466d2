"""Hatch's hook for wheels: builds what runs in the browser into the package, so that an installed wheel needs no node."""

from __future__ import annotations

import importlib.util
import sys
from pathlib import Path
from types import ModuleType
from typing import Any

from hatchling.builders.hooks.plugin.interface import BuildHookInterface


class ClientHook(BuildHookInterface[Any]):
    """Bundles client/ before the files of a wheel are gathered."""

    def initialize(self, version: str, build_data: dict[str, Any]) -> None:
        """For an editable install nothing: dev.py builds then, and again whenever a source has changed."""
        if version != "editable" and _client(Path(self.root)).build():
            raise RuntimeError("What runs in the browser could not be built.")


def _client(root: Path) -> ModuleType:
    spec = importlib.util.spec_from_file_location("waney_client_tool", root / "tools" / "client.py")
    if spec is None or spec.loader is None:
        raise RuntimeError("tools/client.py is missing.")
    module = importlib.util.module_from_spec(spec)
    sys.modules[spec.name] = module  # dataclasses look their module up
    spec.loader.exec_module(module)
    return module
