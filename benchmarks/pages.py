"""Pages that several benchmarks write into: each has its own part of docs/performance.md."""

from __future__ import annotations

from pathlib import Path

PAGE = Path(__file__).parents[1] / "docs" / "performance.md"
BOOK, SERVED = "# How long the yard book takes\n", "# How long pages take\n"


def parts() -> tuple[str, str, str]:
    """The parts on saw plans, on the yard book, and on pages."""
    plans, found, rest = PAGE.read_text(encoding="utf-8").partition(BOOK)
    book, served, pages = rest.partition(SERVED)
    return plans.strip(), (found + book).strip(), (served + pages).strip()


def write_plans(text: str) -> None:
    """The part on saw plans anew."""
    _write(text, *parts()[1:])


def write_book(text: str) -> None:
    """The part on the yard book anew."""
    plans, _, pages = parts()
    _write(plans, BOOK + "\n" + text, pages)


def write_served(text: str) -> None:
    """The part on pages anew."""
    _write(*parts()[:2], SERVED + "\n" + text)


def _write(*found: str) -> None:
    PAGE.write_text("\n\n".join(part.strip() for part in found if part.strip()) + "\n", encoding="utf-8")
