"""Words for paper and drawing: figures with built fractions, sentences made of words and figures, weights that round up."""

from __future__ import annotations

import re
from dataclasses import dataclass
from datetime import date
from math import ceil, floor, inf, log10

from waney.figures.problem import Problem
from waney.prices.rules import PriceRules
from waney.units.area import SQUARE_FOOT, SQUARE_METRE, print_area
from waney.units.direction import Direction
from waney.units.length import INCH_NM, MM_NM, Grain, print_length, to_nanometres
from waney.units.mass import KILOGRAM, POUND, print_mass
from waney.units.quantity import Unit

_PRINTED = re.compile(r"(?P<whole>-?(?:\d+' ?)?[\d.]*) ?(?:(?<!\d)(?P<over>\d+)/(?P<under>\d+))? ?(?P<unit>in|mm|\")")


class BadScale(Problem):
    """A bed scale whose step no printed grain can show without rounding."""


@dataclass(frozen=True)
class Measure:
    """One printed length, taken apart for a built fraction: whole number, numerator, denominator, unit."""

    whole: str
    over: str
    under: str
    unit: str

    def __str__(self) -> str:
        fraction = f"{self.over}/{self.under}" if self.under else ""
        number = " ".join(part for part in (self.whole, fraction) if part)
        return number + self.unit if self.unit == '"' else f"{number} {self.unit}"


Said = tuple[str | Measure, ...]
"""A sentence: words with their own spaces, and figures."""


@dataclass(frozen=True)
class Shop:
    """How this shop writes: the grain of sizes, the unit of weight, the size of paper."""

    sizes: Grain
    weight: Unit
    paper: str
    """as the typesetter calls it: us-letter or a4"""

    def have(self, metres: float) -> Measure:
        """A size that is there, rounded down."""
        return measure(metres, self.sizes, Direction.HAVE)

    def need(self, metres: float) -> Measure:
        """A size that is wanted, rounded up."""
        return measure(metres, self.sizes, Direction.NEED)

    def read(self, metres: float) -> Measure:
        """A size to be read off, to the nearest."""
        return measure(metres, self.sizes, Direction.READ)

    def along(self, metres: float) -> Measure:
        """A place along the log or the bed, in feet and inches or millimetres, to the nearest."""
        return _in_feet(metres, self.sizes.metric, Direction.READ)

    def long(self, metres: float) -> Measure:
        """A length that is there, in feet and inches or millimetres, rounded down."""
        return _in_feet(metres, self.sizes.metric, Direction.HAVE)

    def area(self, area_m2: float) -> str:
        """An area, in square feet or m2."""
        return print_area(area_m2, SQUARE_METRE if self.sizes.metric else SQUARE_FOOT, Direction.READ)

    def heavy(self, mass_kg: float) -> str:
        """A weight to lift, rounded up to three figures."""
        count = self.weight.of(mass_kg)
        step = _third_figure(count)
        return f"{ceil(count / step - 1e-9) * step} {self.weight.name}"

    def weighed(self, mass_kg: float) -> str:
        """A weight as the scales said it, to four figures."""
        return print_mass(mass_kg, self.weight, Direction.READ)

    def bears(self, mass_kg: float) -> str:
        """A weight that something holds, rounded down to three figures."""
        count = self.weight.of(mass_kg)
        step = _third_figure(count)
        return f"{floor(count / step + 1e-9) * step} {self.weight.name}"


def _third_figure(count: float) -> int:
    """1 up to 999, then 10, 100 ..."""
    return int(10 ** max(0, int(log10(max(count, 1.0))) - 2))


_COARSE = {False: Grain.EIGHTH_INCH, True: Grain.MM}
_TWO_FEET = 0.6096

INCHES = Shop(Grain.SIXTEENTH_INCH, POUND, "us-letter")
METRIC = Shop(Grain.MM, KILOGRAM, "a4")


def _in_feet(metres: float, metric: bool, direction: Direction) -> Measure:
    return _taken_apart(print_length(metres, _COARSE[metric], direction, feet_from_m=_TWO_FEET))


def measure(metres: float, grain: Grain, direction: Direction) -> Measure:
    """A length in inches or millimetres, never in feet."""
    return _taken_apart(print_length(metres, grain, direction, feet_from_m=inf))


def _taken_apart(printed: str) -> Measure:
    match = _PRINTED.fullmatch(printed)
    assert match is not None, printed
    return Measure(match["whole"].strip(), match["over"] or "", match["under"] or "", match["unit"])


def exact(metres: float, *, metric: bool) -> str:
    """A term of a sum, finer than any rule reads: thousandths of an inch or hundredths of a millimetre."""
    nanometres = to_nanometres(metres, Direction.READ)
    return f"{nanometres / MM_NM:.2f} mm" if metric else f"{nanometres / INCH_NM:.3f} in"


def scale_grain(step_m: float) -> Grain:
    """The coarsest grain in which every height on a bed scale of this step is printed exactly; raises BadScale."""
    step = to_nanometres(step_m, Direction.READ)
    for grain in Grain:
        if step and step % grain.value == 0:
            return grain
    raise BadScale(
        f"The bed scale counts in steps of {step / 1e6:g} mm; heights are printed in 1/8, 1/16, 1/32 or 1/64 in, 1 mm or 0.5 mm. "
        "Write the step of the scale as one of these."
    )


def said(*parts: str | Measure) -> Said:
    """A sentence of words and figures."""
    return parts


def sized(shop: Shop, thick_m: float | None, narrow_m: float | None, wide_m: float | None, long_m: float | None) -> Said:
    """Sizes of a piece in a line, as far as they are known: 2 in thick, 16 in wide at the narrowest, 18 in at the widest, 8 ft
    long."""
    known: list[Said] = []
    if thick_m is not None:
        known.append((shop.read(thick_m), " thick"))
    narrow, wide = (None if width is None else shop.have(width) for width in (narrow_m, wide_m))
    if narrow is not None and narrow == wide:
        known.append((narrow, " wide at the narrowest and the widest"))
    else:
        known += [] if narrow is None else [(narrow, " wide at the narrowest")]
        known += [] if wide is None else [(wide, " at the widest" if narrow else " wide at the widest")]
    if long_m is not None:
        known.append((shop.long(long_m), " long"))
    return tuple(part for one in known for part in (", ", *one))[1:]


def plain(sentence: Said) -> str:
    """The sentence as plain text."""
    return "".join(str(part) for part in sentence)


def clock(hours: float) -> str:
    """A clock position: hours and minutes, where the hour hand stands.

    >>> clock(2.333), clock(12.0), clock(0.5)
    ('2:20', '12:00', '12:30')
    """
    minutes = round(hours * 60) % 720
    return f"{minutes // 60 or 12}:{minutes % 60:02d}"


def day(date_: date) -> str:
    """A day as it is written out, the same everywhere: 4 May 2026."""
    return f"{date_.day} {_MONTHS[date_.month - 1]} {date_.year}"


_MONTHS = (
    *("January", "February", "March", "April", "May", "June", "July", "August", "September"),
    *("October", "November", "December"),
)


def share(part: float) -> str:
    """A share in whole per cent.

    >>> share(0.625)
    '62 %'
    """
    return f"{part * 100:.0f} %"


def worth_words(cents: int, rules: PriceRules) -> str:
    """What a plan or piece gives, in the money, points or litres of these price rules."""
    return rules.says(cents)
