"""Sheet text: a sheet with something more in it, everything else left word for word, comments too."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Callable, Iterable, Iterator, Mapping
from copy import deepcopy
from typing import Any

from waney.figures.problem import Problem

HEADER = re.compile(r"\s*\[\[?\s*[A-Za-z_][\w-]*(?:\s*\.\s*[A-Za-z_][\w-]*)*\s*\]\]?\s*(?:#.*)?")
"""a line that begins a table; points of an outline begin with figures"""
BESIDE = re.compile(r"\s*(?:#.*)?")
"""a line that says nothing to a reader of sheets"""

Told = dict[str, Any]
Put = Callable[[Told], None]


class CannotAdd(Problem):
    """A sheet is written in such a way that only a hand can add to it."""


def with_entry(text: str, name: str, lines: Iterable[str]) -> str:
    """One more entry of a list of tables ([[metal]]) at the end of the sheet. Raises CannotAdd."""
    body = "\n".join(lines)

    def joined(told: Told) -> None:
        told.setdefault(name, []).append(tomllib.loads(body))

    return _seen(text, _ended(text, f"[[{name}]]", body), joined, name)


def with_entries(text: str, name: str, entries: Iterable[Iterable[str]]) -> str:
    """These entries of a list of tables ([[mark]]) at the end of the sheet, in the place of the former ones. Raises CannotAdd."""
    bodies, after = ["\n".join(lines) for lines in entries], _without(text, name)
    for body in bodies:
        after = _ended(after, f"[[{name}]]", body)

    def put(told: Told) -> None:
        told.pop(name, None)
        if bodies:
            told[name] = [tomllib.loads(body) for body in bodies]

    return _seen(text, after.rstrip("\n") + "\n", put, name)


def with_table(text: str, path: tuple[str, ...], lines: Iterable[str]) -> str:
    """A table ([heights]), or one inside another ([butt.outline]), at the end of the sheet, in the place of a former one.

    Raises CannotAdd.
    """
    body, dotted = "\n".join(lines), ".".join(path)

    def put(told: Told) -> None:
        at = told
        for name in path[:-1]:
            at = at.setdefault(name, {})
        at[path[-1]] = tomllib.loads(body)

    return _seen(text, _ended(_without(text, dotted), f"[{dotted}]", body), put, dotted)


def without_table(text: str, name: str) -> str:
    """The sheet without a table, where it has one. Raises CannotAdd."""
    return _seen(text, _without(text, name).rstrip("\n") + "\n", lambda told: told.pop(name, None), name)


def with_fields(text: str, fields: Mapping[str, str]) -> str:
    """Fields above the tables of a sheet, in the place of former ones; an empty value leaves one out. Raises CannotAdd."""
    lines = text.splitlines()
    first = next((n for n, line in enumerate(lines) if HEADER.fullmatch(line)), len(lines))
    own = re.compile(rf"\s*(?:{'|'.join(map(re.escape, fields))})\s*=.*")
    head = [line for line in lines[:first] if not own.fullmatch(line)]
    above = len(head)
    while above and BESIDE.fullmatch(head[above - 1]):
        above -= 1  # what stands over the first table stays there
    told_lines = [f"{name} = {value}" for name, value in fields.items() if value]

    def put(told: Told) -> None:
        for name in fields:
            told.pop(name, None)
        told |= tomllib.loads("\n".join(told_lines))

    after = [*head[:above], *told_lines, *head[above:], *lines[first:]]
    return _seen(text, "\n".join(after).rstrip("\n") + "\n", put, ", ".join(fields))


def _ended(text: str, header: str, body: str) -> str:
    return "\n".join([text.rstrip("\n"), "", header, *([body] if body else [])]) + "\n"


def _without(text: str, dotted: str) -> str:
    """The text without tables of that name, from a header to the next one; remarks over the next one stay."""
    return "\n".join(_kept(text.splitlines(), dotted))


def _kept(lines: list[str], dotted: str) -> Iterator[str]:
    inside, remarks = False, list[str]()
    for line in lines:
        if HEADER.fullmatch(line):
            name = re.sub(r"[\[\]\s]|#.*", "", line)
            goes = name == dotted or name.startswith(f"{dotted}.")
            if inside and not goes:
                yield from remarks
            inside, remarks = goes, []
        if not inside:
            yield line
        elif BESIDE.fullmatch(line):
            remarks.append(line)
        else:
            remarks = []


def _seen(before: str, after: str, put: Put, dotted: str) -> str:
    """The new text, if it says what the old one said, the addition, and nothing else. Raises CannotAdd."""
    try:
        meant = deepcopy(tomllib.loads(before))
        put(meant)
        if tomllib.loads(after) == meant:
            return after
    except (tomllib.TOMLDecodeError, AttributeError, TypeError):
        pass
    raise CannotAdd(f"This sheet says {dotted} in a way that nothing can be added to; write it into the sheet by hand.")
