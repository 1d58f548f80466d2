"""A sheet: TOML that a person typed. Everything that is wrong with it is said at once, each thing with its line.

sheet = open_sheet(text, "waney-mill/1")
kerf_m = sheet.need("kerf", read, stand_in=nan)      # `read` turns what stands there into a value, or raises Problem
step_m = sheet.take("step", read)                    # None: left blank, or wrong and noted
for table in sheet.entries("product"): ...           # [[product]]
sheet.check()                                        # raises SheetProblems: bad values, missing keys, unknown keys
"""

from __future__ import annotations

import re
import tomllib
from collections.abc import Callable, Iterable, Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass
from difflib import get_close_matches
from typing import TypeVar

from waney.figures.problem import Problem
from waney.units.sheet_lines import Path, lines_of

T = TypeVar("T")
Reader = Callable[[object], T]
"""Turns a TOML value into a value of the core; raises Problem with a sentence that does not name key or line."""


_BARE = re.compile(r"""(?P<key>[\w.-]+)\s*=\s*(?P<value>(?!\d{4}-\d)[^\s"'\[{#=][^#]*?)\s*(?:#.*)?""")
"""A field whose value stands without quotes."""
_MAY_LACK_QUOTES = ("Expected newline", "Invalid value")
"""How tomllib's sentence begins then."""
MOST_NAMED = 12
"""More known words than this are not listed in a sentence."""


@dataclass(frozen=True)
class SheetProblem:
    """One thing to put right: the line it stands in (from 1), its key ("" for the sheet itself), the sentence."""

    line: int
    key: str
    sentence: str

    def __str__(self) -> str:
        return f"line {self.line}, {self.key}: {self.sentence}" if self.key else f"line {self.line}: {self.sentence}"


class SheetProblems(Problem):
    """Everything that is wrong with one sheet, in the order of its lines, one to a line; `sheet` is what the sheet is called."""

    def __init__(self, problems: Iterable[SheetProblem], sheet: str = "") -> None:
        self.problems = tuple(sorted(problems, key=lambda problem: problem.line))
        called = f"{sheet}, " if sheet else ""
        super().__init__("\n".join(f"{called}{problem}" for problem in self.problems))


@contextmanager
def called(sheet: str) -> Iterator[None]:
    """What is wrong with a sheet that is read inside is told with the sheet's name: whoever wrote three must know which."""
    try:
        yield
    except SheetProblems as found:
        raise SheetProblems(found.problems, sheet) from None


class Table:
    """One table of a sheet. It remembers which keys it was asked for: the others are unknown."""

    def __init__(self, content: Mapping[str, object], path: Path, sheet: _Notes) -> None:
        self._content, self._path, self._sheet = content, path, sheet
        self._asked: dict[str, None] = {}
        sheet.tables.append(self)

    def spelled_out(self, key: str, content: Mapping[str, object], place: int | None = None) -> Table:
        """A table in place of a few words under [key] that said the same; `place` is theirs in a list of such words."""
        self.has(key)
        return Table(content, (*self._path, key) if place is None else (*self._path, key, place), self._sheet)

    def has(self, key: str) -> bool:
        """Whether something stands there."""
        self._asked[key] = None
        return key in self._content

    def take(self, key: str, read: Reader[T]) -> T | None:
        """The value; None when it was left blank, or is wrong (then that is noted)."""
        if not self.has(key):
            return None
        try:
            return read(self._content[key])
        except Problem as problem:
            self.note(key, str(problem))
            return None

    def need(self, key: str, read: Reader[T], stand_in: T) -> T:
        """The value; `stand_in` when it is missing or wrong, which is noted: `check` will raise."""
        if not self.has(key):
            self.note(key, f"this is needed and not there{'' if self._path else '; it stands above the first heading'}.")
        value = self.take(key, read)
        return stand_in if value is None else value

    def inside(self, key: str) -> Table | None:
        """The table [key]; None when there is none."""
        if not self.has(key):
            return None
        content = self._content[key]
        if isinstance(content, dict):
            return Table(content, (*self._path, key), self._sheet)
        self.note(key, f"this is a heading; write [{self.dotted(key)}] on a line of its own and its fields below.")
        return None

    def entries(self, key: str) -> tuple[Table, ...]:
        """The tables [[key]], in the order of the sheet; a single [key] counts as one."""
        if not self.has(key):
            return ()
        content = self._content[key]
        if isinstance(content, dict):
            return (Table(content, (*self._path, key), self._sheet),)
        if isinstance(content, list) and all(isinstance(entry, dict) for entry in content):
            return tuple(Table(entry, (*self._path, key, i), self._sheet) for i, entry in enumerate(content))
        self.note(key, f"this is a heading; write [[{self.dotted(key)}]] for each, on a line of its own, its fields below.")
        return ()

    def line(self, key: str = "") -> int:
        """The line of a key, or of the heading of this table when the key is not there."""
        path = (*self._path, key) if key else self._path
        while path and path not in self._sheet.lines:
            path = path[:-1]
        return self._sheet.lines.get(path, 1)

    def note(self, key: str, sentence: str) -> None:
        """Note a problem with a key of this table ("" for the table as a whole)."""
        self._sheet.problems.append(SheetProblem(self.line(key), self.dotted(key), sentence))

    def check(self) -> None:
        """Raises SheetProblems when anything was noted in the whole sheet, or a key stands there that nobody asked for."""
        unknown = [problem for table in self._sheet.tables for problem in table._unknown()]
        if self._sheet.problems or unknown:
            raise SheetProblems(self._sheet.problems + unknown)

    @property
    def sound(self) -> bool:
        """Whether nothing has been noted in the whole sheet so far."""
        return not self._sheet.problems

    @property
    def asked(self) -> tuple[str, ...]:
        """Every key that was asked for so far in the whole sheet, dotted, without list positions, each once."""
        keys = [table.dotted(key, numbered=False) for table in self._sheet.tables for key in table._asked]
        return tuple(dict.fromkeys(keys))

    def dotted(self, key: str, numbered: bool = True) -> str:
        """The key with the headings it stands under: first.trim, then.2.trim; without list positions when not numbered."""
        parts = (str(part + 1) if isinstance(part, int) else part for part in self._path if numbered or isinstance(part, str))
        return ".".join(visible(part) for part in (*parts, key) if part)

    def _unknown(self) -> list[SheetProblem]:
        return [
            SheetProblem(self.line(key), self.dotted(key), f"nothing is known by this name{nearest(key, self._asked)}")
            for key in self._content
            if key not in self._asked
        ]


