"""Photo form: what somebody tapped on an offer's photo, or measured on a print of it, and answered beside it."""

from __future__ import annotations

import json
from collections.abc import Mapping
from typing import TYPE_CHECKING

from waney.figures.problem import Problem
from waney.units.length import parse_length
from waney.units.number import parse_number

if TYPE_CHECKING:
    from waney.logs.measured import Point
    from waney.logs.off_photo import Tapped

ON_PRINT = ("longer_side", "on_known", "on_across", "on_along")
"""lengths on the picture, measured with a rule, all in one unit"""
FIELDS = ("view", "lies", "known_length", *ON_PRINT)
MOST_TAPS = 500


class BadTaps(Problem):
    """What was tapped cannot be read."""


def tapped_of(answers: Mapping[str, str], taps: str, unit: str) -> Tapped:
    """What the form says; unit: what a bare known length counts. Raises BadTaps, NotReadable, Unreadable."""
    from waney.logs.off_photo import Lies, Tapped, View, on_print  # loads what computes

    if answers["view"] not in tuple(View) or answers["lies"] not in tuple(Lies):
        raise BadTaps("Say what the photo shows, and where the known thing lies.")
    view, lies = View(answers["view"]), Lies(answers["lies"])
    if not answers["known_length"]:
        raise BadTaps("Write how long the known thing is.")
    known_m = parse_length(answers["known_length"], unit)
    if taps:
        size, lists, error = _told(taps)
        if len(lists["known"]) != 2:
            raise BadTaps("Tap both ends of something of known length.")
        ends = (lists["known"][0], lists["known"][1])
        return Tapped(size, view, lies, known_m, ends, lists["across"], lists["outline"], lists["along"], error)
    longer, known, across, along = (_number(answers[name]) for name in ON_PRINT)
    if longer is None or known is None or (across is None and along is None):
        raise BadTaps(
            "Tap the photo; or write how long the picture, the known thing and the wood are on it, "
            "measured with a rule, all in one unit."
        )
    return on_print(view, lies, known_m, longer, known, across, along)


def _told(taps: str) -> tuple[tuple[int, int], dict[str, tuple[Point, ...]], float]:
    try:
        told = json.loads(taps)
        wide, tall = told["size"]
        lists = {name: _places(told.get(name, [])) for name in ("known", "across", "outline", "along")}
        error = min(max(float(told.get("tapping", 3.0)), 1.0), 200.0)
        size = (int(wide), int(tall))
    except (ValueError, TypeError, KeyError, AttributeError, OverflowError):
        raise BadTaps("What was tapped on the photo cannot be read; tap it once more.") from None
    return size, lists, error


def _places(told: object) -> tuple[Point, ...]:
    if not isinstance(told, list) or len(told) > MOST_TAPS:
        raise TypeError
    places = tuple((float(x), float(y)) for x, y in told)
    if not all(abs(each) < 1e6 for place in places for each in place):
        raise ValueError
    return places


def _number(text: str) -> float | None:
    return float(parse_number(text)) if text else None


def kept_as(photo: str, answers: Mapping[str, str], taps: str) -> str:
    """What is kept with the readings, to go on with."""
    told = {"photo": photo, "answers": {name: answers[name] for name in FIELDS if answers[name]}, "taps": taps}
    return json.dumps(told, ensure_ascii=False, separators=(",", ":"))


def before_of(kept: str, photo: str) -> dict[str, str]:
    """What was told of this photo last: the fields, and `taps`; nothing where another one was read."""
    try:
        told = json.loads(kept) if kept else {}
        if told.get("photo") != photo:
            return {}
        return {**{name: str(told["answers"].get(name, "")) for name in FIELDS}, "taps": str(told["taps"])}
    except (ValueError, KeyError, AttributeError):
        return {}
