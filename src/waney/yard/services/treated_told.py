"""Heat treatment as it was told when wood came back, judged by what its core record shows."""

from __future__ import annotations

from waney.drying.heating import CORE_C, HELD_MIN, CoreReading, treated
from waney.yard.acts.kilns import Treated
from waney.yard.book.kiln_seen import Back


def record_shows(back: Back) -> bool:
    """Whether a core record was told, and it shows the common rule kept."""
    if back.treated is not Treated.RECORD or back.core_c is None or back.core_min is None:
        return False
    return treated([CoreReading(0.0, back.core_c), CoreReading(back.core_min, back.core_c)])


def treated_said(back: Back) -> str:
    """How a page or a paper says it: a record that falls short of the rule is none of a treatment."""
    if back.treated is Treated.RECORD and not record_shows(back):
        return f"not shown: its core record is short of {CORE_C:.0f} °C for {HELD_MIN} minutes"
    return str(back.treated)
