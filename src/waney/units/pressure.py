"""Pressure and stiffness: pascals inside; thousand million (GPa), or million pounds per square inch, at the edges."""

from __future__ import annotations

from fractions import Fraction

from waney.units.force import POUND_FORCE
from waney.units.quantity import Unit

GIGAPASCAL = Unit("GPa", "GPa", Fraction(10**9))
MILLION_PSI = Unit("million psi", "million psi", 10**6 * POUND_FORCE.si / Fraction(254, 10_000) ** 2)
"""psi: pound-force on a square inch"""
