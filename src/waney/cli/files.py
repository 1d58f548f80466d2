"""Files that a person names: opened here, handed on as text."""

from __future__ import annotations

from base64 import b64encode
from pathlib import Path

from waney.figures.problem import Problem


class NotText(Problem):
    """A file that should be a sheet is not text."""


def read_text(path: Path) -> str:
    """The text of a file. Raises OSError, NotText."""
    try:
        return path.read_text(encoding="utf-8")
    except UnicodeDecodeError:
        raise NotText(f"{path} is not a text file in UTF-8; hand over a sheet.") from None


def log_sheets(path: Path) -> dict[str, str]:
    """A log sheet and, where it names one, its scan from the same folder (base64)."""
    from waney.logs.sheet import log_sheet

    text = read_text(path)
    scan = log_sheet(text).scan
    if scan is None:
        return {"log": text}
    return {"log": text, "scan": b64encode((path.parent / scan.file).read_bytes()).decode("ascii")}


def write(path: Path, content: str | bytes) -> None:
    """Write a file whole and say so."""
    path.write_bytes(content if isinstance(content, bytes) else content.encode("utf-8"))
    print(f"Written: {path}")
