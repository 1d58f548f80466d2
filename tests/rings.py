"""Rings: which of many cases are asked after every change, and which with the long tests (docs/decisions, 19)."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import Any

import pytest
from _pytest.mark.structures import ParameterSet


def short_first(cases: Iterable[Any], short: int = 1, kind: Callable[[Any], object] = lambda _: None) -> list[ParameterSet]:
    """Cases of a test, of each kind the first few in the first ring and the rest long; a case is a tuple or a single value."""
    seen: dict[object, int] = {}
    params = []
    for case in cases:
        what = kind(case)
        seen[what] = seen.get(what, 0) + 1
        marks = (pytest.mark.long,) if seen[what] > short else ()
        params.append(pytest.param(*(case if isinstance(case, tuple) else (case,)), marks=marks))
    return params
