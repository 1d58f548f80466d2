"""What a sheet says about its own figures (units, comma, currency), and the readers that follow from it."""

from __future__ import annotations

import re
from dataclasses import dataclass
from decimal import Decimal
from math import inf

from waney.units.area import parse_area
from waney.units.direction import Direction
from waney.units.duration import parse_duration
from waney.units.length import Grain, LengthUnit, parse_length, parse_length_unit, print_length
from waney.units.mass import parse_mass
from waney.units.moisture import parse_mc
from waney.units.money import parse_rate
from waney.units.number import NUMBER, Comma, parse_number
from waney.units.pressure import parse_pressure
from waney.units.quantity import MOST, Kind, Unit
from waney.units.sheet import Reader, Table
from waney.units.sheet_readers import NotThat, choice, shown, text
from waney.units.speed import parse_speed
from waney.units.temperature import parse_temperature
from waney.units.thickness import Thickness, parse_thickness
from waney.units.volume import parse_volume
from waney.units.written import tidy

_PERCENT = re.compile(rf"(?P<number>{NUMBER}) ?(?P<sign>%|percent|per cent)?")
_FOR = re.compile(r"(?P<money>.+?) ?(?: an? | per |/) ?(?P<unit>[A-Za-z].*)")
"""money, then for what"""
_COMMAS = {str(Comma.DECIMAL): Comma.DECIMAL, str(Comma.THOUSANDS): Comma.THOUSANDS}


