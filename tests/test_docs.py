"""Documents do not rot: pages are written from what they describe, links lead somewhere, nothing points outside."""

from __future__ import annotations

import re
import subprocess
from enum import StrEnum
from functools import cache
from pathlib import Path

import pytest
from tests.scripts import load

from waney.logs.measured import Hidden, Inside
from waney.prices.product import Edges, Grain, Per, Surface, WidthRule
from waney.prices.rules import Ranking
from waney.sawing.mill import End
from waney.sawing.wants import Pattern, Tip

ROOT = Path(__file__).parents[1]
DOCS = ROOT / "docs"
PAGES = sorted([*ROOT.glob("*.md"), *DOCS.rglob("*.md")])

MACHINE_PATH = re.compile(r"(?<![\w./<])/(?:[w]ork|[f]arm|[t]mp|[o]pt|[h]ome|[r]oot|[U]sers)/")
ADDRESS = re.compile(r"(?:[h]ttps?|[f]tp)://[\w.-]+|\b[w]ww\.[\w-]+\.\w+|\b(?:[p]ypi|[p]ythonhosted|[n]pmjs)\.(?:org|com)\b")
NAMES_OF_FORMATS = ("://json-schema.org", "://www.w3.org", "www.w3.org")
"""These say which format a file has; nothing is fetched from there."""


@cache
def tracked() -> tuple[Path, ...]:
    """Every file in version control; skipped where there is none (an unpacked archive)."""
    try:
        listed = subprocess.run(["git", "ls-files"], cwd=ROOT, capture_output=True, text=True, check=True).stdout
    except (OSError, subprocess.CalledProcessError):
        pytest.skip("needs the clone (git ls-files)")
    return tuple(path for line in listed.splitlines() if (path := ROOT / line).is_file())


def text_of(path: Path) -> str:
    return path.read_text(encoding="utf-8", errors="replace")


def outside_of(text: str) -> list[str]:
    """Machine paths and addresses in a text."""
    addresses = [hit for hit in ADDRESS.findall(text) if not hit.endswith(NAMES_OF_FORMATS)]
    return MACHINE_PATH.findall(text) + addresses


def test_no_tracked_file_holds_an_address_or_a_path_of_a_machine() -> None:
    found = {str(path.relative_to(ROOT)): hits for path in tracked() if (hits := outside_of(text_of(path)))}
    assert found == {}


@pytest.mark.parametrize("text", ["see http" + "://example.org/x", "/wo" + "rk/main", "'/ho" + "me/me/x'", "from py" + "pi.org"])
def test_addresses_and_paths_are_found(text: str) -> None:
    assert outside_of(text)


def test_the_page_of_sources_is_what_the_registry_says() -> None:
    writer = load(ROOT / "tools" / "sources_page.py")
    assert text_of(DOCS / "sources.md") == writer.page(), "run: python tools/sources_page.py"


# decisions

DECISIONS = sorted((DOCS / "decisions").glob("*.md"))


def test_decisions_are_numbered_without_gaps() -> None:
    assert [path.name[:5] for path in DECISIONS] == [f"{n:04d}-" for n in range(1, len(DECISIONS) + 1)]


@pytest.mark.parametrize("path", DECISIONS, ids=lambda path: path.stem)
def test_a_decision_says_why_what_and_at_what_cost(path: Path) -> None:
    text = text_of(path)
    assert text.startswith(f"# {int(path.name[:4])}. ")
    for part in ("Status:", "Context", "Decision", "Consequences", "Reconsider"):
        assert part in text, f"{path.name} lacks {part}"


# commands and links


@cache
def commands() -> frozenset[str]:
    return frozenset(load(ROOT / "dev.py").COMMANDS)


@pytest.mark.parametrize("path", PAGES, ids=lambda path: str(path.relative_to(ROOT)))
def test_a_page_names_only_commands_that_are_there(path: Path) -> None:
    assert set(re.findall(r"dev\.py (\w+)", text_of(path))) <= commands()


def test_the_readme_gives_the_two_commands_and_contributing_the_rest() -> None:
    readme, contributing = (text_of(ROOT / name) for name in ("README.md", "CONTRIBUTING.md"))
    assert all(f"python3 dev.py {name}" in readme for name in ("run", "test"))
    assert all(f"python3 dev.py {name}" in contributing for name in commands() - {"run"})


@pytest.mark.parametrize("path", PAGES, ids=lambda path: str(path.relative_to(ROOT)))
def test_links_lead_to_files_that_are_there(path: Path) -> None:
    links = [link.partition("#")[0] for link in re.findall(r"\]\(([^)\s]+)\)", text_of(path))]
    assert [link for link in links if link and not (path.parent / link).exists()] == []


def test_the_changelog_keeps_to_its_sections() -> None:
    text = text_of(ROOT / "CHANGELOG.md")
    assert re.findall(r"^## (.*)$", text, re.MULTILINE)[0] == "[Unreleased]"
    sections = set(re.findall(r"^### (.*)$", text, re.MULTILINE))
    assert sections <= {"Added", "Changed", "Deprecated", "Removed", "Fixed", "Security"}


# the words

GLOSSARY = text_of(DOCS / "glossary.md")
ROWS = [[cell.strip() for cell in line.strip("|").split("|")] for line in GLOSSARY.splitlines() if line.startswith("| ")]
TERMS = [row[0] for row in ROWS if row[0] != "Word"]
WORDS_OF_SHEETS = (Inside, Hidden, Edges, Surface, Grain, Per, WidthRule, Ranking, End, Pattern, Tip)
SMALL_WORDS = {"and", "the", "this", "with", "square", "mean"}


def test_the_glossary_explains_each_word_once_and_in_order() -> None:
    assert len(TERMS) == len(set(TERMS))
    for section in GLOSSARY.split("\n## ")[1:]:
        terms = [re.split(r"[ |]*\|", line)[1].strip().lower() for line in section.splitlines() if line.startswith("| ")][1:]
        assert terms == sorted(terms), section.splitlines()[0]
    assert all(len(row) >= 2 and row[1] for row in ROWS)


@pytest.mark.parametrize("words", WORDS_OF_SHEETS, ids=lambda words: words.__name__)
def test_every_word_that_a_sheet_understands_is_in_the_glossary(words: type[StrEnum]) -> None:
    known = GLOSSARY.lower().replace("-", " ")
    for value in words:
        for word in re.findall(r"[a-z]{4,}", value.replace("-", " ")):
            assert word in SMALL_WORDS or word in known, f"{value} is not explained"


ALONE = re.compile(r"(?<!live-edge )(?<!live-edge\n)(?<!outside )(?<!\\b\()\bslabs?\b", re.IGNORECASE)


def test_a_slab_is_never_called_slab_alone() -> None:
    """Live-edge slab or outside slab: one is sold, the other is burnt. (Patterns that read what people write may.)"""
    told = [*(ROOT / "src").rglob("*.py"), *(page for page in PAGES if page.name != "glossary.md")]
    found = {str(path.relative_to(ROOT)): hits for path in told if (hits := ALONE.findall(text_of(path)))}
    assert found == {}
