"""Pages that several benchmarks write into: each has its own part of docs/performance.md."""

from __future__ import annotations

from pathlib import Path

PAGE = Path(__file__).parents[1] / "docs" / "performance.md"
BOOK = "# How long the yard book takes\n"


def parts() -> tuple[str, str]:
    """The part on saw plans, and the part on the yard book that follows."""
    plans, found, book = PAGE.read_text(encoding="utf-8").partition(BOOK)
    return plans.rstrip() + "\n", found + book


def write_plans(text: str) -> None:
    """The part on saw plans anew."""
    PAGE.write_text(text.rstrip() + "\n\n" + parts()[1], encoding="utf-8")


def write_book(text: str) -> None:
    """The part on the yard book anew."""
    PAGE.write_text(parts()[0] + "\n" + BOOK + "\n" + text.strip() + "\n", encoding="utf-8")
