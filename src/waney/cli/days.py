"""A day as it is written on a command line."""

from __future__ import annotations

from datetime import date

from waney.cli.app import WrittenWrong


def parse_day(text: str, option: str) -> date:
    """2026-07-06. Raises WrittenWrong, naming the option."""
    try:
        return date.fromisoformat(text.strip())
    except ValueError:
        raise WrittenWrong(f"{option}: {text!r} is not a day; write for instance 2026-07-06.") from None
