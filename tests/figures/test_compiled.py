"""Compiled: two programs that compile one function at the same moment never read each other's machine code."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from waney.figures import compiled as module
from waney.figures.compiled import COMPILED, cache_folder, compiled


def doubled(x: float) -> float:
    return 2.0 * x


@pytest.fixture
def two_programs(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> tuple[Any, Any]:
    """The files of one function as two programs hold them, in one empty folder."""
    if not COMPILED:
        pytest.skip("nothing is compiled here (no numba)")
    monkeypatch.setattr(module, "cache_folder", lambda _sources: tmp_path)
    one, other = (compiled(doubled)._cache for _ in range(2))  # type: ignore[attr-defined]
    one._impl.locator.ensure_cache_path()
    return one._cache_file, other._cache_file


def test_no_index_names_code_that_another_program_wrote(two_programs: tuple[Any, Any], monkeypatch: pytest.MonkeyPatch) -> None:
    one, other = two_programs
    write = other._save_data

    def one_comes_between(name: str, data: Any) -> None:
        monkeypatch.setattr(one, "_load_index", dict)  # read before the other one wrote its index
        one.save("for floats", "code for floats")
        monkeypatch.undo()
        write(name, data)

    monkeypatch.setattr(other, "_save_data", one_comes_between)
    other.save("for whole numbers", "code for whole numbers")
    assert one.load("for floats") == "code for floats"
    assert other.load("for whole numbers") in (None, "code for whole numbers")


def test_what_one_program_compiled_the_next_one_finds(two_programs: tuple[Any, Any]) -> None:
    one, other = two_programs
    for key in ("for floats", "for whole numbers"):
        one.save(key, f"code {key}")
    assert [other.load(key) for key in ("for floats", "for whole numbers")] == ["code for floats", "code for whole numbers"]


def test_a_changed_source_has_a_place_of_its_own(tmp_path: Path) -> None:
    places = []
    for name, text in (("a", "x = 1\n"), ("b", "x = 2\n")):
        (tmp_path / name).mkdir()
        (tmp_path / name / "sums.py").write_text(text, encoding="utf-8")
        places.append(cache_folder(tmp_path / name))
    assert places[0] != places[1]
