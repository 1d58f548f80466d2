"""Pages that several benchmarks write into: each has its own part of docs/performance.md."""

from __future__ import annotations

from pathlib import Path

PAGE = Path(__file__).parents[1] / "docs" / "performance.md"
BOOK, SERVED, DRYING = "# How long the yard book takes\n", "# How long pages take\n", "# How long drying takes\n"
PACKING, GROUPS = "# How piles are packed\n", "# How lots are parted into loads\n"
BOULES = "# How often a boule comes back in order\n"
LATER = (BOOK, SERVED, DRYING, PACKING, BOULES, GROUPS)
"""Headings of the parts after the first, in their order."""


def parts() -> list[str]:
    """The parts on saw plans, on the yard book, on pages, on drying, on packing, on boules and on loads."""
    rest, found = PAGE.read_text(encoding="utf-8"), []
    for heading in reversed(LATER):
        rest, head, text = rest.partition(heading)
        found.append((head + text).strip())
    return [rest.strip(), *reversed(found)]


def write_plans(text: str) -> None:
    """The part on saw plans anew."""
    _write(text, *parts()[1:])


def write_part(heading: str, text: str) -> None:
    """One of the later parts anew."""
    found = parts()
    found[1 + LATER.index(heading)] = f"{heading}\n{text}"
    _write(*found)


def write_book(text: str) -> None:
    """The part on the yard book anew."""
    write_part(BOOK, text)


def write_served(text: str) -> None:
    """The part on pages anew."""
    write_part(SERVED, text)


def write_drying(text: str) -> None:
    """The part on drying anew."""
    write_part(DRYING, text)


def _write(*found: str) -> None:
    PAGE.write_text("\n\n".join(part.strip() for part in found if part.strip()) + "\n", encoding="utf-8")
