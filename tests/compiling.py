"""Compiles what the program runs compiled, by having it do some of each: `python -m tests.compiling`.

A run of all tests starts this beside them (see conftest), so that two workers never compile the same at the same moment, and what
needs machine code waits for it.
"""

from __future__ import annotations

import tempfile
from pathlib import Path

from typer.testing import CliRunner

from waney.cli.main import app
from waney.sawing.wants import Pattern

DEMO = Path(__file__).parents[1] / "src" / "waney" / "data" / "demo"
PATTERNS = "patterns = [" + ", ".join(f'"{pattern}"' for pattern in Pattern) + "]"
DRIED = ("--state", "IN", "--place", "Indianapolis", "--start", "2026-04-01", "--weighed", "1, 2026-06-20, 79 lb")


def done(*words: str) -> None:
    """A command that nobody reads the answer of; what is wrong with it, a test finds."""
    CliRunner().invoke(app, words)


def compile_all() -> None:
    with tempfile.TemporaryDirectory() as folder:
        wants, plan = Path(folder) / "wants.toml", str(Path(folder) / "plan.json")
        few = ('patterns = ["through", "half-turn"]\nrolls_every = 30', f"{PATTERNS}\nrolls_every = 180")
        wants.write_text((DEMO / "wants.toml").read_text("utf-8").replace(*few), "utf-8")
        done("plan", str(DEMO / "log.toml"), "--mill", str(DEMO / "mill.toml"), "--wants", str(wants), "--json", plan)
        done("replay", plan)
    done("dry", "--piece", "black walnut, 8/4", *DRIED)
    done("grade", str(DEMO / "board.toml"))
    done("measure", str(DEMO / "piece.toml"))


if __name__ == "__main__":
    compile_all()
