"""The volume of a log on every scale: what is asked of a worker, and what it answers."""

from __future__ import annotations

import json
from dataclasses import dataclass

from waney.figures.typed_json import Decoder, Encoder, parsed

SCALE = "scale"


@dataclass(frozen=True)
class ScaleAsked:
    """A log sheet, and its scan in base64 where it names one."""

    log: str
    scan: str = ""
    metric: bool = False


@dataclass(frozen=True)
class ScaleAnswer:
    """rows: what, and how much; notes: what looks odd, and what was filled in."""

    rows: tuple[tuple[str, str], ...]
    next: str
    notes: tuple[str, ...]


def scale_bytes(asked: ScaleAsked) -> bytes:
    """The input of the job; the same question gives the same bytes."""
    return json.dumps(Encoder().encode(asked, ScaleAsked), sort_keys=True).encode("utf-8")


def answer_from(content: bytes) -> ScaleAnswer:
    """What the job said."""
    found: ScaleAnswer = Decoder().decode(parsed(content.decode("utf-8")), ScaleAnswer, "answer")
    return found