@dataclass(frozen=True)
class Measures:
    """unit: what a bare number counts; comma: what a comma means; currency: three letters, "" when the sheet names none.

    unit_named is False when the `units` line is missing or wrong: that was noted, and no length is blamed for it.
    """

    unit: LengthUnit
    comma: Comma = Comma.ASK
    currency: str = ""
    unit_named: bool = True

    @classmethod
    def of(cls, sheet: Table, comma: Comma = Comma.ASK) -> Measures:
        """From the lines `units`, `comma` and `currency` at the top of a sheet; `comma` is the shop's setting."""
        unit = sheet.need("units", _length_unit, None)
        return cls(
            unit or LengthUnit.METRE,
            sheet.take("comma", choice(_COMMAS)) or comma,
            sheet.take("currency", _currency) or "",
            unit is not None,
        )

    @property
    def imperial(self) -> bool:
        """Whether the sheet is written in inches or feet."""
        return self.unit in (LengthUnit.INCH, LengthUnit.FOOT)

    def written(self, metres: float) -> str:
        """A length as this sheet would write it, to the nearest 1/64 in or half millimetre."""
        return print_length(metres, Grain.SIXTY_FOURTH_INCH if self.imperial else Grain.HALF_MM, Direction.READ)

    def length(self, value: object) -> float:
        """A length in metres, zero or more: a number counts in the sheet's unit, text may name its own."""
        words, comma = self._words(value)
        return parse_length(words, self.unit, comma)

    def length_from(self, least_m: float, most_m: float = inf) -> Reader[float]:
        """A length within limits [m]; the limits are said in the sheet's units."""

        def read(value: object) -> float:
            metres = self.length(value) if self.unit_named else least_m
            if least_m - 1e-9 <= metres <= most_m + 1e-9:
                return metres
            limits = f"{self.written(least_m)} or more" if most_m == inf else self._between(least_m, most_m)
            raise NotThat(f"{shown(value)} is {self.written(metres)}; it must be {limits}.")

        return read

    def _between(self, least_m: float, most_m: float) -> str:
        return f"{self.written(least_m)} to {self.written(most_m)}"

    def thickness(self, value: object) -> Thickness:
        """A quarter thickness such as "8/4", or an exact length above zero."""
        words, comma = self._words(value)
        return parse_thickness(words, self.unit, comma)

    def mass(self, value: object) -> float:
        """A weight in kg; a bare number counts pounds in a sheet in inches or feet, else kilograms."""
        words, comma = self._words(value)
        return parse_mass(words, "lb" if self.imperial else "kg", comma)

    def area(self, value: object) -> float:
        """An area in m2; a bare number counts square feet in a sheet in inches or feet, else m2."""
        words, comma = self._words(value)
        return parse_area(words, "square feet" if self.imperial else "m2", comma)

    def volume(self, value: object) -> float:
        """A volume in m3; its unit is always written."""
        words, comma = self._words(value)
        return parse_volume(words, None, comma)

    def rate(self, value: object) -> float:
        """Money for one of something, zero or more, in whole or broken cents of the sheet's currency."""
        if not self.currency:
            raise NotThat('this is money, and the sheet does not say which; write for instance currency = "EUR" at its top.')
        words, comma = self._words(value)
        cents, _ = parse_rate(words, self.currency, comma)
        if cents < 0:
            raise NotThat(f"{shown(value)} is below zero; write what one costs, zero or more.")
        return cents

    def rate_for(self, kind: Kind, counted: Unit) -> Reader[float]:
        """Money for one of a unit, in cents; text may say for what other unit it is paid: "0.70 a kilometre", "5 per sq ft"."""

        def read(value: object) -> float:
            match = _FOR.fullmatch(value.strip()) if isinstance(value, str) else None
            if match is None:
                return self.rate(value)
            return self.rate(match["money"]) * float(counted.si / kind.unit(match["unit"]).si)

        return read

    def duration(self, counted: Unit, least: float, most: float) -> Reader[float]:
        """A duration within limits, in `counted`, which is what a bare number counts too; text may name its own unit."""

        def read(value: object) -> float:
            if isinstance(value, str):
                count = counted.of(parse_duration(value, counted.name, self.comma))
            else:
                count = float(_plain(value))
            if not least <= count <= most:
                raise NotThat(f"{shown(value)} cannot be; it must be {least:g} to {most:g} {counted.name}.")
            return count

        return read

    def temperature(self, value: object) -> float:
        """A temperature in °C; its degrees are always written."""
        words, comma = self._words(value)
        return parse_temperature(words, None, comma)

    def pressure(self, value: object) -> float:
        """A pressure in Pa, counted from nothing; its unit is always written."""
        words, comma = self._words(value)
        return parse_pressure(words, None, comma)

    def speed(self, most_m_per_s: float) -> Reader[float]:
        """A speed of air up to a limit [m/s]; its unit is always written."""

        def read(value: object) -> float:
            words, comma = self._words(value)
            found = parse_speed(words, None, comma)
            if found > most_m_per_s:
                raise NotThat(f"{shown(value)} is a storm; it must be {most_m_per_s:g} m/s or less.")
            return found

        return read

    def percent(self, value: object) -> float:
        """Per cent from 0 to 100, with or without its sign, as a fraction; a bare number between 0 and 1 is refused."""
        words, comma = self._words(value)
        match = _PERCENT.fullmatch(tidy(words, "a share", "80 %").lower())
        if match is None:
            raise NotThat(f"{shown(value)} is not a share; write per cent, for instance 80 %.")
        number = parse_number(match["number"], comma)
        if 0 < number < 1 and not match["sign"]:
            raise NotThat(f"{shown(value)} can be {float(number):g} % or {float(number * 100):g} %; write it with the % sign.")
        if number > 100:
            raise NotThat(f"{shown(value)} is more than all of it; write 0 to 100 %.")
        return float(number / 100)

    def mc(self, value: object) -> float:
        """Moisture content in per cent of oven-dry weight, as a fraction; a bare number between 0 and 1 is refused."""
        words, comma = self._words(value)
        return parse_mc(words, comma)

    def _words(self, value: object) -> tuple[str, Comma]:
        """What was written and how its commas count. A plain number has TOML's own point, whatever the shop's setting."""
        if isinstance(value, str):
            return value, self.comma
        return _digits(_plain(value)), Comma.ASK


def _plain(value: object) -> int | float:
    if isinstance(value, bool) or not isinstance(value, int | float):
        raise NotThat(f"{shown(value)} is neither a number nor text in quotes.")
    return value


def _digits(value: int | float) -> str:
    """The number as a person would write it."""
    if abs(value) > MOST:
        raise NotThat(f"{shown(value)} is far too much; look at the number.")
    return format(Decimal(repr(value)), "f")


def _length_unit(value: object) -> LengthUnit | None:
    return parse_length_unit(text(value))


def _currency(value: object) -> str:
    letters = text(value).upper()
    if not re.fullmatch("[A-Z]{3}", letters):
        raise NotThat(f'{shown(value)} is not a currency; write its three letters, as in "EUR" or "USD".')
    return letters
