"""How the shop's printer misses on each sheet or roll of labels: found once with the try-out sheet, and kept."""

from __future__ import annotations

import json
import tomllib
from collections.abc import Mapping
from dataclasses import astuple, dataclass
from typing import Any

from waney.yard.acts.settings import Setting
from waney.yard.book.book import Answer
from waney.yard.book.looking import settings
from waney.yard.problems import NotPossible
from waney.yard.services.hand import Hand
from waney.yard.services.settings import settle_for_shop


@dataclass(frozen=True)
class Misses:
    """How far the print must move right and down [mm], and how much larger it must be [-]."""

    right_mm: float = 0.0
    down_mm: float = 0.0
    size: float = 1.0


NOT_AT_ALL = Misses()


def plain_stock(written: str) -> str:
    """A sheet or roll as it is known by: written in another way it is the same."""
    return " ".join(written.lower().split())


def kept_misses(settled: Mapping[str, str]) -> dict[str, Misses]:
    """What is kept, by the sheet or roll. Raises NotPossible for what was not written here."""
    try:
        told: dict[str, dict[str, Any]] = tomllib.loads(settled.get(Setting.PRINTER, ""))
        return {stock: Misses(**{name: float(value) for name, value in each.items()}) for stock, each in told.items()}
    except (ValueError, TypeError, AttributeError):
        raise NotPossible("How the printer misses is told under Papers.") from None


def keep_misses(hand: Hand, stock: str, misses: Misses) -> Answer | None:
    """Keep it for a sheet or roll; one that does not miss is left out. None: so it was kept already. The caller has looked
    whether stock and figures can be."""
    kept = kept_misses(settings(hand.book))
    if kept.get(plain_stock(stock), NOT_AT_ALL) == misses:
        return None
    told = {**kept, plain_stock(stock): misses}
    lines = (_line(name, each) for name, each in sorted(told.items()) if each != NOT_AT_ALL)
    return settle_for_shop(hand, Setting.PRINTER, "".join(lines))


def _line(stock: str, misses: Misses) -> str:
    right, down, size = astuple(misses)
    return f"{json.dumps(stock)} = {{ right_mm = {right!r}, down_mm = {down!r}, size = {size!r} }}\n"
