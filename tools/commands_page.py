"""Writes docs/commands.md from the commands' own help."""

from __future__ import annotations

import ast
import inspect
from pathlib import Path

from typer.testing import CliRunner

from waney.cli.app import Ended, app
from waney.cli.formats import FORMATS
from waney.cli.main import COMMANDS

PAGE = Path(__file__).parents[1] / "docs" / "commands.md"
TOP = """\
# Commands

Written by `python tools/commands_page.py` from the help of each command.

`waney` stands in `.venv/bin` after the first `python3 dev.py run`; `python -m waney` is the same. What a person can mend is
answered with one line on the error stream that says what to change; a sheet with several slips, with one line for each.
Anything over a second says on a terminal how far it is.

| code | how the command ended |
|---|---|
{codes}

## JSON

`--json PATH` writes the answer as JSON besides the text; `--json -` writes it to the output in place of the text. `plan` and
`demo` write the best plan, with the sheets it was made from. Everything is in SI, the unit at the end of each name; moisture,
humidity and shrinkage are shares of one; money is whole cents; a range is likely, low and high (the 50, 5 and 95 % points) with
its basis; null: not known. `--units` changes the text alone. What `take-in` reads is `waney-commands/1`
([waney-commands-1.json](schemas/waney-commands-1.json), [in words](design/yard.md)).

| command | format | schema |
|---|---|---|
{formats}
"""
COMMAND_OF = {"places": "emc --state", "copy": "backup, export, restore", "examined": "examine", "taken": "take-in"}


def codes() -> str:
    """A row for each exit code, from the words beside it in the source."""
    body = ast.parse(inspect.getsource(Ended)).body[0]
    assert isinstance(body, ast.ClassDef)
    said = [str(node.value.value) for node in body.body if isinstance(node, ast.Expr) and isinstance(node.value, ast.Constant)]
    return "\n".join(f"| {code.value} | {words} |" for code, words in zip(Ended, said[1:], strict=True))


def formats() -> str:
    """A row for each form of answer."""
    rows = ["| plan, demo | `waney-plan/1` | [waney-plan-1.json](schemas/waney-plan-1.json) |"]
    for form in FORMATS.values():
        command = form.removeprefix("waney-").partition("/")[0]
        file = form.replace("/", "-") + ".json"
        rows.append(f"| {COMMAND_OF.get(command, command)} | `{form}` | [{file}](schemas/{file}) |")
    return "\n".join(rows)


def page() -> str:
    """The whole page."""
    runner = CliRunner(env={"COLUMNS": "100", "TERMINAL_WIDTH": "100"})
    parts = [TOP.format(codes=codes(), formats=formats())]
    for name in ("", *COMMANDS):
        said = runner.invoke(app, [name, "--help"] if name else ["--help"]).output.rstrip()
        parts.append(f"## waney {name}".rstrip() + f"\n\n```\n{said}\n```\n")
    return "\n".join(parts)


if __name__ == "__main__":
    PAGE.write_text(page(), encoding="utf-8")
