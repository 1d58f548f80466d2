"""Set-up: the lock holds what the project asks for, and dev.py explains what stops it."""

from __future__ import annotations

import importlib.util
import re
import sys
import tomllib
from pathlib import Path
from types import ModuleType

import pytest
from packaging.requirements import Requirement
from packaging.utils import canonicalize_name

ROOT = Path(__file__).parents[1]
LOCK = (ROOT / "requirements.lock").read_text(encoding="utf-8")
PINS = [Requirement(pin) for pin in re.findall(r"^([a-z0-9][^\\\n]*==[^\\\n]*?) *\\?$", LOCK, re.MULTILINE)]
PROJECT = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))
ASKED = [*PROJECT["project"]["dependencies"], *PROJECT["dependency-groups"]["dev"], *PROJECT["build-system"]["requires"]]
PLATFORMS = [
    {"sys_platform": system, "platform_machine": machine, "python_version": python, "python_full_version": f"{python}.7"}
    for system, machine in (("linux", "x86_64"), ("linux", "aarch64"), ("darwin", "arm64"), ("win32", "AMD64"))
    for python in ("3.11", "3.13")
]


@pytest.fixture(scope="module")
def dev() -> ModuleType:
    spec = importlib.util.spec_from_file_location("dev", ROOT / "dev.py")
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


@pytest.mark.parametrize("asked", ASKED)
@pytest.mark.parametrize(
    "platform", PLATFORMS, ids=lambda p: f"{p['sys_platform']}-{p['platform_machine']}-{p['python_version']}"
)
def test_the_lock_pins_every_dependency_once_for_each_platform(asked: str, platform: dict[str, str]) -> None:
    wanted = Requirement(asked)
    pins = [
        pin
        for pin in PINS
        if canonicalize_name(pin.name) == canonicalize_name(wanted.name) and (not pin.marker or pin.marker.evaluate(platform))
    ]
    assert len(pins) == 1, "run: python3 dev.py lock"
    assert wanted.specifier.contains(str(pins[0].specifier).removeprefix("=="))


def test_every_pin_has_its_hashes() -> None:
    entries = re.split(r"^(?=[a-z0-9])", LOCK, flags=re.MULTILINE)[1:]
    assert len(entries) == len(PINS)
    assert all("--hash=sha256:" in entry for entry in entries)


def test_packages_without_a_wheel_can_be_left_out(dev: ModuleType) -> None:
    shorter = dev.without(LOCK, dev.FAST_ONLY)
    assert "numba==" in LOCK
    assert not re.search(r"^(numba|llvmlite)==", shorter, re.MULTILINE)
    assert shorter.count("==") >= LOCK.count("==") - 4
    assert dev.without(LOCK, ()) == LOCK


@pytest.mark.parametrize(
    ("said", "sentence"),
    [
        ("WARNING: Retrying ... NewConnectionError('... Temporary failure in name resolution')", "needs the network once"),
        (
            "ERROR: THESE PACKAGES DO NOT MATCH THE HASHES FROM THE REQUIREMENTS FILE.",
            "is not the one that requirements.lock names",
        ),
        ("ERROR: No matching distribution found for shapely==2.2.0", "no ready-made package of shapely"),
        ("ERROR: something else", "something else"),
    ],
)
def test_what_stops_set_up_is_said_in_a_sentence(dev: ModuleType, said: str, sentence: str) -> None:
    assert sentence in str(dev.explained([said]))


def test_a_missing_venv_module_is_said_in_a_sentence(dev: ModuleType, monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.setitem(sys.modules, "ensurepip", None)
    with pytest.raises(dev.Stumble, match="python3-venv"):
        dev.make_venv(tmp_path / "venv", tmp_path / "venv" / "bin" / "python")


def test_set_up_is_done_again_only_after_a_change(dev: ModuleType, monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    for name, path in {"PYTHON": "python", "STAMP": "stamp", "LOCK": "lock", "PYPROJECT": "pyproject"}.items():
        monkeypatch.setattr(dev, name, tmp_path / path)
        (tmp_path / path).write_text(name, encoding="utf-8")
    assert not dev.ready()
    (tmp_path / "stamp").write_text(dev.stamp(), encoding="utf-8")
    assert dev.ready()
    (tmp_path / "lock").write_text("another", encoding="utf-8")
    assert not dev.ready()


def test_an_unknown_command_prints_what_there_is(dev: ModuleType, capsys: pytest.CaptureFixture[str]) -> None:
    assert dev.main(["fly"]) == 2
    assert "python3 dev.py run" in capsys.readouterr().out


def test_a_check_that_lacks_what_it_needs_is_said_not_to_have_run(
    dev: ModuleType, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    codes = dict.fromkeys(dev.CHECKS, 0) | {"the yard book in PostgreSQL": dev.NOT_RUN}
    names = {command: name for name, command in dev.CHECKS.items()}
    monkeypatch.setattr(dev, "call", lambda *command: codes[names[command]])
    assert dev.check([]) == 0
    said = capsys.readouterr().out
    assert "NOT run here: the yard book in PostgreSQL" in said and "All checks passed." not in said
    codes["style"] = 1
    assert dev.check([]) == 1 and "Failed: style." in capsys.readouterr().out


def test_the_postgresql_of_the_check_says_that_it_is_missing(dev: ModuleType, monkeypatch: pytest.MonkeyPatch) -> None:
    spec = importlib.util.spec_from_file_location("postgresql", ROOT / "tools" / "postgresql.py")
    assert spec is not None and spec.loader is not None
    tool = importlib.util.module_from_spec(spec)
    monkeypatch.setitem(sys.modules, "postgresql", tool)
    spec.loader.exec_module(tool)
    monkeypatch.setattr(tool, "programs", lambda: None)
    assert tool.main(["-c", "raise SystemExit(5)"]) == dev.NOT_RUN
