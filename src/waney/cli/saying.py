"""Saying an answer: as text for people, or as JSON for whatever comes next."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from pathlib import Path

from waney.cli.files import OUTPUT, write


def say(answer: object, to_json: Path | None, lines: Callable[[], Iterable[str]]) -> None:
    """Prints the lines unless the JSON takes the output; writes the JSON where it is wanted."""
    if to_json != OUTPUT:
        print("\n".join(lines()))
    if to_json is not None:
        from waney.cli.formats import as_json

        write(to_json, as_json(answer))
