"""Force: newtons inside, pounds-force at the edges. Printed only: nobody types a hardness."""

from __future__ import annotations

from fractions import Fraction

from waney.units.quantity import Unit

NEWTON = Unit("N", "N", Fraction(1))
POUND_FORCE = Unit("lbf", "lbf", Fraction(45_359_237, 100_000_000) * Fraction(980_665, 100_000))
"""weight of a pound under standard gravity, 9.80665 m/s2 (exact by definition)"""
