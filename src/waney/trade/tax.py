"""Tax lines as the shop typed them: a name, a rate, on each line or on the sum, and how a broken cent is rounded.

What is taxed, and where, is never said here: `trade.local_rules` has the questions to ask.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction
from math import ceil, floor

from waney.figures.problem import Problem
from waney.units.share import print_share


class BadTax(Problem):
    """A rate that no tax has."""


class On(StrEnum):
    """What a tax is worked out on."""

    SUM = "the sum"
    LINE = "each line"


class Rounding(StrEnum):
    """What becomes of a broken cent."""

    HALF_UP = "half up"
    HALF_EVEN = "half to even"
    UP = "up"
    DOWN = "down"


_ROUNDED: Mapping[Rounding, Callable[[Fraction], int]] = {
    Rounding.HALF_UP: lambda cents: floor(cents + Fraction(1, 2)),
    Rounding.HALF_EVEN: round,
    Rounding.UP: ceil,
    Rounding.DOWN: floor,
}


@dataclass(frozen=True)
class Tax:
    """rate: share of the price, exact: Fraction("0.0825"). Raises BadTax below 0 or from 1 on."""

    name: str
    rate: Fraction
    on: On = On.SUM
    rounding: Rounding = Rounding.HALF_UP

    def __post_init__(self) -> None:
        if not 0 <= self.rate < 1:
            raise BadTax(f"{self.name}: a rate of {print_share(float(self.rate), 2)} cannot be; write for instance 6.25 %.")

    @property
    def words(self) -> str:
        """What is taxed how: "sales tax 6.25 %, on the sum, rounded half up"."""
        percent = f"{float(self.rate * 100):.4f}".rstrip("0").rstrip(".")
        return f"{self.name} {percent} %, on {self.on}, rounded {self.rounding}"


@dataclass(frozen=True)
class TaxLine:
    """One line of a paper: on how much, how much, and by which rule it was rounded."""

    tax: Tax
    on_cents: int
    cents: int

    @property
    def words(self) -> str:
        """The line without its money."""
        return self.tax.words


def tax_lines(lines_cents: Sequence[int], taxes: Sequence[Tax]) -> tuple[TaxLine, ...]:
    """Each tax on these lines (money that comes back is below zero and its tax mirrors that of the sale)."""
    return tuple(TaxLine(tax, sum(lines_cents), _cents(lines_cents, tax)) for tax in taxes)


def _cents(lines_cents: Sequence[int], tax: Tax) -> int:
    taxed = [sum(lines_cents)] if tax.on is On.SUM else lines_cents
    return sum(_rounded(cents, tax) for cents in taxed)


def _rounded(cents: int, tax: Tax) -> int:
    size = _ROUNDED[tax.rounding](abs(cents) * tax.rate)
    return size if cents >= 0 else -size
