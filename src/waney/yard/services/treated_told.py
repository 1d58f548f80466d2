"""Heat treatment as it was told when wood came back, judged by what its core record shows."""

from __future__ import annotations

from waney.drying.core_record import CORE_C, HELD_MIN, CoreHeld, CoreReading, held
from waney.yard.acts.kilns import Treated
from waney.yard.book.kiln_seen import Back


def record_held(back: Back) -> CoreHeld | None:
    """What the readings of its core record show; None where no record was told reading by reading."""
    return held([CoreReading(*one) for one in back.record]) if back.record else None


def record_shows(back: Back) -> bool:
    """Whether a core record was told, and it shows the common rule kept: by its readings, else by what was told of it."""
    if back.treated is not Treated.RECORD:
        return False
    read = record_held(back)
    if read is not None:
        return read.shown
    return back.core_c is not None and back.core_min is not None and back.core_c >= CORE_C and back.core_min >= HELD_MIN


def treated_said(back: Back) -> str:
    """How a page or a paper says it: a record that falls short of the rule is none of a treatment."""
    if back.treated is Treated.RECORD and not record_shows(back):
        return f"not shown: its core record is short of {CORE_C:.0f} °C for {HELD_MIN} minutes"
    return str(back.treated)
