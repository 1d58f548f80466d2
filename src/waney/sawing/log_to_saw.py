"""LogToSaw: a log as the sawyer needs it: shape, how it shrinks, how hard it feeds."""

from __future__ import annotations

from dataclasses import dataclass

from waney.logs.opened import Flat
from waney.logs.shape import LogShape
from waney.pieces.shrinking import Shrinking


@dataclass(frozen=True, eq=False)
class LogToSaw:
    """One log at one state of the world (the likely one, or one scenario)."""

    name: str
    species: str
    hardwood: bool
    shape: LogShape
    shrinking: Shrinking
    flats: tuple[Flat, ...] = ()
    """faces that the log has already, in the frame of its shape"""
