"""The part of a stack's form that tells what was read in its chamber."""

from __future__ import annotations

from collections.abc import Iterator

from waney.figures.problem import Problem
from waney.units.number import parse_number
from waney.units.speed import parse_speed
from waney.units.temperature import Degree, parse_temperature
from waney.web.forms import BadField, Fields
from waney.web.showing import Figures
from waney.yard.acts.drying import ChamberRead

HELD = ("inside", "humidity")
BY_SUN = ("day_inside", "day_outside", "night_inside", "night_outside", "day_humidity")
NAMES = (*HELD, *BY_SUN, "speed")


def chamber_read(fields: Fields, unit: str) -> ChamberRead | None:
    """What was typed; None for nothing, or for what cannot be read: then a field is wrong."""
    degree, bare = (Degree.CELSIUS, "m/s") if unit == "mm" else (Degree.FAHRENHEIT, "ft/min")
    warm = {
        f"{name}_c": fields.read(name, lambda text: parse_temperature(text, degree))
        for name in ("inside", "day_inside", "day_outside", "night_inside", "night_outside")
    }
    damp = {name: fields.read(name, _percent) for name in ("humidity", "day_humidity")}
    speed = fields.read("speed", lambda text: parse_speed(text, bare))
    if any(name in fields.wrong for name in NAMES) or not any(fields.sent.text(name) for name in NAMES):
        return None
    try:
        return ChamberRead(**warm, **damp, speed_m_s=speed)
    except Problem as slip:
        fields.wrong["chamber"] = str(slip)
        return None


def _percent(text: str) -> float:
    number = float(parse_number(text.removesuffix("%").strip()))
    if not 5.0 <= number <= 100.0:
        raise BadField(f'"{text[:30]}" is no humidity of air to dry in: per cent, 5 to 100.')
    return number / 100.0


def said_of(read: ChamberRead, show: Figures) -> Iterator[str]:
    """What was read, part by part."""
    if read.inside_c is not None and read.humidity is not None:
        yield f"{show.warmth(read.inside_c)} and {read.humidity * 100:.0f} % inside"
    for when, inside, outside in (
        ("by day", read.day_inside_c, read.day_outside_c),
        ("by night", read.night_inside_c, read.night_outside_c),
    ):
        if inside is not None and outside is not None:
            yield f"{when} {show.warmth(inside)} inside, {show.warmth(outside)} outside"
    if read.day_humidity is not None:
        yield f"by day {read.day_humidity * 100:.0f} % inside"
