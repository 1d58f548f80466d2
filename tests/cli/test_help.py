"""The page of commands and the help: what there is, and that its examples run."""

from __future__ import annotations

import shlex
import subprocess
import sys
from importlib.util import module_from_spec, spec_from_file_location
from pathlib import Path
from types import ModuleType

import pytest

from waney.cli.app import Ended
from waney.cli.formats import FORMATS
from waney.cli.main import COMMANDS

from .calling import HERE, ROOT, run


def script(name: str) -> ModuleType:
    spec = spec_from_file_location(name, ROOT / "tools" / f"{name}.py")
    assert spec is not None and spec.loader is not None
    module = module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


def test_page_of_commands_is_fresh() -> None:
    page = (ROOT / "docs" / "commands.md").read_text(encoding="utf-8")
    assert page == script("commands_page").page(), "run: python tools/commands_page.py"


def test_page_of_commands_lists_every_exit_code_and_every_format() -> None:
    page = (ROOT / "docs" / "commands.md").read_text(encoding="utf-8")
    assert all(f"| {code.value} |" in page for code in Ended)
    assert all(f"`{name}`" in page for name in (*FORMATS.values(), "waney-plan/1"))


OF_THE_BOOK = {"take-in", "examine", "backup", "restore", "export", "waiting", "sell", "shop-window"}
"""They print no sizes, so there is no choice of units."""
GO_ON = {"serve"}
"""They go on until somebody stops them; test_serving does."""


def test_every_command_has_units_json_and_examples_that_can_be_copied() -> None:
    for name, told in COMMANDS.items():
        code, said, _ = run(name, "--help")
        assert code == 0
        assert ("--units <in|mm>" in said) == (name not in OF_THE_BOOK | GO_ON)
        assert ("--json <path|->" in said) == (name not in GO_ON)
        assert all(f"    {line}\n" in f"{said}\n" for line in told.examples), said


@pytest.mark.long
@pytest.mark.parametrize("line", [line for name, told in COMMANDS.items() if name not in GO_ON for line in told.examples])
def test_every_example_runs_where_the_demo_has_made_its_yard(line: str, in_yard: Path) -> None:
    program, *words = shlex.split(line)
    if words[0] == "restore":  # it begins where backup's example ends
        assert run(*shlex.split(COMMANDS["backup"].examples[0])[1:])[0] == 0
    code, said, told = run(*words)
    assert program == "waney" and code == 0, told
    assert said.strip()


def test_the_bare_command_shows_what_there_is() -> None:
    code, said, _ = run()
    assert code == 0 and all(f"\n  {name} " in said for name in COMMANDS)


def test_help_starts_without_the_engines() -> None:
    code = "import sys; import waney.cli.main; print([m for m in ('numpy', 'scipy', 'numba') if m in sys.modules])"
    assert subprocess.run([sys.executable, "-c", code], env=HERE, capture_output=True, text=True).stdout.strip() == "[]"
