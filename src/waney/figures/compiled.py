"""Arithmetic compiled where numba has wheels, and the same source run as plain Python elsewhere."""

from __future__ import annotations

import os
from collections.abc import Callable
from typing import Any, TypeVar, cast

Function = TypeVar("Function", bound=Callable[..., Any])


def _switched_off() -> bool:
    return os.environ.get("WANEY_INTERPRETED", "") == "1"


try:
    if _switched_off():
        raise ImportError
    import numba

    COMPILED = True
except ImportError:  # no wheel for this machine: slower, same answers
    COMPILED = False


def compiled(function: Function) -> Function:
    """Compile a function of numbers and arrays; without numba hand it back as it is.

    Floating point stays strict (no fast-math), so that the same input gives the same bytes.
    """
    if not COMPILED:
        return function
    return cast(Function, numba.njit(cache=True, error_model="numpy")(function))


def compiled_parallel(function: Function) -> Function:
    """As `compiled`, with `prange` loops spread over the cores; each turn must write its own place only."""
    if not COMPILED:
        return function
    return cast(Function, numba.njit(cache=True, error_model="numpy", parallel=True)(function))


each: Any = numba.prange if COMPILED else range
"""The loop of `compiled_parallel`: spread over cores when compiled, a plain range otherwise."""
