"""Writes docs/commands.md from the commands' own help."""

from __future__ import annotations

from pathlib import Path

from typer.testing import CliRunner

from waney.cli.main import app

PAGE = Path(__file__).parents[1] / "docs" / "commands.md"
NAMES = ("scale", "plan", "replay", "wood", "emc", "weight", "demo")


def page() -> str:
    """The whole page."""
    runner = CliRunner(env={"COLUMNS": "100", "TERMINAL_WIDTH": "100"})
    parts = ["# Commands\n\nWritten by `python tools/commands_page.py` from the help of each command.\n"]
    for name in NAMES:
        said = runner.invoke(app, [name, "--help"], prog_name="waney").output.rstrip()
        parts.append(f"## waney {name}\n\n```\n{said}\n```\n")
    return "\n".join(parts)


if __name__ == "__main__":
    PAGE.write_text(page(), encoding="utf-8")
