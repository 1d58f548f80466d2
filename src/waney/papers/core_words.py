"""What a core record shows, in words."""

from __future__ import annotations

from collections.abc import Callable

from waney.drying.core_record import LONGEST_GAP_MIN, CoreHeld, Gap

MOST_GAPS = 3
"""that are told one by one"""


def core_said(found: CoreHeld, degrees: Callable[[float], str]) -> str:
    """Part of a sentence: how long the core was at the wanted temperature, of how long a record, with what gaps."""
    hot = f"core at {degrees(found.core_c)} or over for {_minutes(found.longest_min)} without a break"
    if found.in_all_min > found.longest_min:
        hot += f" ({_minutes(found.in_all_min)} in all)"
    read = f"{found.readings} readings over {_minutes(found.read_min)}, the hottest {degrees(found.hottest_c)}"
    return f"{hot}; {read}; {_gaps(found)}"


def _gaps(found: CoreHeld) -> str:
    if not found.gaps:
        return f"no gap of more than {_minutes(LONGEST_GAP_MIN)}"
    told = ", ".join(map(_gap, found.gaps[:MOST_GAPS]))
    more = f" and {len(found.gaps) - MOST_GAPS} more" if len(found.gaps) > MOST_GAPS else ""
    lost = ""
    if not found.shown and found.across_min >= found.held_min:
        lost = f"; it would be {_minutes(found.across_min)}, were the core as hot in the gaps, which nobody read"
    return f"gaps, in which nothing counts: {told}{more}{lost}"


def _gap(gap: Gap) -> str:
    return f"{_minutes(gap.minutes)} from minute {gap.from_min:g} on"


def _minutes(minutes: float) -> str:
    return f"{minutes:.0f} minute{'' if round(minutes) == 1 else 's'}"
