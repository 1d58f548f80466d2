"""Electric moisture meters: pins by resistance, plates by capacitance. Believed from 4 % to 30 % and no further."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from waney.figures.estimate import Z_95, Basis, Estimate, Ground
from waney.figures.problem import OutOfRange, Problem
from waney.figures.sources import cited
from waney.wood.density import most_moisture

LEAST, MOST = 0.04, 0.30
"""Where a meter can be believed [-]. Source: Wood Handbook FPL-GTR-190, chapter 13 (seen)."""
PER_KELVIN = 0.005 / (10.0 / 1.8)
"""Correction of a pin meter a kelvin [-]: about 0.5 % moisture for 10 °F, up for wood colder than the meter's own temperature,
down for warmer. Source: Wood Handbook FPL-GTR-190, chapter 13 (seen)."""
OWN_C = 20.0
"""Temperature most pin meters are made for [°C]; the maker's sheet says."""
HANDBOOK_SHARE = 0.5
"""What is doubted of the handbook's even rule, share of the correction: formulas of meters give up to half as much again
in the cold and at high readings (memory). Ours, a choice."""
COLDEST_C, HOTTEST_C = -20.0, 60.0
PIN_ERROR, PINLESS_ERROR = 0.01, 0.015
"""Standard error of one reading on wood corrected by the maker's table [-]: common practice, no source."""
NO_TABLE_ERROR = 0.012
"""Further standard error without a species correction: published ones are within 2 % from 7 to 20 % (memory) [-]."""


class Meter(StrEnum):
    """How it reads."""

    PINS = "pin meter"
    PLATE = "pinless meter"


ERROR = {Meter.PINS: PIN_ERROR, Meter.PLATE: PINLESS_ERROR}


class NotInTable(Problem):
    """A species correction that was asked for and not typed in."""


@dataclass(frozen=True)
class Correction:
    """One maker's species table as typed in: (reading, moisture) pairs in rising order [-]; between them straight lines."""

    pairs: tuple[tuple[float, float], ...]

    def __post_init__(self) -> None:
        if len(self.pairs) < 2 or any(b[0] <= a[0] or b[1] < a[1] for a, b in zip(self.pairs, self.pairs[1:], strict=False)):
            raise NotInTable("A species table needs two rows or more, readings rising: type it from the maker's sheet.")

    def of(self, reading: float) -> float:
        """Moisture at a reading [-]. Raises OutOfRange beyond the table: it is not continued."""
        least, most = self.pairs[0][0], self.pairs[-1][0]
        if not least <= reading <= most:
            raise OutOfRange("Meter reading", reading * 100, least * 100, most * 100, "%", "The species table typed in")
        (x0, y0), (x1, y1) = next((a, b) for a, b in zip(self.pairs, self.pairs[1:], strict=False) if reading <= b[0])
        return y0 + (y1 - y0) * (reading - x0) / (x1 - x0)


RIGHT = Correction(((0.0, 0.0), (1.0, 1.0)))
"""For a reading that was put right already."""


@dataclass(frozen=True)
class MeterReading:
    """Moisture told by a meter: a range; or, past what it can tell, a bracket with what is wrong about it in words."""

    mc: Estimate
    bracketed: bool
    said: str

    @property
    def wetter(self) -> bool:
        """Whether it is past what a meter can tell: the wood may be far wetter. A bracket that is not: too dry for one."""
        return self.bracketed and self.mc.likely >= MOST


def read_meter(
    meter: Meter, reading: float, wood_c: float | None, sg_green: float,
    table: Correction | None = None, own_c: float = OWN_C,
) -> MeterReading:  # fmt: skip
    """Moisture from one reading [-].

    wood: temperature of the wood [°C], None when not known (then 10 K of doubt either way); sg: basic gravity, for the
    most water it can hold. A plate meter takes no temperature correction (it compensates inside) but must be set to the gravity.
    Temperature first, then the species table. Raises OutOfRange outside -20 to 60 °C and for a reading below 0 %.
    """
    if reading < 0.0:
        raise OutOfRange("Meter reading", reading * 100, 0.0, MOST * 100, "%", "A meter")
    shift, doubt = _for_temperature(meter, wood_c, own_c)
    warmed = reading + shift
    if reading > MOST or warmed > MOST:
        return _past_saturation(reading, sg_green)
    if warmed < LEAST:
        return _too_dry(warmed)
    mc = table.of(warmed) if table else warmed
    error = (ERROR[meter] ** 2 + (0.0 if table else NO_TABLE_ERROR**2) + doubt**2) ** 0.5
    said = "" if table else "No species table was typed in: the meter was read as it stands, with a wider range."
    return MeterReading(_within(mc, Z_95 * error, meter), False, said)


def _for_temperature(meter: Meter, wood_c: float | None, own_c: float) -> tuple[float, float]:
    """Correction and its standard error [-]."""
    if meter is Meter.PLATE:
        return 0.0, 0.0
    if wood_c is None:
        return 0.0, PER_KELVIN * 10.0 / Z_95
    if not COLDEST_C <= wood_c <= HOTTEST_C:
        raise OutOfRange("Temperature of the wood", wood_c, COLDEST_C, HOTTEST_C, "°C", "A pin meter's correction")
    shift = (own_c - wood_c) * PER_KELVIN
    return shift, abs(shift) * HANDBOOK_SHARE / Z_95


def _within(mc: float, reach: float, meter: Meter) -> Estimate:
    return Estimate(mc, max(mc - reach, 0.0), mc + reach, Basis(Ground.READING, meter.value), 0.0)


def _past_saturation(reading: float, sg_green: float) -> MeterReading:
    most = max(most_moisture(sg_green), MOST + 0.01)
    basis = cited("fpl-gtr-190-13", "meters are not believed above 30 %")
    middle = min(max(reading, MOST), most)
    words = (
        f"A meter cannot tell above {MOST * 100:.0f} %: the wood is at {MOST * 100:.0f} % or wetter, often far wetter than the "
        f"{reading * 100:.0f} % shown (it reads too low there). Weigh the piece."
    )
    return MeterReading(Estimate(middle, min(MOST - 0.03, middle), most, basis, 0.0), True, words)


def _too_dry(warmed: float) -> MeterReading:
    basis = cited("fpl-gtr-190-13", "meters are not believed below 4 %")
    middle = max(warmed, 0.0)
    words = f"A meter cannot tell below {LEAST * 100:.0f} %: the wood is somewhere from 0 to {(LEAST + 0.02) * 100:.0f} %."
    return MeterReading(Estimate(middle, 0.0, LEAST + 0.02, basis, 0.0), True, words)
