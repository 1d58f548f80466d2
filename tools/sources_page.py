"""Writes docs/sources.md from the source registry: python tools/sources_page.py"""

from __future__ import annotations

from collections import Counter
from pathlib import Path

from waney.figures.sources import Source, Status, sources

PAGE = Path(__file__).parents[1] / "docs" / "sources.md"

MEANING = {
    Status.SEEN: "read in the publication itself or in an open copy of it",
    Status.MIXED: "some values read, some remembered; the rows of the table say which",
    Status.MEMORY: "remembered, not yet checked against the publication; printed with that mark",
    Status.COMPUTED: "computed for this project, from equations that were read",
}


def page() -> str:
    """The whole page. Rows in alphabetical order of their keys."""
    entries = sorted(sources().values(), key=lambda entry: entry.key)
    counts = Counter(entry.status for entry in entries)
    lines = [
        "# Sources",
        "",
        "Every figure that Waney prints leads to one of these, to a reading, to the shop's own record, or says that it has no",
        "source. This page is written from `src/waney/data/sources.csv` by `tools/sources_page.py`; a test keeps the two alike.",
        "",
        *(f"- **{status}** ({counts[status]}): {meaning}" for status, meaning in MEANING.items()),
        "",
        "| Key | Publication | Where in it | Year | Values |",
        "|---|---|---|---|---|",
        *(_row(entry) for entry in entries),
    ]
    return "\n".join(lines) + "\n"


def _row(entry: Source) -> str:
    cells = (f"`{entry.key}`", entry.title, entry.table, entry.year, str(entry.status))
    return "| " + " | ".join(cell.replace("|", "\\|") for cell in cells) + " |"


if __name__ == "__main__":
    PAGE.write_text(page(), encoding="utf-8")