class _Notes:
    """What the tables of one sheet share: lines, problems, and each other."""

    def __init__(self, lines: Mapping[Path, int]) -> None:
        self.lines = lines
        self.problems: list[SheetProblem] = []
        self.tables: list[Table] = []


def nearest(word: str, known: Mapping[str, object]) -> str:
    """An ending for a sentence: the known word nearest to what was written, or the known words.

    >>> nearest("kref", {"kerf": 1, "units": 1})
    '; did you mean kerf?'
    """
    close = get_close_matches(word.lower(), known, n=1)
    if close:
        return f"; did you mean {close[0]}?"
    if len(known) > MOST_NAMED:
        return "; the fields that a sheet may have are listed in docs/sheets.md."
    return f"; here may stand: {', '.join(sorted(known))}." if known else "."


def visible(key: str) -> str:
    """A key as a sentence shows it: short, without signs that cannot be seen."""
    return "".join(sign if sign.isprintable() else "?" for sign in key[:40])


def open_sheet(text: str, format_name: str) -> Table:
    """The sheet's outermost table. Raises SheetProblems when it is no TOML or its `format` line is not `format_name`."""
    content = _content(text)
    sheet = Table(content, (), _Notes(_lines(text)))
    sheet.has("format")
    written = content.get("format")
    if written != format_name:
        said = f'it says "{visible(written)}"' if isinstance(written, str) else "that line is missing"
        sheet.note("format", f'a sheet of this kind has the line format = "{format_name}" at its top; {said}.')
        raise SheetProblems(sheet._sheet.problems)
    return sheet


def _content(text: str) -> dict[str, object]:
    try:
        return tomllib.loads(text)
    except RecursionError:
        raise SheetProblems([SheetProblem(1, "", "brackets lie within brackets too deeply to be read.")]) from None
    except ValueError as error:
        raise SheetProblems([_unreadable(text, str(error))]) from None


def _unreadable(text: str, error: str) -> SheetProblem:
    """tomllib ends its sentence with (at line 3, column 5) or (at end of document)."""
    place = re.search(r" \(at (?:line (\d+), column \d+|end of document)\)$", error)
    if place is None:
        return SheetProblem(1, "", f"this cannot be read as TOML: {error}.")
    line = int(place[1]) if place[1] else text.count("\n") + 1
    written = visible((text.split("\n")[line - 1 : line] or [""])[0].strip())
    bare = _BARE.fullmatch(written) if error.startswith(_MAY_LACK_QUOTES) else None
    hint = error[: place.start()] if bare is None else _in_quotes(bare["key"], bare["value"])
    return SheetProblem(line, "", f"{written} cannot be read as TOML: {hint}.")


def _in_quotes(key: str, value: str) -> str:
    escaped = value.replace("\\", "\\\\").replace('"', '\\"')
    return f'feet and inches, fractions and words stand in quotes; write {key} = "{escaped}"'


def _lines(text: str) -> Mapping[Path, int]:
    try:
        return lines_of(text)
    except (RecursionError, IndexError):  # lines only help a person to find the place: a sheet is never refused for them
        return {}
