"""How sawing somebody's logs is paid."""

from __future__ import annotations

from enum import StrEnum


class How(StrEnum):
    """How a job is paid."""

    HOUR = "by the hour"
    BOARD_FOOT = "by the board foot"
    SHARES = "on shares"
