"""Arithmetic compiled where numba has wheels, and the same source run as plain Python elsewhere.

Machine code is kept in the person's own cache folder, in a place named after the text of the whole folder that a function
stands in: a changed line there starts a new place, so that old code is never mixed with new (numba itself only looks at
the one file). Such a folder therefore imports nothing of the program but this module and itself.

Two programs may compile the same function at the same moment, each for other arrays. numba numbers the files of machine code
1, 2, 3 and writes first the index, then the file: both could write the file 1, and the index of one would name the code of
the other, which reads arrays wrongly without a word. So each file gets a name that nobody else gives.
"""

from __future__ import annotations

import hashlib
import os
import sys
from collections.abc import Callable
from functools import cache
from pathlib import Path
from typing import Any, TypeVar, cast
from uuid import uuid4

Function = TypeVar("Function", bound=Callable[..., Any])

SWITCH = "WANEY_INTERPRETED"
"""Set to 1 in the environment to run without compiling: slower, same answers."""

try:
    if os.environ.get(SWITCH) == "1":
        raise ImportError
    import numba

    COMPILED = True
except ImportError:  # no wheel for this machine, or switched off
    COMPILED = False


@cache
def cache_folder(sources: Path) -> Path:
    """Where the machine code of one folder of sources lies."""
    digest = hashlib.sha256(sys.version.encode())
    for path in (Path(__file__), *sorted(sources.glob("*.py"))):
        digest.update(path.read_bytes())
    home = os.environ.get("XDG_CACHE_HOME") or os.environ.get("LOCALAPPDATA") or str(Path.home() / ".cache")
    return Path(home) / "waney" / f"compiled-{digest.hexdigest()[:16]}"


def compiled(function: Function) -> Function:
    """Compile a function of numbers and arrays; without numba hand it back as it is.

    Floating point stays strict (no fast-math), so that the same input gives the same bytes. The interpreter's lock is
    let go, so that threads can run side by side.
    """
    if not COMPILED:
        return function
    numba.config.CACHE_DIR = str(cache_folder(Path(function.__code__.co_filename).parent))  # type: ignore[attr-defined]
    made = numba.njit(cache=True, error_model="numpy", nogil=True)(function)
    kept = getattr(getattr(made, "_cache", None), "_cache_file", None)  # numba has no public way to name its files
    if kept is not None:
        kept._data_name = lambda _number, of=function.__name__: f"{of}.{uuid4().hex}.nbc"
    return cast(Function, made)
