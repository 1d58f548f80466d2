"""What stands on the front page, copied and done by a newcomer."""

from __future__ import annotations

import re
import shlex
import shutil
from pathlib import Path

import pytest

from .calling import DEMO, ROOT, SLIP, run


def test_the_sheets_and_commands_of_the_front_page_give_a_card(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    page = (ROOT / "README.md").read_text(encoding="utf-8")
    sheets = re.findall(r"```toml\n# ([a-z]+\.toml)\n(.*?)```", page, re.DOTALL)
    assert [name for name, _ in sheets] == ["log.toml", "mill.toml", "wants.toml"]
    for name, text in sheets:
        (tmp_path / name).write_text(text, encoding="utf-8")
    monkeypatch.chdir(tmp_path)
    lines = re.findall(r"^\.venv/bin/waney (.*)$", page, re.MULTILINE)
    assert [line.split()[0] for line in lines] == ["scale", "plan", "replay"]
    for line in lines:
        code, said, told = run(*shlex.split(line))
        assert code == 0, told
    assert (tmp_path / "card.pdf").read_bytes().startswith(b"%PDF") and said.startswith("Log, through: Every lie")


def test_a_slip_in_one_of_three_sheets_names_the_sheet(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    for name in ("log", "mill", "wants"):
        slip = (DEMO / f"{name}.toml").read_text(encoding="utf-8").replace('"in"', '"inches tall"')
        (tmp_path / "slip.toml").write_text(slip, encoding="utf-8")
        words = {"log": "log.toml", "mill": "mill.toml", "wants": "wants.toml"} | {name: "slip.toml"}
        shutil.copytree(DEMO, tmp_path, dirs_exist_ok=True)
        code, _, told = run("plan", words["log"], "--mill", words["mill"], "--wants", words["wants"])
        assert code == SLIP and told.startswith("slip.toml, line" if name == "log" else f"{name} sheet, line")


def test_the_first_time_says_that_it_prepares(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    from waney.cli import offering

    monkeypatch.setattr(offering, "COMPILED", True)
    monkeypatch.setattr(offering, "cache_folder", lambda sources: tmp_path)
    (tmp_path / "kernel").mkdir()  # what an import leaves behind before anything is compiled
    offering._say_first_time()
    assert offering.FIRST_TIME in capsys.readouterr().err
    (tmp_path / "kernel" / "path.nbi").touch()
    offering._say_first_time()
    assert capsys.readouterr().err == ""
