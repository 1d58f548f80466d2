"""Chart: a line of a stack as the page's module draws it: days since 1970 in seconds, moistures in per cent."""

from __future__ import annotations

import json
from collections.abc import Sequence
from datetime import date

from waney.units.moisture import mc_pct
from waney.web.asked.stack import BandAnswer, LineAnswer, StackAnswer

DAY_S = 86_400
EPOCH = date(1970, 1, 1)


def chart_json(answer: StackAnswer, line: LineAnswer) -> str:
    """For a `<script type="application/json">`."""
    start = (date.fromisoformat(line.since) - EPOCH).days * DAY_S
    told = {
        "name": line.name,
        "wanted": _pct([answer.target])[0],
        "before": _curve(start, line.before_band) if line.read else None,
        "after": _curve(start, line.band),
        "points": [[start + one.day * DAY_S, *_pct((one.likely, one.low, one.high))] for one in line.points],
    }
    return json.dumps(told).replace("<", "\\u003c")


def _curve(start: int, band: BandAnswer) -> list[list[float]]:
    return [[start + day * DAY_S for day in band.days], _pct(band.low), _pct(band.likely), _pct(band.high)]


def _pct(values: Sequence[float]) -> list[float]:
    return [round(mc_pct(value), 2) for value in values]
