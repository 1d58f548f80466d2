"""Files that a person names: opened here, handed on as text."""

from __future__ import annotations

import sys
from base64 import b64encode
from pathlib import Path
from typing import TYPE_CHECKING

from waney.figures.problem import Problem

if TYPE_CHECKING:
    from waney.drying.meter_sheet import MeterSheet
    from waney.wood.climate import Climate, HourlyYear

OUTPUT = Path("-")
"""Instead of a file: the output."""


class NotText(Problem):
    """A file that should be a sheet is not text."""


class NoFolder(Problem):
    """An answer is to be written where there is no folder."""


def read_text(path: Path) -> str:
    """The text of a file. Raises OSError, NotText."""
    try:
        return path.read_text(encoding="utf-8")
    except UnicodeDecodeError:
        raise NotText(f"{path} is not a text file in UTF-8; hand over a sheet.") from None


def weather_of(rows: Path) -> tuple[Climate, HourlyYear | None]:
    """A person's own weather out of a file, named by it where it does not name its place. Raises OSError, NotText, BadWeather."""
    from waney.wood.own_weather import YOURS, own_weather

    return own_weather(read_text(rows).splitlines(), f"{YOURS} ({rows.name})")


def meter_of(sheet: Path | None) -> MeterSheet:
    """What the maker of a moisture meter prints, out of a meter sheet; None: nobody typed it in. Raises OSError, NotText,
    SheetProblems."""
    from waney.drying.meter_sheet import NOT_TYPED, read_meter_sheet
    from waney.units.sheet import called

    if sheet is None:
        return NOT_TYPED
    with called(str(sheet)):
        return read_meter_sheet(read_text(sheet))


def log_sheets(path: Path) -> dict[str, str]:
    """A log sheet and, where it names one, its scan from the same folder (base64)."""
    from waney.logs.sheet import log_sheet
    from waney.units.sheet import called

    text = read_text(path)
    with called(str(path)):
        scan = log_sheet(text).scan
    if scan is None:
        return {"log": text}
    return {"log": text, "scan": b64encode((path.parent / scan.file).read_bytes()).decode("ascii")}


def can_be_written(*paths: Path | None) -> None:
    """Asks before the work, not after it, whether there is a folder for each answer. Raises NoFolder."""
    for path in paths:
        if path is not None and not path.parent.is_dir():
            raise NoFolder(f"{path} cannot be written: there is no folder {path.parent}; make it first, or name another.")


def write(path: Path, content: str | bytes) -> None:
    """Write a file whole, and say so on the error stream; `-` is the output."""
    if path == OUTPUT:
        print(content if isinstance(content, str) else content.decode("utf-8"), end="")
        return
    path.write_bytes(content if isinstance(content, bytes) else content.encode("utf-8"))
    print(f"Written: {path}", file=sys.stderr)
