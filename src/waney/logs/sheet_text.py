"""Sheet text: a log sheet with something more in it, everything else left word for word, comments too."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Callable, Iterable
from copy import deepcopy
from typing import Any

from waney.figures.problem import Problem

HEADER = re.compile(r"\s*\[\[?\s*[A-Za-z_][\w-]*(?:\s*\.\s*[A-Za-z_][\w-]*)*\s*\]\]?\s*(?:#.*)?")
"""a line that begins a table; points of an outline begin with figures"""

Told = dict[str, Any]


class CannotAdd(Problem):
    """A sheet is written in such a way that only a hand can add to it."""


def with_entry(text: str, name: str, lines: Iterable[str]) -> str:
    """One more entry of a list of tables ([[metal]]) at the end of the sheet. Raises CannotAdd."""
    lines = tuple(lines)

    def joined(told: Told, added: Told) -> None:
        told.setdefault(name, []).append(added)

    return _seen(text, _ended(text, f"[[{name}]]", lines), lines, joined, name)


def with_table(text: str, path: tuple[str, str], lines: Iterable[str]) -> str:
    """A table inside another ([butt.outline]) at the end of the sheet, in the place of a former one. Raises CannotAdd."""
    lines, dotted = tuple(lines), ".".join(path)

    def put(told: Told, added: Told) -> None:
        told.setdefault(path[0], {})[path[1]] = added

    return _seen(text, _ended(_without(text, dotted), f"[{dotted}]", lines), lines, put, dotted)


def with_part(text: str, name: str, lines: Iterable[str]) -> str:
    """A table of its own ([scan]) at the end of the sheet, in the place of a former one. Raises CannotAdd."""
    lines = tuple(lines)

    def put(told: Told, added: Told) -> None:
        told[name] = added

    return _seen(text, _ended(_without(text, name), f"[{name}]", lines), lines, put, name)


def _ended(text: str, header: str, lines: tuple[str, ...]) -> str:
    return "\n".join([text.rstrip("\n"), "", header, *lines]) + "\n"


def _without(text: str, dotted: str) -> str:
    """The text without a table of that name: from its header to the next one, and what lies inside it."""
    kept, inside = [], False
    for line in text.splitlines():
        if HEADER.fullmatch(line):
            name = re.sub(r"[\[\]\s]|#.*", "", line)
            inside = name == dotted or name.startswith(f"{dotted}.")
        if not inside:
            kept.append(line)
    return "\n".join(kept)


def _seen(before: str, after: str, lines: tuple[str, ...], put: Callable[[Told, Told], None], dotted: str) -> str:
    """The new text, if it says what the old one said, the addition, and nothing else. Raises CannotAdd."""
    try:
        meant = deepcopy(tomllib.loads(before))
        put(meant, tomllib.loads("\n".join(lines)))
        if tomllib.loads(after) == meant:
            return after
    except (tomllib.TOMLDecodeError, AttributeError, TypeError):
        pass
    raise CannotAdd(f"This sheet says {dotted} in a way that nothing can be added to; write it into the sheet by hand.")
