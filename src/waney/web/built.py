"""Built: what was bundled for the browser, by the names that pages use."""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path

from waney.figures.problem import Problem

FOLDER = Path(__file__).parent / "built"


class NotBuilt(Problem):
    """What runs in the browser is not there."""


@dataclass(frozen=True)
class Built:
    """The folder of bundled files."""

    folder: Path = FOLDER

    @cached_property
    def names(self) -> Mapping[str, str]:
        """File by name. Raises NotBuilt."""
        try:
            found: dict[str, str] = json.loads((self.folder / "manifest.json").read_text("utf-8"))
        except FileNotFoundError:
            raise NotBuilt("What runs in the browser is not built; start with python3 dev.py run, or install a wheel.") from None
        return found

    def address(self, name: str) -> str:
        """Where a page finds a file."""
        return f"/built/{self.names[name]}"

    def text(self, name: str) -> str:
        """The content of a file, for a page that holds everything itself."""
        return (self.folder / self.names[name]).read_text("utf-8")
