"""Log rules by name; what each says of a log is in `rules`."""

from __future__ import annotations

from enum import StrEnum


class Rule(StrEnum):
    """The log rules known here; the value is the name that is printed."""

    DOYLE = "Doyle"
    SCRIBNER = "Scribner (formula)"
    SCRIBNER_C = "Scribner Decimal C"
    INTERNATIONAL = "International 1/4-inch"
