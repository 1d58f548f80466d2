"""Plate touch: what somebody told of single pieces that a plate minds. Neither pile nor days hang on it: it is said."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class PlateTouch:
    """piece: by its name; cup_m: by how much it is cupped [m]; bark_on: bark is on it still. What nobody told is nothing."""

    piece: str
    cup_m: float = 0.0
    bark_on: bool = False

    @property
    def told(self) -> bool:
        """Whether it keeps a plate off the piece."""
        return self.cup_m > 0.0 or self.bark_on
