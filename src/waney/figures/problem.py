"""The one root of every error that a person is meant to read.

Problem
├── OutOfRange      a figure lies outside the range of its source
└── (each package adds the things a person can act on)
"""

from __future__ import annotations


class Problem(Exception):
    """A sentence that says what was read, why it cannot be, and what to write instead."""


class OutOfRange(Problem):
    """A figure lies outside the range that its source covers."""

    def __init__(self, what: str, value: float, low: float, high: float, unit: str, source: str) -> None:
        self.what, self.value, self.low, self.high = what, value, low, high
        super().__init__(f"{what} is {value:g} {unit}; {source} covers {low:g} to {high:g} {unit}.")
