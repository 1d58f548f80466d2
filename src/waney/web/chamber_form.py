"""The part of a stack's form that tells what was read in its chamber."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from waney.figures.problem import Problem
from waney.units.number import parse_number
from waney.units.speed import parse_speed
from waney.units.temperature import parse_temperature
from waney.web.forms import BadField, Fields
from waney.web.shop import degree_of
from waney.web.showing import Figures
from waney.yard.acts.drying import ChamberRead, Shelter

HELD = ("inside", "humidity")
BY_SUN = ("day_inside", "day_outside", "night_inside", "night_outside", "day_humidity")
NAMES = (*HELD, *BY_SUN, "speed")


def chamber_read(fields: Fields, unit: str, before: ChamberRead | None) -> ChamberRead | None:
    """What was typed, the rest as it was read before; None for nothing, or for what cannot be read: then a field is wrong."""
    degree, bare = degree_of(unit), "m/s" if unit == "mm" else "ft/min"
    warm = {
        f"{name}_c": fields.read(name, lambda text: parse_temperature(text, degree))
        for name in ("inside", "day_inside", "day_outside", "night_inside", "night_outside")
    }
    damp = {name: fields.read(name, _percent) for name in ("humidity", "day_humidity")}
    speed = fields.read("speed", lambda text: parse_speed(text, bare))
    if any(name in fields.wrong for name in NAMES) or not any(fields.sent.text(name) for name in NAMES):
        return None
    try:
        now = {name: value for name, value in (warm | damp | {"speed_m_s": speed}).items() if value is not None}
        return ChamberRead(**now) if before is None else replace(before, **now)
    except Problem as slip:
        fields.wrong["chamber"] = str(slip)
        return None


def _percent(text: str) -> float:
    number = float(parse_number(text.removesuffix("%").strip()))
    if not 5.0 <= number <= 100.0:
        raise BadField(f'"{text[:30]}" is no humidity of air to dry in: per cent, 5 to 100.')
    return number / 100.0


def said_of(read: ChamberRead, shelter: str, show: Figures) -> Iterator[str]:
    """What was read, part by part, as far as it counts where the stack stands; elsewhere than in a chamber nothing does."""
    if shelter == Shelter.DEHUMIDIFIER and read.inside_c is not None and read.humidity is not None:
        yield f"{show.warmth(read.inside_c)} and {read.humidity * 100:.0f} % inside"
    if shelter == Shelter.SUN:
        yield from _by_sun(read, show)
    if shelter in (Shelter.DEHUMIDIFIER, Shelter.SUN) and read.speed_m_s is not None:
        yield f"air between the layers {show.speed(read.speed_m_s)}"


def _by_sun(read: ChamberRead, show: Figures) -> Iterator[str]:
    for when, inside, outside in (
        ("by day", read.day_inside_c, read.day_outside_c),
        ("by night", read.night_inside_c, read.night_outside_c),
    ):
        if inside is not None and outside is not None:
            yield f"{when} {show.warmth(inside)} inside, {show.warmth(outside)} outside"
    if read.day_humidity is not None:
        yield f"by day {read.day_humidity * 100:.0f} % inside"
