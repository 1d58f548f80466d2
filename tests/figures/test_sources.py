"""The source registry: every row is whole, every key in code and tables stands in it."""

from __future__ import annotations

import ast
from pathlib import Path

import pytest

from waney.figures.cited_in import uses
from waney.figures.estimate import Ground
from waney.figures.sources import Source, Status, UnknownSource, cited, source, sources
from waney.figures.tables import table

ROOT = Path(__file__).parents[2]
SRC = ROOT / "src" / "waney"


def test_keys_are_unique() -> None:
    keys = [row["key"] for row in table("sources")]
    assert len(keys) == len(set(keys))


@pytest.mark.parametrize("entry", sources().values(), ids=lambda entry: entry.key)
def test_every_source_has_key_title_year_and_status(entry: Source) -> None:
    assert entry.key == entry.key.strip().lower()
    assert entry.title.strip()
    assert entry.year == "undated" or any(letter.isdigit() for letter in entry.year)


def test_a_remembered_source_carries_its_mark() -> None:
    remembered = Source("x", "A handbook", "Table 1", "1999", Status.MEMORY)
    assert str(remembered) == "A handbook, 1999, Table 1 (from memory, not yet checked)"
    for entry in sources().values():
        assert ("from memory" in cited(entry.key).note) == (entry.status is Status.MEMORY)


def test_a_citation_leads_to_its_source() -> None:
    basis = cited("fpl-gtr-282", "Eq 4-5")
    assert (basis.ground, basis.key, basis.note) == (Ground.SOURCE, "fpl-gtr-282", "Eq 4-5")
    assert source(basis.key).title.startswith("Wood Handbook")


def test_an_unknown_key_is_refused() -> None:
    with pytest.raises(UnknownSource, match="fpl-gtr-000"):
        cited("fpl-gtr-000")


def keys_cited_in(path: Path) -> set[str]:
    """Literal keys of `cited(...)`, `source(...)` and `Basis(Ground.SOURCE, ...)` in a module."""
    keys: set[str] = set()
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if not (isinstance(node, ast.Call) and isinstance(node.func, ast.Name)):
            continue
        place = {"cited": 0, "source": 0, "Basis": 1}.get(node.func.id)
        if node.func.id == "Basis" and not ast.unparse(node).startswith("Basis(Ground.SOURCE"):
            continue
        if place is not None and len(node.args) > place and isinstance(node.args[place], ast.Constant):
            keys.add(str(ast.literal_eval(node.args[place])))
    return keys


@pytest.mark.parametrize("path", sorted(SRC.rglob("*.py")), ids=lambda path: str(path.relative_to(SRC)))
def test_every_key_cited_in_code_stands_in_the_registry(path: Path) -> None:
    assert keys_cited_in(path) <= sources().keys()


def test_a_source_is_used_where_it_is_said_to_be() -> None:
    found = uses()
    assert "logs" in found["fsh-2409-11"] and "drying" in found["fpl-ah-188"]
    assert "table of scribner factors" in found["usfs-log-scaling"]
    assert "table of kiln schedules" in found["fpl-ah-188"], "a note above a table names it for all rows"
    assert all("figures" not in places for places in found.values()), "an example of how the registry is read is no use"


def test_a_source_that_no_table_and_no_part_uses_is_named_in_a_methods_page_or_a_check() -> None:
    folders = ((ROOT / "docs" / "methods", "*.md"), (ROOT / "tests", "*.py"))
    text = "".join(path.read_text(encoding="utf-8") for folder, kind in folders for path in sorted(folder.rglob(kind)))
    assert [key for key, places in uses().items() if not places and key not in text] == []
