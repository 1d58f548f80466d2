"""Worth: what one piece gives, term by term, to the cent. The formula is design section 5."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class Term:
    """One line of the sum: what it is for and whole cents (costs are below zero)."""

    what: str
    cents: int


@dataclass(frozen=True)
class Worth:
    """The best that a piece can be. `product` is None when it only earns the salvage price.

    start_m, length_m: where the product begins along the as-sawn piece and how long it is; low_y_m, high_y_m: its edges there
    (EDGED) or nan (LIVE), piece frame, green; width_m, thickness_m: finished, dry; measure: in the price rule's unit.
    """

    product: str | None
    terms: tuple[Term, ...]
    start_m: float
    length_m: float
    low_y_m: float
    high_y_m: float
    width_m: float
    thickness_m: float
    measure: float

    @property
    def cents(self) -> int:
        """The sum of the terms."""
        return sum(term.cents for term in self.terms)
