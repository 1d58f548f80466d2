"""One log on every scale: its volume by all formulas, all log rules side by side, its weight, and what to measure next."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from waney.figures.estimate import Estimate
from waney.figures.scenarios import Scenarios
from waney.logs.from_sheet import Measured
from waney.logs.rules import DiameterRounding, Hoppus, LogScale, hoppus, mid_girth, scales_of, scaling_diameter
from waney.logs.shape import LogShape
from waney.logs.volume import huber, newton, section_area, smalian
from waney.wood.species import NoFigure


@dataclass(frozen=True)
class Formulas:
    """Volume inside bark by the three formulas of the trade [m3], from the end and middle areas of the likely shape."""

    smalian_m3: float
    huber_m3: float
    newton_m3: float


@dataclass(frozen=True)
class NextMeasurement:
    """What to measure next, and the width of the volume's range without and with it [m3]."""

    what: str
    width_now_m3: float
    width_then_m3: float

    @property
    def saved(self) -> float:
        """Share of the range's width that it takes away."""
        return 1.0 - self.width_then_m3 / self.width_now_m3


@dataclass(frozen=True)
class ScaledLog:
    """Everything that a scale says of one log. Diameters inside bark; None: not known."""

    name: str
    wood: str
    length_m: float
    small_end_m: float
    """scaling diameter, as it is"""
    volume_m3: Estimate
    formulas: Formulas
    nearest: tuple[LogScale, ...]
    """every rule, the diameter to the nearest inch"""
    down: tuple[LogScale, ...]
    """every rule, the diameter down to the whole inch"""
    hoppus: Hoppus
    hoppus_over_bark: Hoppus
    with_bark_kg: Estimate | None
    without_bark_kg: Estimate | None
    next_measurement: NextMeasurement | None
    remarks: tuple[str, ...]
    assumed: tuple[str, ...]


def scaled(measured: Measured, scenarios: Scenarios) -> ScaledLog:
    """Put a log on every scale. Raises OutOfRange where a rule's table ends."""
    shape, shapes = measured.shape, measured.shapes(scenarios)
    volume = measured.volume(scenarios, shapes)
    small, length = scaling_diameter(shape), shape.length_m
    nearest, down = (scales_of(small, length, rounding=rounding) for rounding in DiameterRounding)
    return ScaledLog(
        name=measured.log.name or "The log",
        wood=measured.wood.common,
        length_m=length,
        small_end_m=small,
        volume_m3=volume,
        formulas=formulas(shape),
        nearest=nearest,
        down=down,
        hoppus=hoppus(mid_girth(shape, bark=False), length),
        hoppus_over_bark=hoppus(mid_girth(shape, bark=True), length),
        with_bark_kg=_weight(measured, scenarios, shapes, bark=True),
        without_bark_kg=_weight(measured, scenarios, shapes, bark=False),
        next_measurement=_next(measured, volume, scenarios),
        remarks=measured.remarks,
        assumed=measured.assumed,
    )


def formulas(shape: LogShape) -> Formulas:
    """Smalian, Huber and Newton on the sections of a shape, inside bark."""
    butt, middle, top = (section_area(shape, share * shape.length_m, bark=False) for share in (0.0, 0.5, 1.0))
    length = shape.length_m
    return Formulas(smalian(butt, top, length), huber(middle, length), newton(butt, middle, top, length))


def _weight(measured: Measured, scenarios: Scenarios, shapes: Sequence[LogShape], *, bark: bool) -> Estimate | None:
    try:
        return measured.weight(scenarios, shapes, bark=bark)
    except NoFigure:
        return None


def _next(measured: Measured, volume_m3: Estimate, scenarios: Scenarios) -> NextMeasurement | None:
    helped = measured.helps_most(volume_m3, scenarios)
    if helped is None or helped.saved <= 0.0:
        return None
    return NextMeasurement(helped.measurement.name, helped.before.width, helped.after.width)
